#include "phase/flash_point.hpp"

#include <algorithm>
#include <cmath>

#include "phase/bubble_point.hpp"
#include "phase/liquid_layers.hpp"

namespace firstcrop {

namespace {

/// ln x_i gamma_i; of the stable state where a pair splits.
void ln_activities(const ActivityModel& model, double temperature_k, std::span<const double> mole_fractions,
                   bool with_layers, std::span<double> out) {
  const ActivityAtTemperature at_temperature = model.at(temperature_k);
  if (with_layers) {
    const BinaryActivity pair(at_temperature);
    const auto layers = liquid_layers(pair).layers;
    if (layers && layers->holds(mole_fractions[0])) {
      const auto shared = pair.ln_activity(layers->poor_log_ratio);
      std::copy(shared.begin(), shared.end(), out.begin());
      return;
    }
  }
  at_temperature.ln_gamma(mole_fractions, out);
  for (std::size_t i = 0; i < mole_fractions.size(); ++i) out[i] += std::log(mole_fractions[i]);
}

}  // namespace

FlashPoint flash_point(std::span<const FlashComponent> components, const std::optional<ActivityModel>& model,
                       std::span<const double> mole_fractions) {
  std::vector<double> ln_pressure_at_flash(components.size(), 0.0);
  double temperature_k = 0;
  double burning = 0;
  double highest_k = 0;
  double lowest_k = 0;
  for (std::size_t i = 0; i < components.size(); ++i) {
    if (!components[i].flash_point_k || mole_fractions[i] <= 0) continue;
    const auto ln_pressure = components[i].vapour_pressure.ln_kpa(*components[i].flash_point_k);
    if (!ln_pressure) return {};
    ln_pressure_at_flash[i] = *ln_pressure;
    temperature_k += mole_fractions[i] * *components[i].flash_point_k;
    highest_k = std::max(highest_k, *components[i].flash_point_k);
    lowest_k = std::max(lowest_k, components[i].vapour_pressure.lowest_temperature_k());
    burning += mole_fractions[i];
  }
  if (burning <= 0) return {FlashStatus::NothingBurns, std::nullopt};
  temperature_k /= burning;

  // What the vapour holds over what it needs to flash, as a logarithm; it rises with the temperature.
  std::vector<double> ln_activity(components.size(), 0.0);
  const auto richness = [&](double at_k, bool with_layers) {
    if (model)
      ln_activities(*model, at_k, mole_fractions, with_layers, ln_activity);
    else
      for (std::size_t i = 0; i < components.size(); ++i) ln_activity[i] = std::log(mole_fractions[i]);
    double sum = 0;
    for (std::size_t i = 0; i < components.size(); ++i) {
      if (!components[i].flash_point_k || mole_fractions[i] <= 0) continue;
      if (const auto ln_pressure = components[i].vapour_pressure.ln_kpa(at_k))
        sum += std::exp(ln_activity[i] + *ln_pressure - ln_pressure_at_flash[i]);
    }
    return std::log(sum);
  };
  constexpr double kRangeAboveK = 150;
  constexpr double kRangeBelowK = 100;
  const auto solve = [&](bool with_layers) -> FlashPoint {
    double low_k = std::max(temperature_k - kRangeBelowK, lowest_k + 1);
    double high_k = highest_k + kRangeAboveK;
    double low = richness(low_k, with_layers);
    double high = richness(high_k, with_layers);
    if (high < 0) return {FlashStatus::NotReached, std::nullopt};
    if (low > 0) return {};
    constexpr int kMostSteps = 200;
    constexpr double kToleranceK = 1e-7;
    // Bisection: a layer that vanishes puts a kink into the curve.
    for (int step = 0; step < kMostSteps && high_k - low_k > kToleranceK; ++step) {
      const double middle_k = (low_k + high_k) / 2;
      if (richness(middle_k, with_layers) < 0)
        low_k = middle_k;
      else
        high_k = middle_k;
    }
    return {model ? FlashStatus::Calculated : FlashStatus::Ideal, (low_k + high_k) / 2};
  };
  const FlashPoint as_one_liquid = solve(false);
  if (!model || !as_one_liquid.temperature_k) return as_one_liquid;
  const ActivityAtTemperature at_flash = model->at(*as_one_liquid.temperature_k);
  if (associates_strongly(at_flash, mole_fractions)) return {FlashStatus::NotCalculated, std::nullopt};
  const bool may_split = components.size() == 2 && miscibility_margin(BinaryActivity(at_flash)) > 0;
  return may_split ? solve(true) : as_one_liquid;
}

}  // namespace firstcrop
