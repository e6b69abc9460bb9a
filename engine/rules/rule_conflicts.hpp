#pragma once

#include <map>

#include "rules/rule.hpp"
#include "rules/verdict_limits.hpp"

namespace firstcrop::detail {

/// Tells what the rules of a user do to those that are there: a rule that replaces one of its id (a note; a warning
/// where it is of another kind or turns it around), one that says the contrary of another, and one that says again
/// what another says. Two rules are held against each other on the cases of both, so only those that look at the
/// same facts are compared.
void report_conflicts(const std::map<RuleId, Rule>& base, const std::map<RuleId, Rule>& added,
                      const Catalogue& catalogue, const VerdictLimits& limits, Findings& findings);

}  // namespace firstcrop::detail
