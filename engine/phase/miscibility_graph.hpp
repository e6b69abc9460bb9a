#pragma once

#include <cstddef>
#include <functional>
#include <memory>
#include <optional>
#include <span>
#include <vector>

namespace firstcrop {

/// Two vertices that are joined, with the chance that they are one liquid.
struct GraphEdge {
  std::size_t first = 0;
  std::size_t second = 0;
  double chance = 1;
};

/// Vertices in the order in which they are passed.
using GraphChain = std::vector<std::size_t>;

struct WeighedChain {
  GraphChain vertices;
  double cost = 0;
};

/// Cost of the step from one vertex to a joined one, not below 0; nothing where the step cannot be made in
/// this direction.
using StepCost = std::function<std::optional<double>(std::size_t from, std::size_t to)>;

/// An undirected graph over vertices 0 to n-1, such as solvents joined where they mix. A cheap value.
class MiscibilityGraph {
 public:
  struct Data;

  /// Edges must join two different vertices below `vertex_count`; an edge given twice counts once.
  MiscibilityGraph(std::size_t vertex_count, std::span<const GraphEdge> edges);

  /// The graph with these vertices alone; they keep their numbers.
  [[nodiscard]] MiscibilityGraph within(std::span<const std::size_t> vertices) const;
  /// The graph without the edges that `keep_edge` refuses.
  [[nodiscard]] MiscibilityGraph with_edges(const std::function<bool(const GraphEdge&)>& keep_edge) const;

  /// Vertices that this graph has, ascending.
  [[nodiscard]] const std::vector<std::size_t>& vertices() const;
  [[nodiscard]] bool has(std::size_t vertex) const;
  /// The edge between two vertices in either order; nothing where they are not joined.
  [[nodiscard]] std::optional<GraphEdge> edge(std::size_t first, std::size_t second) const;
  [[nodiscard]] std::vector<std::size_t> neighbours(std::size_t vertex) const;

  /// Every chain with the fewest steps (breadth-first search), at most `most_chains`; empty where there is
  /// none.
  [[nodiscard]] std::vector<GraphChain> shortest_chains(std::size_t from, std::size_t to,
                                                        std::size_t most_chains = 1000) const;

  /// Every chain with the fewest steps among those whose steps can all be made in their direction, cheapest
  /// first.
  [[nodiscard]] std::vector<WeighedChain> shortest_chains_by_cost(std::size_t from, std::size_t to,
                                                                  const StepCost& cost,
                                                                  std::size_t most_chains = 1000) const;

  /// The cheapest chain of any length (Dijkstra, Numer. Math. 1959, 1, 269).
  [[nodiscard]] std::optional<WeighedChain> cheapest_chain(std::size_t from, std::size_t to,
                                                           const StepCost& cost) const;

  /// Vertices joined to both.
  [[nodiscard]] std::vector<std::size_t> common_neighbours(std::size_t first, std::size_t second) const;

  /// Vertex sets that hang together, each ascending, by their first vertices.
  [[nodiscard]] std::vector<std::vector<std::size_t>> components() const;

  /// Vertices of `whole` outside this graph, each of which alone would join all components of this graph.
  /// Empty where it hangs together already.
  [[nodiscard]] std::vector<std::size_t> joining_vertices(const MiscibilityGraph& whole) const;

  /// Vertices without which a component falls apart (Hopcroft, Tarjan, Commun. ACM 1973, 16, 372), ascending.
  [[nodiscard]] std::vector<std::size_t> articulation_vertices() const;

  /// Maximal sets in which every two are joined (Bron, Kerbosch, Commun. ACM 1973, 16, 575), of at least
  /// `least_size`, each ascending, in lexicographic order.
  [[nodiscard]] std::vector<std::vector<std::size_t>> maximal_cliques(std::size_t least_size = 2) const;

 private:
  explicit MiscibilityGraph(std::shared_ptr<const Data> data);
  std::shared_ptr<const Data> data_;
};

}  // namespace firstcrop
