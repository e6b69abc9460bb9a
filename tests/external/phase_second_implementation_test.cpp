#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <sstream>
#include <string>
#include <vector>

#include "csv_table.hpp"
#include "phase/azeotrope.hpp"
#include "phase/flash_point.hpp"
#include "phase/liquid_layers.hpp"
#include "phase_tables.hpp"

using namespace firstcrop;
using phase_tables::id;
using phase_tables::shipped_model;

namespace {

/// Parts of `0.8982;min;0`.
std::vector<std::string> parts(const std::string& text) {
  std::vector<std::string> found;
  std::istringstream stream(text);
  for (std::string part; std::getline(stream, part, ';');) found.push_back(part);
  return found;
}

void check_azeotrope(const CsvRow& row, const BoilingLiquid& liquid) {
  const AzeotropeAnswer answer = find_azeotrope(liquid, number(row, "pressure_kpa"));
  if (row.at("value").empty()) {
    CHECK(answer.status == AzeotropeStatus::None);
    return;
  }
  REQUIRE(answer.azeotrope);
  const auto expected = parts(row.at("other"));
  CHECK(std::abs(answer.azeotrope->temperature_k - 273.15 - number(row, "value")) < 0.002);
  CHECK(std::abs(answer.azeotrope->first_fraction - std::stod(expected[0])) < 0.0002);
  CHECK((answer.azeotrope->kind == AzeotropeKind::MinimumBoiling) == (expected[1] == "min"));
  CHECK(answer.azeotrope->layers.has_value() == (expected[2] == "1"));
}

void check_margin(const CsvRow& row, const ActivityModel& model) {
  const BinaryActivity pair(model.at(273.15 + number(row, "temperature_c")));
  CHECK(std::abs(miscibility_margin(pair) - number(row, "value")) < 0.0001);
  const auto layers = liquid_layers(pair).layers;
  CHECK(layers.has_value() == !row.at("other").empty());
  if (!layers || row.at("other").empty()) return;
  const auto expected = parts(row.at("other"));
  CHECK(std::abs(layers->poor_fraction() - std::stod(expected[0])) < 2e-6);
  CHECK(std::abs(layers->rich_fraction() - std::stod(expected[1])) < 2e-6);
}

void check_flash_point(const CsvRow& row, const ActivityModel& model, SolventId first, SolventId second) {
  std::vector<FlashComponent> components;
  for (const SolventId solvent : {first, second}) {
    const SafetyNumber& listed = shipped_model().library().solvent(solvent).flash_point_k;
    components.push_back({shipped_model().vapour_pressure(solvent).value(),
                          listed.knowledge == Knowledge::Value ? std::optional(listed.value) : std::nullopt});
  }
  const double x = number(row, "x_first");
  const FlashPoint answer = flash_point(components, model, std::array{x, 1 - x});
  REQUIRE(answer.temperature_k);
  // One pair parts at its flash point in the model, which the other implementation leaves out.
  CHECK(std::abs(*answer.temperature_k - 273.15 - number(row, "value")) < 0.05);
}

}  // namespace

TEST_CASE("boiling, azeotropes, layers, volatilities and flash points agree with a second implementation") {
  const auto rows = read_csv_table("phase_second_implementation.csv");
  CHECK(rows.size() == 47);
  for (const CsvRow& row : rows) {
    CAPTURE(row.at("kind"));
    CAPTURE(row.at("first"));
    CAPTURE(row.at("second"));
    const SolventId first = id(row.at("first"));
    const SolventId second = id(row.at("second"));
    const auto liquid = shipped_model().boiling_liquid(std::array{first, second});
    REQUIRE(liquid);
    REQUIRE(liquid->model());
    if (row.at("kind") == "bubble") {
      const double x = number(row, "x_first");
      const BubblePoint point = liquid->bubble_point(std::array{x, 1 - x}, number(row, "pressure_kpa"));
      REQUIRE(point.temperature_k);
      CHECK(std::abs(*point.temperature_k - 273.15 - number(row, "value")) < 0.001);
      CHECK(std::abs(point.vapour_fractions[0] - number(row, "other")) < 1e-5);
    } else if (row.at("kind") == "azeotrope") {
      check_azeotrope(row, *liquid);
    } else if (row.at("kind") == "margin") {
      check_margin(row, *liquid->model());
    } else if (row.at("kind") == "trace") {
      const auto volatility = liquid->volatility_of_trace(0, 1, number(row, "pressure_kpa"));
      REQUIRE(volatility);
      CHECK(std::abs(*volatility / number(row, "value") - 1) < 1e-4);
    } else {
      REQUIRE(row.at("kind") == "flash");
      check_flash_point(row, *liquid->model(), first, second);
    }
  }
}
