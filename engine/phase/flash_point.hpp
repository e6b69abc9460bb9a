#pragma once

#include <optional>
#include <span>
#include <vector>

#include "phase/activity.hpp"
#include "phase/vapour_pressure.hpp"

namespace firstcrop {

/// One component of a mixture whose flash point is asked for.
struct FlashComponent {
  VapourPressure vapour_pressure;
  std::optional<double> flash_point_k;  ///< nothing for one that does not burn (water)
};

enum class FlashStatus {
  Calculated,
  Ideal,          ///< without activity coefficients, because group parameters are missing
  NothingBurns,   ///< no component present has a flash point
  NotReached,     ///< the vapour stays too lean up to 150 °C above the highest flash point present
  NotCalculated,  ///< strongly associating: the model is not to be trusted
  NotConverged
};

struct FlashPoint {
  FlashStatus status = FlashStatus::NotConverged;
  std::optional<double> temperature_k;  ///< with Calculated and Ideal
};

/// Flash point of a mixture: sum over the components that burn of x_i gamma_i P_i(T)/P_i(flash point of i) =
/// 1 (Liaw et al., Combust. Flame 2004, 138, 308). A pair that splits at this temperature and composition
/// counts with the activities that both its layers share. Mole fractions sum to 1. Chlorinated solvents that
/// quench a flame without having a flash point count as water does.
[[nodiscard]] FlashPoint flash_point(std::span<const FlashComponent> components,
                                     const std::optional<ActivityModel>& model,
                                     std::span<const double> mole_fractions);

}  // namespace firstcrop
