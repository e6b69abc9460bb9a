#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "csv_table.hpp"
#include "trials/tube_value.hpp"

using namespace firstcrop;

namespace {

constexpr double kZeroCelsiusK = 273.15;
constexpr std::size_t kSolvents = 8;

struct Case {
  SolubilityState state;
  std::vector<Bottle> bottles;
  std::vector<CsvRow> values;
};

Case read_case(int number_of_case) {
  static const auto rows = read_csv_table("tube_update.csv");
  static const auto covariances = read_csv_table("tube_update_covariance.csv");
  static const auto values = read_csv_table("tube_value.csv");
  const std::string name = std::to_string(number_of_case);
  Case out;
  out.state.solvent_count = kSolvents;
  out.state.covariance = Matrix(2 * kSolvents, 2 * kSolvents);
  out.state.mean.resize(2 * kSolvents);
  std::size_t i = 0;
  for (const auto& row : rows) {
    if (row.at("case") != name) continue;
    out.state.mean[i] = number(row, "level");
    out.state.mean[kSolvents + i] = number(row, "enthalpy");
    out.bottles.push_back({i, kZeroCelsiusK + number(row, "hot_c"), kZeroCelsiusK + 20,
                           kZeroCelsiusK + number(row, "cold_c")});
    ++i;
  }
  for (const auto& row : covariances) {
    if (row.at("case") != name) continue;
    const auto r = std::stoul(row.at("row"));
    const auto c = std::stoul(row.at("column"));
    out.state.covariance(r, c) = out.state.covariance(c, r) = number(row, "value");
  }
  for (const auto& row : values)
    if (row.at("case") == name) out.values.push_back(row);
  out.state.molar_mass_g_mol = number(out.values.front(), "molar_mass_g_mol");
  return out;
}

}  // namespace

TEST_CASE("expected usefulness is that of the second implementation") {
  for (int k = 1; k <= 10; ++k) {
    CAPTURE(k);
    const Case one = read_case(k);
    REQUIRE(one.values.size() == kSolvents);
    const auto expected = expectations(one.state, one.bottles);
    for (std::size_t i = 0; i < kSolvents; ++i) {
      CAPTURE(one.values[i].at("solvent"));
      // The table holds five decimals.
      CHECK(expected[i].usefulness == doctest::Approx(number(one.values[i], "usefulness")).scale(1).epsilon(3e-5));
    }
  }
}

TEST_CASE("the gain of a tube is that of the second implementation, as near as draws can tell") {
  int tubes = 0;
  for (int k = 1; k <= 10; ++k) {
    CAPTURE(k);
    const Case one = read_case(k);
    const TubeDraws many(one.state, one.bottles, 16384);
    const TubeDraws usual(one.state, one.bottles);
    for (std::size_t i = 0; i < kSolvents; ++i) {
      if (one.values[i].at("mass_mg").empty()) continue;
      ++tubes;
      const TubeSize size{number(one.values[i], "mass_mg"), number(one.values[i], "volume_ml")};
      const double drawn = number(one.values[i], "gain_drawn");
      // Two sets of 16384 draws differ by some 0.002; those of 1024 four times as much.
      CHECK(worth_of_tube(many, i, size).gain == doctest::Approx(drawn).scale(1).epsilon(0.004));
      CHECK(worth_of_tube(usual, i, size).gain == doctest::Approx(drawn).scale(1).epsilon(0.016));
      // No other tube is worth clearly more than the one that was taken there.
      for (std::size_t j = 0; j < kSolvents; ++j) {
        for (const double volume_ml : {0.5, 1.0, 2.0}) {
          CHECK(worth_of_tube(many, j, {50, volume_ml}).gain < drawn + 0.006);
        }
      }
    }
  }
  CHECK(tubes == 10);
}
