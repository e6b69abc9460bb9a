#pragma once

#include <optional>
#include <string>
#include <vector>

#include "input/fields.hpp"
#include "rules/rule.hpp"

namespace firstcrop::detail {

/// What all parts of one rule share while it is read.
struct RuleContext {
  const YamlDocument& document;
  const Catalogue& catalogue;
  Findings& findings;
  CheckedLets lets;
  std::vector<std::string> used_lets;  ///< by expressions and sentences
  std::vector<FactReference> facts;    ///< of `when` and body, each once
  bool failed = false;

  /// Tells the faults of a text that stands in `node`.
  void tell(const YamlNode& node, const std::vector<TextFault>& faults);
  void error(const YamlNode& node, std::string message, std::string help = {});
  /// Reads and checks one expression; nothing where it was wrong (told).
  std::optional<std::pair<Expression, ValueType>> expression(const YamlNode& node);
  /// As above, and it must be a condition.
  std::optional<Expression> condition(const YamlNode& node);
  /// A literal number of a dimension: `5 mg/mL`, `-20 K`, `0.5`.
  std::optional<double> literal(const YamlNode& node, const Dimension& dimension);
  std::optional<Sentence> sentence(const YamlNode& node);
  void note_facts(const Expression& expression);
};

/// `let:` names with their expressions, in any order; circles are told.
void read_lets(RuleContext& context, const YamlNode& node, WrittenRule& written);

/// Bodies of the kinds, filled into the rule.
void read_grade(RuleContext& context, const YamlNode& node, Rule& rule);
void read_derive(RuleContext& context, const YamlNode& node, Rule& rule);

/// The cases beside a rule.
void read_cases(RuleContext& context, const YamlNode& node, Rule& rule);

}  // namespace firstcrop::detail
