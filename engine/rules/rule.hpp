#pragma once

#include <compare>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

#include "base/finding.hpp"
#include "rules/program.hpp"
#include "rules/sentence.hpp"

namespace firstcrop {

struct RuleId {
  std::string text;
  friend auto operator<=>(const RuleId&, const RuleId&) = default;
};

enum class RuleKind { Derive, Exclude, Grade, Caution, Advice };
enum class CautionLevel { Note, Warning, Danger };
/// What a rule is judged on, following from its facts: `solvent.` once a component, `good.`, `poor.` and
/// `pair.` on pairs only, all others on every system.
enum class RuleScope { System, Component, Pair };
/// What a rule said of one system. An exclusion that is neither sure nor sure not is `Possible`.
enum class Outcome { High, Middle, Low, Fires, Possible, Silent, Unknown, NotApplicable };

[[nodiscard]] std::string_view name_of(RuleKind kind);
[[nodiscard]] std::string_view name_of(CautionLevel level);
[[nodiscard]] std::string_view name_of(Outcome outcome);

/// What a rule looks at, as it was written, for the page about the rule.
struct WrittenRule {
  std::string when;
  std::vector<std::pair<std::string, std::string>> lets;
  std::string body;   ///< condition, `of`, or derived value
  std::string scale;  ///< `log` or empty
  std::vector<std::pair<std::string, std::string>> points;
  std::vector<std::pair<std::string, std::string>> ladder;
};

/// One test of a rule that stands beside it.
struct RuleCase {
  struct Given {
    FactReference fact;
    FactValue value;
  };
  Place place;
  std::vector<Given> given;
  std::optional<Outcome> expected;  ///< absent for the values of derive rules
  Place expected_place;
  std::optional<double> grade;
  Place grade_place;
  std::optional<std::variant<double, bool, std::string>> value;  ///< numbers canonical
  double value_tolerance = 0;
  std::string written_value;
  Place value_place;
  std::vector<FactReference> missing;
  Place missing_place;
};

/// One heuristic of the trade.
struct Rule {
  RuleId id;
  RuleKind kind = RuleKind::Advice;
  RuleScope scope = RuleScope::System;
  double weight = 0;                        ///< of grades
  CautionLevel level = CautionLevel::Note;  ///< of cautions
  std::string step;                         ///< of cautions and advice; empty if none was named
  FactReference derived;                    ///< of derive rules
  std::optional<Program> when;              ///< flag: does the rule apply
  Program body;                             ///< flag, grade or derived value
  double lowest_grade = 1;                  ///< that the rule can give
  double highest_grade = 1;                 ///< that the rule can give
  std::vector<double> rung_grades;          ///< of a grade by ladder, in order
  Sentence high, middle, low;               ///< of grades
  Sentence unsure;   ///< of a grade whose range reaches from low into high; may be empty
  Sentence text;     ///< of exclusions, cautions, advice
  Sentence perhaps;  ///< of an exclusion that is merely possible; may be empty
  std::optional<double>
      least_probability;        ///< from which a caution or advice is given, where the rule says so
  bool keeps_doubtful = false;  ///< of a caution: a system that it is given for is at most doubtful
  Sentence ask;        ///< what a student answers about one system before the laboratory; may be empty
  Sentence ask_which;  ///< the same about several systems at once; may be empty
  std::string teach;
  std::string source;
  WrittenRule written;
  std::vector<FactReference> facts;  ///< that `when` and the body look at, each once
  std::vector<RuleCase> cases;
  Place place;  ///< of the id
};

}  // namespace firstcrop
