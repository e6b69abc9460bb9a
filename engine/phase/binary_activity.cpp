#include "phase/binary_activity.hpp"

#include <algorithm>
#include <cmath>

#include "phase/activity_data.hpp"

namespace firstcrop {

namespace {

constexpr double kHalfCoordination = 5;

struct Fractions {
  double x1, x2;
};

Fractions fractions(double t) {
  // Each from a small exponential: 1 - x1 would lose the digits of a trace.
  const double e = std::exp(-std::abs(t));
  const double large = 1 / (1 + e);
  const double small = e / (1 + e);
  return t > 0 ? Fractions{large, small} : Fractions{small, large};
}

}  // namespace

double fraction_of_log_ratio(double t) {
  return fractions(t).x1;
}

double log_ratio_of_fraction(double x1) {
  return std::log(x1) - std::log1p(-x1);
}

BinaryActivity::BinaryActivity(const ActivityAtTemperature& model) {
  const ActivityModel::Data& data = *model.data_;
  const std::size_t groups = data.groups;
  first_ = {data.volume[0], data.volume_three_quart[0], data.surface[0], model.pure_residual_[0]};
  second_ = {data.volume[1], data.volume_three_quart[1], data.surface[1], model.pure_residual_[1]};
  groups_.resize(groups);
  for (std::size_t k = 0; k < groups; ++k) {
    groups_[k].surface_1 = data.group_surface[k];
    groups_[k].surface_2 = data.group_surface[groups + k];
  }
  for (std::size_t m = 0; m < groups; ++m) {
    for (std::size_t k = 0; k < groups; ++k) {
      groups_[k].field_1 += groups_[m].surface_1 * model.psi_[m * groups + k];
      groups_[k].field_2 += groups_[m].surface_2 * model.psi_[m * groups + k];
    }
  }
}

double BinaryActivity::log_ratio(double t) const {
  const auto [x1, x2] = fractions(t);
  const double surface = x1 * first_.surface + x2 * second_.surface;
  const double volume = x1 * first_.volume + x2 * second_.volume;
  const double three_quart = x1 * first_.volume_three_quart + x2 * second_.volume_three_quart;

  // The logarithms of the means cancel between the two components wherever their factors are equal.
  const double shape = std::log(first_.volume_three_quart / second_.volume_three_quart) -
                       (first_.volume_three_quart - second_.volume_three_quart) / three_quart;
  const double mean_ratio = surface / volume;
  const double ratio_1 = first_.volume / first_.surface * mean_ratio;
  const double ratio_2 = second_.volume / second_.surface * mean_ratio;
  const double combinatorial =
      shape - kHalfCoordination * (first_.surface * (1 - ratio_1 + std::log(ratio_1)) -
                                   second_.surface * (1 - ratio_2 + std::log(ratio_2)));
  double residual = second_.pure_residual - first_.pure_residual;
  for (const GroupPair& group : groups_) {
    const double field = x1 * group.field_1 + x2 * group.field_2;
    residual += (group.surface_1 - group.surface_2) * (1 - std::log(field / surface)) -
                (group.field_1 - group.field_2) * (x1 * group.surface_1 + x2 * group.surface_2) / field;
  }
  return combinatorial + residual;
}

double BinaryActivity::stability(double t) const {
  const auto [x1, x2] = fractions(t);
  const double surface = x1 * first_.surface + x2 * second_.surface;
  const double volume = x1 * first_.volume + x2 * second_.volume;
  const double three_quart = x1 * first_.volume_three_quart + x2 * second_.volume_three_quart;

  const double surface_step = (first_.surface - second_.surface) / surface;
  const double volume_step = (first_.volume - second_.volume) / volume;
  const double shape_step = (first_.volume_three_quart - second_.volume_three_quart) / three_quart;
  double slope = shape_step * shape_step -
                 kHalfCoordination * (surface_step - volume_step) *
                     (first_.surface - second_.surface - (first_.volume - second_.volume) * surface / volume);
  for (const GroupPair& group : groups_) {
    const double inverse_field = 1 / (x1 * group.field_1 + x2 * group.field_2);
    const double field_step = group.field_1 - group.field_2;
    slope += (group.surface_1 - group.surface_2) * (surface_step - field_step * inverse_field) -
             field_step * (group.surface_1 * group.field_2 - group.surface_2 * group.field_1) *
                 inverse_field * inverse_field;
  }
  return 1 + x1 * x2 * slope;
}

std::array<double, 2> BinaryActivity::ln_gamma(double t) const {
  const auto [x1, x2] = fractions(t);
  const double surface = x1 * first_.surface + x2 * second_.surface;
  const double volume = x1 * first_.volume + x2 * second_.volume;
  const double three_quart = x1 * first_.volume_three_quart + x2 * second_.volume_three_quart;
  const auto combinatorial = [&](const Shape& component) {
    const double shape = component.volume_three_quart / three_quart;
    const double ratio = component.volume * surface / (component.surface * volume);
    return 1 - shape + std::log(shape) -
           kHalfCoordination * component.surface * (1 - ratio + std::log(ratio));
  };
  double residual_1 = -first_.pure_residual;
  double residual_2 = -second_.pure_residual;
  for (const GroupPair& group : groups_) {
    const double field = x1 * group.field_1 + x2 * group.field_2;
    const double one_less_log = 1 - std::log(field / surface);
    const double share = (x1 * group.surface_1 + x2 * group.surface_2) / field;
    residual_1 += group.surface_1 * one_less_log - group.field_1 * share;
    residual_2 += group.surface_2 * one_less_log - group.field_2 * share;
  }
  return {combinatorial(first_) + residual_1, combinatorial(second_) + residual_2};
}

std::array<double, 2> BinaryActivity::ln_activity(double t) const {
  const auto gamma = ln_gamma(t);
  // ln x1 = -ln(1 + exp(-t)), ln x2 = -ln(1 + exp(t)), both without cancellation.
  const double tail = std::log1p(std::exp(-std::abs(t)));
  return {gamma[0] - tail + std::min(t, 0.0), gamma[1] - tail - std::max(t, 0.0)};
}

}  // namespace firstcrop
