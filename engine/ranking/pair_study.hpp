#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "phase/boiling_down.hpp"
#include "phase/phase_model.hpp"
#include "ranking/rank.hpp"
#include "systems/system_phases.hpp"

namespace firstcrop {

/// Whether a pair is one liquid in every proportion at one temperature.
struct PairPhases {
  double temperature_k = 0;
  PhaseAnswer answer;
  MutualSolubility limits;  ///< where it probably parts
};

/// Boiling point at one composition.
struct PairBoiling {
  double first_fraction = 0;  ///< by volume before mixing
  std::optional<double> temperature_k;
  bool two_liquids = false;
};

/// A solvent that could stand in for one of the two.
struct StandIn {
  SolventId replaces;
  SolventId solvent;
  double one_liquid = 0;  ///< chance with the one that stays, at room temperature
};

/// What a solid adds to the study of a pair.
struct PairForSolid {
  RatioWindow window;
  std::optional<Quantity> cloud_volume;  ///< mL of the poorer per mL of the better, from a hot solution at 80 %
  std::optional<System> best_single;     ///< of the shelf
  std::optional<Quantity> single_recovery_limit;
};

/// Everything that is known or calculated about two solvents together, the first named one first, or the better
/// one where a solid is in question.
struct PairStudy {
  System pair;  ///< at the ratio asked for
  double pressure_kpa = 101.325;
  std::vector<PairPhases> phases{};  ///< bath, 25 °C, hot
  std::optional<double> critical_temperature_k{};
  bool critical_from_memory = false;
  std::vector<PairBoiling> boiling{};  ///< by tenths of volume
  double lowest_boiling_k = 0;         ///< of the two and all their mixtures
  std::optional<PairAzeotrope> azeotrope{};
  std::optional<double> azeotrope_volume_fraction{};  ///< of the first
  BoilingDown drift{};  ///< of the pair at its ratio: 10, 30, 50 % boiled off; none of a pair that reacts
  std::array<std::optional<double>, 2> flash_point_k{};
  std::optional<double> lowest_flash_point_k{};  ///< of the mixtures between
  double lowest_flash_fraction = 0;
  Reaction reaction{};
  JudgedSystem judged;  ///< at the ratio of `pair`; without a solid only what `speaks_of_solvents_only` counts
  std::optional<PairForSolid> solid{};
  std::vector<StandIn> stand_ins{};  ///< where the pair parts or reacts

  bool at_ratio = false;  ///< `phases` speak of the ratio of `pair`, not of every proportion
  /// Of a pair that parts, but not at the ratio judged for a solid: shares of the first by volume around it at which
  /// it is probably one liquid at all temperatures of `phases`.
  std::optional<std::array<double, 2>> one_liquid_share{};

  [[nodiscard]] bool parts() const;   ///< probably two liquids at one of the temperatures
  [[nodiscard]] bool reacts() const;  ///< dangerous or simply no longer the same solvents
  /// A pair to work with: without a solid one liquid, with one not unfit at the ratio judged.
  [[nodiscard]] bool is_suitable() const;
};

/// Studies a pair (`pair` is at an even ratio where none is stated). `with_solid`: the inquiry of the judge holds a real solid and not a nameless one.
/// `ratio_stated`: the composition of `pair` is asked for; else an even mixture, or with a solid the best one.
[[nodiscard]] PairStudy study_pair(const SystemJudge& judge, const System& pair, bool ratio_stated,
                                   bool with_solid);

/// What the rules say that look at nothing but the two solvents, the pair and the aim.
[[nodiscard]] bool speaks_of_solvents_only(const RuleOutcome& outcome);

/// What the study tells of the rules: without a solid what speaks of solvents only and of neither as the poor one; of
/// a pair that reacts why, and what holds without any use of it.
[[nodiscard]] bool is_told(const PairStudy& study, const RuleOutcome& outcome);

}  // namespace firstcrop
