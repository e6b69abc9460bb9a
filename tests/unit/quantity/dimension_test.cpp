#include "quantity/dimension.hpp"

#include <doctest/doctest.h>

namespace firstcrop {

using namespace dimension;

TEST_CASE("the difference of two temperatures is a temperature difference") {
  CHECK(difference(kTemperature, kTemperature) == kTemperatureDifference);
}

TEST_CASE("a temperature difference is added to and taken from a temperature") {
  CHECK(sum(kTemperature, kTemperatureDifference) == kTemperature);
  CHECK(sum(kTemperatureDifference, kTemperature) == kTemperature);
  CHECK(difference(kTemperature, kTemperatureDifference) == kTemperature);
}

TEST_CASE("two temperatures do not add, and no temperature is taken from a difference") {
  CHECK_FALSE(sum(kTemperature, kTemperature));
  CHECK_FALSE(difference(kTemperatureDifference, kTemperature));
}

TEST_CASE("a temperature is neither multiplied nor divided") {
  CHECK_FALSE(product(kTemperature, kNumber));
  CHECK_FALSE(product(kNumber, kTemperature));
  CHECK_FALSE(quotient(kTemperature, kTemperatureDifference));
  CHECK_FALSE(quotient(kMass, kTemperature));
}

TEST_CASE("only equal kinds add and subtract") {
  CHECK(sum(kMass, kMass) == kMass);
  CHECK(difference(kVolume, kVolume) == kVolume);
  CHECK_FALSE(sum(kMass, kVolume));
  CHECK_FALSE(difference(kConcentration, kMolarConcentration));
  CHECK_FALSE(sum(kNumber, kMass));
}

TEST_CASE("products and quotients of what is weighed and measured have the kinds that a chemist expects") {
  CHECK(quotient(kMass, kVolume) == kConcentration);
  CHECK(quotient(kMass, kAmount) == kMolarMass);
  CHECK(product(kConcentration, kVolume) == kMass);
  CHECK(product(kConcentration, kVolumePerMass) == kNumber);
  CHECK(quotient(kConcentration, kMolarMass) == kMolarConcentration);
  CHECK(quotient(kTemperatureDifference, kTemperatureDifference) == kNumber);
}

TEST_CASE("kinds have the names that people are told") {
  CHECK(name_of(kTemperature) == "temperature");
  CHECK(name_of(kTemperatureDifference) == "temperature difference");
  CHECK(name_of(kNumber) == "number");
  CHECK(name_of(kConcentration) == "mass per volume");
  CHECK(name_of(kVolumePerMass) == "volume per mass");
  CHECK(name_of(kMolarMass) == "molar mass");
  CHECK(name_of(kMolarVolume) == "volume per amount");
  CHECK(name_of(kMass) == "mass");
}

TEST_CASE("kinds that nobody has named are spelled by their powers") {
  CHECK(name_of(Dimension{.length = 2}) == "length to the power 2");
  CHECK(name_of(Dimension{.mass = 1, .time = 1}) == "mass times time");
  CHECK(name_of(Dimension{.time = -1}) == "one per time");
}

}  // namespace firstcrop
