#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "rules/rule_book.hpp"

namespace firstcrop {

enum class Verdict { Sound, Doubtful, Unfit };
[[nodiscard]] std::string_view name_of(Verdict verdict);

/// A fact that a rule looked at.
struct UsedFact {
  std::string name;
  FactReference reference;
  std::size_t each = 0;              ///< the component that `solvent.` meant
  std::string shown;                 ///< for people
  std::optional<Quantity> quantity;  ///< of numbers, and of flags that are uncertain (their probability)
  Origin origin = Origin::Calculated;
  std::string source;
};

/// What one rule said of one system.
struct RuleOutcome {
  std::size_t rule_index = 0;  ///< in the book
  RuleId rule;
  RuleKind kind = RuleKind::Grade;
  Outcome outcome = Outcome::Unknown;
  std::optional<double> grade;      ///< mean over the scenarios
  std::optional<double> grade_low;  ///< 80 % range, where the grade is uncertain
  std::optional<double> grade_high;
  double weight = 0;
  std::optional<double> probability;  ///< of exclusions, cautions, advice: that the condition holds
  CautionLevel level = CautionLevel::Note;
  std::string step;
  std::optional<std::size_t> component;  ///< 0 good or only, 1 poor; absent where it speaks of the system
  std::string text;                      ///< empty for what is silent or not applicable
  std::vector<UsedFact> facts;
  std::vector<std::string> missing;
  std::string source;
};

/// What all rules together said of one system.
struct Judgement {
  Verdict verdict = Verdict::Doubtful;
  /// Mean over the scenarios of exp(sum w ln d / sum w) (G. Derringer, R. Suich, J. Qual. Technol. 1980, 12,
  /// 214), 0 where an exclusion holds; nothing for an excluded system and where no grade could be judged.
  std::optional<double> score;
  NumberColumn scores;           ///< the score in each scenario, for comparing systems
  double judged = 0;             ///< share of the applicable weight that could be judged
  std::optional<double> chance;  ///< probability that the system works and no exclusion holds
  bool excluded = false;         ///< unfit by a rule, not by its chance
  /// The rule that decides: of an unfit system the exclusion, or the grade that costs most; of a doubtful one
  /// what keeps it from being sound.
  std::optional<std::size_t> deciding_rule;
  std::vector<RuleOutcome> outcomes;  ///< by rule id; empty in the fast pass
};

/// Fast pass: verdict, score and chance without outcomes and sentences.
[[nodiscard]] Judgement judge(const RuleBook& book, const FactFrame& frame);
/// As above, with the outcome of every rule.
[[nodiscard]] Judgement judge(const RuleBook& book, const FactFrame& frame, const Names& names);

/// What every rule (derive rules apart) says of a system, by rule id; in a pair one entry for every component
/// that a caution, advice or exclusion fires for.
[[nodiscard]] std::vector<RuleOutcome> explain(const RuleBook& book, const FactFrame& frame,
                                               const Names& names);

}  // namespace firstcrop
