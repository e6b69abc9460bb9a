#pragma once

#include <optional>

#include "phase/bubble_point.hpp"

namespace firstcrop {

enum class AzeotropeKind { MinimumBoiling, MaximumBoiling };

/// A composition that boils without changing.
struct Azeotrope {
  double temperature_k = 0;
  double first_fraction = 0;  ///< mole fraction of the first component in the vapour
  AzeotropeKind kind = AzeotropeKind::MinimumBoiling;
  std::optional<LiquidLayers> layers;  ///< where the condensed vapour is two liquids at the boil
};

enum class AzeotropeStatus {
  Found,
  None,           ///< searched, none between mole fractions 0.001 and 0.999
  NotCalculated,  ///< group parameters missing, or strongly associating
  NotConverged
};

struct AzeotropeAnswer {
  AzeotropeStatus status = AzeotropeStatus::NotCalculated;
  std::optional<Azeotrope> azeotrope;  ///< with Found
};

/// Searches the azeotrope of a pair at a pressure [kPa]: from two layers where their common vapour lies
/// between them, else where ln(gamma_1 P_1/(gamma_2 P_2)) changes its sign along the boiling curve.
[[nodiscard]] AzeotropeAnswer find_azeotrope(const BoilingLiquid& pair, double pressure_kpa);

}  // namespace firstcrop
