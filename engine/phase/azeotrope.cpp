#include "phase/azeotrope.hpp"

#include <array>
#include <cmath>

namespace firstcrop {

namespace {

/// A point of the boiling curve as the search sees it.
struct VolatilityPoint {
  double t = 0;           ///< ln(x1/x2)
  double volatility = 0;  ///< ln(gamma_1 P_1/(gamma_2 P_2))
  double temperature_k = 0;
};

struct VolatilityAnswer {
  BoilingStatus status = BoilingStatus::NotConverged;
  VolatilityPoint point;
};

VolatilityAnswer volatility_at(const BoilingLiquid& pair, double t, double pressure_kpa) {
  const std::array<double, 2> fractions{fraction_of_log_ratio(t), fraction_of_log_ratio(-t)};
  const BubblePoint bubble = pair.bubble_point(fractions, pressure_kpa);
  if (bubble.status != BoilingStatus::Calculated) return {bubble.status, {}};
  const double volatility = std::log(bubble.vapour_fractions[0] / bubble.vapour_fractions[1]) - t;
  return {bubble.status, {t, volatility, *bubble.temperature_k}};
}

/// The point between two of opposite sign where the volatility is 0: regula falsi, Illinois variant (Dowell,
/// Jarratt, BIT 1971, 11, 168).
std::optional<VolatilityPoint> equal_volatility(const BoilingLiquid& pair, VolatilityPoint low,
                                                VolatilityPoint high, double pressure_kpa) {
  constexpr int kMostSteps = 100;
  constexpr double kTolerance = 1e-9;
  int kept = 0;
  for (int step = 0; step < kMostSteps; ++step) {
    const double t = (low.t * high.volatility - high.t * low.volatility) / (high.volatility - low.volatility);
    const VolatilityAnswer answer = volatility_at(pair, t, pressure_kpa);
    if (answer.status != BoilingStatus::Calculated) return std::nullopt;
    const VolatilityPoint& point = answer.point;
    if (std::abs(point.volatility) < kTolerance) return point;
    if ((point.volatility > 0) == (low.volatility > 0)) {
      low = point;
      if (kept == 1) high.volatility /= 2;
      kept = 1;
    } else {
      high = point;
      if (kept == -1) low.volatility /= 2;
      kept = -1;
    }
  }
  return std::nullopt;
}

}  // namespace

AzeotropeAnswer find_azeotrope(const BoilingLiquid& pair, double pressure_kpa) {
  if (!pair.model() || pair.component_count() != 2) return {AzeotropeStatus::NotCalculated, std::nullopt};

  const auto line = pair.three_phase_line(pressure_kpa);
  if (line && line->layers.holds(line->vapour_fraction))
    return {AzeotropeStatus::Found, Azeotrope{line->temperature_k, line->vapour_fraction,
                                              AzeotropeKind::MinimumBoiling, line->layers}};

  constexpr double kLast = 6.906755;  ///< ln(0.999/0.001)
  constexpr int kIntervals = 28;
  std::optional<VolatilityPoint> before;
  for (int i = 0; i <= kIntervals; ++i) {
    const double t = -kLast + 2 * kLast * i / kIntervals;
    const VolatilityAnswer answer = volatility_at(pair, t, pressure_kpa);
    if (answer.status == BoilingStatus::NotConverged) return {AzeotropeStatus::NotConverged, std::nullopt};
    if (answer.status != BoilingStatus::Calculated) return {AzeotropeStatus::NotCalculated, std::nullopt};
    const VolatilityPoint& point = answer.point;
    if (before && (before->volatility > 0) != (point.volatility > 0)) {
      const auto found = equal_volatility(pair, *before, point, pressure_kpa);
      if (!found) return {AzeotropeStatus::NotConverged, std::nullopt};
      const double first_fraction = fraction_of_log_ratio(found->t);
      // A crossing between the layers belongs to a liquid that does not exist.
      if (!line || !line->layers.holds(first_fraction)) {
        const auto kind =
            before->volatility > 0 ? AzeotropeKind::MinimumBoiling : AzeotropeKind::MaximumBoiling;
        return {AzeotropeStatus::Found, Azeotrope{found->temperature_k, first_fraction, kind, std::nullopt}};
      }
    }
    before = point;
  }
  return {AzeotropeStatus::None, std::nullopt};
}

}  // namespace firstcrop
