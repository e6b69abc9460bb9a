#pragma once

#include <array>
#include <optional>
#include <span>

#include "phase/activity.hpp"

namespace firstcrop {

enum class Stability { OneLiquid, Splits, NotConverged };

/// Does a liquid of this composition (mole fractions that sum to 1, all above 0) part into two? Tangent-plane
/// test, started from every pure component (Michelsen, Fluid Phase Equilib. 1982, 9, 1).
[[nodiscard]] Stability liquid_stability(const ActivityAtTemperature& model,
                                         std::span<const double> mole_fractions);

/// How much of a third solvent keeps two others in one liquid.
struct BridgeAnswer {
  Stability status = Stability::NotConverged;  ///< Splits: two liquids even at a share of 0.95
  double share = 0;                            ///< with OneLiquid: the least share of the third, to 0.001
};

/// Least share of the third component of `model` from which on a mixture of all three is one liquid, the
/// first two kept in their ratio (`first_share` of the first in both, strictly between 0 and 1). Shares are
/// of whatever `size_per_mole` measures: molar volumes give volume shares (volumes taken as additive), molar
/// masses give mass shares.
[[nodiscard]] BridgeAnswer least_bridging_share(const ActivityAtTemperature& model,
                                                const std::array<double, 3>& size_per_mole,
                                                double first_share);

}  // namespace firstcrop
