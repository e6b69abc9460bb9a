#pragma once

#include <optional>

#include "library/solvent.hpp"

namespace firstcrop {

/// Standard pressure of boiling points [kPa].
inline constexpr double kStandardPressureKpa = 101.325;

/// Vapour pressure of a pure liquid: an Antoine equation scaled by a constant factor so that it gives 101.325
/// kPa at the listed boiling point.
class VapourPressure {
 public:
  /// Nothing where the boiling point lies outside the range in which the equation has a value.
  [[nodiscard]] static std::optional<VapourPressure> create(const AntoineEquation& antoine,
                                                            double boiling_point_k);

  /// ln(p/kPa); nothing at or below lowest_temperature_k().
  [[nodiscard]] std::optional<double> ln_kpa(double temperature_k) const;
  /// d ln p/dT [1/K]; temperature above lowest_temperature_k().
  [[nodiscard]] double slope_per_k(double temperature_k) const;
  /// Boiling temperature [K] at a pressure above 0 [kPa]; nothing where the equation never reaches it.
  [[nodiscard]] std::optional<double> boiling_temperature_k(double pressure_kpa) const;
  /// The equation has its pole here [K]; 0 where the pole lies below absolute zero.
  [[nodiscard]] double lowest_temperature_k() const;

 private:
  VapourPressure(double intercept, double slope_k, double shift_k)
      : intercept_(intercept), slope_k_(slope_k), shift_k_(shift_k) {}
  double intercept_;  ///< ln(p/kPa) = intercept - slope/(T + shift)
  double slope_k_;
  double shift_k_;
};

/// Pressure of the air [kPa] at a height above the sea [m], from about -500 to 11000 m (International
/// Standard Atmosphere, ISO 2533).
[[nodiscard]] double pressure_at_altitude_kpa(double altitude_m);

}  // namespace firstcrop
