#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "input/fields.hpp"
#include "rules/rule.hpp"
#include "rules/verdict_limits.hpp"

namespace firstcrop::detail {

inline constexpr double kLowestGrade = 0.01;
inline constexpr double kLargestWeight = 100;

struct CheckedExpression {
  Expression expression;
  ValueType type;
};

/// What all parts of one rule share while it is read.
class RuleContext {
 public:
  RuleContext(const YamlDocument& document, const Catalogue& catalogue, Findings& findings)
      : document_(document), catalogue_(catalogue), findings_(findings) {}

  /// Tells the faults of a text that stands in `node`.
  void tell(const YamlNode& node, const std::vector<TextFault>& faults);
  void error(const YamlNode& node, std::string message, std::string help = {});
  /// Reads and checks one expression; nothing where it was wrong (told).
  std::optional<CheckedExpression> expression(const YamlNode& node);
  /// As above, and it must be a condition.
  std::optional<Expression> condition(const YamlNode& node);
  /// A condition as a program.
  std::optional<Program> condition_program(const YamlNode& node);
  /// A literal number of a dimension: `5 mg/mL`, `-20 K`, `0.5`.
  std::optional<double> literal(const YamlNode& node, const Dimension& dimension);
  std::optional<Sentence> sentence(const YamlNode& node, SentencePlace place = SentencePlace::Ordinary);
  /// Reads `let:`, in any order; circles and names that cannot be are told.
  void read_lets(const YamlNode& node, WrittenRule& written);
  /// Tells every `let` that nothing uses.
  void report_unused_lets(const YamlNode& node);

  [[nodiscard]] const YamlDocument& document() const { return document_; }
  [[nodiscard]] const Catalogue& catalogue() const { return catalogue_; }
  [[nodiscard]] Findings& findings() const { return findings_; }
  [[nodiscard]] const CheckedLets& lets() const { return lets_; }
  /// Facts of conditions and bodies, each once.
  [[nodiscard]] const std::vector<FactReference>& facts() const { return facts_; }
  /// Facts of the sentences as well.
  [[nodiscard]] std::vector<FactReference> all_facts() const;
  /// A sentence names `{solvent}`; one names `{good}` or `{poor}`.
  [[nodiscard]] bool names_solvent() const { return names_solvent_; }
  [[nodiscard]] bool names_good_or_poor() const { return names_good_or_poor_; }
  [[nodiscard]] bool has_failed() const { return has_failed_; }
  void fail() { has_failed_ = true; }

 private:
  void read_let(const YamlNode& name, const YamlNode& node);
  void use(const Expression& checked, std::vector<FactReference>& facts);
  void use_let(const std::string& name, std::vector<FactReference>& facts);

  const YamlDocument& document_;
  const Catalogue& catalogue_;
  Findings& findings_;
  CheckedLets lets_;
  NamedTypes types_;
  std::vector<std::string> used_lets_;
  std::vector<FactReference> facts_;
  std::vector<FactReference> sentence_facts_;
  bool names_solvent_ = false;
  bool names_good_or_poor_ = false;
  bool has_failed_ = false;
};

/// A ladder `[[condition, value], ..., [else, value]]`, taken apart: conditions in order, the last one
/// absent.
struct Ladder {
  struct Rung {
    std::optional<Expression> condition;
    const YamlNode* value = nullptr;
  };
  std::vector<Rung> rungs;
};
/// Nothing where it is wrong; rungs that can never be reached are told.
[[nodiscard]] std::optional<Ladder> read_ladder(RuleContext& context, const YamlNode& node,
                                                WrittenRule& written);

/// Bodies of the kinds, filled into the rule.
void read_grade(RuleContext& context, const YamlNode& node, Rule& rule);
void read_derive(RuleContext& context, const YamlNode& node, Rule& rule);
void read_condition_and_text(RuleContext& context, const YamlNode& node, Rule& rule);

/// The cases beside a rule, whose other parts must have been read without an error.
void read_cases(RuleContext& context, const YamlNode& node, Rule& rule);

/// The map under `verdict:`.
[[nodiscard]] std::optional<VerdictLimits> read_verdict(const YamlDocument& document, const YamlNode& node,
                                                        const Catalogue& catalogue, Findings& findings);

}  // namespace firstcrop::detail
