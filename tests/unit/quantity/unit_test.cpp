#include "quantity/unit.hpp"

#include <set>
#include <string>

#include <doctest/doctest.h>

namespace firstcrop {
namespace {

double canonical(double value, std::string_view symbol) {
  const auto unit = find_unit(symbol);
  REQUIRE_MESSAGE(unit, std::string(symbol));
  return unit->to_canonical(value);
}

}  // namespace

TEST_CASE("celsius is counted from 273.15 K") {
  CHECK(canonical(25, "°C") == doctest::Approx(298.15));
  CHECK(find_unit("°C")->from_canonical(373.15) == doctest::Approx(100));
}

TEST_CASE("a kelvin is a difference of temperatures, never a temperature") {
  CHECK(find_unit("K")->dimension == dimension::kTemperatureDifference);
}

TEST_CASE("every way of writing a solubility of 10 mg/mL means the same") {
  CHECK(canonical(10, "mg/mL") == doctest::Approx(10));
  CHECK(canonical(10, "g/L") == doctest::Approx(10));
  CHECK(canonical(1, "g/100mL") == doctest::Approx(10));
  CHECK(canonical(1, "g/100 mL") == doctest::Approx(10));
  CHECK(canonical(0.01, "g/mL") == doctest::Approx(10));
  CHECK(canonical(0.01, "g/cm3") == doctest::Approx(10));
  CHECK(canonical(10, "kg/m3") == doctest::Approx(10));
  CHECK(canonical(1e4, "mg/L") == doctest::Approx(10));
}

TEST_CASE("volume per mass is the reverse of mass per volume") {
  CHECK(canonical(10, "mL/g") * canonical(0.1, "g/mL") == doctest::Approx(1));
  CHECK(canonical(10, "L/kg") == doctest::Approx(canonical(10, "mL/g")));
}

TEST_CASE("pressures agree with the definitions of atmosphere, bar and torr") {
  CHECK(canonical(1, "atm") == doctest::Approx(101.325));
  CHECK(canonical(1, "bar") == doctest::Approx(100));
  CHECK(canonical(760, "mmHg") == doctest::Approx(101.325).epsilon(1e-6));
  CHECK(canonical(1013.25, "hPa") == doctest::Approx(canonical(1013.25, "mbar")));
}

TEST_CASE("a thousand of the smaller unit is one of the larger") {
  CHECK(canonical(1000, "mg") == doctest::Approx(canonical(1, "g")));
  CHECK(canonical(1000, "g") == doctest::Approx(canonical(1, "kg")));
  CHECK(canonical(1000, "µL") == doctest::Approx(canonical(1, "mL")));
  CHECK(canonical(1000, "mL") == doctest::Approx(canonical(1, "L")));
  CHECK(canonical(1000, "m") == doctest::Approx(canonical(1, "km")));
  CHECK(canonical(1000, "J/mol") == doctest::Approx(canonical(1, "kJ/mol")));
  CHECK(canonical(60, "min") == doctest::Approx(canonical(1, "h")));
  CHECK(canonical(60, "s") == doctest::Approx(canonical(1, "min")));
  CHECK(canonical(100, "%") == doctest::Approx(1));
  CHECK(canonical(1e4, "ppm") == doctest::Approx(canonical(1, "%")));
}

TEST_CASE("every unit turns a value there and back") {
  for (const Unit& unit : all_units()) {
    CAPTURE(std::string(unit.symbol));
    CHECK(unit.from_canonical(unit.to_canonical(12.5)) == doctest::Approx(12.5));
    CHECK(unit.scale > 0);
  }
}

TEST_CASE("no symbol stands for two units") {
  std::set<std::string_view> seen;
  for (const Unit& unit : all_units()) {
    CHECK_MESSAGE(seen.insert(unit.symbol).second, std::string(unit.symbol));
  }
}

TEST_CASE("symbols are known exactly as they are written") {
  CHECK_FALSE(find_unit("ml"));
  CHECK_FALSE(find_unit("mg/ml"));
  CHECK_FALSE(find_unit("c"));
  CHECK_FALSE(find_unit(""));
}

TEST_CASE("the longest unit at the front of a text counts") {
  CHECK(leading_unit("g/mol and more")->symbol == "g/mol");
  CHECK(leading_unit("g/100 mL)")->symbol == "g/100 mL");
  CHECK(leading_unit("m > 3")->symbol == "m");
}

TEST_CASE("letters behind a unit make it a word, not a unit") {
  CHECK_FALSE(leading_unit("gram"));
  CHECK_FALSE(leading_unit("K_2"));
  CHECK_FALSE(leading_unit("minutes"));
}

TEST_CASE("answers are in the units of the bench") {
  CHECK(display_unit(dimension::kTemperature)->symbol == "°C");
  CHECK(display_unit(dimension::kTemperatureDifference)->symbol == "K");
  CHECK(display_unit(dimension::kConcentration)->symbol == "mg/mL");
  CHECK(display_unit(dimension::kVolumePerMass)->symbol == "mL/g");
  CHECK(display_unit(dimension::kMass)->symbol == "g");
  CHECK(display_unit(dimension::kVolume)->symbol == "mL");
  CHECK_FALSE(display_unit(dimension::kNumber));
}

}  // namespace firstcrop
