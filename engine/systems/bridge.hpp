#pragma once

#include <optional>
#include <string>
#include <vector>

#include "phase/exchange_costs.hpp"
#include "phase/phase_model.hpp"

namespace firstcrop {

/// What comes first in the order of the chains.
enum class ChainOrder {
  Steps,   ///< fewest steps, then ease
  Hazard,  ///< least hazard of the solvents passed, of any length
  Chance   ///< surest to mix, of any length
};

/// From one solvent to another over solvents that mix, each with the next.
struct BridgeQuestion {
  SolventId from, to;
  std::vector<SolventId> shelf;  ///< what the chain may pass; the ends need not be on it
  bool strip = false;            ///< by distilling each solvent out of the next instead of rinsing
  ChainOrder order = ChainOrder::Steps;
  double temperature_k = 298.15;
  double pressure_kpa = kStandardPressureKpa;  ///< at which solvents are distilled
  std::size_t most_chains = 50;
};

/// What two neighbours of a chain are to each other.
struct BridgeLink {
  SolventId from, to;
  PairEvidence evidence = PairEvidence::Calculated;
  Confidence confidence = Confidence::Low;
  double chance = 0;                 ///< of one liquid in every proportion
  std::string source;                ///< keys of a published record; empty where there is none
  std::optional<double> volatility;  ///< by distillation: of a trace of `from` in boiling `to`, relative to `to`
  std::optional<double> volumes;     ///< of `to` that distil until the agreed residue of one volume of `from` stays
  std::optional<double> separator_k;  ///< `from` leaves as an azeotrope in two layers; `volumes` of `to` run back
};

struct BridgeChain {
  std::vector<SolventId> solvents;
  std::vector<BridgeLink> links;
  double cost = 0;  ///< judged, in the order asked for
  /// The least sure evidence of its links.
  [[nodiscard]] PairEvidence evidence() const;
  /// Product of the chances of its links, but for those that need not mix because a separator parts them.
  [[nodiscard]] double chance() const;
};

/// A solvent that mixes with both ends.
struct BridgePartner {
  SolventId solvent;
  bool on_shelf = false;
  /// Volume share of it from which equal volumes of the ends are one liquid with it (calculated, volumes taken as
  /// additive); nothing where it was not calculated or the three part at every share.
  std::optional<double> share;
};

/// A solvent that alone holds the shelf together, by published and by calculated pairs, with what is cut off from most
/// others without it.
struct IndispensableSolvent {
  SolventId solvent;
  std::vector<SolventId> cut_off;
};

struct SolventBridge {
  /// The ends as a pair; nothing where neither a record nor a calculation exists.
  std::optional<BridgeLink> direct;
  bool ends_mix = false;                         ///< they count as mixing
  const Incompatibility* reaction = nullptr;     ///< why the ends must not meet although they mix
  bool boils_lower = false;  ///< by distillation: `to` mixes with `from` and boils lower, so that no chain is sought
  std::vector<BridgeChain> chains;               ///< in the order asked for
  std::vector<BridgeChain> beyond_shelf;         ///< where the shelf has none: over all solvents of the library
  std::vector<BridgePartner> partners;           ///< those that bridge with least first
  std::vector<std::vector<SolventId>> components;  ///< of the shelf with both ends, largest first
  std::vector<SolventId> joining;                ///< outside the shelf: each alone would join the ends
  std::vector<IndispensableSolvent> indispensable;
  std::vector<SolventId> without_vapour;         ///< of the shelf and ends: no distillation can be calculated
};

/// Searches published pairs of at least medium confidence first (pairs with a person's own solvents by
/// calculation), calculated ones where those lead nowhere or the surest chain is asked for. Pairs that react are no
/// links. The two ends must differ.
[[nodiscard]] SolventBridge find_bridge(const PhaseModel& model, const ExchangeCosts& costs,
                                        const BridgeQuestion& question);

}  // namespace firstcrop
