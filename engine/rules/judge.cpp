#include "rules/judge.hpp"

#include <algorithm>
#include <bit>
#include <cmath>

#include "rules/rule_run.hpp"

namespace firstcrop {
namespace {

using detail::ConditionRun;
using detail::GradeRun;

// Sums of w ln d and of w over the scenarios, kept once as long as all scenarios agree.
class ScoreSums {
 public:
  void add(double weight, const GradeRun& run) {
    if (run.grade.is_certain() && run.known == kAllScenarios) {
      common_log_ += weight * std::log(run.grade.certain);
      common_weight_ += weight;
      return;
    }
    is_spread_ = true;
    for (std::size_t k = 0; k < kScenarioCount; ++k) {
      if ((run.known >> k & 1U) == 0U) continue;
      log_[k] += weight * std::log(run.grade.at(k));
      weight_[k] += weight;
    }
  }
  [[nodiscard]] NumberColumn scores() const {
    if (!is_spread_) {
      if (common_weight_ <= 0) return {};
      return NumberColumn::of(std::exp(common_log_ / common_weight_));
    }
    ScenarioValues out{};
    std::uint64_t known = 0;
    for (std::size_t k = 0; k < kScenarioCount; ++k) {
      const double weight = common_weight_ + weight_[k];
      if (weight <= 0) continue;
      out[k] = std::exp((common_log_ + log_[k]) / weight);
      known |= std::uint64_t{1} << k;
    }
    return NumberColumn::of(out, known);
  }

