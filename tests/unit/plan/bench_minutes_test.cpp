#include "plan/bench_minutes.hpp"

#include <doctest/doctest.h>

#include <array>

#include "plan/bench_practice.hpp"

namespace firstcrop {

TEST_CASE("a flask of 100 to 150 mL takes some 20 minutes to room temperature") {
  // Common practice, no source: on an insulating layer.
  for (const double volume_ml : std::array{100.0, 125.0, 150.0}) {
    const Minutes minutes = cooling_minutes(volume_ml, 55);
    CHECK(minutes.low >= 17);
    CHECK(minutes.low <= 23);
    CHECK(minutes.high > minutes.low);
  }
}

TEST_CASE("then at least 5 minutes in ice and water") {
  // Common practice, no source.
  CHECK(practice::kIceLowMin >= 5);
}

TEST_CASE("more liquid and a longer way take longer") {
  CHECK(cooling_minutes(1000, 55).low > cooling_minutes(100, 55).low);
  CHECK(cooling_minutes(100, 70).low > cooling_minutes(100, 20).low);
  CHECK(cooling_minutes(0.3, 55).low >= 5);
  CHECK(cooling_minutes(0, 0).low >= 5);
}

TEST_CASE("water dries slowest, and a solid that bears no warmth takes twice as long") {
  constexpr double kWaterK = 373.15;
  constexpr double kEthanolK = 351.5;
  CHECK(drying_minutes(kWaterK, 1, true).high > drying_minutes(kEthanolK, 0, true).high);
  CHECK(drying_minutes(kEthanolK, 0, false).low == doctest::Approx(2 * drying_minutes(kEthanolK, 0, true).low));
}

}  // namespace firstcrop
