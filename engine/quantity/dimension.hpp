#pragma once

#include <cstdint>
#include <optional>
#include <string>

namespace firstcrop {

/// Exponents of the base quantities, and whether the value is a point on the temperature scale (a
/// temperature) rather than a distance on it (a temperature difference). T - T = K and T + K = T are the only
/// sums with a T.
struct Dimension {
  std::int8_t mass = 0;         ///< mg
  std::int8_t volume = 0;       ///< mL
  std::int8_t amount = 0;       ///< mmol
  std::int8_t temperature = 0;  ///< K
  std::int8_t time = 0;         ///< min
  std::int8_t pressure = 0;     ///< kPa
  std::int8_t energy = 0;       ///< J (so that kJ/mol = J/mmol is canonical)
  std::int8_t length = 0;       ///< m
  std::int8_t dipole = 0;       ///< D
  bool is_temperature_point = false;

  friend bool operator==(const Dimension&, const Dimension&) = default;
};

namespace dimension {
inline constexpr Dimension kNumber{};
inline constexpr Dimension kTemperature{.temperature = 1, .is_temperature_point = true};
inline constexpr Dimension kTemperatureDifference{.temperature = 1};
inline constexpr Dimension kMass{.mass = 1};
inline constexpr Dimension kVolume{.volume = 1};
inline constexpr Dimension kConcentration{.mass = 1, .volume = -1};
inline constexpr Dimension kVolumePerMass{.mass = -1, .volume = 1};
inline constexpr Dimension kAmount{.amount = 1};
inline constexpr Dimension kMolarMass{.mass = 1, .amount = -1};
inline constexpr Dimension kMolarConcentration{.volume = -1, .amount = 1};
inline constexpr Dimension kMolarVolume{.volume = 1, .amount = -1};
inline constexpr Dimension kPressure{.pressure = 1};
inline constexpr Dimension kTime{.time = 1};
inline constexpr Dimension kEnergyPerAmount{.amount = -1, .energy = 1};
inline constexpr Dimension kLength{.length = 1};
inline constexpr Dimension kDipole{.dipole = 1};
}  // namespace dimension

/// Dimension of a product; nothing where a temperature point would be multiplied.
[[nodiscard]] std::optional<Dimension> product(const Dimension& left, const Dimension& right);
/// Dimension of a quotient; nothing where a temperature point would be divided.
[[nodiscard]] std::optional<Dimension> quotient(const Dimension& left, const Dimension& right);
/// Dimension of a sum (T + K = T; equal dimensions otherwise); nothing where the two do not add.
[[nodiscard]] std::optional<Dimension> sum(const Dimension& left, const Dimension& right);
/// Dimension of a difference (T - T = K, T - K = T); nothing where the two do not subtract.
[[nodiscard]] std::optional<Dimension> difference(const Dimension& left, const Dimension& right);
/// "temperature", "temperature difference", "mass per volume" ... for messages.
[[nodiscard]] std::string name_of(const Dimension& dimension);

}  // namespace firstcrop
