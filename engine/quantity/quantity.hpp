#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "quantity/unit.hpp"

namespace firstcrop {

/// Where a number comes from. Shown with every number, and predicted, measured and assumed are marked apart.
enum class Origin { Published, Measured, Given, Predicted, Calculated, Assumed };

[[nodiscard]] std::string_view name_of(Origin origin);
/// Published, measured or given: somebody vouches for it.
[[nodiscard]] bool is_measured(Origin origin);

/// A number in canonical units of its dimension with the range that holds 80 % (absent where it is certain).
struct Quantity {
  double value = 0;
  std::optional<double> low;
  std::optional<double> high;
  Dimension dimension;
  Origin origin = Origin::Given;
  std::string source;

  friend bool operator==(const Quantity&, const Quantity&) = default;
};

/// A number or a range as a person wrote it: `3.5 g`, `66 to 70 °C`, `0 to 2 %`, `-5 °C`, `1.2e-3 g/mL`.
struct WrittenQuantity {
  double low = 0;   ///< canonical; equal to high where one number was written
  double high = 0;  ///< canonical
  Unit unit;        ///< as written; the plain number has an empty symbol
  [[nodiscard]] double middle() const { return (low + high) / 2; }
  [[nodiscard]] bool is_range() const { return low != high; }
};

enum class QuantityFault {
  None,
  NotANumber,
  MissingUnit,
  UnknownUnit,
  WrongDimension,
  EmptyRange,
  NotFinite
};

struct ParsedQuantity {
  QuantityFault fault = QuantityFault::None;
  WrittenQuantity quantity;  ///< meaningful where fault is None
  std::string unit_text;     ///< what stood where a unit was expected
};

/// Reads a number or a range (`a to b unit`) that must be of `expected` dimension. A plain number is accepted
/// for kNumber only; a percentage is a number. Whole text must be used up.
[[nodiscard]] ParsedQuantity parse_quantity(std::string_view text, const Dimension& expected);

/// `value unit` with sensible digits: temperatures whole degrees (one decimal below 10 K differences),
/// others two significant figures, three from 100 upward. The value is canonical.
[[nodiscard]] std::string show(double value, const Unit& unit);
/// `low-high unit` rounded as `show`; one number where both round alike. Volumes per mass that reach above a litre
/// per gram are `over low`.
[[nodiscard]] std::string show_range(double low, double high, const Unit& unit);

}  // namespace firstcrop