 private:
  double common_log_ = 0;
  double common_weight_ = 0;
  bool is_spread_ = false;
  ScenarioValues log_{};
  ScenarioValues weight_{};
};

std::optional<double> mean_of(const NumberColumn& column) {
  if (column.known == 0) return std::nullopt;
  if (column.is_certain()) return column.certain;
  double sum = 0;
  double count = 0;
  for (std::size_t k = 0; k < kScenarioCount; ++k) {
    if ((column.known >> k & 1U) == 0U) continue;
    sum += column.at(k);
    count += 1;
  }
  return sum / count;
}

// What decides, in the order in which it counts.
struct Decider {
  std::optional<std::size_t> exclusion;
  double exclusion_probability = -1;
  std::optional<std::size_t> possible_exclusion;
  std::optional<std::size_t> weak_grade;
  std::optional<std::size_t> dearest_grade;
  double dearest_cost = -1;
  std::optional<std::size_t> dearest_for_chance;  ///< among the grades that look at what the chance rests on
  double dearest_cost_for_chance = -1;
};

std::optional<double> chance_of(const RuleBook& book, const FactFrame& frame) {
  const auto* flag = std::get_if<FlagColumn>(&frame.get(book.limits().chance_of).value);
  return flag != nullptr ? flag->probability() : std::nullopt;
}

// An exclusion of several components holds where it holds of one.
ConditionRun worst_condition(const Rule& rule, const FactFrame& frame, Workspace& workspace) {
  ConditionRun out;
  const std::size_t times = detail::times_judged(rule, frame.component_count());
  for (std::size_t each = 0; each < times; ++each) {
    ConditionRun run = detail::run_condition(rule, frame, each, workspace);
    if (!run.applicable) continue;
    const bool first = !out.applicable;
    const bool graver = run.probability && (!out.probability || *run.probability > *out.probability);
    const bool unknown_matters = !run.probability && out.probability && *out.probability < 1;
    if (first || graver) {
      const bool partly = out.partly_unknown || (out.applicable && !out.probability);
      out = std::move(run);
      out.partly_unknown = out.partly_unknown || partly;
    } else if (unknown_matters) {
      out.partly_unknown = true;
    }
  }
  return out;
}

void decide(Judgement& out, const Decider& decider, const VerdictLimits& limits) {
  if (decider.exclusion) {
    out.excluded = true;
    out.score.reset();
    out.verdict = Verdict::Unfit;
    out.deciding_rule = decider.exclusion;
    return;
  }
  if (out.chance && *out.chance < limits.unfit_chance) {
    out.verdict = Verdict::Unfit;
    out.deciding_rule = decider.dearest_for_chance ? decider.dearest_for_chance : decider.dearest_grade;
    return;
  }
  const bool sound = out.score && *out.score >= limits.sound_score && out.judged >= limits.sound_judged &&
                     out.chance && *out.chance >= limits.sound_chance && !decider.weak_grade &&
                     !decider.possible_exclusion;
  out.verdict = sound ? Verdict::Sound : Verdict::Doubtful;
  out.deciding_rule = decider.possible_exclusion ? decider.possible_exclusion
                      : decider.weak_grade       ? decider.weak_grade
                                                 : decider.dearest_grade;
}

double percentile(std::vector<double> values, double share) {
  std::sort(values.begin(), values.end());
  const double place = share * static_cast<double>(values.size() - 1);
  const auto below = static_cast<std::size_t>(place);
  const std::size_t above = std::min(below + 1, values.size() - 1);
  return values[below] + (place - static_cast<double>(below)) * (values[above] - values[below]);
}

UsedFact used_fact(const FactReference& reference, std::size_t each, const FactFrame& frame) {
  const FactValue& value = frame.get(reference, each);
  const FactInfo& info = frame.catalogue().info(reference.fact);
  UsedFact out;
  out.name = frame.catalogue().name_of(reference);
  out.reference = reference;
  out.each = each;
  out.shown = show_fact(value, info);
  out.origin = value.origin;
  if (info.type == FactType::Number) {
    out.quantity = summary(value, info.dimension);
  } else if (const auto* flag = std::get_if<FlagColumn>(&value.value)) {
    const auto probability = flag->probability();
    if (probability && *probability > 0 && *probability < 1) {
      out.quantity =
          Quantity{*probability, std::nullopt, std::nullopt, dimension::kNumber, value.origin, value.source};
    }
  }
  return out;
}

std::vector<std::string> names_of(const std::vector<FactReference>& facts, const Catalogue& catalogue) {
  std::vector<std::string> out;
  for (const FactReference& fact : facts) out.push_back(catalogue.name_of(fact));
  return out;
}

RuleOutcome outline(const Rule& rule, std::size_t index) {
  RuleOutcome out;
  out.rule_index = index;
  out.rule = rule.id;
  out.kind = rule.kind;
  out.weight = rule.weight;
  out.level = rule.level;
  out.step = rule.step;
  out.source = rule.source;
  return out;
}

RuleOutcome explain_grade(const Rule& rule, std::size_t index, const RuleBook& book, const FactFrame& frame,
                          const Names& names, Workspace& workspace) {
  RuleOutcome out = outline(rule, index);
  const GradeRun run = detail::run_grade(rule, frame, workspace);
  if (!run.applicable) {
    out.outcome = Outcome::NotApplicable;
    return out;
  }
  const std::size_t each = rule.scope == RuleScope::Component ? run.component : 0;
  if (rule.scope == RuleScope::Component) out.component = run.component;
  for (const FactReference& fact : rule.facts) out.facts.push_back(used_fact(fact, each, frame));
  out.missing = names_of(run.missing, frame.catalogue());
  out.grade = run.mean();
  if (!out.grade) {
    out.outcome = Outcome::Unknown;
    return out;
  }
  if (!run.grade.is_certain()) {
    std::vector<double> values;
    for (std::size_t k = 0; k < kScenarioCount; ++k) {
      if ((run.known >> k & 1U) != 0U) values.push_back(run.grade.at(k));
    }
    out.grade_low = percentile(values, 0.1);
    out.grade_high = percentile(values, 0.9);
  }
  out.outcome = book.word_for(*out.grade);
  const Sentence& sentence = out.outcome == Outcome::High  ? rule.high
                             : out.outcome == Outcome::Low ? rule.low
                                                           : rule.middle;
  out.text = sentence.render(frame, each, names);
  return out;
}

void explain_condition(const Rule& rule, std::size_t index, const RuleBook& book, const FactFrame& frame,
                       const Names& names, Workspace& workspace, std::vector<RuleOutcome>& out) {
  const VerdictLimits& limits = book.limits();
  const std::size_t times = detail::times_judged(rule, frame.component_count());
  std::optional<RuleOutcome> quiet;
  bool spoke = false;
  for (std::size_t each = 0; each < times; ++each) {
    const ConditionRun run = detail::run_condition(rule, frame, each, workspace);
    RuleOutcome outcome = outline(rule, index);
    outcome.outcome = Outcome::NotApplicable;
    if (run.applicable) {
      if (rule.scope == RuleScope::Component) outcome.component = each;
      for (const FactReference& fact : rule.facts) outcome.facts.push_back(used_fact(fact, each, frame));
      outcome.missing = names_of(run.missing, frame.catalogue());
      outcome.probability = run.probability;
      if (!run.probability) {
        outcome.outcome = Outcome::Unknown;
      } else if (rule.kind == RuleKind::Exclude) {
        outcome.outcome = *run.probability >= limits.unfit_exclusion      ? Outcome::Fires
                          : *run.probability >= limits.doubtful_exclusion ? Outcome::Possible
                                                                          : Outcome::Silent;
      } else {
        outcome.outcome = *run.probability >= limits.caution_probability ? Outcome::Fires : Outcome::Silent;
      }
    }
    if (outcome.outcome == Outcome::Fires || outcome.outcome == Outcome::Possible ||
        outcome.outcome == Outcome::Unknown) {
      if (outcome.outcome != Outcome::Unknown) outcome.text = rule.text.render(frame, each, names);
      out.push_back(std::move(outcome));
      spoke = true;
    } else if (!quiet || outcome.outcome == Outcome::Silent) {
      quiet = std::move(outcome);
    }
  }
  if (spoke) return;
  if (!quiet) {
    quiet = outline(rule, index);
    quiet->outcome = Outcome::NotApplicable;
  }
  out.push_back(std::move(*quiet));
}

}  // namespace

std::string_view name_of(Verdict verdict) {
  switch (verdict) {
    case Verdict::Sound:
      return "sound";
    case Verdict::Doubtful:
      return "doubtful";
    case Verdict::Unfit:
      break;
  }
  return "unfit";
}

Judgement judge(const RuleBook& book, const FactFrame& frame) {
  const VerdictLimits& limits = book.limits();
  Judgement out;
  ScoreSums sums;
  Decider decider;
  Workspace workspace;
  double judged_weight = 0;
  double applicable_weight = 0;
  double weakest = 2;
  const std::vector<Rule>& rules = book.rules();
  for (std::size_t i = 0; i < rules.size(); ++i) {
    const Rule& rule = rules[i];
    if (rule.kind == RuleKind::Grade) {
      const GradeRun run = detail::run_grade(rule, frame, workspace);
      if (!run.applicable) continue;
      applicable_weight += rule.weight * static_cast<double>(std::popcount(run.weighed)) / kScenarioCount;
      const auto mean = run.mean();
      if (!mean) continue;
      judged_weight += rule.weight * static_cast<double>(std::popcount(run.known)) / kScenarioCount;
      sums.add(rule.weight, run);
      const double cost = -rule.weight * std::log(*mean);
      if (cost > decider.dearest_cost) {
        decider.dearest_cost = cost;
        decider.dearest_grade = i;
      }
      if (book.bears_on_chance(i) && cost > decider.dearest_cost_for_chance) {
        decider.dearest_cost_for_chance = cost;
        decider.dearest_for_chance = i;
      }
      if (rule.weight >= limits.sound_heavy_weight && *mean < limits.sound_weak_grade && *mean < weakest) {
        weakest = *mean;
        decider.weak_grade = i;
      }
    } else if (rule.kind == RuleKind::Exclude) {
      const ConditionRun run = worst_condition(rule, frame, workspace);
      if (!run.applicable) continue;
      const bool sure = run.probability && *run.probability >= limits.unfit_exclusion;
      if (sure && *run.probability > decider.exclusion_probability) {
        decider.exclusion = i;
        decider.exclusion_probability = *run.probability;
      }
      const bool possible =
          !run.probability || run.partly_unknown || *run.probability >= limits.doubtful_exclusion;
      if (!sure && possible && !decider.possible_exclusion) decider.possible_exclusion = i;
    }
  }
  out.scores = sums.scores();
  out.score = mean_of(out.scores);
  out.judged = applicable_weight > 0 ? judged_weight / applicable_weight : 0;
  out.chance = chance_of(book, frame);
  decide(out, decider, limits);
  return out;
}

Judgement judge(const RuleBook& book, const FactFrame& frame, const Names& names) {
  Judgement out = judge(book, frame);
  out.outcomes = explain(book, frame, names);
  return out;
}

std::vector<RuleOutcome> explain(const RuleBook& book, const FactFrame& frame, const Names& names) {
  std::vector<RuleOutcome> out;
  Workspace workspace;
  const std::vector<Rule>& rules = book.rules();
  for (std::size_t i = 0; i < rules.size(); ++i) {
    const Rule& rule = rules[i];
    if (rule.kind == RuleKind::Derive) continue;
    if (rule.kind == RuleKind::Grade) {
      out.push_back(explain_grade(rule, i, book, frame, names, workspace));
    } else {
      explain_condition(rule, i, book, frame, names, workspace, out);
    }
  }
  return out;
}

}  // namespace firstcrop
