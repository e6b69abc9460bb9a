#include "phase/miscibility_graph.hpp"

#include <algorithm>
#include <boost/graph/adjacency_list.hpp>
#include <boost/graph/biconnected_components.hpp>
#include <boost/graph/breadth_first_search.hpp>
#include <boost/graph/bron_kerbosch_all_cliques.hpp>
#include <boost/graph/connected_components.hpp>
#include <boost/graph/copy.hpp>
#include <boost/graph/dijkstra_shortest_paths.hpp>
#include <boost/graph/filtered_graph.hpp>
#include <iterator>
#include <limits>

namespace firstcrop {

namespace {

struct VertexLabel {
  std::size_t number = 0;
};

struct EdgeLabel {
  double chance = 1;
};

using Graph = boost::adjacency_list<boost::vecS, boost::vecS, boost::undirectedS, VertexLabel, EdgeLabel>;
using DirectedGraph = boost::adjacency_list<boost::vecS, boost::vecS, boost::directedS, boost::no_property,
                                            boost::property<boost::edge_weight_t, double>>;
using Vertex = boost::graph_traits<Graph>::vertex_descriptor;

constexpr std::size_t kAbsent = std::numeric_limits<std::size_t>::max();

struct KeepVertex {
  const std::vector<char>* kept = nullptr;
  bool operator()(Vertex vertex) const { return (*kept)[vertex] != 0; }
};

struct KeepEdge {
  const Graph* graph = nullptr;
  const std::function<bool(const GraphEdge&)>* keep = nullptr;
  template <typename Edge>
  bool operator()(const Edge& edge) const {
    const std::size_t a = (*graph)[source(edge, *graph)].number;
    const std::size_t b = (*graph)[target(edge, *graph)].number;
    return (*keep)({std::min(a, b), std::max(a, b), (*graph)[edge].chance});
  }
};

struct CliqueCollector {
  const std::vector<std::size_t>* numbers = nullptr;
  std::size_t least_size = 2;
  std::vector<std::vector<std::size_t>>* cliques = nullptr;
  template <typename Clique, typename AnyGraph>
  void clique(const Clique& found, const AnyGraph&) {
    if (found.size() < least_size) return;
    std::vector<std::size_t> members;
    members.reserve(found.size());
    for (const auto vertex : found) members.push_back((*numbers)[vertex]);
    std::sort(members.begin(), members.end());
    cliques->push_back(std::move(members));
  }
};

}  // namespace

struct MiscibilityGraph::Data {
  Graph graph;                        ///< vertex descriptors count the kept vertices
  std::vector<std::size_t> numbers;   ///< of the descriptors, ascending
  std::vector<std::size_t> vertices;  ///< descriptor of each number, kAbsent where it is not in the graph

