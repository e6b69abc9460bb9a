#pragma once

#include "rules/rule_book.hpp"

namespace firstcrop {

struct CaseCounts {
  std::size_t passed = 0;
  std::size_t failed = 0;
};

/// Runs the cases beside the rules. A failed case is a finding at its place that says what came instead; so
/// is a rule that lacks a case on one side (grades: the best and the worst word that it can give; exclusions,
/// cautions and advice: one that fires and one that is silent; derive rules: two values).
[[nodiscard]] CaseCounts run_cases(const RuleBook& book, Findings& findings);

}  // namespace firstcrop
