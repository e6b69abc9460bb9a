#include "facts/fact_value.hpp"

#include <doctest/doctest.h>

using namespace firstcrop;

namespace {

ScenarioValues ascending() {
  ScenarioValues out{};
  for (std::size_t k = 0; k < kScenarioCount; ++k) out[k] = static_cast<double>(k);
  return out;
}

}  // namespace

TEST_CASE("a certain number has a value and no range") {
  FactValue value;
  value.value = NumberColumn::of(300.0);
  value.origin = Origin::Published;
  value.source = "handbook";
  const auto out = summary(value, dimension::kTemperature);
  REQUIRE(out);
  CHECK(out->value == 300);
  CHECK_FALSE(out->low);
  CHECK(out->origin == Origin::Published);
  CHECK(out->source == "handbook");
}

TEST_CASE("an uncertain number is told by its median and the range that holds 80 percent") {
  FactValue value;
  value.value = NumberColumn::of(ascending());
  const auto out = summary(value, dimension::kNumber);
  REQUIRE(out);
  CHECK(out->value == doctest::Approx(31.5));
  CHECK(*out->low == doctest::Approx(5.9));
  CHECK(*out->high == doctest::Approx(57.1));
}

TEST_CASE("only the known scenarios count in a summary") {
  FactValue value;
  value.value = NumberColumn::of(ascending(), 0b11);
  const auto out = summary(value, dimension::kNumber);
  REQUIRE(out);
  CHECK(out->value == doctest::Approx(0.5));
}

TEST_CASE("a spread that is the same everywhere has no range") {
  ScenarioValues same{};
  same.fill(7);
  FactValue value;
  value.value = NumberColumn::of(same);
  CHECK_FALSE(summary(value, dimension::kNumber)->low);
}

TEST_CASE("what is unknown or no number has no summary") {
  FactValue value;
  CHECK_FALSE(value.is_known());
  CHECK_FALSE(summary(value, dimension::kNumber));
  value.value = FlagColumn::of(true);
  CHECK_FALSE(summary(value, dimension::kNumber));
  value.value = NumberColumn::of(ascending(), 0);
  CHECK_FALSE(summary(value, dimension::kNumber));
}

TEST_CASE("the probability of a flag counts the known scenarios only") {
  CHECK(FlagColumn::of(true).probability() == 1.0);
  CHECK(FlagColumn::of_mask(0b0011, 0b1111).probability() == 0.5);
  CHECK_FALSE(FlagColumn{}.probability());
  CHECK(FlagColumn::of_mask(0b1111, 0b0011).truth == 0b0011);
}
