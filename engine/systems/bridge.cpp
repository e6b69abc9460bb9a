#include "systems/bridge.hpp"

#include <algorithm>
#include <iterator>
#include <map>
#include <numeric>
#include <utility>

#include "phase/solvent_graph.hpp"

namespace firstcrop {

namespace {

std::vector<SolventId> solvents_of(const std::vector<std::size_t>& vertices) {
  std::vector<SolventId> out;
  out.reserve(vertices.size());
  for (const std::size_t vertex : vertices) out.push_back({vertex});
  return out;
}

class BridgeSearch {
 public:
  BridgeSearch(const PhaseModel& model, const ExchangeCosts& costs, const BridgeQuestion& question)
      : model_(model), costs_(costs), question_(question), published_(published_pairs()), known_(pairs_to_trust()) {
    for (const SolventId solvent : question.shelf) reach_.push_back(solvent.index);
    for (const SolventId end : {question.from, question.to}) reach_.push_back(end.index);
    std::sort(reach_.begin(), reach_.end());
    reach_.erase(std::unique(reach_.begin(), reach_.end()), reach_.end());
  }

  SolventBridge answer() {
    const std::size_t from = question_.from.index;
    const std::size_t to = question_.to.index;
    SolventBridge out;
    out.direct = link(question_.from, question_.to);
    out.reaction = reacts(question_.from, question_.to);
    out.ends_mix = known_.edge(from, to) || (out.reaction == nullptr && out.direct &&
                                             out.direct->chance >= costs_.unpublished_chance);
    out.boils_lower = question_.strip && out.ends_mix && boils_above(question_.from, question_.to) &&
                      !strip_cost(model_, costs_, question_.pressure_kpa)(from, to);
    if (!out.boils_lower) find_chains(out);
    describe_shelf(out);
    for (const CommonPartner& partner :
         common_partners(model_, known_, question_.from, question_.to, question_.temperature_k)) {
      const bool on_shelf = std::find(question_.shelf.begin(), question_.shelf.end(), partner.solvent) !=
                            question_.shelf.end();
      out.partners.push_back({partner.solvent, on_shelf, partner.bridging_share});
    }
    if (question_.strip) {
      for (const std::size_t vertex : reach_)
        if (!model_.vapour_pressure({vertex})) out.without_vapour.push_back({vertex});
    }
    return out;
  }

 private:
  [[nodiscard]] MiscibilityGraph published_pairs() const {
    SolventEdgeRule rule;
    rule.temperature_k = question_.temperature_k;
    return solvent_graph(model_, rule);
  }

  // Published pairs; of a person's own solvents nothing is published, so that theirs are calculated.
  [[nodiscard]] MiscibilityGraph pairs_to_trust() const {
    const auto& solvents = model_.library().solvents();
    const auto is_users = [&solvents](std::size_t vertex) { return solvents[vertex].from_user; };
    return with_likely(published_.vertices(), [&is_users](std::size_t first, std::size_t second) {
      return is_users(first) || is_users(second);
    });
  }

  // Published pairs within `vertices`, and those of the others `wanted` that probably mix.
  template <typename Wanted>
  [[nodiscard]] MiscibilityGraph with_likely(const std::vector<std::size_t>& vertices, const Wanted& wanted) const {
    std::vector<GraphEdge> edges;
    for (std::size_t i = 0; i < vertices.size(); ++i) {
      for (std::size_t j = i + 1; j < vertices.size(); ++j) {
        const SolventId first{vertices[i]};
        const SolventId second{vertices[j]};
        if (const auto edge = published_.edge(first.index, second.index)) {
          edges.push_back(*edge);
        } else if (wanted(first.index, second.index) && !reacts(first, second)) {
          const auto answer = model_.one_liquid(first, second, question_.temperature_k);
          if (answer && answer->chance >= costs_.unpublished_chance)
            edges.push_back({first.index, second.index, answer->chance});
        }
      }
    }
    return MiscibilityGraph(model_.library().solvents().size(), edges).within(vertices);
  }
  [[nodiscard]] MiscibilityGraph likely_pairs(const std::vector<std::size_t>& vertices) const {
    return with_likely(vertices, [](std::size_t, std::size_t) { return true; });
  }

  [[nodiscard]] bool boils_above(SolventId first, SolventId second) const {
    const auto first_k = model_.boiling_temperature_k(first, question_.pressure_kpa);
    const auto second_k = model_.boiling_temperature_k(second, question_.pressure_kpa);
    return first_k && second_k && *first_k > *second_k;
  }

