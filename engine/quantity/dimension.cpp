#include "quantity/dimension.hpp"

#include <array>
#include <utility>

#include <fmt/format.h>

namespace firstcrop {
namespace {

using Exponent = std::int8_t Dimension::*;
constexpr std::array<std::pair<Exponent, const char*>, 9> kExponents{
    {{&Dimension::mass, "mass"},
     {&Dimension::volume, "volume"},
     {&Dimension::amount, "amount"},
     {&Dimension::temperature, "temperature"},
     {&Dimension::time, "time"},
     {&Dimension::pressure, "pressure"},
     {&Dimension::energy, "energy"},
     {&Dimension::length, "length"},
     {&Dimension::dipole, "dipole moment"}}};

Dimension combine(const Dimension& left, const Dimension& right, int sign) {
  Dimension out;
  for (const auto& [exponent, name] : kExponents) {
    out.*exponent = static_cast<std::int8_t>(left.*exponent + sign * (right.*exponent));
  }
  return out;
}

Dimension without_point(Dimension dimension) {
  dimension.is_temperature_point = false;
  return dimension;
}

}  // namespace

std::optional<Dimension> product(const Dimension& left, const Dimension& right) {
  if (left.is_temperature_point || right.is_temperature_point) return std::nullopt;
  return combine(left, right, 1);
}

std::optional<Dimension> quotient(const Dimension& left, const Dimension& right) {
  if (left.is_temperature_point || right.is_temperature_point) return std::nullopt;
  return combine(left, right, -1);
}

std::optional<Dimension> sum(const Dimension& left, const Dimension& right) {
  if (without_point(left) != without_point(right)) return std::nullopt;
  if (left.is_temperature_point && right.is_temperature_point) return std::nullopt;
  return left.is_temperature_point ? left : right;
}

std::optional<Dimension> difference(const Dimension& left, const Dimension& right) {
  if (without_point(left) != without_point(right)) return std::nullopt;
  if (right.is_temperature_point) {
    if (!left.is_temperature_point) return std::nullopt;
    return without_point(left);
  }
  return left;
}

std::string name_of(const Dimension& dimension) {
  if (dimension.is_temperature_point) return "temperature";
  if (dimension == dimension::kNumber) return "number";
  if (dimension == dimension::kTemperatureDifference) return "temperature difference";
  if (dimension == dimension::kConcentration) return "mass per volume";
  if (dimension == dimension::kVolumePerMass) return "volume per mass";
  if (dimension == dimension::kMolarMass) return "molar mass";
  std::string above;
  std::string below;
  for (const auto& [exponent, name] : kExponents) {
    const int power = dimension.*exponent;
    if (power == 0) continue;
    std::string& side = power > 0 ? above : below;
    if (!side.empty()) side += " times ";
    side += name;
    const int size = power > 0 ? power : -power;
    if (size > 1) side += fmt::format(" to the power {}", size);
  }
  if (above.empty()) above = "one";
  return below.empty() ? above : above + " per " + below;
}

}  // namespace firstcrop
