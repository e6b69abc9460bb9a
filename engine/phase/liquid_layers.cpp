#include "phase/liquid_layers.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <vector>

namespace firstcrop {

namespace {

struct HullPoint {
  double t, x1, energy;
};

/// Free energy of mixing over RT.
double mixing_energy(const BinaryActivity& pair, double t, double x1) {
  const auto activity = pair.ln_activity(t);
  const double x2 = fraction_of_log_ratio(-t);
  return x1 * activity[0] + x2 * activity[1];
}

/// The longest edge of the lower convex hull that leaves grid points out.
std::optional<std::pair<double, double>> longest_hull_edge(const BinaryActivity& pair) {
  constexpr double kLast = 20;
  constexpr double kStep = 0.125;
  constexpr int kPoints = static_cast<int>(2 * kLast / kStep) + 1;
  std::vector<HullPoint> hull;
  std::vector<int> indices;
  hull.reserve(kPoints);
  indices.reserve(kPoints);
  for (int i = 0; i < kPoints; ++i) {
    const double t = -kLast + kStep * i;
    const double x1 = fraction_of_log_ratio(t);
    const HullPoint next{t, x1, mixing_energy(pair, t, x1)};
    while (hull.size() >= 2) {
      const HullPoint& b = hull.back();
      const HullPoint& a = hull[hull.size() - 2];
      if ((b.x1 - a.x1) * (next.energy - a.energy) > (next.x1 - a.x1) * (b.energy - a.energy)) break;
      hull.pop_back();
      indices.pop_back();
    }
    hull.push_back(next);
    indices.push_back(i);
  }
  std::optional<std::pair<double, double>> longest;
  double length = 0;
  for (std::size_t i = 1; i < hull.size(); ++i) {
    if (indices[i] - indices[i - 1] < 2 || hull[i].x1 - hull[i - 1].x1 <= length) continue;
    length = hull[i].x1 - hull[i - 1].x1;
    longest = {hull[i - 1].t, hull[i].t};
  }
  return longest;
}

}  // namespace

LayerAnswer liquid_layers(const BinaryActivity& pair) {
  const auto edge = longest_hull_edge(pair);
  if (!edge) return {};
  double poor = edge->first;
  double rich = edge->second;
  constexpr int kMostSteps = 60;
  constexpr double kTolerance = 1e-10;
  for (int step = 0; step < kMostSteps; ++step) {
    const auto in_poor = pair.ln_activity(poor);
    const auto in_rich = pair.ln_activity(rich);
    const double gap_1 = in_poor[0] - in_rich[0];
    const double gap_2 = in_poor[1] - in_rich[1];
    if (std::abs(gap_1) < kTolerance && std::abs(gap_2) < kTolerance) {
      if (rich - poor < 1e-3) return {};
      return {LayerStatus::TwoLiquids, LiquidLayers{poor, rich}};
    }
    // Gibbs-Duhem: d ln a_1/dt = x2 G, d ln a_2/dt = -x1 G with G = d ln(a_1/a_2)/dt.
    const double curvature_poor = pair.stability(poor);
    const double curvature_rich = pair.stability(rich);
    const double x1_poor = fraction_of_log_ratio(poor);
    const double x1_rich = fraction_of_log_ratio(rich);
    const double x2_poor = fraction_of_log_ratio(-poor);
    const double x2_rich = fraction_of_log_ratio(-rich);
    const double determinant = x2_poor * x1_rich - x1_poor * x2_rich;
    // Inside the spinodal Newton's method would run to the trivial solution; step outwards instead.
    constexpr double kOutward = 0.1;
    double move_poor = -kOutward;
    double move_rich = kOutward;
    if (curvature_poor > 0 && determinant > 0)
      move_poor = -(gap_1 * x1_rich + gap_2 * x2_rich) / (determinant * curvature_poor);
    if (curvature_rich > 0 && determinant > 0)
      move_rich = -(gap_1 * x1_poor + gap_2 * x2_poor) / (determinant * curvature_rich);
    constexpr double kLargestMove = 0.5;
    poor += std::clamp(move_poor, -kLargestMove, kLargestMove);
    rich += std::clamp(move_rich, -kLargestMove, kLargestMove);
  }
  return {LayerStatus::NotConverged, std::nullopt};
}

MutualSolubility mutual_solubility(const LiquidLayers& layers, double first_molar_mass_g_mol,
                                   double second_molar_mass_g_mol) {
  const auto weight_percent = [](double log_ratio, double mass, double other_mass) {
    // 100 x m / (x m + (1-x) m') written with the ratio, which keeps the digits of a trace.
    const double ratio = std::exp(log_ratio) * mass / other_mass;
    return 100 * ratio / (1 + ratio);
  };
  return {weight_percent(layers.poor_log_ratio, first_molar_mass_g_mol, second_molar_mass_g_mol),
          weight_percent(-layers.rich_log_ratio, second_molar_mass_g_mol, first_molar_mass_g_mol)};
}

}  // namespace firstcrop
