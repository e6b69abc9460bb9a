#include "phase/bubble_point.hpp"

#include <doctest/doctest.h>

#include <array>
#include <cmath>

#include "csv_table.hpp"
#include "phase_tables.hpp"

using namespace firstcrop;
using phase_tables::id;
using phase_tables::shipped_model;

TEST_CASE(
    "the boiling curve of ethanol and water lies within 0.3 K of the measured one, the vapour within 0.01") {
  const auto liquid = shipped_model().boiling_liquid(std::array{id("ethanol"), id("water")});
  REQUIRE(liquid);
  const auto rows = read_csv_table("boiling_ethanol_water.csv");
  CHECK(rows.size() == 15);
  double sum_k = 0;
  double sum_y = 0;
  for (const CsvRow& row : rows) {
    const double x = number(row, "x_ethanol");
    const BubblePoint point = liquid->boiling_point(x, kStandardPressureKpa);
    REQUIRE(point.temperature_k);
    sum_k += std::abs(*point.temperature_k - 273.15 - number(row, "boiling_point_c"));
    sum_y += std::abs(point.vapour_fractions[0] - number(row, "y_ethanol"));
  }
  const auto count = static_cast<double>(rows.size());
  MESSAGE("mean error " << sum_k / count << " K, vapour " << sum_y / count);
  CHECK(sum_k / count < 0.3);
  CHECK(sum_y / count < 0.01);
}

TEST_CASE(
    "boiling points of pairs lie within 1 K of those from constants fitted to measured equilibria, on "
    "average") {
  const auto rows = read_csv_table("boiling_fitted_pairs.csv");
  CHECK(rows.size() == 639);
  double sum_k = 0;
  for (const CsvRow& row : rows) {
    CAPTURE(row.at("first"));
    CAPTURE(row.at("second"));
    const auto liquid = shipped_model().boiling_liquid(std::array{id(row.at("first")), id(row.at("second"))});
    REQUIRE(liquid);
    const double x = number(row, "x_first");
    const BubblePoint point = liquid->bubble_point(std::array{x, 1 - x}, kStandardPressureKpa);
    REQUIRE(point.status == BoilingStatus::Calculated);
    sum_k += std::abs(*point.temperature_k - 273.15 - number(row, "boiling_point_c"));
  }
  MESSAGE("mean error " << sum_k / static_cast<double>(rows.size()) << " K");
  CHECK(sum_k / static_cast<double>(rows.size()) < 1);
}