  // By distillation pairs that part are joined too where one leaves with the other into a separator.
  [[nodiscard]] MiscibilityGraph for_exchange(const MiscibilityGraph& graph) const {
    if (!question_.strip) return graph;
    std::vector<GraphEdge> edges;
    const std::vector<std::size_t>& vertices = graph.vertices();
    for (std::size_t i = 0; i < vertices.size(); ++i) {
      for (std::size_t j = i + 1; j < vertices.size(); ++j) {
        const SolventId first{vertices[i]};
        const SolventId second{vertices[j]};
        if (const auto edge = graph.edge(first.index, second.index)) {
          edges.push_back(*edge);
        } else if (!reacts(first, second) && separator_step(model_, first, second, question_.pressure_kpa)) {
          edges.push_back({first.index, second.index, 1});
        }
      }
    }
    return MiscibilityGraph(model_.library().solvents().size(), edges).within(vertices);
  }

  [[nodiscard]] const Incompatibility* reacts(SolventId first, SolventId second) const {
    const Incompatibility* reaction = model_.gravest_reaction(first, second);
    return reaction != nullptr && reaction->severity >= *SolventEdgeRule{}.barred_from ? reaction : nullptr;
  }

  std::optional<BridgeLink> link(SolventId from, SolventId to) const {
    const auto one_liquid = model_.one_liquid(from, to, question_.temperature_k);
    if (!one_liquid) return std::nullopt;
    BridgeLink out;
    out.from = from;
    out.to = to;
    out.chance = one_liquid->chance;
    if (const MiscibilityRecord* record = model_.library().miscibility(from, to)) {
      out.evidence = record->evidence;
      out.confidence = record->confidence;
      out.source = record->source;
    }
    return out;
  }

  // What a step costs in the order asked for; nothing where it cannot be made. A distillation takes long to work out.
  StepCost cost_in(const MiscibilityGraph& graph) {
    StepCost cost = question_.strip ? strip_cost(model_, costs_, question_.pressure_kpa)
                                    : rinse_cost(model_, costs_);
    return [this, cost = std::move(cost), doubt = doubt_cost(graph)](std::size_t from, std::size_t to) {
      const auto [place, is_new] = step_costs_.try_emplace({from, to});
      if (is_new) place->second = cost(from, to);
      return place->second && question_.order == ChainOrder::Chance ? doubt(from, to) : place->second;
    };
  }

  /// How easily the solvents between the ends are got rid of: what slow drying costs, then their boiling points.
  [[nodiscard]] std::pair<double, double> drying_of_middles(const GraphChain& chain) const {
    std::pair<double, double> sum{0, 0};
    for (std::size_t i = 1; i + 1 < chain.size(); ++i) {
      const auto& boiling = model_.library().solvent({chain[i]}).boiling_point_k;
      if (!boiling) continue;
      if (!question_.strip && boiling->value > costs_.slow_drying_above_k) sum.first += costs_.slow_drying;
      sum.second += boiling->value;
    }
    return sum;
  }

  std::vector<BridgeChain> chains_in(const MiscibilityGraph& mixing) {
    const MiscibilityGraph graph = for_exchange(mixing);
    const std::size_t from = question_.from.index;
    const std::size_t to = question_.to.index;
    const StepCost cost = cost_in(graph);
    std::vector<WeighedChain> found = graph.shortest_chains_by_cost(from, to, cost);
    std::stable_sort(found.begin(), found.end(), [this](const WeighedChain& a, const WeighedChain& b) {
      const auto drying_a = drying_of_middles(a.vertices);
      const auto drying_b = drying_of_middles(b.vertices);
      const bool by_ease = question_.order == ChainOrder::Steps;
      const double cost_a = a.cost + (by_ease ? drying_a.first : 0);
      const double cost_b = b.cost + (by_ease ? drying_b.first : 0);
      constexpr double kSame = 1e-9;
      if (cost_a < cost_b - kSame || cost_b < cost_a - kSame) return cost_a < cost_b;
      return drying_a.second < drying_b.second;
    });
    if (question_.order != ChainOrder::Steps && !found.empty()) {
      auto cheapest = graph.cheapest_chain(from, to, cost);
      if (cheapest && cheapest->vertices.size() > found.front().vertices.size())
        found.insert(found.begin(), std::move(*cheapest));
    }
    if (question_.strip) {
      std::erase_if(found, [this](const WeighedChain& chain) {
        return static_cast<double>(chain.vertices.size()) > costs_.most_between + 2;
      });
    }
    if (found.size() > question_.most_chains) found.resize(question_.most_chains);
    std::vector<BridgeChain> out;
    for (const WeighedChain& chain : found) out.push_back(told(chain));
    return out;
  }

