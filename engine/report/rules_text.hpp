#pragma once

#include <string>
#include <vector>

#include "report/words.hpp"
#include "rules/rule_book.hpp"

namespace firstcrop {

/// All rules, by kind.
[[nodiscard]] std::string rules_text(const RuleBook& book, const Style& style);
/// One rule in full: what it looks at, how it judges, what it tells, why, and how it is tested.
[[nodiscard]] std::string rule_text(const RuleBook& book, const Rule& rule, const Style& style);
/// The same as a page of Markdown, with the points as a small picture.
[[nodiscard]] std::string rule_markdown(const RuleBook& book, const Rule& rule);
/// An index of all rules in Markdown, by kind, each in one line that leads to its page.
[[nodiscard]] std::string rules_markdown(const RuleBook& book);
/// The facts that a case of a rule states, and what it expects, for people.
[[nodiscard]] std::string facts_of_case(const RuleCase& one, const Catalogue& catalogue);
[[nodiscard]] std::string expectation_of(const RuleCase& one);
/// All facts that rules can ask about, with unit and meaning.
[[nodiscard]] std::string facts_text(const Catalogue& catalogue, const Style& style);
[[nodiscard]] std::string rules_json(const RuleBook& book, const std::vector<const Rule*>& rules,
                                     const std::string& version, const std::string& data_fingerprint);
[[nodiscard]] std::string facts_json(const Catalogue& catalogue, const std::string& version,
                                     const std::string& data_fingerprint);

}  // namespace firstcrop
