#pragma once

#include <array>
#include <vector>

#include "phase/activity.hpp"

namespace firstcrop {

/// Two components at one temperature, along t = ln(x1/x2): t runs over all real numbers, so that the most
/// dilute solutions keep their digits. Everything here costs a fraction of a full evaluation of the model.
class BinaryActivity {
 public:
  /// `model` must have two components.
  explicit BinaryActivity(const ActivityAtTemperature& model);

  /// ln gamma_1 - ln gamma_2.
  [[nodiscard]] double log_ratio(double t) const;

  /// d ln(a_1/a_2)/dt = 1 + d(ln gamma_1 - ln gamma_2)/dt = x1 x2 d2(g/RT)/dx1^2, by closed form. Negative
  /// between the spinodal compositions.
  [[nodiscard]] double stability(double t) const;

  /// ln gamma_1 and ln gamma_2.
  [[nodiscard]] std::array<double, 2> ln_gamma(double t) const;

  /// ln a_1 and ln a_2.
  [[nodiscard]] std::array<double, 2> ln_activity(double t) const;

 private:
  struct GroupPair {
    double surface_1 = 0, surface_2 = 0;  ///< of the main group k in either molecule
    double field_1 = 0, field_2 = 0;      ///< sum over main groups m of surface_m psi_mk
  };
  struct Shape {
    double volume = 0, volume_three_quart = 0, surface = 0, pure_residual = 0;
  };
  std::vector<GroupPair> groups_;
  Shape first_, second_;
};

/// x1 of t = ln(x1/x2).
[[nodiscard]] double fraction_of_log_ratio(double t);
/// t = ln(x1/x2) of x1 strictly between 0 and 1.
[[nodiscard]] double log_ratio_of_fraction(double x1);

}  // namespace firstcrop
