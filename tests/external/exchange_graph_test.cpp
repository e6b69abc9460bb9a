#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <string>
#include <vector>

#include "phase/exchange_costs.hpp"
#include "phase/solvent_graph.hpp"
#include "phase_tables.hpp"

// Expected results worked out by hand and with a second implementation from the published pair records of
// solvents/miscibility.yaml: an edge is a pair published as miscible, confidence not low, without a reaction
// that is more than a caution; sources of the pairs stand in that file.

using namespace firstcrop;
using doctest::Approx;
using phase_tables::id;
using phase_tables::shipped_model;

namespace {

using Names = std::set<std::string>;

const MiscibilityGraph& published() {
  static const MiscibilityGraph graph = solvent_graph(shipped_model(), {});
  return graph;
}

const ExchangeCosts& costs() {
  static const ExchangeCosts read = [] {
    Findings findings;
    return load_exchange_costs(std::string(FIRSTCROP_SOURCE_DIR) + "/solvents/exchange-costs.yaml", findings)
        .value();
  }();
  return read;
}

std::size_t vertex(const std::string& name) {
  return id(name).index;
}

MiscibilityGraph stock(const std::vector<std::string>& names) {
  std::vector<std::size_t> vertices;
  for (const std::string& name : names) vertices.push_back(vertex(name));
  return published().within(vertices);
}

Names names_of(const std::vector<std::size_t>& vertices) {
  Names names;
  for (const std::size_t each : vertices) names.insert(shipped_model().library().solvent({each}).id);
  return names;
}

std::vector<std::string> ordered_names(const GraphChain& chain) {
  std::vector<std::string> names;
  for (const std::size_t each : chain) names.push_back(shipped_model().library().solvent({each}).id);
  return names;
}

std::set<Names> sets_of(const std::vector<std::vector<std::size_t>>& groups) {
  std::set<Names> sets;
  for (const auto& group : groups) sets.insert(names_of(group));
  return sets;
}

/// Solvents at one place of all shortest chains between two.
Names middles(const MiscibilityGraph& graph, const std::string& from, const std::string& to,
              std::size_t place = 1) {
  std::vector<std::size_t> found;
  for (const GraphChain& chain : graph.shortest_chains(vertex(from), vertex(to)))
    found.push_back(chain.at(place));
  return names_of(found);
}

std::size_t steps(const MiscibilityGraph& graph, const std::string& from, const std::string& to) {
  const auto chains = graph.shortest_chains(vertex(from), vertex(to), 1);
  return chains.empty() ? 0 : chains.front().size() - 1;
}

const std::vector<std::string> kBench{"water",   "methanol",      "ethanol",       "2-propanol",
                                      "acetone", "ethyl-acetate", "diethyl-ether", "dichloromethane",
                                      "toluene", "hexane"};
const std::vector<std::string> kPoorBench{"water",  "methanol",        "ethyl-acetate", "toluene",
                                          "hexane", "dichloromethane", "diethyl-ether"};

}  // namespace

TEST_CASE("water reaches hexane over seven solvents in two steps") {
  CHECK(steps(published(), "water", "hexane") == 2);
  CHECK(middles(published(), "water", "hexane") == Names{"1-4-dioxane", "1-propanol", "2-ethoxyethanol",
                                                         "2-propanol", "acetone", "ethanol",
                                                         "tetrahydrofuran"});
}

TEST_CASE("the least hazardous ways from water to hexane go over 1-propanol, acetone or ethanol") {
  const StepCost rinse = rinse_cost(shipped_model(), costs());
  const auto cheapest = published().cheapest_chain(vertex("water"), vertex("hexane"), rinse);
  REQUIRE(cheapest);
  CHECK(cheapest->cost == Approx(6.0));
  std::map<double, Names> by_cost;
  for (const WeighedChain& chain :
       published().shortest_chains_by_cost(vertex("water"), vertex("hexane"), rinse))
    by_cost[chain.cost].merge(names_of({chain.vertices.at(1)}));
  const std::map<double, Names> expected{{6.0, {"1-propanol", "acetone", "ethanol"}},
                                         {6.5, {"2-propanol"}},
                                         {8.5, {"tetrahydrofuran"}},
                                         {9.5, {"1-4-dioxane"}},
                                         {10.25, {"2-ethoxyethanol"}}};
  CHECK(by_cost == expected);
}

