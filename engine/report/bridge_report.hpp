#pragma once

#include <string>
#include <vector>

#include "ranking/system_judge.hpp"
#include "report/words.hpp"
#include "systems/bridge.hpp"

namespace firstcrop {

/// A bridge with all that a report says of it; what it refers to must outlive it.
struct BridgeReport {
  const BridgeQuestion& question;
  const SolventBridge& bridge;
  const SystemJudge& judge;               ///< of a nameless solid: it knows library, shelf and rules
  std::vector<JudgedSystem> chain_solvents;  ///< each once, with the cautions that speak of the solvent alone
};

/// Solvents of the chains that a text shows, each once: what cautions are needed for.
[[nodiscard]] std::vector<SolventId> solvents_of_chains(const SolventBridge& bridge);

[[nodiscard]] std::string bridge_text(const BridgeReport& report, const Style& style);
[[nodiscard]] std::string bridge_json(const BridgeReport& report, const std::string& version,
                                      const std::string& data_fingerprint,
                                      const std::vector<Finding>& findings);

}  // namespace firstcrop
