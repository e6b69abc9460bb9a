#include "quantity/quantity.hpp"

#include <doctest/doctest.h>

namespace firstcrop {
namespace {

WrittenQuantity good(std::string_view text, const Dimension& expected) {
  const ParsedQuantity parsed = parse_quantity(text, expected);
  REQUIRE_MESSAGE(parsed.fault == QuantityFault::None, std::string(text));
  return parsed.quantity;
}

QuantityFault fault_of(std::string_view text, const Dimension& expected) {
  return parse_quantity(text, expected).fault;
}

}  // namespace

TEST_CASE("a number with its unit is read in canonical units") {
  CHECK(good("3.5 g", dimension::kMass).low == doctest::Approx(3500));
  CHECK(good("25 °C", dimension::kTemperature).middle() == doctest::Approx(298.15));
  CHECK(good("9.2 g/100mL", dimension::kConcentration).low == doctest::Approx(92));
  CHECK(good("1.2e-3 g/mL", dimension::kConcentration).low == doctest::Approx(1.2));
  CHECK(good(".5 mL", dimension::kVolume).low == doctest::Approx(0.5));
}

TEST_CASE("the blank before the unit may be missing") {
  CHECK(good("25°C", dimension::kTemperature).low == doctest::Approx(298.15));
  CHECK(good("50mg", dimension::kMass).low == doctest::Approx(50));
}

TEST_CASE("a range keeps both ends, and its middle is between them") {
  const WrittenQuantity range = good("66 to 70 °C", dimension::kTemperature);
  CHECK(range.is_range());
  CHECK(range.low == doctest::Approx(339.15));
  CHECK(range.high == doctest::Approx(343.15));
  CHECK(range.middle() == doctest::Approx(341.15));
  CHECK_FALSE(good("66 °C", dimension::kTemperature).is_range());
  CHECK(good("-5 to 5 °C", dimension::kTemperature).low == doctest::Approx(268.15));
}

TEST_CASE("a minus sign may be typed or typeset") {
  CHECK(good("-5 °C", dimension::kTemperature).low == doctest::Approx(268.15));
  CHECK(good("\u2212"
             "5 °C",
             dimension::kTemperature)
            .low == doctest::Approx(268.15));
  CHECK(good("+5 °C", dimension::kTemperature).low == doctest::Approx(278.15));
}

TEST_CASE("shares are plain numbers or percentages") {
  CHECK(good("0.08", dimension::kNumber).low == doctest::Approx(0.08));
  CHECK(good("8 %", dimension::kNumber).low == doctest::Approx(0.08));
  CHECK(good("0 to 2 %", dimension::kNumber).high == doctest::Approx(0.02));
}

TEST_CASE("digits keep their decimal meaning behind a leading zero") {
  CHECK(good("010 mg", dimension::kMass).low == doctest::Approx(10));
}

TEST_CASE("a number without its unit is never guessed at") {
  CHECK(fault_of("73", dimension::kTemperature) == QuantityFault::MissingUnit);
  CHECK(fault_of("66 to 70", dimension::kTemperature) == QuantityFault::MissingUnit);
}

TEST_CASE("an unknown unit is told back") {
  const ParsedQuantity parsed = parse_quantity("6 gr", dimension::kMass);
  CHECK(parsed.fault == QuantityFault::UnknownUnit);
  CHECK(parsed.unit_text == "gr");
}

TEST_CASE("a unit of another kind is refused, kelvin for a temperature too") {
  CHECK(fault_of("6 mL", dimension::kMass) == QuantityFault::WrongDimension);
  CHECK(fault_of("354 K", dimension::kTemperature) == QuantityFault::WrongDimension);
  CHECK(fault_of("5 °C", dimension::kTemperatureDifference) == QuantityFault::WrongDimension);
  CHECK(fault_of("8 %", dimension::kMass) == QuantityFault::WrongDimension);
}

TEST_CASE("a range that runs backwards is refused") {
  CHECK(fault_of("70 to 66 °C", dimension::kTemperature) == QuantityFault::EmptyRange);
}

TEST_CASE("what is no number is refused, and so are the words that machines take for numbers") {
  for (const char* text : {"", "about 5 g", "inf g", "nan g", "0x10 g x", "- g", "to 5 g", "5 to g"}) {
    CAPTURE(text);
    CHECK(fault_of(text, dimension::kMass) != QuantityFault::None);
  }
  CHECK(fault_of("inf", dimension::kNumber) == QuantityFault::NotANumber);
  CHECK(fault_of("nan", dimension::kNumber) == QuantityFault::NotANumber);
}

TEST_CASE("a number too large for any balance is refused") {
  CHECK(fault_of("1e999 g", dimension::kMass) == QuantityFault::NotFinite);
}

TEST_CASE("the whole text must be used up") {
  CHECK(fault_of("5 g or so", dimension::kMass) == QuantityFault::UnknownUnit);
  CHECK(fault_of("5, 6", dimension::kNumber) == QuantityFault::UnknownUnit);
}

TEST_CASE("temperatures are shown in whole degrees") {
  CHECK(show(351.4, *find_unit("°C")) == "78 °C");
  CHECK(show(273.05, *find_unit("°C")) == "0 °C");
  CHECK(show(4.96, *find_unit("K")) == "5.0 K");
  CHECK(show(12.4, *find_unit("K")) == "12 K");
}

TEST_CASE("amounts are shown with two figures, three from 100 upward") {
  const Unit volume = *find_unit("mL");
  CHECK(show(8.24, volume) == "8.2 mL");
  CHECK(show(0.0456, volume) == "0.046 mL");
  CHECK(show(61.7, volume) == "62 mL");
  CHECK(show(123.4, volume) == "123 mL");
  CHECK(show(1234, volume) == "1230 mL");
  CHECK(show(0, volume) == "0 mL");
}

TEST_CASE("rounding upward does not add a figure") {
  CHECK(show(9.97, *find_unit("mL")) == "10 mL");
}

TEST_CASE("shares are shown in whole per cent, smaller ones with one figure") {
  CHECK(show(0.083, *find_unit("%")) == "8 %");
  CHECK(show(0.0042, *find_unit("%")) == "0.4 %");
}

TEST_CASE("a range whose ends round alike is shown as one number") {
  CHECK(show_range(8.21, 8.24, *find_unit("mL")) == "8.2 mL");
  CHECK(show_range(6.9, 10.4, *find_unit("mL")) == "6.9-10 mL");
}

TEST_CASE("a range with a negative end is spelled out, so that the hyphen is not read as a minus") {
  CHECK(show_range(0.066, 2.1, *find_unit("mL/g")) == "over 66 mL/g");
  CHECK(show_range(5, 2000, *find_unit("mL/g")) == "over 1000 mL/g");
  CHECK(show_range(0.0057, 0.024, *find_unit("mL/g")) == "5.7-24 mL/g");
  CHECK(show_range(263.15, 278.15, *find_unit("°C")) == "-10 to 5 °C");
}

TEST_CASE("only what somebody vouches for counts as measured") {
  CHECK(is_measured(Origin::Published));
  CHECK(is_measured(Origin::Measured));
  CHECK(is_measured(Origin::Given));
  CHECK_FALSE(is_measured(Origin::Predicted));
  CHECK_FALSE(is_measured(Origin::Calculated));
  CHECK_FALSE(is_measured(Origin::Assumed));
}

TEST_CASE("origins have the names that stand in the answers") {
  CHECK(name_of(Origin::Published) == "published");
  CHECK(name_of(Origin::Predicted) == "predicted");
  CHECK(name_of(Origin::Assumed) == "assumed");
}

}  // namespace firstcrop
