#include <doctest/doctest.h>

#include <cmath>

#include <limits>
#include <sstream>
#include <string>
#include <vector>

#include "csv_table.hpp"
#include "solubility/posterior.hpp"

using namespace firstcrop;

namespace {

struct Reading {
  std::string look;
  double low = 0;
  double high = 0;
};

double limit(const std::string& text) {
  constexpr double kInfinity = std::numeric_limits<double>::infinity();
  return text == "inf" ? kInfinity : text == "-inf" ? -kInfinity : std::stod(text);
}

std::vector<Reading> readings_of(const std::string& text) {
  std::vector<Reading> readings;
  std::istringstream parts(text);
  for (std::string part; std::getline(parts, part, ';');) {
    std::istringstream words(part);
    Reading reading;
    std::string low;
    std::string high;
    words >> reading.look >> low >> high;
    reading.low = limit(low);
    reading.high = limit(high);
    readings.push_back(reading);
  }
  return readings;
}

}  // namespace

TEST_CASE("a tube read look by look teaches what the independent calculation learns") {
  const auto rows = read_csv_table("tube_update.csv");
  const auto covariances = read_csv_table("tube_update_covariance.csv");
  int tubes = 0;
  for (int number_of_case = 1; number_of_case <= 10; ++number_of_case) {
    CAPTURE(number_of_case);
    const std::string name = std::to_string(number_of_case);
    std::vector<CsvRow> solvents;
    for (const auto& row : rows)
      if (row.at("case") == name) solvents.push_back(row);
    REQUIRE(solvents.size() == 8);

    SolubilityState state;
    state.solvent_count = 8;
    state.mean.resize(16);
    state.covariance = Matrix(16, 16);
    for (std::size_t i = 0; i < 8; ++i) {
      state.mean[i] = number(solvents[i], "level");
      state.mean[8 + i] = number(solvents[i], "enthalpy");
    }
    for (const auto& row : covariances)
      if (row.at("case") == name) {
        const auto i = std::stoul(row.at("row"));
        const auto j = std::stoul(row.at("column"));
        state.covariance(i, j) = state.covariance(j, i) = number(row, "value");
      }

    for (std::size_t i = 0; i < 8; ++i) {
      if (solvents[i].at("tubed") != "1") continue;
      ++tubes;
      for (const Reading& reading : readings_of(solvents[i].at("readings"))) {
        Observation look;
        look.weights = {{i, 1.0}};
        look.temperature_k = 273.15 + (reading.look == "hot"    ? number(solvents[i], "hot_c")
                                       : reading.look == "cold" ? number(solvents[i], "cold_c")
                                                                : 20.0);
        look.low = reading.low;
        look.high = reading.high;
        const Posterior taught = update(state, {look});
        REQUIRE(taught.converged);
        state = taught.state;
      }
    }
    // The table holds five decimals of what goes in and what comes out.
    for (std::size_t i = 0; i < 8; ++i) {
      CAPTURE(solvents[i].at("solvent"));
      CHECK(state.mean[i] == doctest::Approx(number(solvents[i], "level_after")).scale(1).epsilon(2e-5));
      CHECK(std::sqrt(state.covariance(i, i)) ==
            doctest::Approx(number(solvents[i], "level_sd_after")).scale(1).epsilon(2e-5));
      CHECK(state.mean[8 + i] ==
            doctest::Approx(number(solvents[i], "enthalpy_after")).scale(1).epsilon(1e-5));
      CHECK(std::sqrt(state.covariance(8 + i, 8 + i)) ==
            doctest::Approx(number(solvents[i], "enthalpy_sd_after")).scale(1).epsilon(1e-5));
    }
  }
  CHECK(tubes == 10);
}