TEST_CASE("distilling each solvent out of the next leads from water over 1-propanol to hexane") {
  // The second implementation was run with up to 30 volumes of a solvent.
  ExchangeCosts patient = costs();
  patient.most_volumes = 30;
  const auto chain = published().cheapest_chain(vertex("water"), vertex("hexane"),
                                                strip_cost(shipped_model(), patient, kStandardPressureKpa));
  REQUIRE(chain);
  CHECK(ordered_names(chain->vertices) == std::vector<std::string>{"water", "1-propanol", "hexane"});
  CHECK(chain->cost == Approx(9.79).epsilon(0.001));
}

TEST_CASE("traces of water can be distilled out of alcohols and cyclic ethers but not out of acetone") {
  const std::map<std::string, double> expected{{"acetone", 0.95},     {"ethanol", 1.13},
                                               {"1-propanol", 2.76},  {"2-propanol", 1.51},
                                               {"1-4-dioxane", 4.44}, {"tetrahydrofuran", 4.64}};
  for (const auto& [name, volatility] : expected) {
    CAPTURE(name);
    const auto found = shipped_model().volatility_of_trace(id("water"), id(name), kStandardPressureKpa);
    REQUIRE(found);
    CHECK(std::abs(*found - volatility) < 0.006);
    CHECK((*found > costs().least_volatility) == (name != "acetone"));
  }
}

TEST_CASE("on a usual bench water reaches hexane over 2-propanol, acetone or ethanol") {
  CHECK(steps(stock(kBench), "water", "hexane") == 2);
  CHECK(middles(stock(kBench), "water", "hexane") == Names{"2-propanol", "acetone", "ethanol"});
}

TEST_CASE("without them it takes methanol and one more") {
  const MiscibilityGraph bench = stock(kPoorBench);
  CHECK(steps(bench, "water", "hexane") == 3);
  CHECK(middles(bench, "water", "hexane", 1) == Names{"methanol"});
  CHECK(middles(bench, "water", "hexane", 2) ==
        Names{"dichloromethane", "diethyl-ether", "ethyl-acetate", "toluene"});
}

TEST_CASE("thirteen solvents mix with both water and toluene") {
  CHECK(names_of(published().common_neighbours(vertex("water"), vertex("toluene"))) ==
        Names{"1-2-dimethoxyethane", "1-4-dioxane", "1-propanol", "2-ethoxyethanol", "2-methoxyethanol",
              "2-propanol", "acetone", "acetonitrile", "dimethyl-sulfoxide", "dimethylformamide", "ethanol",
              "methanol", "tetrahydrofuran"});
}

TEST_CASE("fourteen solvents mix with both dimethyl sulfoxide and hexane") {
  CHECK(names_of(published().common_neighbours(vertex("dimethyl-sulfoxide"), vertex("hexane"))) ==
        Names{"1-2-dichloroethane", "1-4-dioxane", "1-propanol", "2-butanone", "2-propanol", "acetone",
              "benzene", "carbon-tetrachloride", "chloroform", "dichloromethane", "ethanol", "ethyl-acetate",
              "tetrahydrofuran", "toluene"});
}

TEST_CASE("a stock in two parts is joined by any of seventeen solvents") {
  const MiscibilityGraph parts = stock({"water", "ethylene-glycol", "toluene", "heptane", "dichloromethane"});
  CHECK(sets_of(parts.components()) ==
        std::set<Names>{{"dichloromethane", "heptane", "toluene"}, {"ethylene-glycol", "water"}});
  CHECK(names_of(parts.joining_vertices(published())) ==
        Names{"1-2-dimethoxyethane", "1-4-dioxane", "1-butanol", "1-pentanol", "1-propanol", "2-butanol",
              "2-ethoxyethanol", "2-methoxyethanol", "2-propanol", "acetone", "acetonitrile",
              "dimethyl-sulfoxide", "dimethylformamide", "ethanol", "methanol", "tert-butanol",
              "tetrahydrofuran"});
}

