#pragma once

#include <array>
#include <cstddef>
#include <string>
#include <vector>

#include "solubility/state.hpp"

namespace firstcrop {

/// How one solvent would be used, in a tube and in a flask.
struct Bottle {
  std::size_t in_state = 0;  ///< its place in the state of solubilities
  double hot_k = 0;          ///< hottest temperature at which undissolved solid is still a solid
  double room_k = 0;         ///< of the first look; above the freezing point
  double cold_k = 0;         ///< at which crystals are collected
  double after_oil = 1;       ///< chance that an oil, seen in a tube, stays away; 1 where none was seen
};

/// A weighed tube.
struct TubeSize {
  double mass_mg = 0;
  double volume_ml = 0;
};

/// How useful a solvent is, 0 to 1: the recovery limit, counted from at most 300 mg/mL hot, times a window that is
/// closed at 5 mg/mL hot and open from 40 mg/mL. The same measure as the rule `usefulness`, which a test checks; it
/// stands here because it is asked a million times. Arguments in mg per mL of solvent.
[[nodiscard]] double usefulness(double hot_mg_ml, double cold_mg_ml);

/// From this usefulness on a system works, as the rule `works` has it.
inline constexpr double kWorks = 0.6;

/// What is expected of one solvent.
struct Expectation {
  double usefulness = 0;  ///< mean
  double chance = 0;      ///< that it works
};

/// Expectation of every solvent, by 256 fixed points of the joint normal of its hot and cold solubility.
[[nodiscard]] std::vector<Expectation> expectations(const SolubilityState& state,
                                                    const std::vector<Bottle>& bottles);

/// What can be seen in one tube: cold, hot, and crystals or none in ice after all had dissolved.
struct TubeReading {
  enum class Look { All, Part, None };
  enum class Ice { NotAsked, Crystals, Clear };
  Look cold = Look::All;
  Look hot = Look::All;
  Ice ice = Ice::NotAsked;
  friend bool operator==(const TubeReading&, const TubeReading&) = default;
};
inline constexpr std::size_t kReadingCount = 27;
/// Number of a reading, below kReadingCount, and back.
[[nodiscard]] std::size_t index_of(const TubeReading& reading);
[[nodiscard]] TubeReading reading_of(std::size_t index);

/// Equally likely joint truths about all solvents of a shelf: the usefulness of each, and what a tube would show.
/// Always the same ones for the same state.
class TubeDraws {
 public:
  static constexpr std::size_t kUsualCount = 1024;
  /// Latin hypercube of normal scores through the Cholesky factor of the covariance. Throws Error where the
  /// covariance is not positive.
  TubeDraws(const SolubilityState& state, const std::vector<Bottle>& bottles, std::size_t count = kUsualCount);

  [[nodiscard]] std::size_t count() const { return count_; }
  [[nodiscard]] std::size_t bottle_count() const { return bottle_count_; }
  [[nodiscard]] double usefulness_of(std::size_t draw, std::size_t bottle) const {
    return usefulness_[draw * bottle_count_ + bottle];
  }
  /// mg per mL of solvent at the temperature of the first look.
  [[nodiscard]] double room_mg_ml(std::size_t draw, std::size_t bottle) const;
  /// What a tube would show in one draw, with the error of the eye (0.08 log10).
  [[nodiscard]] TubeReading reading(std::size_t draw, std::size_t bottle, const TubeSize& size) const;

 private:
  std::size_t count_;
  std::size_t bottle_count_;
  double molar_mass_g_mol_;
  std::vector<double> usefulness_;  // by draw, then bottle; so are the next three [log10 mol/L]
  std::vector<double> room_;
  std::vector<double> hot_;
  std::vector<double> cold_;
  std::vector<std::array<double, 3>> eye_;  // error of the three looks
};

/// What one tube is worth before it is made.
struct TubeWorth {
  /// Usefulness of the choice after the tube less that of the choice now, both as expected: never below 0.
  double gain = 0;
  std::array<double, kReadingCount> chance{};  ///< of every reading
};

/// Groups the draws by what the tube would show; the best solvent of every group against the best of all.
[[nodiscard]] TubeWorth worth_of_tube(const TubeDraws& draws, std::size_t bottle, const TubeSize& size);

/// Share of the draws in which no solvent beats `bottle` by more than `margin` of usefulness.
[[nodiscard]] double chance_of_best(const TubeDraws& draws, std::size_t bottle, double margin);
/// Share of the draws in which some solvent works.
[[nodiscard]] double chance_that_any_works(const TubeDraws& draws);

/// The state of the named solvents alone, in that order.
[[nodiscard]] SolubilityState state_of_some(const SolubilityState& state, const std::vector<std::size_t>& solvents);

}  // namespace firstcrop
