#include "phase/flash_point.hpp"

#include <doctest/doctest.h>

#include <array>
#include <cmath>

#include "csv_table.hpp"
#include "phase_tables.hpp"

using namespace firstcrop;
using phase_tables::id;
using phase_tables::shipped_model;

TEST_CASE("flash points of aqueous ethanol lie within 2 K of the listed ones on average") {
  const auto rows = read_csv_table("flash_point_ethanol_water.csv");
  CHECK(rows.size() == 11);
  double sum_k = 0;
  for (const CsvRow& row : rows) {
    const double share = number(row, "volume_percent_ethanol") / 100;
    const auto answer =
        shipped_model().flash_point(std::array{id("ethanol"), id("water")}, std::array{share, 1 - share});
    REQUIRE(answer);
    REQUIRE(answer->temperature_k);
    sum_k += std::abs(*answer->temperature_k - 273.15 - number(row, "flash_point_c"));
  }
  MESSAGE("mean error " << sum_k / static_cast<double>(rows.size()) << " K");
  CHECK(sum_k / static_cast<double>(rows.size()) < 2);
}
