#include "phase/activity.hpp"

#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <sstream>

#include "csv_table.hpp"
#include "phase/binary_activity.hpp"
#include "phase_tables.hpp"

using namespace firstcrop;

namespace {

GroupCounts groups_from(const std::string& text) {
  GroupCounts counts;
  std::istringstream words(text);
  for (std::string word; words >> word;) {
    const std::size_t colon = word.find(':');
    counts[std::stoi(word.substr(0, colon))] = std::stod(word.substr(colon + 1));
  }
  return counts;
}

}  // namespace

TEST_CASE("activity coefficients agree with an open implementation of modified UNIFAC to nine decimals") {
  const auto rows = read_csv_table("activity_coefficients.csv");
  CHECK(rows.size() == 60);
  int completed = 0;
  for (const CsvRow& row : rows) {
    CAPTURE(row.at("first"));
    CAPTURE(row.at("second"));
    const std::array molecules{groups_from(row.at("first_groups")), groups_from(row.at("second_groups"))};
    const auto model = ActivityModel::create(phase_tables::shipped_parameters(), molecules);
    REQUIRE(model);
    const double x = number(row, "x_first");
    const double temperature_k = number(row, "temperature_k");
    const auto ln_gamma = model->ln_gamma(std::array{x, 1 - x}, temperature_k);
    CHECK(std::abs(ln_gamma[0] - number(row, "ln_gamma_first")) < 1e-9);
    CHECK(std::abs(ln_gamma[1] - number(row, "ln_gamma_second")) < 1e-9);
    const auto pair = BinaryActivity(model->at(temperature_k)).ln_gamma(log_ratio_of_fraction(x));
    CHECK(std::abs(pair[0] - number(row, "ln_gamma_first")) < 1e-9);
    CHECK(std::abs(pair[1] - number(row, "ln_gamma_second")) < 1e-9);
    CHECK(model->uses_completed_parameters() == (row.at("completed") == "1"));
    completed += model->uses_completed_parameters() ? 1 : 0;
  }
  CHECK(completed == 5);
}
