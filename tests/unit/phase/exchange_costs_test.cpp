#include "phase/exchange_costs.hpp"

#include <doctest/doctest.h>

#include <cmath>

#include "library_fixture.hpp"
#include "phase/solvent_graph.hpp"

using namespace firstcrop;
using doctest::Approx;
using phase_fixture::id;
using phase_fixture::shipped;

namespace {

const std::string kGood =
    "format: firstcrop exchange costs 1\n"
    "source: judged\n"
    "step: 1\n"
    "unpublished_chance: 90 %\n"
    "slow_drying: 1\n"
    "slow_drying_above: 130 °C\n"
    "hazards:\n"
    "  columns: kind mark cost\n"
    "  rows: |\n"
    "    fire H225 0.5\n"
    "    fire H224 1\n"
    "    health H360 2\n"
    "strip:\n"
    "  residue: 1 %\n"
    "  least_volatility: 1.05\n"
    "  most_volumes: 10\n"
    "  most_between: 2\n";

std::string with(std::string text, const std::string& from, const std::string& to) {
  return text.replace(text.find(from), from.size(), to);
}

const ExchangeCosts& shipped_costs() {
  static const ExchangeCosts costs = [] {
    Findings findings;
    return load_exchange_costs(std::string(FIRSTCROP_SOURCE_DIR) + "/solvents/exchange-costs.yaml", findings)
        .value();
  }();
  return costs;
}

}  // namespace

TEST_CASE("of one kind the dearest mark counts, and kinds add up") {
  Findings findings;
  const auto costs = read_exchange_costs("costs.yaml", kGood, findings);
  REQUIRE(costs);
  CHECK(findings.empty());
  Solvent solvent;
  CHECK(hazard_cost(solvent, *costs) == 0);
  solvent.hazard_statements.knowledge = Knowledge::Value;
  solvent.hazard_statements.values = {"H225", "H224"};
  CHECK(hazard_cost(solvent, *costs) == 1);
  solvent.hazard_statements.values.emplace_back("H360FD");
  CHECK(hazard_cost(solvent, *costs) == 3);
}

TEST_CASE("the more volatile a trace, the fewer volumes take it out") {
  CHECK_FALSE(volumes_to_strip(1, 0.01).has_value());
  CHECK(*volumes_to_strip(2, 0.01) == Approx(99));
  CHECK(*volumes_to_strip(11, 0.01) == Approx(std::pow(100, 0.1) - 1));
  CHECK(*volumes_to_strip(3, 0.1) < *volumes_to_strip(3, 0.01));
}

TEST_CASE("faults of the file are found at their lines") {
  struct Fault {
    std::string from, to;
    int line;
  };
  for (const Fault& fault : {Fault{"fire H224 1", "fire H224 one", 11},
                             {"fire H224 1", "fire H225 1", 11},
                             {"fire H224 1", "fire H224 1 2", 11},
                             {"fire H224 1", "fire H224 -1", 11},
                             {"columns: kind mark", "columns: mark kind", 8},
                             {"residue: 1 %", "residue: 100 %", 14},
                             {"least_volatility: 1.05", "least_volatility: 0.9", 15}}) {
    CAPTURE(fault.to);
    Findings findings;
    CHECK_FALSE(read_exchange_costs("costs.yaml", with(kGood, fault.from, fault.to), findings).has_value());
    REQUIRE(findings.size() == 1);
    CHECK(findings.sorted()[0].place.line == fault.line);
  }
  Findings findings;
  CHECK_FALSE(read_exchange_costs("costs.yaml", with(kGood, "step: 1\n", ""), findings).has_value());
  CHECK(findings.has_errors());
}

TEST_CASE("rinsing costs the hazards of the next solvent") {
  const StepCost cost = rinse_cost(shipped(), shipped_costs());
  const double to_water = *cost(id("hexane").index, id("water").index);
  const double to_hexane = *cost(id("water").index, id("hexane").index);
  CHECK(to_water == shipped_costs().step);
  CHECK(to_hexane > to_water);
}

TEST_CASE("what boils much higher cannot be distilled out") {
  const StepCost cost = strip_cost(shipped(), shipped_costs(), 101.325);
  CHECK(cost(id("dichloromethane").index, id("toluene").index).has_value());
  CHECK_FALSE(cost(id("toluene").index, id("dichloromethane").index).has_value());
  CHECK_FALSE(cost(id("water").index, id("formamide").index).has_value());
}

TEST_CASE("water leaves toluene by the separator, ethanol leaves water by no separator") {
  // 85 °C, 80.3 wt% toluene in the vapour (solvents/azeotropes.yaml, process-note-2025): 1 g of water takes 4.1 g or
  // 4.7 mL of toluene along.
  const auto step = separator_step(shipped(), id("water"), id("toluene"), kStandardPressureKpa);
  REQUIRE(step);
  CHECK(step->temperature_k == Approx(273.15 + 85).epsilon(0.003));
  REQUIRE(step->volumes);
  CHECK(*step->volumes == Approx(4.7).epsilon(0.03));
  const auto back = separator_step(shipped(), id("toluene"), id("water"), kStandardPressureKpa);
  REQUIRE(back);
  CHECK(*back->volumes == Approx(1 / *step->volumes));
  CHECK_FALSE(separator_step(shipped(), id("ethanol"), id("water"), kStandardPressureKpa));
  CHECK(strip_cost(shipped(), shipped_costs(), kStandardPressureKpa)(id("water").index, id("toluene").index));
}

TEST_CASE("doubt multiplies the chances along a chain") {
  const MiscibilityGraph graph = solvent_graph(shipped(), {});
  const auto chain = graph.cheapest_chain(id("water").index, id("hexane").index, doubt_cost(graph));
  REQUIRE(chain);
  double product = 1;
  for (std::size_t i = 1; i < chain->vertices.size(); ++i)
    product *= graph.edge(chain->vertices[i - 1], chain->vertices[i])->chance;
  CHECK(std::exp(-chain->cost) == Approx(product));
}
