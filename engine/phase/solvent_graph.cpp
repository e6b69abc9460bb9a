#include "phase/solvent_graph.hpp"

#include <algorithm>
#include <array>

#include "phase/liquid_stability.hpp"

namespace firstcrop {

namespace {

bool is_barred(const PhaseModel& model, SolventId first, SolventId second,
               std::optional<ReactionSeverity> barred_from) {
  if (!barred_from) return false;
  const Incompatibility* gravest = model.gravest_reaction(first, second);
  return gravest != nullptr && gravest->severity >= *barred_from;
}

std::optional<double> boiling_or_listed_k(const PhaseModel& model, SolventId solvent, double pressure_kpa) {
  const auto at_pressure = model.boiling_temperature_k(solvent, pressure_kpa);
  return at_pressure ? at_pressure : model.boiling_temperature_k(solvent, kStandardPressureKpa);
}

}  // namespace

MiscibilityGraph solvent_graph(const PhaseModel& model, const SolventEdgeRule& rule) {
  const Library& library = model.library();
  const std::size_t count = library.solvents().size();
  std::vector<GraphEdge> edges;
  for (std::size_t first = 0; first < count; ++first) {
    for (std::size_t second = first + 1; second < count; ++second) {
      const MiscibilityRecord* record = library.miscibility({first}, {second});
      if (rule.published_only && (record == nullptr || record->evidence != PairEvidence::Published)) continue;
      if (record != nullptr && record->confidence < rule.least_confidence) continue;
      const auto answer = model.one_liquid({first}, {second}, rule.temperature_k);
      if (!answer) continue;
      const double chance = rule.two_liquids ? 1 - answer->chance : answer->chance;
      if (chance < rule.least_chance || is_barred(model, {first}, {second}, rule.barred_from)) continue;
      edges.push_back({first, second, chance});
    }
  }
  return MiscibilityGraph(count, edges);
}

std::vector<CandidatePair> candidate_pairs(const PhaseModel& model, std::span<const SolventId> shelf,
                                           const CandidateRule& rule) {
  std::vector<std::optional<double>> boiling_k;
  for (const SolventId id : shelf) boiling_k.push_back(boiling_or_listed_k(model, id, rule.pressure_kpa));
  std::vector<CandidatePair> pairs;
  for (std::size_t i = 0; i < shelf.size(); ++i) {
    for (std::size_t j = i + 1; j < shelf.size(); ++j) {
      if (!boiling_k[i] || !boiling_k[j] || shelf[i] == shelf[j]) continue;
      if (is_barred(model, shelf[i], shelf[j], rule.barred_from)) continue;
      const double hot_k =
          std::min(std::min(*boiling_k[i], *boiling_k[j]) - rule.below_boiling_k, rule.heating_limit_k);
      const auto hot = model.one_liquid(shelf[i], shelf[j], hot_k);
      if (hot && hot->chance >= rule.least_chance) pairs.push_back({shelf[i], shelf[j], hot_k, *hot});
    }
  }
  return pairs;
}

std::vector<CommonPartner> common_partners(const PhaseModel& model, const MiscibilityGraph& graph,
                                           SolventId first, SolventId second, double temperature_k) {
  std::vector<CommonPartner> partners;
  const auto& volume_1 = model.library().solvent(first).molar_volume_ml_mol;
  const auto& volume_2 = model.library().solvent(second).molar_volume_ml_mol;
  for (const std::size_t vertex : graph.common_neighbours(first.index, second.index)) {
    CommonPartner partner{{vertex}, std::nullopt};
    const auto& volume_3 = model.library().solvent(partner.solvent).molar_volume_ml_mol;
    const auto activity = model.activity(std::array{first, second, partner.solvent});
    if (activity && volume_1 && volume_2 && volume_3) {
      const BridgeAnswer answer = least_bridging_share(
          activity->at(temperature_k), {volume_1->value, volume_2->value, volume_3->value}, 0.5);
      if (answer.status == Stability::OneLiquid) partner.bridging_share = answer.share;
    }
    partners.push_back(partner);
  }
  std::stable_sort(partners.begin(), partners.end(), [](const CommonPartner& a, const CommonPartner& b) {
    if (a.bridging_share.has_value() != b.bridging_share.has_value()) return a.bridging_share.has_value();
    return a.bridging_share && *a.bridging_share < *b.bridging_share;
  });
  return partners;
}

}  // namespace firstcrop
