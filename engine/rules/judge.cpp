#include "rules/judge.hpp"

#include <cmath>

#include "rules/columns.hpp"
#include "rules/rule_run.hpp"

namespace firstcrop {
namespace {

using detail::ConditionRun;
using detail::GradeRun;

// Sums of w ln d and of w over the scenarios; what is the same in all of them is summed once.
class ScoreSums {
 public:
  void add(double weight, const GradeRun& run) {
    if (run.judged == kAllScenarios) {
      common_weight_ += weight;
      if (run.is_certain) {
        common_log_ += weight * std::log(run.certain);
        return;
      }
      is_spread_ = true;
      ScenarioValues logs;
      detail::log_column(run.values, logs);
      for (std::size_t k = 0; k < kScenarioCount; ++k) log_[k] += weight * logs[k];
      return;
    }
    is_spread_ = true;
    for (std::size_t k = 0; k < kScenarioCount; ++k) {
      if (((run.judged >> k) & 1U) == 0) continue;
      log_[k] += weight * std::log(run.at(k));
      weight_[k] += weight;
    }
  }
  [[nodiscard]] NumberColumn scores() const {
    if (!is_spread_) {
      return common_weight_ > 0 ? NumberColumn::of(std::exp(common_log_ / common_weight_)) : NumberColumn{};
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
  for (std::size_t k = 0; k < kScenarioCount; ++k) {
    if (((column.known >> k) & 1U) != 0) sum += (*column.spread)[k];
  }
  return sum / static_cast<double>(std::popcount(column.known));
}

// The rule with the largest value of something, the first by id where two are equal.
class Largest {
 public:
  explicit Largest(double least) : value_(least) {}
  void offer(std::size_t rule, double value) {
    if (value <= value_) return;
    value_ = value;
    rule_ = rule;
  }
  [[nodiscard]] const std::optional<std::size_t>& rule() const { return rule_; }

 private:
  double value_;
  std::optional<std::size_t> rule_;
};

// The candidates for the rule that decides.
struct Deciders {
  Largest exclusion{0};           // by probability
  Largest possible_exclusion{0};  // by largest probability
  Largest weak_grade{-1};         // of heavy rules, by how far the grade falls below 1
  Largest keeper{0};              // caution that keeps from being sound, by probability
  Largest unjudged{0};            // by weight lost
  Largest cost{0};                // by what it takes from the score
  Largest cost_for_chance{0};     // likewise, of the grades that look at what the chance rests on
};

// In a pair a condition holds where it holds of one of the two.
ConditionRun of_any_component(const Rule& rule, const FactFrame& frame, Workspace& workspace) {
  ConditionRun out;
  const std::size_t times = detail::times_judged(rule, frame.component_count());
  for (std::size_t each = 0; each < times; ++each) {
    const ConditionRun own = detail::run_condition(rule, frame, each, workspace);
    if (!own.is_applicable) continue;
    const std::uint64_t truth = out.truth | own.truth;
    out.known = truth | (out.known & own.known);
    out.truth = truth;
    out.is_applicable = true;
  }
  return out;
}

// Probability that the system works and no exclusion holds. A system that is excluded for sure keeps the
// chance that it would have without the exclusion: the verdict says the rest.
std::optional<double> chance_of(const RuleBook& book, const FactFrame& frame, std::uint64_t excluded) {
  const auto* flag = std::get_if<FlagColumn>(&frame.get(book.limits().chance_of).value);
  if (flag == nullptr) return std::nullopt;
  return FlagColumn::of_mask(flag->truth & ~excluded, flag->known).probability();
}

// The score is 0 in the scenarios in which the system is excluded.
NumberColumn without(const NumberColumn& scores, std::uint64_t excluded) {
  if (excluded == 0 || scores.known == 0) return scores;
  ScenarioValues out{};
  for (std::size_t k = 0; k < kScenarioCount; ++k) {
    if (((excluded >> k) & 1U) == 0 && ((scores.known >> k) & 1U) != 0) out[k] = scores.at(k);
  }
  return NumberColumn::of(out, scores.known);
}

void decide(Judgement& out, const Deciders& deciders, const std::optional<double>& works,
            const VerdictLimits& limits) {
  if (deciders.exclusion.rule()) {
    out.excluded = true;
    out.score.reset();
    out.verdict = Verdict::Unfit;
    out.deciding_rule = deciders.exclusion.rule();
    return;
  }
  if (out.chance && *out.chance < limits.unfit_chance) {
    out.verdict = Verdict::Unfit;
    // Where the system would work, it is the exclusion that takes the chance away.
    const bool would_work = works && *works >= limits.unfit_chance;
    out.deciding_rule = would_work ? deciders.possible_exclusion.rule() : deciders.cost_for_chance.rule();
    if (!out.deciding_rule) out.deciding_rule = deciders.cost.rule();
    return;
  }
  const bool is_judged = out.judged >= limits.sound_judged;
  const bool has_chance = limits.sound_chance <= 0 || (out.chance && *out.chance >= limits.sound_chance);
  const bool is_sound = out.score && *out.score >= limits.sound_score && is_judged && has_chance &&
                        !deciders.weak_grade.rule() && !deciders.possible_exclusion.rule() &&
                        !deciders.keeper.rule();
  out.verdict = is_sound ? Verdict::Sound : Verdict::Doubtful;
  out.deciding_rule = deciders.possible_exclusion.rule();
  if (!out.deciding_rule) out.deciding_rule = deciders.weak_grade.rule();
  if (!out.deciding_rule) out.deciding_rule = deciders.keeper.rule();
  if (!out.deciding_rule && !is_judged) out.deciding_rule = deciders.unjudged.rule();
  if (!out.deciding_rule) out.deciding_rule = deciders.cost.rule();
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
  const std::vector<Rule>& rules = book.rules();
  Judgement out;
  ScoreSums sums;
  Deciders deciders;
  Workspace workspace;
  GradeRun grade;
  double judged_weight = 0;
  double whole_weight = 0;
  std::uint64_t excluded = 0;  // scenarios in which an exclusion holds
  for (std::size_t i = 0; i < rules.size(); ++i) {
    const Rule& rule = rules[i];
    if (rule.kind == RuleKind::Grade) {
      detail::run_grade(rule, frame, workspace, grade);
      if (grade.weighed == 0) continue;
      const double weighed = rule.weight * detail::share_of(grade.weighed);
      const double judged = rule.weight * detail::share_of(grade.judged);
      whole_weight += weighed;
      judged_weight += judged;
      deciders.unjudged.offer(i, weighed - judged);
      const std::optional<double> mean = grade.mean();
      if (!mean) continue;
      sums.add(rule.weight, grade);
      const double cost = -judged * std::log(*mean);
      deciders.cost.offer(i, cost);
      if (book.bears_on_chance(i)) deciders.cost_for_chance.offer(i, cost);
      const bool is_weak = *mean < limits.sound_weak_grade && rule.weight >= limits.sound_heavy_weight;
      if (is_weak) deciders.weak_grade.offer(i, 1 - *mean);
    } else if (rule.kind == RuleKind::Exclude) {
      const ConditionRun run = of_any_component(rule, frame, workspace);
      const Outcome word = detail::word_for(run, rule, limits);
      excluded |= run.truth;
      if (word == Outcome::Fires) deciders.exclusion.offer(i, run.least_probability());
      if (word == Outcome::Possible || word == Outcome::Unknown) {
        deciders.possible_exclusion.offer(i, run.largest_probability());
      }
    } else if (rule.keeps_doubtful) {
      const ConditionRun run = of_any_component(rule, frame, workspace);
      const Outcome word = detail::word_for(run, rule, limits);
      if (word == Outcome::Fires) deciders.keeper.offer(i, run.least_probability());
    }
  }
  if (deciders.exclusion.rule()) excluded = 0;
  out.scores = without(sums.scores(), excluded);
  out.score = mean_of(out.scores);
  out.judged = whole_weight > 0 ? judged_weight / whole_weight : 0;
  out.chance = chance_of(book, frame, excluded);
  decide(out, deciders, chance_of(book, frame, 0), limits);
  return out;
}

Judgement judge(const RuleBook& book, const FactFrame& frame, const Names& names) {
  Judgement out = judge(book, frame);
  out.outcomes = explain(book, frame, names);
  return out;
}

}  // namespace firstcrop
