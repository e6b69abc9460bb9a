#include "phase/solvent_graph.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>

#include "library_fixture.hpp"

using namespace firstcrop;
using phase_fixture::id;
using phase_fixture::shipped;

namespace {

bool holds(const std::vector<CandidatePair>& pairs, SolventId a, SolventId b) {
  return std::any_of(pairs.begin(), pairs.end(), [&](const CandidatePair& pair) {
    return (pair.first == a && pair.second == b) || (pair.first == b && pair.second == a);
  });
}

}  // namespace

TEST_CASE("solvents that mix are joined, those that part or react are not") {
  const MiscibilityGraph graph = solvent_graph(shipped(), {});
  CHECK(graph.edge(id("ethanol").index, id("water").index).has_value());
  CHECK_FALSE(graph.edge(id("hexane").index, id("water").index).has_value());
  CHECK_FALSE(graph.edge(id("acetone").index, id("chloroform").index).has_value());
  SolventEdgeRule unbarred;
  unbarred.barred_from = std::nullopt;
  CHECK(solvent_graph(shipped(), unbarred).edge(id("acetone").index, id("chloroform").index).has_value());
}

TEST_CASE("no two solvents are joined both as mixing and as parting") {
  SolventEdgeRule mixing;
  mixing.published_only = false;
  mixing.least_confidence = Confidence::Low;
  mixing.barred_from = std::nullopt;
  mixing.least_chance = 0.6;
  SolventEdgeRule parting = mixing;
  parting.two_liquids = true;
  const MiscibilityGraph mix = solvent_graph(shipped(), mixing);
  const MiscibilityGraph part = solvent_graph(shipped(), parting);
  std::size_t parted = 0;
  for (const std::size_t vertex : part.vertices())
    for (const std::size_t neighbour : part.neighbours(vertex)) {
      CHECK_FALSE(mix.edge(vertex, neighbour).has_value());
      ++parted;
    }
  CHECK(parted > 200);
}

TEST_CASE("candidates are the pairs of a shelf that may be one liquid hot and do not react") {
  const std::array shelf{id("water"),   id("ethanol"),    id("hexane"),
                         id("acetone"), id("chloroform"), id("methanol")};
  const auto pairs = candidate_pairs(shipped(), shelf, {});
  CHECK(holds(pairs, id("water"), id("ethanol")));
  CHECK_FALSE(holds(pairs, id("water"), id("hexane")));
  CHECK_FALSE(holds(pairs, id("acetone"), id("chloroform")));
  // Two liquids at room temperature, one at the boil.
  CHECK(holds(pairs, id("hexane"), id("methanol")));
  for (const CandidatePair& pair : pairs) {
    CHECK(pair.hot.chance >= CandidateRule{}.least_chance);
    CHECK(pair.hot_temperature_k <= CandidateRule{}.heating_limit_k);
  }
}

TEST_CASE("a lower heating limit keeps out pairs that mix only when hotter") {
  const std::array shelf{id("acetonitrile"), id("heptane")};
  CHECK(candidate_pairs(shipped(), shelf, {}).size() == 1);
  CandidateRule lukewarm;
  lukewarm.heating_limit_k = 318.15;
  CHECK(candidate_pairs(shipped(), shelf, lukewarm).empty());
}

TEST_CASE("a solvent named twice on a shelf is no pair") {
  const std::array shelf{id("ethanol"), id("ethanol")};
  CHECK(candidate_pairs(shipped(), shelf, {}).empty());
}

TEST_CASE("the best bridge between water and toluene is the one that needs least") {
  const MiscibilityGraph graph = solvent_graph(shipped(), {});
  const auto partners = common_partners(shipped(), graph, id("water"), id("toluene"), 298.15);
  REQUIRE(partners.size() > 5);
  double before = 0;
  bool unknown_seen = false;
  for (const CommonPartner& partner : partners) {
    if (!partner.bridging_share) {
      unknown_seen = true;
      continue;
    }
    CHECK_FALSE(unknown_seen);
    CHECK(*partner.bridging_share >= before);
    before = *partner.bridging_share;
  }
  CHECK(partners.front().bridging_share.has_value());
}
