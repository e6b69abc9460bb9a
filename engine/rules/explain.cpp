#include <utility>

#include <fmt/format.h>

#include "rules/judge.hpp"
#include "rules/rule_run.hpp"

namespace firstcrop {
namespace {

using detail::ConditionRun;
using detail::GradeRun;

struct Asked {
  const RuleBook& book;
  const FactFrame& frame;
  const Names& names;
  Workspace workspace;
};

UsedFact used_fact(const FactReference& reference, std::size_t each, const FactFrame& frame) {
  const FactValue& value = frame.get(reference, each);
  const FactInfo& info = frame.catalogue().info(reference.fact);
  UsedFact out;
  out.name = frame.catalogue().name_of(reference);
  out.reference = reference;
  out.each = each;
  out.shown = show_fact(value, info);
  out.origin = value.origin;
  out.source = value.source;
  if (info.type == FactType::Number) {
    out.quantity = summary(value, info.dimension);
  } else if (const auto* flag = std::get_if<FlagColumn>(&value.value)) {
    const auto probability = flag->probability();
    if (probability && *probability > 0 && *probability < 1) {
      Quantity share;
      share.value = *probability;
      share.origin = value.origin;
      share.source = value.source;
      out.quantity = std::move(share);
    }
  }
  return out;
}

RuleOutcome outline(const Rule& rule, std::size_t index) {
  RuleOutcome out;
  out.rule_index = index;
  out.rule = rule.id;
  out.kind = rule.kind;
  out.outcome = Outcome::NotApplicable;
  out.weight = rule.weight;
  out.level = rule.level;
  out.step = rule.step;
  out.source = rule.source;
  return out;
}

// The facts behind an outcome, and those that were missing.
void add_facts(const Rule& rule, std::size_t each, bool is_open, Asked& asked, RuleOutcome& out) {
  if (rule.scope == RuleScope::Component) out.component = each;
  for (const FactReference& fact : rule.facts) out.facts.push_back(used_fact(fact, each, asked.frame));
  if (!is_open) return;
  for (const FactReference& fact : detail::missing_facts(rule, asked.frame, each, asked.workspace)) {
    out.missing.push_back(asked.frame.catalogue().name_of(fact));
  }
}

// A ladder of two rungs needs no middle sentence, yet where its condition is uncertain the mean may lie
// between them: then the sentence of the nearer side serves.
const Sentence& sentence_for(const Rule& rule, Outcome word, double grade) {
  const Sentence& own = word == Outcome::High ? rule.high : word == Outcome::Low ? rule.low : rule.middle;
  if (!own.empty()) return own;
  const bool is_nearer_to_best = rule.highest_grade - grade <= grade - rule.lowest_grade;
  const Sentence& nearer = is_nearer_to_best ? rule.high : rule.low;
  const Sentence& other = is_nearer_to_best ? rule.low : rule.high;
  if (!nearer.empty()) return nearer;
  return rule.middle.empty() ? other : rule.middle;
}

RuleOutcome explain_grade(const Rule& rule, std::size_t index, Asked& asked) {
  RuleOutcome out = outline(rule, index);
  GradeRun run;
  detail::run_grade(rule, asked.frame, asked.workspace, run);
  if (run.weighed == 0) return out;
  add_facts(rule, run.component, run.judged != run.weighed, asked, out);
  out.grade = run.mean();
  if (!out.grade) {
    out.outcome = Outcome::Unknown;
    return out;
  }
  if (!run.is_certain) {
    FactValue grades;
    grades.value = NumberColumn::of(run.values, run.judged);
    const auto range = summary(grades, dimension::kNumber);
    out.grade_low = range ? range->low : std::nullopt;
    out.grade_high = range ? range->high : std::nullopt;
  }
  out.outcome = asked.book.word_for(*out.grade);
  const bool is_unsure = out.grade_low && out.grade_high &&
                         asked.book.word_for(*out.grade_low) == Outcome::Low &&
                         asked.book.word_for(*out.grade_high) == Outcome::High;
  const Sentence& sentence =
      is_unsure && !rule.unsure.empty() ? rule.unsure : sentence_for(rule, out.outcome, *out.grade);
  out.text = sentence.render(asked.frame, run.component, asked.names);
  return out;
}

// What is merely possible never speaks as if it were so.
std::string condition_text(const Rule& rule, const RuleOutcome& outcome, std::size_t each,
                           const Asked& asked) {
  if (outcome.outcome != Outcome::Possible) return rule.text.render(asked.frame, each, asked.names);
  const double probability = outcome.probability.value_or(1);
  if (!rule.perhaps.empty()) return rule.perhaps.render(asked.frame, each, asked.names, probability);
  return fmt::format("perhaps ({:.0f} %): {}", probability * 100,
                     rule.text.render(asked.frame, each, asked.names));
}

// One outcome for each component that there is something to say about; a quiet one if there is none.
void explain_condition(const Rule& rule, std::size_t index, Asked& asked, std::vector<RuleOutcome>& out) {
  RuleOutcome quiet = outline(rule, index);
  bool has_spoken = false;
  const std::size_t times = detail::times_judged(rule, asked.frame.component_count());
  for (std::size_t each = 0; each < times; ++each) {
    const ConditionRun run = detail::run_condition(rule, asked.frame, each, asked.workspace);
    RuleOutcome own = outline(rule, index);
    own.outcome = detail::word_for(run, rule, asked.book.limits());
    if (own.outcome == Outcome::NotApplicable) continue;
    add_facts(rule, each, run.known != kAllScenarios, asked, own);
    own.probability = FlagColumn::of_mask(run.truth, run.known).probability();
    if (own.outcome == Outcome::Silent) {
      own.component.reset();
      quiet = std::move(own);
      continue;
    }
    if (own.outcome != Outcome::Unknown) own.text = condition_text(rule, own, each, asked);
    out.push_back(std::move(own));
    has_spoken = true;
  }
  if (!has_spoken) out.push_back(std::move(quiet));
}

}  // namespace

std::vector<RuleOutcome> explain(const RuleBook& book, const FactFrame& frame, const Names& names) {
  std::vector<RuleOutcome> out;
  Asked asked{book, frame, names, {}};
  const std::vector<Rule>& rules = book.rules();
  for (std::size_t i = 0; i < rules.size(); ++i) {
    switch (rules[i].kind) {
      case RuleKind::Derive:
        break;
      case RuleKind::Grade:
        out.push_back(explain_grade(rules[i], i, asked));
        break;
      case RuleKind::Exclude:
      case RuleKind::Caution:
      case RuleKind::Advice:
        explain_condition(rules[i], i, asked, out);
        break;
    }
  }
  return out;
}

}  // namespace firstcrop
