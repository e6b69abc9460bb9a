#include "facts/fact_graph.hpp"

#include <algorithm>
#include <bit>
#include <queue>
#include <utility>

#include <fmt/format.h>
#include <boost/graph/adjacency_list.hpp>
#include <boost/graph/strong_components.hpp>
#include <boost/graph/topological_sort.hpp>

#include "base/error.hpp"

namespace firstcrop {
namespace {

// An edge leads from a producer to one whose facts it needs.
using Graph = boost::adjacency_list<boost::setS, boost::vecS, boost::directedS>;

constexpr std::size_t kNoProducer = static_cast<std::size_t>(-1);

bool runs_for_each_component(const Producer& producer) {
  return !producer.gives.empty() && producer.gives.front().component == Component::Each;
}

void check_shape(const Producer& producer) {
  for (const FactReference& given : producer.gives) {
    const bool is_wrong = given.component == Component::Good || given.component == Component::Poor ||
                          (given.component == Component::Each) != runs_for_each_component(producer);
    if (is_wrong) throw Error(fmt::format("producer {} gives facts of different scopes", producer.name));
  }
}

std::vector<std::size_t> producers_by_fact(const Catalogue& catalogue, const std::vector<Producer>& producers,
                                           Findings& findings) {
  std::vector<std::size_t> out(catalogue.size(), kNoProducer);
  for (std::size_t i = 0; i < producers.size(); ++i) {
    for (const FactReference& given : producers[i].gives) {
      std::size_t& owner = out.at(given.fact.index);
      if (owner == kNoProducer) {
        owner = i;
        continue;
      }
      // The finding stands at a derive rule, for that is what a person can change.
      const bool later_is_written = !producers[i].place.path.empty();
      const Producer& at = later_is_written ? producers[i] : producers[owner];
      const Producer& other = later_is_written ? producers[owner] : producers[i];
      Finding finding;
      finding.place = at.place;
      finding.message =
          fmt::format("`{}` has two producers: `{}` and `{}`", catalogue.name_of(given), other.name, at.name);
      if (other.place.path.empty()) {
        finding.help = "it is calculated already; derive another fact, or use a `let`";
      } else {
        finding.help = "keep one of the two rules";
        finding.note = "it is derived here too";
        finding.note_place = other.place;
      }
      findings.add(std::move(finding));
    }
  }
  return out;
}

Graph needs_graph(const std::vector<Producer>& producers, const std::vector<std::size_t>& producer_of_fact) {
  Graph graph(producers.size());
  for (std::size_t i = 0; i < producers.size(); ++i) {
    for (const FactReference& needed : producers[i].needs) {
      const std::size_t owner = producer_of_fact.at(needed.fact.index);
      if (owner != kNoProducer) boost::add_edge(i, owner, graph);
    }
  }
  return graph;
}

// The shortest way from `start` back to itself; empty where there is none.
std::vector<std::size_t> shortest_cycle(const Graph& graph, std::size_t start) {
  std::vector<std::size_t> came_from(boost::num_vertices(graph), kNoProducer);
  std::queue<std::size_t> waiting;
  waiting.push(start);
  while (!waiting.empty()) {
    const std::size_t at = waiting.front();
    waiting.pop();
    const auto [first, last] = boost::adjacent_vertices(at, graph);
    for (auto next = first; next != last; ++next) {
      if (*next == start) {
        std::vector<std::size_t> path{at};
        while (path.back() != start) path.push_back(came_from[path.back()]);
        std::reverse(path.begin(), path.end());
        return path;
      }
      if (came_from[*next] != kNoProducer) continue;
      came_from[*next] = at;
      waiting.push(*next);
    }
  }
  return {};
}

bool report_cycles(const Catalogue& catalogue, const Graph& graph, const std::vector<Producer>& producers,
                   const std::vector<std::size_t>& producer_of_fact, Findings& findings) {
  std::vector<std::size_t> component(producers.size());
  if (producers.empty()) return false;
  boost::strong_components(
      graph, boost::make_iterator_property_map(component.begin(), get(boost::vertex_index, graph)));
  std::vector<bool> is_told(producers.size(), false);
  bool found = false;
  for (std::size_t i = 0; i < producers.size(); ++i) {
    if (is_told[component[i]]) continue;
    const std::vector<std::size_t> cycle = shortest_cycle(graph, i);
    if (cycle.empty()) continue;
    is_told[component[i]] = true;
    found = true;
    std::string path;
    const Producer* written = nullptr;
    for (std::size_t step = 0; step < cycle.size(); ++step) {
      const Producer& producer = producers[cycle[step]];
      if (written == nullptr && !producer.place.path.empty()) written = &producer;
      const std::size_t next = cycle[(step + 1) % cycle.size()];
      const auto link = std::find_if(
          producer.needs.begin(), producer.needs.end(),
          [&](const FactReference& needed) { return producer_of_fact.at(needed.fact.index) == next; });
      path += fmt::format("`{}` needs `{}`{}", producer.name, catalogue.name_of(*link),
                          step + 1 < cycle.size() ? ", " : "");
    }
    findings.error(written != nullptr ? written->place : Place{},
                   fmt::format("facts need each other in a circle: {}", path),
                   "let one of them use a fact that does not need the other");
  }
  return found;
}

}  // namespace

std::optional<FactGraph> FactGraph::build(const Catalogue& catalogue, std::vector<Producer> producers,
                                          Findings& findings) {
  std::sort(producers.begin(), producers.end(),
            [](const Producer& left, const Producer& right) { return left.name < right.name; });
  for (const Producer& producer : producers) check_shape(producer);
  Findings own;
  const std::vector<std::size_t> by_fact = producers_by_fact(catalogue, producers, own);
  const Graph graph = needs_graph(producers, by_fact);
  report_cycles(catalogue, graph, producers, by_fact, own);
  findings.append(own);
  if (own.has_errors()) return std::nullopt;

  // The needed ones come out of the sort first.
  std::vector<std::size_t> order;
  boost::topological_sort(graph, std::back_inserter(order));
  FactGraph out;
  std::vector<std::size_t> new_place(producers.size());
  for (std::size_t i = 0; i < order.size(); ++i) new_place[order[i]] = i;
  for (const std::size_t old : order) {
    Bits bits((producers.size() + 63) / 64);
    const std::size_t own_place = new_place[old];
    bits[own_place / 64] |= std::uint64_t{1} << (own_place % 64);
    const auto [first, last] = boost::adjacent_vertices(old, graph);
    for (auto next = first; next != last; ++next) {
      const Bits& needed = out.required_[new_place[*next]];
      for (std::size_t word = 0; word < bits.size(); ++word) bits[word] |= needed[word];
    }
    out.required_.push_back(std::move(bits));
    out.producers_.push_back(std::move(producers[old]));
  }
  out.producer_of_fact_.reserve(by_fact.size());
  for (const std::size_t owner : by_fact) {
    out.producer_of_fact_.push_back(owner == kNoProducer ? kNoProducer : new_place[owner]);
  }
  return out;
}

void FactGraph::run_one(std::size_t index, FactFrame& frame) const {
  const Producer& producer = producers_[index];
  const std::size_t times = runs_for_each_component(producer) ? frame.component_count() : 1;
  for (std::size_t each = 0; each < times; ++each) producer.run(frame, each);
}

void FactGraph::run(FactFrame& frame) const {
  for (std::size_t i = 0; i < producers_.size(); ++i) run_one(i, frame);
}

void FactGraph::run_for(FactFrame& frame, const std::vector<FactReference>& wanted) const {
  Bits bits((producers_.size() + 63) / 64);
  for (const FactReference& fact : wanted) {
    const std::size_t owner = producer_of_fact_.at(fact.fact.index);
    if (owner == kNoProducer) continue;
    for (std::size_t word = 0; word < bits.size(); ++word) bits[word] |= required_[owner][word];
  }
  for (std::size_t word = 0; word < bits.size(); ++word) {
    for (std::uint64_t left = bits[word]; left != 0; left &= left - 1) {
      run_one(word * 64 + static_cast<std::size_t>(std::countr_zero(left)), frame);
    }
  }
}

}  // namespace firstcrop
