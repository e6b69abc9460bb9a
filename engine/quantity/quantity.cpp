#include "quantity/quantity.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <limits>
#include <utility>

#include <fmt/format.h>

namespace firstcrop {
namespace {

// A litre for a gram.
constexpr double kMostToldMlPerMg = 1.0;

std::string_view trimmed(std::string_view text) {
  const auto first = text.find_first_not_of(" \t");
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(" \t") - first + 1);
}

// A number at the front of the text and what stands behind it. No hexadecimal, no `inf`, no `nan`.
std::optional<std::pair<double, std::string_view>> leading_number(std::string_view text) {
  text = trimmed(text);
  std::string_view digits = text;
  double sign = 1;
  if (digits.starts_with('+')) {
    digits.remove_prefix(1);
  } else if (digits.starts_with("\u2212")) {
    digits.remove_prefix(std::string_view("\u2212").size());
    sign = -1;
  } else if (digits.starts_with('-')) {
    digits.remove_prefix(1);
    sign = -1;
  }
  if (digits.empty() || !(digits.front() == '.' || (digits.front() >= '0' && digits.front() <= '9')))
    return {};
  double value = 0;
  const auto [end, fault] = std::from_chars(digits.data(), digits.data() + digits.size(), value);
  if (fault == std::errc::result_out_of_range) value = std::numeric_limits<double>::infinity();
  if (fault == std::errc::invalid_argument) return {};
  return std::pair{sign * value, digits.substr(static_cast<std::size_t>(end - digits.data()))};
}

double rounded_to(double value, int digits) {
  if (value == 0 || !std::isfinite(value)) return value;
  const double step = std::pow(10.0, std::floor(std::log10(std::abs(value))) - (digits - 1));
  return std::round(value / step) * step;
}

std::string digits_of(double value, const Unit& unit) {
  if (unit.dimension == dimension::kTemperature) return fmt::format("{:.0f}", std::round(value) + 0.0);
  if (unit.dimension == dimension::kTemperatureDifference && std::abs(value) < 10) {
    return fmt::format("{:.1f}", value + 0.0);
  }
  if (unit.symbol == "%" || unit.dimension == dimension::kTemperatureDifference) {
    return std::abs(value) >= 1 || value == 0 ? fmt::format("{:.0f}", value + 0.0)
                                              : fmt::format("{:.1g}", value);
  }
  const double size = std::abs(value);
  if (size >= 1e6 || (size > 0 && size < 1e-4)) return fmt::format("{:.1e}", value);
  const double rounded = rounded_to(value, size >= 100 ? 3 : 2);
  if (std::abs(rounded) >= 10 || rounded == 0) return fmt::format("{:.0f}", rounded);
  const int decimals = 1 - static_cast<int>(std::floor(std::log10(std::abs(rounded))));
  return fmt::format("{:.{}f}", rounded, decimals);
}

std::string with_unit(std::string digits, const Unit& unit) {
  if (unit.symbol.empty()) return digits;
  return fmt::format("{} {}", digits, unit.symbol);
}

}  // namespace

std::string_view name_of(Origin origin) {
  switch (origin) {
    case Origin::Published:
      return "published";
    case Origin::Measured:
      return "measured";
    case Origin::Given:
      return "given";
    case Origin::Predicted:
      return "predicted";
    case Origin::Calculated:
      return "calculated";
    case Origin::Assumed:
      break;
  }
  return "assumed";
}

bool is_measured(Origin origin) {
  return origin == Origin::Published || origin == Origin::Measured || origin == Origin::Given;
}

ParsedQuantity parse_quantity(std::string_view text, const Dimension& expected) {
  ParsedQuantity out;
  const auto fail = [&out](QuantityFault fault) {
    out.fault = fault;
    return out;
  };
  const auto first = leading_number(text);
  if (!first) return fail(QuantityFault::NotANumber);
  auto [low, rest] = *first;
  double high = low;
  rest = trimmed(rest);
  if (rest.starts_with("to ")) {
    const auto second = leading_number(rest.substr(3));
    if (!second) return fail(QuantityFault::NotANumber);
    high = second->first;
    rest = trimmed(second->second);
  }
  if (!std::isfinite(low) || !std::isfinite(high)) return fail(QuantityFault::NotFinite);
  Unit unit{"", dimension::kNumber, 1, 0};
  if (rest.empty()) {
    if (expected != dimension::kNumber) return fail(QuantityFault::MissingUnit);
  } else {
    out.unit_text = std::string(rest);
    const auto found = find_unit(rest);
    if (!found) return fail(QuantityFault::UnknownUnit);
    unit = *found;
    if (unit.dimension != expected) return fail(QuantityFault::WrongDimension);
  }
  if (high < low) return fail(QuantityFault::EmptyRange);
  out.quantity = WrittenQuantity{unit.to_canonical(low), unit.to_canonical(high), unit};
  return out;
}

std::string show(double value, const Unit& unit) {
  return with_unit(digits_of(unit.from_canonical(value), unit), unit);
}

std::string show_range(double low, double high, const Unit& unit) {
  // Beyond a litre for a gram the number says no more than that it is out of the question.
  if (unit.dimension == dimension::kVolumePerMass && high > kMostToldMlPerMg) {
    return fmt::format("over {}", with_unit(digits_of(unit.from_canonical(std::min(low, kMostToldMlPerMg)), unit), unit));
  }
  const std::string from = digits_of(unit.from_canonical(low), unit);
  const std::string to = digits_of(unit.from_canonical(high), unit);
  if (from == to) return with_unit(from, unit);
  if (from.starts_with('-') || to.starts_with('-')) return with_unit(from + " to " + to, unit);
  return with_unit(from + "-" + to, unit);
}

}  // namespace firstcrop
