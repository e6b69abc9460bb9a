#pragma once

#include <span>
#include <vector>

#include "phase/phase_model.hpp"

namespace firstcrop {

/// What is left in the flask after a share of the volume has boiled off.
struct BoiledDown {
  double share_off = 0;  ///< of the volume at the start, 0 to 1
  std::vector<double> volume_fractions;  ///< of the liquid left, in the order of the components; as before mixing
  double temperature_k = 0;
};

/// A liquid on its way from the start to the last share. 95 % ethanol counts as ethanol and water.
struct BoilingDown {
  std::vector<SolventId> components;
  std::vector<BoiledDown> points;
};

/// Differential distillation (Lord Rayleigh, Philos. Mag. 1902, 4, 521) of a mixture at a pressure [kPa]: each bit
/// of vapour leaves as it forms, so the flask drifts away from what boils off first. `shares` rise, above 0 and
/// below 1. A pair that parts boils from both its liquids. Volumes are added. Empty where the mixture cannot be
/// calculated.
[[nodiscard]] BoilingDown boil_down(const PhaseModel& model, std::span<const SolventId> solvents,
                                    std::span<const double> volume_fractions, double pressure_kpa,
                                    std::span<const double> shares);

}  // namespace firstcrop
