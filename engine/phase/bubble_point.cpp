#include "phase/bubble_point.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace firstcrop {

namespace {

constexpr double kTolerance = 1e-10;
constexpr int kMostSteps = 60;

constexpr double kLeastLnGamma = -4;

struct PressureSum {
  double ln_kpa = 0;
  double slope_per_k = 0;  ///< with the activity coefficients held
};

/// Partial pressures over the liquid into `partial` [kPa] and their sum.
PressureSum add_pressures(const std::vector<VapourPressure>& pure, std::span<const double> ln_activity_factor,
                          double temperature_k, std::span<double> partial) {
  double sum = 0;
  double slope = 0;
  for (std::size_t i = 0; i < pure.size(); ++i) {
    const auto ln_pure = pure[i].ln_kpa(temperature_k);
    partial[i] = ln_pure ? std::exp(ln_activity_factor[i] + *ln_pure) : 0;
    sum += partial[i];
    if (ln_pure) slope += partial[i] * pure[i].slope_per_k(temperature_k);
  }
  return {std::log(sum), sum > 0 ? slope / sum : 0};
}

/// Next trial temperature towards ln p = ln P: Newton's step with held coefficients first, secants after
/// that.
class TemperatureSteps {
 public:
  double next(double temperature_k, double gap, double slope_per_k) {
    if (has_previous_ && gap != previous_gap_) {
      const double secant = (gap - previous_gap_) / (temperature_k - previous_k_);
      // The coefficients change the slope by far less than this; a worse secant is rounding.
      if (secant > 0.3 * slope_per_k && secant < 3 * slope_per_k) slope_per_k = secant;
    }
    has_previous_ = true;
    previous_k_ = temperature_k;
    previous_gap_ = gap;
    constexpr double kLargestStepK = 40;
    return temperature_k + std::clamp(-gap / slope_per_k, -kLargestStepK, kLargestStepK);
  }

 private:
  bool has_previous_ = false;
  double previous_k_ = 0;
  double previous_gap_ = 0;
};

}  // namespace

bool associates_strongly(const ActivityAtTemperature& model, std::span<const double> mole_fractions) {
  const std::size_t count = model.component_count();
  std::vector<double> ln_gamma(count);
  std::vector<double> pure(count, 0.0);
  for (std::size_t solvent = 0; solvent < count; ++solvent) {
    if (mole_fractions[solvent] <= 0) continue;
    pure[solvent] = 1;
    model.ln_gamma(pure, ln_gamma);
    pure[solvent] = 0;
    for (std::size_t trace = 0; trace < count; ++trace)
      if (mole_fractions[trace] > 0 && ln_gamma[trace] < kLeastLnGamma) return true;
  }
  return false;
}

BoilingLiquid::BoilingLiquid(std::vector<VapourPressure> vapour_pressures, std::optional<ActivityModel> model)
    : vapour_pressures_(std::move(vapour_pressures)), model_(std::move(model)) {}

BubblePoint BoilingLiquid::bubble_point(std::span<const double> mole_fractions, double pressure_kpa) const {
  const std::size_t count = component_count();
  double temperature_k = 0;
  double lowest_k = 0;
  for (std::size_t i = 0; i < count; ++i) {
    const auto boiling_k = vapour_pressures_[i].boiling_temperature_k(pressure_kpa);
    if (!boiling_k) return {};
    temperature_k += mole_fractions[i] * *boiling_k;
    if (mole_fractions[i] > 0)
      lowest_k = lowest_k == 0 ? vapour_pressures_[i].lowest_temperature_k()
                               : std::min(lowest_k, vapour_pressures_[i].lowest_temperature_k());
  }
  const double ln_pressure = std::log(pressure_kpa);
  std::vector<double> ln_gamma(count, 0.0);
  std::vector<double> factors(count);
  std::vector<double> partial(count);
  TemperatureSteps steps;
  for (int step = 0; step < kMostSteps; ++step) {
    std::optional<ActivityAtTemperature> at_temperature;
    if (model_) {
      at_temperature = model_->at(temperature_k);
      at_temperature->ln_gamma(mole_fractions, ln_gamma);
    }
    for (std::size_t i = 0; i < count; ++i) factors[i] = std::log(mole_fractions[i]) + ln_gamma[i];
    const PressureSum sum = add_pressures(vapour_pressures_, factors, temperature_k, partial);
    const double gap = sum.ln_kpa - ln_pressure;
    if (std::abs(gap) < kTolerance) {
      BubblePoint point;
      if (at_temperature && associates_strongly(*at_temperature, mole_fractions)) {
        point.status = BoilingStatus::NotCalculated;
        return point;
      }
      point.status = model_ ? BoilingStatus::Calculated : BoilingStatus::Ideal;
      point.temperature_k = temperature_k;
      for (double& share : partial) share /= pressure_kpa;
      point.vapour_fractions = std::move(partial);
      return point;
    }
    const double next_k = steps.next(temperature_k, gap, sum.slope_per_k);
    temperature_k = std::max(next_k, (temperature_k + lowest_k) / 2);
    if (!std::isfinite(temperature_k) || temperature_k <= 0) return {};
  }
  return {};
}

