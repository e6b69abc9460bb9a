#include "rules/rule_run.hpp"

#include <algorithm>
#include <bit>

namespace firstcrop::detail {
namespace {

double mean_of(const NumberColumn& column, std::uint64_t known) {
  if (column.is_certain()) return column.certain;
  double sum = 0;
  for (std::size_t k = 0; k < kScenarioCount; ++k) {
    if ((known >> k & 1U) != 0U) sum += column.at(k);
  }
  return sum / static_cast<double>(std::popcount(known));
}

NumberColumn to_column(const Value& value) {
  NumberColumn out;
  out.known = value.known;
  out.certain = value.certain;
  if (value.spread != nullptr) out.spread = std::make_shared<const ScenarioValues>(*value.spread);
  return out;
}

NumberColumn worse_of(const NumberColumn& left, const NumberColumn& right) {
  const std::uint64_t known = left.known & right.known;
  if (left.is_certain() && right.is_certain()) {
    NumberColumn out = NumberColumn::of(std::min(left.certain, right.certain));
    out.known = known;
    return out;
  }
  ScenarioValues values{};
  for (std::size_t k = 0; k < kScenarioCount; ++k) values[k] = std::min(left.at(k), right.at(k));
  return NumberColumn::of(values, known);
}

}  // namespace

std::optional<double> GradeRun::mean() const {
  if (known == 0) return std::nullopt;
  return mean_of(grade, known);
}

Applies applies(const Rule& rule, const FactFrame& frame, std::size_t each, Workspace& workspace) {
  if (!rule.when) return {};
  const Value& when = rule.when->run(frame, each, workspace);
  return {when.truth, when.known};
}

std::size_t times_judged(const Rule& rule, std::size_t component_count) {
  switch (rule.scope) {
    case RuleScope::Component:
      return component_count;
    case RuleScope::Pair:
      return component_count == 2 ? 1 : 0;
    case RuleScope::System:
      break;
  }
  return 1;
}

GradeRun run_grade(const Rule& rule, const FactFrame& frame, Workspace& workspace) {
  GradeRun out;
  const std::size_t times = times_judged(rule, frame.component_count());
  double worst_mean = 2;
  for (std::size_t each = 0; each < times; ++each) {
    const Applies when = applies(rule, frame, each, workspace);
    if (when.never()) continue;
    if (when.unknown()) {
      out.applicable = true;
      out.weighed = kAllScenarios;
      out.known = 0;
      out.missing = rule.when->missing(workspace);
      return out;
    }
    const Value& value = rule.body.run(frame, each, workspace);
    if (value.known != kAllScenarios) out.missing = rule.body.missing(workspace);
    NumberColumn grade = to_column(value);
    const std::uint64_t weighed = when.truth;
    const std::uint64_t known = value.known & weighed;
    const double mean = known == 0 ? 2 : mean_of(grade, known);
    if (!out.applicable) {
      out.applicable = true;
      out.grade = std::move(grade);
      out.weighed = weighed;
      out.known = known;
      out.component = each;
      worst_mean = mean;
      continue;
    }
    // A component that is unknown leaves the pair unknown, for the worse one counts.
    out.grade = worse_of(out.grade, grade);
    out.weighed |= weighed;
    out.known &= known;
    if (mean < worst_mean) {
      worst_mean = mean;
      out.component = each;
    }
  }
  return out;
}

ConditionRun run_condition(const Rule& rule, const FactFrame& frame, std::size_t each, Workspace& workspace) {
  ConditionRun out;
  const Applies when = applies(rule, frame, each, workspace);
  if (when.never()) return out;
  out.applicable = true;
  if (when.unknown()) {
    out.missing = rule.when->missing(workspace);
    return out;
  }
  const Value& value = rule.body.run(frame, each, workspace);
  const FlagColumn flag = FlagColumn::of_mask(value.truth & when.truth, value.known);
  if (value.known != kAllScenarios) out.missing = rule.body.missing(workspace);
  out.partly_unknown = value.known != kAllScenarios;
  out.probability = flag.probability();
  return out;
}

}  // namespace firstcrop::detail
