#include "phase/vapour_pressure.hpp"

#include <algorithm>
#include <cmath>

namespace firstcrop {

std::optional<VapourPressure> VapourPressure::create(const AntoineEquation& antoine, double boiling_point_k) {
  const double slope_k = antoine.b * std::log(10.0);
  if (boiling_point_k + antoine.c <= 0 || boiling_point_k <= 0 || slope_k <= 0) return std::nullopt;
  const double intercept = std::log(kStandardPressureKpa) + slope_k / (boiling_point_k + antoine.c);
  return VapourPressure(intercept, slope_k, antoine.c);
}

std::optional<double> VapourPressure::ln_kpa(double temperature_k) const {
  if (temperature_k <= lowest_temperature_k()) return std::nullopt;
  return intercept_ - slope_k_ / (temperature_k + shift_k_);
}

double VapourPressure::slope_per_k(double temperature_k) const {
  const double distance_k = temperature_k + shift_k_;
  return slope_k_ / (distance_k * distance_k);
}

std::optional<double> VapourPressure::boiling_temperature_k(double pressure_kpa) const {
  const double below = intercept_ - std::log(pressure_kpa);
  if (!(below > 0)) return std::nullopt;
  const double temperature_k = slope_k_ / below - shift_k_;
  return temperature_k > 0 ? std::optional(temperature_k) : std::nullopt;
}

double VapourPressure::lowest_temperature_k() const {
  return std::max(0.0, -shift_k_);
}

double pressure_at_altitude_kpa(double altitude_m) {
  return kStandardPressureKpa * std::pow(1 - 2.25577e-5 * altitude_m, 5.2559);
}

}  // namespace firstcrop
