#include "systems/bridge.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <set>
#include <string>
#include <vector>

#include "knowledge_fixture.hpp"
#include "phase/vapour_pressure.hpp"

// Chains expected from the published pair records of solvents/miscibility.yaml, worked out by hand and with a second
// implementation (tests/external/exchange_graph_test.cpp tells the same of the graph alone).

namespace firstcrop {
namespace {

using Names = std::set<std::string>;

const ExchangeCosts& costs() {
  static const ExchangeCosts read = [] {
    Findings findings;
    return load_exchange_costs(std::string(FIRSTCROP_SOURCE_DIR) + "/solvents/exchange-costs.yaml", findings).value();
  }();
  return read;
}

BridgeQuestion question(const std::string& from, const std::string& to, const std::vector<std::string>& shelf = {}) {
  BridgeQuestion out;
  out.from = fixture::solvent(from);
  out.to = fixture::solvent(to);
  for (const std::string& id : shelf) out.shelf.push_back(fixture::solvent(id));
  if (shelf.empty()) out.shelf = fixture::knowledge().library.shelf("all")->solvents;
  return out;
}

SolventBridge bridge(const BridgeQuestion& asked) {
  return find_bridge(fixture::knowledge().phase, costs(), asked);
}

std::vector<std::string> names(const std::vector<SolventId>& solvents) {
  std::vector<std::string> out;
  for (const SolventId solvent : solvents) out.push_back(fixture::knowledge().library.solvent(solvent).id);
  return out;
}

Names middles(const SolventBridge& found) {
  Names out;
  for (const BridgeChain& chain : found.chains) out.insert(names(chain.solvents).at(1));
  return out;
}

const std::vector<std::string> kPoorBench{"water",  "methanol",        "ethyl-acetate", "toluene",
                                          "hexane", "dichloromethane", "diethyl-ether"};

}  // namespace

TEST_CASE("water and hexane meet through seven solvents, the least hazardous first") {
  const SolventBridge found = bridge(question("water", "hexane"));
  CHECK_FALSE(found.ends_mix);
  CHECK(middles(found) == Names{"1-4-dioxane", "1-propanol", "2-ethoxyethanol", "2-propanol", "acetone", "ethanol",
                                "tetrahydrofuran"});
  REQUIRE(found.chains.size() == 7);
  for (const BridgeChain& chain : found.chains) {
    REQUIRE(chain.links.size() == 2);
    CHECK(chain.evidence() == PairEvidence::Published);
    CHECK(chain.chance() > 0.9);
    for (const BridgeLink& link : chain.links) {
      CHECK(link.confidence >= Confidence::Medium);
      CHECK_FALSE(link.source.empty());
    }
  }
  // Equal hazard: the lower boiling point first.
  CHECK(names(found.chains[0].solvents) == std::vector<std::string>{"water", "acetone", "hexane"});
  CHECK(names(found.chains[1].solvents) == std::vector<std::string>{"water", "ethanol", "hexane"});
  CHECK(names(found.chains[6].solvents) == std::vector<std::string>{"water", "2-ethoxyethanol", "hexane"});
  CHECK(std::is_sorted(found.chains.begin(), found.chains.end(),
                       [](const BridgeChain& a, const BridgeChain& b) { return a.cost < b.cost - 1e-9; }));
}

TEST_CASE("the ends need not stand on the shelf") {
  const SolventBridge found = bridge(question("water", "hexane", {"ethanol", "toluene"}));
  REQUIRE(found.chains.size() == 1);
  CHECK(names(found.chains[0].solvents) == std::vector<std::string>{"water", "ethanol", "hexane"});
}

TEST_CASE("a bench without short alcohols takes three steps, and methanol must not run out") {
  const SolventBridge found = bridge(question("water", "hexane", kPoorBench));
  CHECK(found.chains.size() == 4);
  CHECK(middles(found) == Names{"methanol"});
  REQUIRE(found.indispensable.size() == 1);
  CHECK(names({found.indispensable[0].solvent}) == std::vector<std::string>{"methanol"});
  CHECK(names(found.indispensable[0].cut_off) == std::vector<std::string>{"water"});
}

TEST_CASE("a shelf in two parts is told with what alone would join the ends") {
  const SolventBridge found =
      bridge(question("water", "toluene", {"ethylene-glycol", "heptane", "dichloromethane"}));
  CHECK(found.chains.empty());
  REQUIRE(found.components.size() == 2);
  CHECK(names(found.components[0]) == std::vector<std::string>{"dichloromethane", "heptane", "toluene"});
  CHECK(names(found.components[1]) == std::vector<std::string>{"ethylene-glycol", "water"});
  CHECK(found.joining.size() == 17);
  REQUIRE_FALSE(found.beyond_shelf.empty());
  CHECK(found.beyond_shelf[0].solvents.size() == 3);
}

TEST_CASE("partners of water and toluene come with the amount that makes one liquid of all three") {
  const SolventBridge found = bridge(question("water", "toluene", {"ethanol", "acetone"}));
  REQUIRE(found.partners.size() == 13);
  double before = 0;
  int on_shelf = 0;
  for (const BridgePartner& partner : found.partners) {
    on_shelf += partner.on_shelf ? 1 : 0;
    if (!partner.share) continue;
    CHECK(*partner.share >= before);
    CHECK(*partner.share < 1);
    before = *partner.share;
  }
  CHECK(on_shelf == 2);
}

TEST_CASE("solvents that mix but react are led around each other") {
  const SolventBridge found = bridge(question("acetone", "chloroform"));
  CHECK(names(found.chains.at(0).solvents) != std::vector<std::string>{"acetone", "dimethyl-sulfoxide", "chloroform"});
  REQUIRE(found.reaction != nullptr);
  CHECK_FALSE(found.ends_mix);
  CHECK(found.chains.size() == 24);
}

TEST_CASE("solvents that mix need no third") {
  const SolventBridge found = bridge(question("ethanol", "toluene"));
  CHECK(found.ends_mix);
  REQUIRE(found.chains.size() == 1);
  CHECK(found.chains[0].links.size() == 1);
}

TEST_CASE("water leaves with hexane or toluene into a separator") {
  for (const char* to : {"hexane", "toluene"}) {
    CAPTURE(to);
    BridgeQuestion asked = question("water", to);
    asked.strip = true;
    const SolventBridge found = bridge(asked);
    REQUIRE_FALSE(found.chains.empty());
    REQUIRE(found.chains[0].links.size() == 1);
    REQUIRE(found.chains[0].links[0].separator_k);
    // 61.6 and 85 °C (solvents/azeotropes.yaml, process-note-2025).
    CHECK(*found.chains[0].links[0].separator_k ==
          doctest::Approx(273.15 + (std::string(to) == "hexane" ? 61.6 : 85)).epsilon(1e-3));
    CHECK_FALSE(found.ends_mix);
  }
}

TEST_CASE("nobody distils over more than two solvents or with more than ten volumes") {
  for (const auto& [from, to] : {std::pair{"dimethylformamide", "heptane"}, {"dimethylformamide", "water"},
                                 {"dimethyl-sulfoxide", "ethyl-acetate"}, {"water", "ethyl-acetate"},
                                 {"toluene", "methanol"}, {"acetic-acid", "hexane"}}) {
    CAPTURE(from);
    CAPTURE(to);
    BridgeQuestion asked = question(from, to);
    asked.strip = true;
    for (const ChainOrder order : {ChainOrder::Steps, ChainOrder::Hazard, ChainOrder::Chance}) {
      asked.order = order;
      const SolventBridge found = bridge(asked);
      for (const auto* chains : {&found.chains, &found.beyond_shelf}) {
        for (const BridgeChain& chain : *chains) {
          CHECK(chain.solvents.size() <= 4);
          for (const BridgeLink& link : chain.links) CHECK((link.separator_k || *link.volumes <= 10));
        }
      }
    }
  }
}

TEST_CASE("water cannot strip dimethylformamide, and no detour is sought") {
  BridgeQuestion asked = question("dimethylformamide", "water");
  asked.strip = true;
  const SolventBridge found = bridge(asked);
  CHECK(found.boils_lower);
  CHECK(found.chains.empty());
  CHECK(found.beyond_shelf.empty());
  asked.to = fixture::solvent("heptane");
  CHECK_FALSE(bridge(asked).boils_lower);
  CHECK(bridge(asked).chains.empty());
  CHECK(bridge(asked).beyond_shelf.empty());
  asked = question("ethanol", "toluene");
  asked.strip = true;
  CHECK_FALSE(bridge(asked).boils_lower);
}

TEST_CASE("the way back by distillation is another way") {
  BridgeQuestion there = question("ethanol", "toluene");
  there.strip = true;
  BridgeQuestion back = question("toluene", "ethanol");
  back.strip = true;
  REQUIRE_FALSE(bridge(there).chains.empty());
  CHECK(names(bridge(there).chains[0].solvents) == std::vector<std::string>{"ethanol", "toluene"});
  const SolventBridge found = bridge(back);
  CHECK((found.chains.empty() || found.chains[0].solvents != std::vector<SolventId>{back.from, back.to} ||
         *found.chains[0].links[0].volatility > costs().least_volatility));
}

TEST_CASE("on a mountain solvents are distilled at its pressure") {
  BridgeQuestion asked = question("water", "hexane");
  asked.strip = true;
  const double at_sea_k = *bridge(asked).chains.at(0).links.at(0).separator_k;
  asked.to = fixture::solvent("1-4-dioxane");
  const double at_sea = *bridge(asked).chains.at(0).links.at(0).volatility;
  asked.pressure_kpa = pressure_at_altitude_kpa(3000);
  CHECK(*bridge(asked).chains.at(0).links.at(0).volatility != doctest::Approx(at_sea).epsilon(1e-4));
  asked.to = fixture::solvent("hexane");
  const SolventBridge high = bridge(asked);
  REQUIRE_FALSE(high.chains.empty());
  CHECK(*high.chains[0].links[0].separator_k < at_sea_k - 5);
}

TEST_CASE("carbon disulfide is reached by calculated pairs only, and they say so") {
  const SolventBridge found = bridge(question("ethanol", "carbon-disulfide"));
  REQUIRE_FALSE(found.chains.empty());
  CHECK(found.chains[0].evidence() != PairEvidence::Published);
  for (const BridgeLink& link : found.chains[0].links) {
    if (link.evidence != PairEvidence::Published) CHECK(link.chance >= costs().unpublished_chance);
  }
}

TEST_CASE("the surest chain has the largest chance of all that are found") {
  BridgeQuestion asked = question("water", "hexane");
  asked.order = ChainOrder::Chance;
  const SolventBridge surest = bridge(asked);
  REQUIRE_FALSE(surest.chains.empty());
  for (const BridgeChain& chain : surest.chains) CHECK(chain.chance() <= surest.chains[0].chance() + 1e-9);
  asked.order = ChainOrder::Hazard;
  CHECK(bridge(asked).chains[0].cost == doctest::Approx(6.0));
}

TEST_CASE("at most so many chains as asked for, the easiest of them") {
  BridgeQuestion asked = question("acetone", "chloroform");
  asked.most_chains = 3;
  CHECK(bridge(asked).chains.size() == 3);
}

}  // namespace firstcrop
