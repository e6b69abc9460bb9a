#include "rules/curve.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "rules/columns.hpp"

namespace firstcrop {

Curve::Curve(std::vector<double> x, std::vector<double> y, bool is_logarithmic)
    : x_(std::move(x)), y_(std::move(y)), is_logarithmic_(is_logarithmic), knots_(x_) {
  if (is_logarithmic_) {
    for (double& knot : knots_) knot = detail::fast_log(knot);
  }
  double slope = 0;
  for (std::size_t i = 0; i + 1 < x_.size(); ++i) {
    const double next = (y_[i + 1] - y_[i]) / (knots_[i + 1] - knots_[i]);
    bends_.push_back(next - slope);
    slope = next;
  }
  const auto [least, most] = std::minmax_element(y_.begin(), y_.end());
  lowest_ = *least;
  highest_ = *most;
}

double Curve::at(double x_value) const {
  if (x_value <= x_.front()) return y_.front();
  if (x_value >= x_.back()) return y_.back();
  const auto above = static_cast<std::size_t>(std::upper_bound(x_.begin(), x_.end(), x_value) - x_.begin());
  const double low = x_[above - 1];
  const double high = x_[above];
  const double share =
      is_logarithmic_ ? std::log(x_value / low) / std::log(high / low) : (x_value - low) / (high - low);
  return y_[above - 1] + share * (y_[above] - y_[above - 1]);
}

// The line as a sum of bends, each beginning at its knot: no search and no branch, all scenarios alike.
void Curve::run(const ScenarioValues& x_values, ScenarioValues& out) const {
  ScenarioValues place;
  const double first = x_.front();
  const double last = x_.back();
  for (std::size_t k = 0; k < kScenarioCount; ++k) place[k] = std::min(std::max(x_values[k], first), last);
  if (is_logarithmic_) detail::log_column(place, place);
  ScenarioValues height;
  height.fill(y_.front());
  for (std::size_t i = 0; i < bends_.size(); ++i) {
    const double knot = knots_[i];
    const double bend = bends_[i];
    for (std::size_t k = 0; k < kScenarioCount; ++k) height[k] += bend * std::max(place[k] - knot, 0.0);
  }
  for (std::size_t k = 0; k < kScenarioCount; ++k) out[k] = std::clamp(height[k], lowest_, highest_);
}

}  // namespace firstcrop
