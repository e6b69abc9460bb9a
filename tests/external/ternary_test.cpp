#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <string>

#include "csv_table.hpp"
#include "phase/liquid_stability.hpp"
#include "phase_tables.hpp"

using namespace firstcrop;
using phase_tables::id;
using phase_tables::shipped_model;

TEST_CASE(
    "the ethanol that bridges water and a hydrocarbon is never much underestimated where the data are "
    "accepted") {
  const auto rows = read_csv_table("ternary_ethanol.csv");
  CHECK(rows.size() == 30);
  std::map<std::string, double> sum;
  std::map<std::string, int> count;
  double least = 1;
  for (const CsvRow& row : rows) {
    const std::string& hydrocarbon = row.at("hydrocarbon");
    const std::array solvents{id("water"), id(hydrocarbon), id("ethanol")};
    std::array<double, 3> masses{};
    for (std::size_t i = 0; i < 3; ++i)
      masses[i] = shipped_model().library().solvent(solvents[i]).molar_mass_g_mol->value;
    const auto model = shipped_model().activity(solvents);
    REQUIRE(model);
    const double ratio = number(row, "water_per_hydrocarbon_by_mass");
    const BridgeAnswer answer = least_bridging_share(model->at(298.15), masses, ratio / (1 + ratio));
    REQUIRE(answer.status == Stability::OneLiquid);
    const double difference = answer.share - number(row, "ethanol_mass_fraction");
    sum[hydrocarbon] += std::abs(difference);
    ++count[hydrocarbon];
    if (hydrocarbon == "toluene") least = std::min(least, difference);
  }
  MESSAGE("mean difference in the mass fraction of ethanol: toluene "
          << sum["toluene"] / count["toluene"] << ", hexane " << sum["hexane"] / count["hexane"]);
  CHECK(sum["toluene"] / count["toluene"] < 0.15);
  CHECK(least > -0.02);
}
