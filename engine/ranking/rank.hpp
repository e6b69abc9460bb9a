#pragma once

#include <string>
#include <vector>

#include "ranking/system_judge.hpp"

namespace firstcrop {

enum class Only { All, Singles, Pairs };

struct RankOptions {
  Only only = Only::All;
  std::size_t top = 10;
};

/// An unfit system with what decides.
struct RefusedSystem {
  JudgedSystem judged;
  std::string rule;  ///< id
  std::string text;
};

/// A system that the rules could not judge, and the facts that are missing.
struct NotJudgedSystem {
  System system;
  std::vector<std::string> missing;
};

struct Ranking {
  std::vector<JudgedSystem> systems;   ///< sound and doubtful, best first, with every rule's word
  std::vector<RefusedSystem> refused;  ///< best first
  std::vector<NotJudgedSystem> not_judged;
  std::size_t suitable_count = 0;  ///< sound and doubtful ones before `top` cut the list
  std::size_t pairs_considered = 0;
  std::size_t pairs_judged = 0;  ///< the rest could not reach the list by solubility alone
};

/// Judges all singles of the shelf and the pairs that the miscibility graph offers, each at its best ratio.
[[nodiscard]] Ranking rank(const SystemJudge& judge, const RankOptions& options);

/// The facts for want of which rules could not judge, each once.
[[nodiscard]] std::vector<std::string> missing_facts(const Judgement& judgement);

/// What decides about an unfit system: id and sentence of the rule, or the chance.
[[nodiscard]] RefusedSystem refuse(const SystemJudge& judge, JudgedSystem judged);

}  // namespace firstcrop