  explicit Data(const Graph& kept) : graph(kept) {
    numbers.reserve(num_vertices(graph));
    for (Vertex vertex = 0; vertex < num_vertices(graph); ++vertex) {
      const std::size_t number = graph[vertex].number;
      numbers.push_back(number);
      if (vertices.size() <= number) vertices.resize(number + 1, kAbsent);
      vertices[number] = vertex;
    }
  }
  [[nodiscard]] std::size_t vertex_of(std::size_t number) const {
    return number < vertices.size() ? vertices[number] : kAbsent;
  }
};

MiscibilityGraph::MiscibilityGraph(std::shared_ptr<const Data> data) : data_(std::move(data)) {}

MiscibilityGraph::MiscibilityGraph(std::size_t vertex_count, std::span<const GraphEdge> edges) {
  Graph graph(vertex_count);
  for (Vertex vertex = 0; vertex < vertex_count; ++vertex) graph[vertex].number = vertex;
  for (const GraphEdge& each : edges)
    if (!boost::edge(each.first, each.second, graph).second)
      add_edge(each.first, each.second, EdgeLabel{each.chance}, graph);
  data_ = std::make_shared<const Data>(graph);
}

MiscibilityGraph MiscibilityGraph::within(std::span<const std::size_t> vertices) const {
  std::vector<char> kept(num_vertices(data_->graph), 0);
  for (const std::size_t number : vertices)
    if (has(number)) kept[data_->vertex_of(number)] = 1;
  const boost::filtered_graph<Graph, boost::keep_all, KeepVertex> view(data_->graph, {}, KeepVertex{&kept});
  Graph copy;
  boost::copy_graph(view, copy);
  return MiscibilityGraph(std::make_shared<const Data>(copy));
}

MiscibilityGraph MiscibilityGraph::with_edges(const std::function<bool(const GraphEdge&)>& keep_edge) const {
  const boost::filtered_graph<Graph, KeepEdge> view(data_->graph, KeepEdge{&data_->graph, &keep_edge});
  Graph copy;
  boost::copy_graph(view, copy);
  return MiscibilityGraph(std::make_shared<const Data>(copy));
}

const std::vector<std::size_t>& MiscibilityGraph::vertices() const {
  return data_->numbers;
}

bool MiscibilityGraph::has(std::size_t vertex) const {
  return data_->vertex_of(vertex) != kAbsent;
}

std::optional<GraphEdge> MiscibilityGraph::edge(std::size_t first, std::size_t second) const {
  if (!has(first) || !has(second)) return std::nullopt;
  const auto [found, is_there] = boost::edge(data_->vertex_of(first), data_->vertex_of(second), data_->graph);
  if (!is_there) return std::nullopt;
  return GraphEdge{first, second, data_->graph[found].chance};
}

std::vector<std::size_t> MiscibilityGraph::neighbours(std::size_t vertex) const {
  std::vector<std::size_t> found;
  if (!has(vertex)) return found;
  const auto [begin, end] = adjacent_vertices(data_->vertex_of(vertex), data_->graph);
  for (auto at = begin; at != end; ++at) found.push_back(data_->numbers[*at]);
  std::sort(found.begin(), found.end());
  return found;
}

std::vector<GraphChain> MiscibilityGraph::shortest_chains(std::size_t from, std::size_t to,
                                                          std::size_t most_chains) const {
  std::vector<GraphChain> chains;
  for (WeighedChain& chain : shortest_chains_by_cost(
           from, to, [](std::size_t, std::size_t) { return std::optional(0.0); }, most_chains))
    chains.push_back(std::move(chain.vertices));
  return chains;
}

std::vector<WeighedChain> MiscibilityGraph::shortest_chains_by_cost(std::size_t from, std::size_t to,
                                                                    const StepCost& cost,
                                                                    std::size_t most_chains) const {
  if (!has(from) || !has(to)) return {};
  const Vertex start = data_->vertex_of(from);
  const Vertex end = data_->vertex_of(to);
  // Steps counted from the far end against their direction, so that a walk downhill from the near end meets every
  // shortest chain.
  struct Step {
    Vertex to = 0;
    double cost = 0;
  };
  DirectedGraph backwards(num_vertices(data_->graph));
  std::vector<std::vector<Step>> onwards(num_vertices(data_->graph));
  const auto add_step = [&](Vertex a, Vertex b) {
    const auto weight = cost(data_->numbers[a], data_->numbers[b]);
    if (!weight) return;
    add_edge(b, a, *weight, backwards);
    onwards[a].push_back({b, *weight});
  };
  const auto [first_edge, last_edge] = edges(data_->graph);
  for (auto at = first_edge; at != last_edge; ++at) {
    add_step(source(*at, data_->graph), target(*at, data_->graph));
    add_step(target(*at, data_->graph), source(*at, data_->graph));
  }
  std::vector<std::size_t> steps_left(num_vertices(backwards), kAbsent);
  steps_left[end] = 0;
  boost::breadth_first_search(
      backwards, end,
      boost::visitor(boost::make_bfs_visitor(boost::record_distances(
          boost::make_iterator_property_map(steps_left.begin(), get(boost::vertex_index, backwards)),
          boost::on_tree_edge()))));
  if (steps_left[start] == kAbsent) return {};

  for (auto& steps : onwards)
    std::sort(steps.begin(), steps.end(), [](const Step& x, const Step& y) { return x.to < y.to; });

  std::vector<WeighedChain> chains;
  WeighedChain walked{{from}, 0};
  const std::function<void(Vertex)> walk_on = [&](Vertex here) {
    if (chains.size() >= most_chains) return;
    if (here == end) {
      chains.push_back(walked);
      return;
    }
    const double so_far = walked.cost;
    for (const Step& step : onwards[here]) {
      if (steps_left[step.to] == kAbsent || steps_left[step.to] + 1 != steps_left[here]) continue;
      walked.vertices.push_back(data_->numbers[step.to]);
      walked.cost = so_far + step.cost;
      walk_on(step.to);
      walked.vertices.pop_back();
    }
    walked.cost = so_far;
  };
  walk_on(start);
  std::stable_sort(chains.begin(), chains.end(),
                   [](const WeighedChain& a, const WeighedChain& b) { return a.cost < b.cost; });
  return chains;
}

std::optional<WeighedChain> MiscibilityGraph::cheapest_chain(std::size_t from, std::size_t to,
                                                             const StepCost& cost) const {
  if (!has(from) || !has(to)) return std::nullopt;
  DirectedGraph steps(num_vertices(data_->graph));
  const auto [begin, end] = edges(data_->graph);
  for (auto at = begin; at != end; ++at) {
    const Vertex a = source(*at, data_->graph);
    const Vertex b = target(*at, data_->graph);
    if (const auto weight = cost(data_->numbers[a], data_->numbers[b])) add_edge(a, b, *weight, steps);
    if (const auto weight = cost(data_->numbers[b], data_->numbers[a])) add_edge(b, a, *weight, steps);
  }
  std::vector<Vertex> before(num_vertices(steps));
  std::vector<double> costs(num_vertices(steps));
  const Vertex start = data_->vertex_of(from);
  const auto index = get(boost::vertex_index, steps);
  boost::dijkstra_shortest_paths(
      steps, start,
      boost::predecessor_map(boost::make_iterator_property_map(before.begin(), index))
          .distance_map(boost::make_iterator_property_map(costs.begin(), index)));
  Vertex vertex = data_->vertex_of(to);
  if (vertex != start && before[vertex] == vertex) return std::nullopt;
  WeighedChain chain{{}, costs[vertex]};
  for (; vertex != start; vertex = before[vertex]) chain.vertices.push_back(data_->numbers[vertex]);
  chain.vertices.push_back(from);
  std::reverse(chain.vertices.begin(), chain.vertices.end());
  return chain;
}

std::vector<std::size_t> MiscibilityGraph::common_neighbours(std::size_t first, std::size_t second) const {
  const auto of_first = neighbours(first);
  const auto of_second = neighbours(second);
  std::vector<std::size_t> common;
  std::set_intersection(of_first.begin(), of_first.end(), of_second.begin(), of_second.end(),
                        std::back_inserter(common));
  return common;
}

std::vector<std::vector<std::size_t>> MiscibilityGraph::components() const {
  std::vector<std::size_t> component_of(num_vertices(data_->graph));
  const std::size_t count = boost::connected_components(
      data_->graph,
      boost::make_iterator_property_map(component_of.begin(), get(boost::vertex_index, data_->graph)));
  std::vector<std::vector<std::size_t>> found(count);
  for (Vertex vertex = 0; vertex < component_of.size(); ++vertex)
    found[component_of[vertex]].push_back(data_->numbers[vertex]);
  return found;
}

std::vector<std::size_t> MiscibilityGraph::joining_vertices(const MiscibilityGraph& whole) const {
  const auto parts = components();
  std::vector<std::size_t> joining;
  if (parts.size() < 2) return joining;
  for (const std::size_t candidate : whole.vertices()) {
    if (has(candidate)) continue;
    const bool touches_all =
        std::all_of(parts.begin(), parts.end(), [&](const std::vector<std::size_t>& part) {
          return std::any_of(part.begin(), part.end(),
                             [&](std::size_t member) { return whole.edge(candidate, member).has_value(); });
        });
    if (touches_all) joining.push_back(candidate);
  }
  return joining;
}

std::vector<std::size_t> MiscibilityGraph::articulation_vertices() const {
  std::vector<Vertex> found;
  boost::articulation_points(data_->graph, std::back_inserter(found));
  std::vector<std::size_t> numbers;
  numbers.reserve(found.size());
  for (const Vertex vertex : found) numbers.push_back(data_->numbers[vertex]);
  std::sort(numbers.begin(), numbers.end());
  return numbers;
}

std::vector<std::vector<std::size_t>> MiscibilityGraph::maximal_cliques(std::size_t least_size) const {
  std::vector<std::vector<std::size_t>> cliques;
  boost::bron_kerbosch_all_cliques(data_->graph, CliqueCollector{&data_->numbers, least_size, &cliques});
  std::sort(cliques.begin(), cliques.end());
  return cliques;
}

}  // namespace firstcrop
