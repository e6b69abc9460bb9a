#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "solubility/posterior.hpp"
#include "solubility/state.hpp"

namespace firstcrop {

/// One solvent of an observed system.
struct ObservedPart {
  std::size_t solvent = 0;         ///< index in the model
  double volume_fraction = 1;      ///< before mixing; the fractions of a system add up to 1
  double molar_volume_ml_mol = 0;  ///< needed in pairs and for mole fractions
};

/// One solvent, or two.
using ObservedSystem = std::vector<ObservedPart>;

enum class Dissolved { None, Part, All };
enum class OnCooling { Crystals, Powder, Oil, Cloud, Nothing };

/// One test tube: what was weighed in and what was seen. A blank was not looked at.
struct Tube {
  ObservedSystem system;
  double mass_mg = 0;
  double volume_ml = 0;  ///< of solvent, measured at room temperature
  std::optional<Dissolved> cold;
  double cold_temperature_k = 293.15;
  std::optional<Dissolved> hot;
  double hot_temperature_k = 0;
  std::optional<OnCooling> cooled;
  double cooled_to_k = 278.15;
  bool doubtful = false;        ///< the person does not trust it
  bool holds_insoluble = false;  ///< the crude holds insoluble matter, so a hot residue may be just that
  std::string label;
  int place = 0;
};

/// How a solubility is written.
enum class SolubilityBasis { MgPerMlSolvent, MgPerMlSolution, MolPerLitre, MoleFraction };

/// A solubility from print or from the balance.
struct KnownValue {
  ObservedSystem system;
  double temperature_k = 298.15;
  double value = 0;
  SolubilityBasis basis = SolubilityBasis::MgPerMlSolvent;
  std::optional<double> spread_log10;  ///< the whole spread as the person judges it; blank: 0.16
  bool own_laboratory = false;         ///< measured where the tubes are read, so it shares their scatter
  std::string label;
  int place = 0;
};

/// Chance that a tube that stayed clear on cooling was not under its solubility but supersaturated. Judged.
inline constexpr double kClearErrorChance = 0.2;
/// Chance that a doubtful tube is wrong. Judged.
inline constexpr double kDoubtfulErrorChance = 0.3;
/// Chance that what stays undissolved hot is dirt, where the crude is known to hold some. Judged.
inline constexpr double kDirtErrorChance = 0.3;
/// "None dissolved" means that less than this share has gone. Judged.
inline constexpr double kUnnoticedShare = 0.2;

/// What a tube says about log10 S, one interval for each look at it.
///
/// All dissolved: above the charge. Part: between a fifth of the charge and the charge. None: under a fifth.
/// Crystals, powder, oil or cloud on cooling: under the charge there. Nothing on cooling of what had
/// dissolved: above it, but weakly. In a pair the mixing rule is made linear at the means of `state`. Empty
/// for a mass or volume that is not positive or a system of neither one nor two solvents.
[[nodiscard]] std::vector<Observation> observations_of_tube(const SolubilityState& state, const Tube& tube);

/// What a known value says about log10 S. Nothing for a number out of the range of its basis (not positive, a
/// mole fraction of 1 or more, more than the density of the melt) or a system of neither one nor two
/// solvents.
[[nodiscard]] std::optional<Observation> observation_of_value(const SolubilityState& state,
                                                              const KnownValue& known);

/// Takes in all tubes and values of a file. Pairs are made linear again at the means so reached, three times
/// in all. `reports` follow the values, then the tubes with one report for each look.
[[nodiscard]] Posterior learn(const SolubilityState& initial, const std::vector<KnownValue>& values,
                              const std::vector<Tube>& tubes);

}  // namespace firstcrop
