#pragma once

#include <vector>

#include "facts/fact_value.hpp"

namespace firstcrop {

/// Points of a desirability: straight lines between them, level outside them.
class Curve {
 public:
  /// At least one point; `x` canonical and strictly increasing, above zero where `is_logarithmic`, as many as
  /// `y`. Lines are then straight over log x.
  Curve(std::vector<double> x, std::vector<double> y, bool is_logarithmic);

  /// Height at `x_value`.
  [[nodiscard]] double at(double x_value) const;
  /// Heights at 64 values at once, to 1e-11 of `at`.
  void run(const ScenarioValues& x_values, ScenarioValues& out) const;

 private:
  std::vector<double> x_;
  std::vector<double> y_;
  bool is_logarithmic_;
  std::vector<double> knots_;  // x, or its logarithm
  std::vector<double> bends_;  // change of slope at each knot but the last
  double lowest_;
  double highest_;
};

}  // namespace firstcrop
