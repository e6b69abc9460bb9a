#pragma once

#include <optional>
#include <span>
#include <vector>

#include "phase/miscibility_graph.hpp"
#include "phase/phase_model.hpp"

namespace firstcrop {

/// Which pairs of solvents are joined.
struct SolventEdgeRule {
  double temperature_k = 298.15;
  double least_chance = 0.5;  ///< of one liquid in every proportion; of two liquids where `two_liquids`
  bool two_liquids = false;   ///< joins what parts instead of what mixes
  bool published_only = true;
  Confidence least_confidence = Confidence::Medium;  ///< of the record
  /// Pairs with a reaction of this severity or a graver one are not joined; nothing lets all in.
  std::optional<ReactionSeverity> barred_from = ReactionSeverity::Degrades;
};

/// Graph over all solvents of the library; vertices are the indices of SolventId. Pairs without a record are
/// joined only where `published_only` is off.
[[nodiscard]] MiscibilityGraph solvent_graph(const PhaseModel& model, const SolventEdgeRule& rule);

/// A pair worth judging as a system.
struct CandidatePair {
  SolventId first, second;       ///< in the order of the shelf
  double hot_temperature_k = 0;  ///< at which the chance was asked for
  OneLiquid hot;
};

struct CandidateRule {
  double pressure_kpa = kStandardPressureKpa;
  double heating_limit_k = 383.15;
  double below_boiling_k = 1;  ///< how far below the lower boiling point of the two the hot solution stays
  double least_chance = 0.1;   ///< of one liquid at the hot temperature
  std::optional<ReactionSeverity> barred_from = ReactionSeverity::Reacts;
};

/// Pairs of a shelf that may be one liquid hot and do not react, in shelf order. A pair of which nothing is
/// known is kept out, as is a solvent without a boiling point.
[[nodiscard]] std::vector<CandidatePair> candidate_pairs(const PhaseModel& model,
                                                         std::span<const SolventId> shelf,
                                                         const CandidateRule& rule);

/// A third solvent that mixes with both of two others.
struct CommonPartner {
  SolventId solvent;
  /// Least volume share of it that keeps equal volumes of the other two in one liquid (additive volumes); 0
  /// where they are one liquid without it. Nothing where it was not calculated or the three part at every
  /// share.
  std::optional<double> bridging_share;
};

/// Common neighbours of two solvents in `graph`, checked by the stability of all three together at a
/// temperature [K]: those that bridge with least first, those that were not found to bridge last.
[[nodiscard]] std::vector<CommonPartner> common_partners(const PhaseModel& model,
                                                         const MiscibilityGraph& graph, SolventId first,
                                                         SolventId second, double temperature_k);

}  // namespace firstcrop
