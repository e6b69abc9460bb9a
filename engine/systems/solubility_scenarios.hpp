#pragma once

#include <cstddef>
#include <vector>

#include "facts/scenarios.hpp"
#include "solubility/posterior.hpp"
#include "solubility/state.hpp"

namespace firstcrop {

/// Joint draws of one solid's solubility in every solvent of the model, and of what else is uncertain about
/// it, in 64 equally weighted scenarios. Hot and cold solubility, and the solvents among each other, share
/// their errors.
struct SolubilityScenarios {
  std::vector<ScenarioValues> levels;      ///< log10 mol/L at 298.15 K, one column a solvent
  std::vector<ScenarioValues> enthalpies;  ///< kJ/mol
  ScenarioValues melting_shift_k{};        ///< melting point minus its mean, 0 where it is known
  ScenarioValues molar_mass_factor{};      ///< molar mass over its mean, 1 where it is known
  ScenarioValues wet_melting_score{};      ///< standard normal score of wet melting points
  std::vector<ScenarioValues>
      independent;  ///< standard normal scores for the mixing rule, phases and impurities

  /// Score for a pair of solvents, the same whatever else is judged.
  [[nodiscard]] const ScenarioValues& pair_score(std::size_t first, std::size_t second) const;
  /// Score for the cloud point of a pair.
  [[nodiscard]] const ScenarioValues& cloud_score(std::size_t first, std::size_t second) const;
  /// Score for the phases of a pair.
  [[nodiscard]] const ScenarioValues& phase_score(std::size_t first, std::size_t second) const;
  /// Score for the n-th impurity.
  [[nodiscard]] const ScenarioValues& impurity_score(std::size_t index) const;
};

/// Draws from the joint normal of levels and enthalpies by pivoted Cholesky decomposition: at most 42 common
/// directions, and what remains of every solvent by itself.
[[nodiscard]] SolubilityScenarios draw_scenarios(const SolubilityState& state, double melting_point_sd_k,
                                                 double molar_mass_log10_sd);

}  // namespace firstcrop
