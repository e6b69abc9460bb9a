#pragma once

#include <optional>
#include <string>
#include <vector>

#include "facts/catalogue.hpp"
#include "input/yaml_reader.hpp"
#include "rules/rule.hpp"
#include "rules/verdict_limits.hpp"

namespace firstcrop {

/// What one rule file holds: the rules that are free of errors, and the limits if it has any.
struct RuleFile {
  std::vector<Rule> rules;
  std::optional<VerdictLimits> verdict;
};

/// Reads `format: firstcrop rules 1` with `rules:` and `verdict:` (at least one of the two). Every rule is
/// checked here: keys, expressions with types and dimensions, points and ladders, sentences, cases. All
/// findings are told; a rule with an error is left out.
///
/// A rule has `id`, `source`, `cases` and one of these kinds (`let`, `when` and `teach` may be added to
/// each):
///
///     derive: {fact: F, value: expression}           # or `ladder: [[condition, value], ..., [else, value]]`
///     exclude: {when: condition, because: sentence}
///     grade: {of: number, points: [[x, grade], ...], scale: log}   # or `ladder`; with `weight` and `say`
///     caution: {when: condition, level: note | warning | danger, text: sentence}   # `step` may be added
///     advice: {when: condition, text: sentence}                                    # `step` may be added
///
/// All but derive rules may have `ask: {one: sentence, which: sentence}`: questions for teaching about one system
/// and about several.
///
/// A rung of a derive ladder may be `unknown`. A text fact takes its words without quotes. In a case a value
/// may carry its origin, `"30 mg/mL [predicted]"`; without one it counts as given.
[[nodiscard]] RuleFile load_rules(const YamlDocument& document, const Catalogue& catalogue,
                                  Findings& findings);

/// Stages of the work at which a caution or an advice may be given.
[[nodiscard]] const std::vector<std::string>& known_steps();

}  // namespace firstcrop
