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
[[nodiscard]] RuleFile load_rules(const YamlDocument& document, const Catalogue& catalogue,
                                  Findings& findings);

/// Stages of the work at which a caution or an advice may be given.
[[nodiscard]] const std::vector<std::string>& known_steps();

}  // namespace firstcrop
