#include "plan/bench_minutes.hpp"

#include <algorithm>
#include <cmath>

#include "plan/bench_practice.hpp"

namespace firstcrop {
namespace {

// Warm for the hand, cold for the crystals: within this of the room it counts as cooled.
constexpr double kCooledWithinK = 3;
constexpr double kUsualSpanK = 55;
constexpr double kLeastCoolingMin = 5;

}  // namespace

Minutes cooling_minutes(double volume_ml, double span_k) {
  // Newton's law: the time grows with the logarithm of the span, and with volume over surface.
  const double size = std::cbrt(std::max(volume_ml, 0.1) / practice::kCoolingFlaskMl);
  const double way = std::log(std::max(span_k, 2 * kCooledWithinK) / kCooledWithinK) /
                     std::log(kUsualSpanK / kCooledWithinK);
  const double low = std::max(practice::kCoolingMin * size * way, kLeastCoolingMin);
  return {low, std::max(std::min(practice::kSlowCoolingFactor * low, practice::kSlowestCoolingMin), low)};
}

Minutes ice_minutes(double volume_ml) {
  const double size = std::max(std::cbrt(std::max(volume_ml, 0.1) / practice::kCoolingFlaskMl), 1.0);
  return {practice::kIceLowMin * size, practice::kIceHighMin * size};
}

// Judged; by memory of how long it takes on a bench. Water overnight.
Minutes drying_minutes(double boiling_point_k, double water_fraction, bool bears_warmth) {
  constexpr double kCelsius = 273.15;
  const double boiling_c = boiling_point_k - kCelsius;
  Minutes out{240, 1440};
  if (water_fraction > 0.5) {
    out = {180, 1440};
  } else if (boiling_c < 65) {
    out = {10, 30};
  } else if (boiling_c < 85) {
    out = {30, 120};
  } else if (boiling_c < 120) {
    out = {60, 480};
  }
  if (!bears_warmth) out = {out.low * 2, std::min(out.high * 2, 2880.0)};
  return out;
}

Minutes dissolving_minutes(double charge_mg) {
  constexpr double kLargeMg = 20000;
  if (charge_mg < practice::kTubeChargeMg) return {3, 10};
  return charge_mg < kLargeMg ? Minutes{10, 20} : Minutes{20, 45};
}

Minutes boiling_off_minutes(double volume_ml) {
  // A flask on a bath gives off one to five mL a minute, a tube a tenth of that.
  constexpr double kMlPerMin = 3;
  const double usual = std::max(volume_ml / kMlPerMin, 2.0);
  return {usual / 2, 2 * usual};
}

}  // namespace firstcrop