TEST_CASE("the solvent that may not run out is the one that alone holds the stock together") {
  CHECK(
      names_of(stock({"water", "ethanol", "ethyl-acetate", "toluene", "heptane"}).articulation_vertices()) ==
      Names{"ethanol"});
  CHECK(names_of(stock(kPoorBench).articulation_vertices()) == Names{"methanol"});
}

TEST_CASE("the largest sets of mutually miscible solvents on a usual bench") {
  CHECK(sets_of(stock(kBench).maximal_cliques()) ==
        std::set<Names>{{"2-propanol", "acetone", "dichloromethane", "diethyl-ether", "ethanol",
                         "ethyl-acetate", "hexane", "toluene"},
                        {"2-propanol", "acetone", "dichloromethane", "diethyl-ether", "ethanol",
                         "ethyl-acetate", "methanol", "toluene"},
                        {"2-propanol", "acetone", "ethanol", "methanol", "water"}});
}

TEST_CASE("methanol meets hexane directly above their critical temperature of 33.7 °C") {
  CHECK(steps(published(), "methanol", "hexane") == 2);
  SolventEdgeRule warm;
  warm.temperature_k = 318.15;
  CHECK(steps(solvent_graph(shipped_model(), warm), "methanol", "hexane") == 1);
}

TEST_CASE("acetone and chloroform mix but must not meet: twenty-four solvents stand between them") {
  CHECK(steps(published(), "acetone", "chloroform") == 2);
  CHECK(middles(published(), "acetone", "chloroform") == Names{"1-2-dichloroethane",
                                                               "1-4-dioxane",
                                                               "1-butanol",
                                                               "1-propanol",
                                                               "2-propanol",
                                                               "acetonitrile",
                                                               "carbon-tetrachloride",
                                                               "cyclohexane",
                                                               "dichloromethane",
                                                               "diethyl-ether",
                                                               "dimethyl-sulfoxide",
                                                               "dimethylformamide",
                                                               "ethanol",
                                                               "ethyl-acetate",
                                                               "heptane",
                                                               "hexane",
                                                               "isooctane",
                                                               "methanol",
                                                               "n-methylpyrrolidone",
                                                               "pentane",
                                                               "tert-butyl-methyl-ether",
                                                               "tetrahydrofuran",
                                                               "toluene",
                                                               "trichloroethylene"});
}

TEST_CASE("fifteen sets of three solvents are pairwise two liquids") {
  SolventEdgeRule parting;
  parting.two_liquids = true;
  parting.barred_from = std::nullopt;
  const auto cliques = solvent_graph(shipped_model(), parting).maximal_cliques(3);
  CHECK(sets_of(cliques) == std::set<Names>{{"1-octanol", "nitromethane", "water"},
                                            {"carbon-disulfide", "nitromethane", "water"},
                                            {"cyclohexane", "ethylene-glycol", "nitromethane"},
                                            {"cyclohexane", "nitromethane", "water"},
                                            {"ethylene-glycol", "heptane", "nitromethane"},
                                            {"ethylene-glycol", "hexane", "nitromethane"},
                                            {"ethylene-glycol", "isooctane", "nitromethane"},
                                            {"ethylene-glycol", "methylcyclohexane", "nitromethane"},
                                            {"ethylene-glycol", "nitromethane", "octane"},
                                            {"heptane", "nitromethane", "water"},
                                            {"hexane", "nitromethane", "water"},
                                            {"isooctane", "nitromethane", "water"},
                                            {"limonene", "nitromethane", "water"},
                                            {"methylcyclohexane", "nitromethane", "water"},
                                            {"nitromethane", "octane", "water"}});
}

TEST_CASE("limonene is three steps from water, carbon disulfide cannot be reached by published pairs") {
  const auto chains = published().shortest_chains(vertex("water"), vertex("limonene"));
  CHECK(steps(published(), "water", "limonene") == 3);
  CHECK(chains.size() == 16);
  CHECK(steps(published(), "water", "carbon-disulfide") == 0);
}
