#pragma once

#include <optional>
#include <utility>

#include "phase/binary_activity.hpp"
#include "phase/miscibility.hpp"

namespace firstcrop {

/// Mole fractions of the first component in the two liquids of a pair, each as t = ln(x1/x2), so that traces
/// keep their digits.
struct LiquidLayers {
  double poor_log_ratio = 0;  ///< of the layer poor in the first component
  double rich_log_ratio = 0;
  [[nodiscard]] double poor_fraction() const { return fraction_of_log_ratio(poor_log_ratio); }
  [[nodiscard]] double rich_fraction() const { return fraction_of_log_ratio(rich_log_ratio); }
  /// True strictly between the layers.
  [[nodiscard]] bool holds(double first_fraction) const {
    return poor_fraction() < first_fraction && first_fraction < rich_fraction();
  }
};

enum class LayerStatus { OneLiquid, TwoLiquids, NotConverged };

struct LayerAnswer {
  LayerStatus status = LayerStatus::OneLiquid;
  std::optional<LiquidLayers> layers;  ///< with TwoLiquids only
};

/// The two liquids that have equal activities (common tangent of the free energy of mixing): the longest edge
/// of its lower convex hull as a start, then Newton's method on both activities to 1e-10.
[[nodiscard]] LayerAnswer liquid_layers(const BinaryActivity& pair);

/// The layers as weight percentages: how much of each solvent the other takes up. Molar masses in g/mol.
[[nodiscard]] MutualSolubility mutual_solubility(const LiquidLayers& layers, double first_molar_mass_g_mol,
                                                 double second_molar_mass_g_mol);

}  // namespace firstcrop
