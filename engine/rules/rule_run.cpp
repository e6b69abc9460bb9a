#include "rules/rule_run.hpp"

#include <algorithm>
#include <utility>

namespace firstcrop::detail {
namespace {

struct Applies {
  std::uint64_t truth = kAllScenarios;
  std::uint64_t known = kAllScenarios;
  [[nodiscard]] std::uint64_t possible() const { return truth | ~known; }
};

Applies applies(const Rule& rule, const FactFrame& frame, std::size_t each, Workspace& workspace) {
  if (!rule.when) return {};
  const Value& when = rule.when->run(frame, each, workspace);
  return {when.truth, when.known};
}

double mean_over(const Value& value, std::uint64_t scenarios) {
  if (value.spread == nullptr) return value.certain;
  double sum = 0;
  for (std::size_t k = 0; k < kScenarioCount; ++k) {
    if (((scenarios >> k) & 1U) != 0) sum += (*value.spread)[k];
  }
  return sum / static_cast<double>(std::popcount(scenarios));
}

void take(const Value& value, GradeRun& out) {
  out.is_certain = value.spread == nullptr;
  out.certain = value.certain;
  if (!out.is_certain) out.values = *value.spread;
}

// The worse of two components where both are judged, and the only one elsewhere.
void take_worse(const Value& value, std::uint64_t judged_before, std::uint64_t judged_now, GradeRun& out) {
  const bool covers_all = judged_before == kAllScenarios && judged_now == kAllScenarios;
  if (covers_all && out.is_certain && value.spread == nullptr) {
    out.certain = std::min(out.certain, value.certain);
    return;
  }
  for (std::size_t k = 0; k < kScenarioCount; ++k) {
    const double old = out.at(k);
    const double now = value.at(k);
    const bool has_old = ((judged_before >> k) & 1U) != 0;
    const bool has_now = ((judged_now >> k) & 1U) != 0;
    out.values[k] = has_old && has_now ? std::min(old, now) : has_now ? now : old;
  }
  out.is_certain = false;
}

}  // namespace

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

std::optional<double> GradeRun::mean() const {
  if (judged == 0) return std::nullopt;
  Value value;
  value.certain = certain;
  value.spread = is_certain ? nullptr : &values;
  return mean_over(value, judged);
}

void run_grade(const Rule& rule, const FactFrame& frame, Workspace& workspace, GradeRun& out) {
  out.weighed = 0;
  out.judged = 0;
  out.component = 0;
  out.is_certain = true;
  std::uint64_t unjudged = 0;
  double worst_mean = 0;
  const std::size_t times = times_judged(rule, frame.component_count());
  for (std::size_t each = 0; each < times; ++each) {
    const Applies when = applies(rule, frame, each, workspace);
    if (when.possible() == 0) continue;
    const Value& value = rule.body.run(frame, each, workspace);
    const std::uint64_t judged = when.truth & value.known;
    if (judged != 0) {
      const double mean = times > 1 ? mean_over(value, judged) : 0;
      const bool is_first = out.judged == 0;
      if (is_first) {
        take(value, out);
      } else {
        take_worse(value, out.judged, judged, out);
      }
      if (is_first || mean < worst_mean) {
        worst_mean = mean;
        out.component = each;
      }
    } else if (out.weighed == 0) {
      out.component = each;
    }
    out.weighed |= when.possible();
    out.judged |= judged;
    unjudged |= when.possible() & ~judged;
  }
  // Where one component is unknown the worse one is unknown.
  out.judged &= ~unjudged;
}

ConditionRun run_condition(const Rule& rule, const FactFrame& frame, std::size_t each, Workspace& workspace) {
  ConditionRun out;
  const Applies when = applies(rule, frame, each, workspace);
  out.is_applicable = when.possible() != 0;
  if (!out.is_applicable) return out;
  const Value& body = rule.body.run(frame, each, workspace);
  out.truth = when.truth & body.truth;
  out.known = out.truth | (when.known & ~when.truth) | (body.known & ~body.truth);
  return out;
}

Outcome word_for(const ConditionRun& run, const Rule& rule, const VerdictLimits& limits) {
  if (!run.is_applicable) return Outcome::NotApplicable;
  if (run.known == 0) return Outcome::Unknown;
  const bool excludes = rule.kind == RuleKind::Exclude;
  const double enough =
      excludes ? limits.doubtful_exclusion : rule.least_probability.value_or(limits.caution_probability);
  if (excludes && run.least_probability() >= limits.unfit_exclusion) return Outcome::Fires;
  if (run.least_probability() >= enough) return excludes ? Outcome::Possible : Outcome::Fires;
  return run.largest_probability() >= enough ? Outcome::Unknown : Outcome::Silent;
}

bool may_apply(const Rule& rule, const FactFrame& frame, std::size_t each, Workspace& workspace) {
  return applies(rule, frame, each, workspace).possible() != 0;
}

FactValue run_derive(const Rule& rule, const FactFrame& frame, std::size_t each, Workspace& workspace) {
  const auto unknown = [](std::string reason) {
    FactValue out;
    out.value = Unknown{std::move(reason)};
    return out;
  };
  const Applies when = applies(rule, frame, each, workspace);
  if (when.possible() == 0) return unknown("the rule `" + rule.id.text + "` does not apply");
  Value value = rule.body.run(frame, each, workspace);
  const ValueType& type = rule.body.type();
  const bool is_whole = type.type == FactType::Text || type.type == FactType::Set;
  value.known = is_whole && when.truth != kAllScenarios ? 0 : value.known & when.truth;
  value.truth &= value.known;
  if (value.known != 0) {
    FactValue out = to_fact(value, type);
    // What is computed from a prediction is one.
    for (const FactReference& fact : rule.facts) {
      const FactValue& from = frame.get(fact, each);
      if (from.is_known() && from.origin == Origin::Predicted) out.origin = Origin::Predicted;
    }
    return out;
  }
  std::string names;
  for (const FactReference& fact : missing_facts(rule, frame, each, workspace)) {
    names += (names.empty() ? "`" : ", `") + frame.catalogue().name_of(fact) + "`";
  }
  if (names.empty()) return unknown("the rule `" + rule.id.text + "` gives no value here");
  return unknown("for want of " + names);
}

std::vector<FactReference> missing_facts(const Rule& rule, const FactFrame& frame, std::size_t each,
                                         Workspace& workspace) {
  std::vector<FactReference> out;
  if (rule.when) {
    const bool is_open = rule.when->run(frame, each, workspace).truth == 0;
    out = rule.when->missing(workspace);
    if (is_open) return out;
  }
  (void)rule.body.run(frame, each, workspace);
  for (const FactReference& fact : rule.body.missing(workspace)) {
    if (std::find(out.begin(), out.end(), fact) == out.end()) out.push_back(fact);
  }
  return out;
}

}  // namespace firstcrop::detail