std::optional<ThreePhaseLine> BoilingLiquid::three_phase_line(double pressure_kpa) const {
  if (!model_ || component_count() != 2) return std::nullopt;
  const auto boiling_1_k = vapour_pressures_[0].boiling_temperature_k(pressure_kpa);
  const auto boiling_2_k = vapour_pressures_[1].boiling_temperature_k(pressure_kpa);
  if (!boiling_1_k || !boiling_2_k) return std::nullopt;

  const auto layers_at = [&](double temperature_k) {
    const BinaryActivity pair(model_->at(temperature_k));
    return miscibility_margin(pair) > 0 ? liquid_layers(pair).layers : std::nullopt;
  };
  const double ln_pressure = std::log(pressure_kpa);
  std::array<double, 2> partial{};
  const std::array<double, 2> unity{0, 0};

  // Liquids that ignore each other boil where their own pressures add up: no pair of layers boils much lower.
  double ignoring_k = std::min(*boiling_1_k, *boiling_2_k);
  TemperatureSteps to_ignoring;
  for (int step = 0; step < kMostSteps; ++step) {
    const PressureSum sum = add_pressures(vapour_pressures_, unity, ignoring_k, partial);
    if (std::abs(sum.ln_kpa - ln_pressure) < 1e-3) break;
    ignoring_k = to_ignoring.next(ignoring_k, sum.ln_kpa - ln_pressure, sum.slope_per_k);
  }
  const double lower_k = std::min(*boiling_1_k, *boiling_2_k);
  std::optional<LiquidLayers> layers;
  double temperature_k = 0;
  for (const double start_k : {ignoring_k, (ignoring_k + lower_k) / 2, lower_k}) {
    layers = layers_at(start_k);
    temperature_k = start_k;
    if (layers) break;
  }
  if (!layers) return std::nullopt;

  TemperatureSteps steps;
  for (int step = 0; step < kMostSteps; ++step) {
    const BinaryActivity pair(model_->at(temperature_k));
    const auto activity = pair.ln_activity(layers->poor_log_ratio);
    const PressureSum sum = add_pressures(vapour_pressures_, activity, temperature_k, partial);
    const double gap = sum.ln_kpa - ln_pressure;
    if (std::abs(gap) < kTolerance) return ThreePhaseLine{temperature_k, *layers, partial[0] / pressure_kpa};
    double move_k = steps.next(temperature_k, gap, sum.slope_per_k) - temperature_k;
    // Where the layers have merged on the way, the line may lie nearer, or nowhere.
    auto next_layers = layers_at(temperature_k + move_k);
    constexpr double kSmallestMoveK = 1e-3;
    while (!next_layers && std::abs(move_k) > kSmallestMoveK) {
      move_k /= 2;
      next_layers = layers_at(temperature_k + move_k);
    }
    if (!next_layers) return std::nullopt;
    temperature_k += move_k;
    layers = next_layers;
  }
  return std::nullopt;
}

BubblePoint BoilingLiquid::boiling_point(double first_fraction, double pressure_kpa,
                                         const std::optional<ThreePhaseLine>& line) const {
  if (!line || !line->layers.holds(first_fraction)) {
    const std::array<double, 2> fractions{first_fraction, 1 - first_fraction};
    return bubble_point(fractions, pressure_kpa);
  }
  BubblePoint point;
  point.status = BoilingStatus::Calculated;
  point.temperature_k = line->temperature_k;
  point.vapour_fractions = {line->vapour_fraction, 1 - line->vapour_fraction};
  point.two_liquids = true;
  return point;
}

BubblePoint BoilingLiquid::boiling_point(double first_fraction, double pressure_kpa) const {
  return boiling_point(first_fraction, pressure_kpa, three_phase_line(pressure_kpa));
}

std::vector<BubblePoint> BoilingLiquid::boiling_curve(std::span<const double> first_fractions,
                                                      double pressure_kpa) const {
  const auto line = three_phase_line(pressure_kpa);
  std::vector<BubblePoint> points;
  points.reserve(first_fractions.size());
  for (const double fraction : first_fractions) points.push_back(boiling_point(fraction, pressure_kpa, line));
  return points;
}

std::optional<double> BoilingLiquid::volatility_of_trace(std::size_t trace, std::size_t solvent,
                                                         double pressure_kpa) const {
  const auto boiling_k = vapour_pressures_[solvent].boiling_temperature_k(pressure_kpa);
  if (!boiling_k) return std::nullopt;
  const auto ln_trace = vapour_pressures_[trace].ln_kpa(*boiling_k);
  if (!ln_trace) return std::nullopt;
  double ln_gamma = 0;
  if (model_) {
    const ActivityAtTemperature at_boil = model_->at(*boiling_k);
    std::vector<double> fractions(component_count(), 0.0);
    fractions[trace] = fractions[solvent] = 0.5;
    if (associates_strongly(at_boil, fractions)) return std::nullopt;
    fractions[trace] = 0;
    fractions[solvent] = 1;
    ln_gamma = at_boil.ln_gamma(fractions)[trace];
  }
  return std::exp(ln_gamma + *ln_trace) / pressure_kpa;
}

}  // namespace firstcrop
