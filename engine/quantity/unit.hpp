#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "quantity/dimension.hpp"

namespace firstcrop {

/// One unit of the closed list. Canonical value = value * scale + offset (the offset only for temperature
/// points).
struct Unit {
  std::string_view symbol;
  Dimension dimension;
  double scale = 1;
  double offset = 0;

  [[nodiscard]] constexpr double to_canonical(double value) const { return value * scale + offset; }
  [[nodiscard]] constexpr double from_canonical(double value) const { return (value - offset) / scale; }
};

/// Every unit that may be written, longest symbol first where one begins another.
[[nodiscard]] std::span<const Unit> all_units();
/// The unit with exactly this symbol.
[[nodiscard]] std::optional<Unit> find_unit(std::string_view symbol);
/// The longest unit that `text` begins with, not followed by a letter.
[[nodiscard]] std::optional<Unit> leading_unit(std::string_view text);
/// The unit that values of this dimension are shown in (°C, K, mg/mL, mL/g, g/mol ...); plain number without.
[[nodiscard]] std::optional<Unit> display_unit(const Dimension& dimension);

}  // namespace firstcrop
