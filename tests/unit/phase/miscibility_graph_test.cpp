#include "phase/miscibility_graph.hpp"

#include <doctest/doctest.h>

#include <array>
#include <cmath>

using namespace firstcrop;
using doctest::Approx;

namespace {

/// 0-1-2-3 in a row, 1-4-3 beside it, 5-6 apart, 7 alone.
MiscibilityGraph sample() {
  const std::array<GraphEdge, 6> edges{
      {{0, 1, 0.9}, {1, 2, 0.8}, {2, 3, 0.9}, {1, 4, 0.99}, {4, 3, 0.99}, {5, 6, 1}}};
  return MiscibilityGraph(8, edges);
}

std::optional<double> unit_cost(std::size_t, std::size_t) {
  return 1;
}

using Sets = std::vector<std::vector<std::size_t>>;

}  // namespace

TEST_CASE("every shortest chain is found and no other") {
  const auto chains = sample().shortest_chains(0, 3);
  REQUIRE(chains.size() == 2);
  CHECK(chains[0] == GraphChain{0, 1, 2, 3});
  CHECK(chains[1] == GraphChain{0, 1, 4, 3});
  CHECK(sample().shortest_chains(0, 3, 1).size() == 1);
  CHECK(sample().shortest_chains(2, 2) == std::vector<GraphChain>{{2}});
}

TEST_CASE("without a way there is no chain") {
  CHECK(sample().shortest_chains(0, 5).empty());
  CHECK(sample().shortest_chains(0, 77).empty());
  CHECK_FALSE(sample().cheapest_chain(0, 7, unit_cost).has_value());
}

TEST_CASE("the cheapest chain may take more steps than the shortest") {
  const std::array<GraphEdge, 4> edges{{{0, 1, 1}, {1, 2, 1}, {2, 3, 1}, {0, 3, 1}}};
  const MiscibilityGraph graph(4, edges);
  const auto cost = [](std::size_t from, std::size_t to) -> std::optional<double> {
    return from + to == 3 && from * to == 0 ? 10 : 1;
  };
  const auto chain = graph.cheapest_chain(0, 3, cost);
  REQUIRE(chain);
  CHECK(chain->vertices == GraphChain{0, 1, 2, 3});
  CHECK(chain->cost == Approx(3));
  const auto shortest = graph.shortest_chains_by_cost(0, 3, cost);
  REQUIRE(shortest.size() == 1);
  CHECK(shortest[0].cost == Approx(10));
}

TEST_CASE("a step that cannot be made in one direction can still be made in the other") {
  const auto only_upwards = [](std::size_t from, std::size_t to) -> std::optional<double> {
    return from < to ? std::optional(1.0) : std::nullopt;
  };
  CHECK(sample().cheapest_chain(0, 3, only_upwards)->vertices == GraphChain{0, 1, 2, 3});
  CHECK_FALSE(sample().cheapest_chain(3, 0, only_upwards).has_value());
  CHECK(sample().shortest_chains_by_cost(3, 0, only_upwards).empty());
}

TEST_CASE("shortest chains are put in order by their cost") {
  const MiscibilityGraph graph = sample();
  const auto doubt = [&](std::size_t from, std::size_t to) -> std::optional<double> {
    return -std::log(graph.edge(from, to)->chance);
  };
  const auto chains = graph.shortest_chains_by_cost(0, 3, doubt);
  REQUIRE(chains.size() == 2);
  CHECK(chains[0].vertices == GraphChain{0, 1, 4, 3});
  CHECK(std::exp(-chains[0].cost) == Approx(0.9 * 0.99 * 0.99));
}

TEST_CASE("a smaller graph keeps the numbers of its vertices") {
  const std::array<std::size_t, 4> kept{1, 3, 4, 6};
  const MiscibilityGraph part = sample().within(kept);
  CHECK(part.vertices() == std::vector<std::size_t>{1, 3, 4, 6});
  CHECK_FALSE(part.has(2));
  CHECK(part.neighbours(4) == std::vector<std::size_t>{1, 3});
  CHECK(part.shortest_chains(1, 3) == std::vector<GraphChain>{{1, 4, 3}});
  CHECK(part.shortest_chains(1, 2).empty());
}

TEST_CASE("edges may be left out") {
  const auto sure = sample().with_edges([](const GraphEdge& edge) { return edge.chance > 0.85; });
  CHECK_FALSE(sure.edge(1, 2).has_value());
  CHECK(sure.edge(3, 4)->chance == Approx(0.99));
  CHECK(sure.vertices().size() == 8);
}

TEST_CASE("common neighbours are joined to both") {
  CHECK(sample().common_neighbours(1, 3) == std::vector<std::size_t>{2, 4});
  CHECK(sample().common_neighbours(0, 5).empty());
}

TEST_CASE("components hang together, and only a vertex that touches all of them joins them") {
  CHECK(sample().components() == Sets{{0, 1, 2, 3, 4}, {5, 6}, {7}});
  const std::array<std::size_t, 3> kept{0, 2, 4};
  CHECK(sample().within(kept).joining_vertices(sample()) == std::vector<std::size_t>{1});
  CHECK(sample().joining_vertices(sample()).empty());
  const std::array<std::size_t, 2> joined{0, 1};
  CHECK(sample().within(joined).joining_vertices(sample()).empty());
}

TEST_CASE("a component falls apart without its articulation vertices") {
  CHECK(sample().articulation_vertices() == std::vector<std::size_t>{1});
}

TEST_CASE("maximal cliques hold every edge and none holds another") {
  const std::array<GraphEdge, 5> edges{{{0, 1, 1}, {1, 2, 1}, {0, 2, 1}, {2, 3, 1}, {3, 4, 1}}};
  const MiscibilityGraph graph(5, edges);
  CHECK(graph.maximal_cliques() == Sets{{0, 1, 2}, {2, 3}, {3, 4}});
  CHECK(graph.maximal_cliques(3) == Sets{{0, 1, 2}});
}

TEST_CASE("an edge given twice counts once") {
  const std::array<GraphEdge, 2> edges{{{0, 1, 0.4}, {1, 0, 0.9}}};
  CHECK(MiscibilityGraph(2, edges).edge(1, 0)->chance == Approx(0.4));
}