  [[nodiscard]] BridgeChain told(const WeighedChain& chain) const {
    BridgeChain out;
    out.solvents = solvents_of(chain.vertices);
    out.cost = chain.cost;
    for (std::size_t i = 1; i < out.solvents.size(); ++i) {
      BridgeLink step = link(out.solvents[i - 1], out.solvents[i]).value_or(BridgeLink{});
      step.from = out.solvents[i - 1];
      step.to = out.solvents[i];
      const auto separator = question_.strip
                                 ? separator_step(model_, step.from, step.to, question_.pressure_kpa)
                                 : std::nullopt;
      if (separator) {
        step.separator_k = separator->temperature_k;
        step.volumes = separator->volumes;
      } else if (question_.strip) {
        step.volatility = model_.volatility_of_trace(step.from, step.to, question_.pressure_kpa);
        if (step.volatility) step.volumes = volumes_to_strip(*step.volatility, costs_.residue);
      }
      out.links.push_back(std::move(step));
    }
    return out;
  }

  void find_chains(SolventBridge& out) {
    if (question_.order != ChainOrder::Chance) out.chains = chains_in(known_.within(reach_));
    if (out.chains.empty()) out.chains = chains_in(likely_pairs(reach_));
    if (!out.chains.empty()) return;
    out.beyond_shelf = chains_in(known_);
    if (out.beyond_shelf.empty()) out.beyond_shelf = chains_in(likely_pairs(known_.vertices()));
  }

  void describe_shelf(SolventBridge& out) const {
    const MiscibilityGraph shelf = known_.within(reach_);
    auto parts = shelf.components();
    std::stable_sort(parts.begin(), parts.end(),
                     [](const auto& a, const auto& b) { return a.size() > b.size(); });
    std::vector<std::size_t> of_ends;
    for (const auto& part : parts) {
      out.components.push_back(solvents_of(part));
      const auto holds = [&part](SolventId end) {
        return std::binary_search(part.begin(), part.end(), end.index);
      };
      if (holds(question_.from) != holds(question_.to)) of_ends.insert(of_ends.end(), part.begin(), part.end());
    }
    if (!of_ends.empty()) {
      for (const SolventId solvent : solvents_of(known_.within(of_ends).joining_vertices(known_)))
        if (!std::binary_search(reach_.begin(), reach_.end(), solvent.index)) out.joining.push_back(solvent);
    }
    const auto at_any_rate = likely_pairs(reach_).articulation_vertices();
    for (const std::size_t vertex : shelf.articulation_vertices()) {
      if (!std::binary_search(at_any_rate.begin(), at_any_rate.end(), vertex)) continue;
      const auto part = std::find_if(parts.begin(), parts.end(), [vertex](const auto& each) {
        return std::binary_search(each.begin(), each.end(), vertex);
      });
      std::vector<std::size_t> rest;
      std::copy_if(part->begin(), part->end(), std::back_inserter(rest),
                   [vertex](std::size_t each) { return each != vertex; });
      auto pieces = shelf.within(rest).components();
      std::stable_sort(pieces.begin(), pieces.end(),
                       [](const auto& a, const auto& b) { return a.size() > b.size(); });
      IndispensableSolvent told_of{{vertex}, {}};
      for (std::size_t i = 1; i < pieces.size(); ++i)
        for (const std::size_t member : pieces[i]) told_of.cut_off.push_back({member});
      out.indispensable.push_back(std::move(told_of));
    }
  }

  const PhaseModel& model_;
  const ExchangeCosts& costs_;
  const BridgeQuestion& question_;
  MiscibilityGraph published_;
  MiscibilityGraph known_;          ///< with a person's own solvents
  std::vector<std::size_t> reach_;  ///< the shelf and both ends, ascending
  std::map<std::pair<std::size_t, std::size_t>, std::optional<double>> step_costs_;
};

}  // namespace

PairEvidence BridgeChain::evidence() const {
  PairEvidence least = PairEvidence::Published;
  for (const BridgeLink& each : links) least = std::max(least, each.evidence);
  return least;
}

double BridgeChain::chance() const {
  return std::accumulate(links.begin(), links.end(), 1.0,
                         [](double product, const BridgeLink& each) {
                           return each.separator_k ? product : product * each.chance;
                         });
}

SolventBridge find_bridge(const PhaseModel& model, const ExchangeCosts& costs, const BridgeQuestion& question) {
  return BridgeSearch(model, costs, question).answer();
}

}  // namespace firstcrop
