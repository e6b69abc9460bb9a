#include "rules/rule_cases.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "rules/judge.hpp"
#include "rules/rule_run.hpp"

namespace firstcrop {
namespace {

constexpr double kGradeTolerance = 0.01;
constexpr double kRelativeTolerance = 1e-6;

struct Got {
  Outcome outcome = Outcome::Unknown;
  std::optional<double> grade;
  std::vector<FactReference> missing;
  FactValue value;
};

// Facts of a case stand for the only solvent, or, where good and poor are named, for a pair.
FactFrame frame_of(const RuleCase& given, const Rule& rule, const Catalogue& catalogue) {
  bool is_pair = rule.scope == RuleScope::Pair;
  for (const RuleCase::Given& fact : given.given) {
    is_pair = is_pair || fact.fact.component == Component::Good || fact.fact.component == Component::Poor ||
              catalogue.name_of(fact.fact).starts_with("pair.");
  }
  FactFrame frame(catalogue, is_pair && rule.scope != RuleScope::Component ? 2 : 1);
  for (const RuleCase::Given& fact : given.given) {
    const bool lost = frame.component_count() == 1 &&
                      (fact.fact.component == Component::Good || fact.fact.component == Component::Poor);
    if (!lost) frame.set(fact.fact, fact.value);
  }
  return frame;
}

Got run_case(const Rule& rule, const FactFrame& frame, const RuleBook& book) {
  Workspace workspace;
  Got out;
  if (rule.kind == RuleKind::Grade) {
    const detail::GradeRun run = detail::run_grade(rule, frame, workspace);
    out.missing = run.missing;
    out.grade = run.mean();
    out.outcome = !run.applicable ? Outcome::NotApplicable
                  : out.grade     ? book.word_for(*out.grade)
                                  : Outcome::Unknown;
    return out;
  }
  if (rule.kind == RuleKind::Derive) {
    const detail::Applies when = detail::applies(rule, frame, 0, workspace);
    if (when.never()) {
      out.outcome = Outcome::NotApplicable;
      return out;
    }
    const Value& value = rule.body.run(frame, 0, workspace);
    out.value = to_fact(value, rule.body.type());
    if (value.known == 0) out.missing = rule.body.missing(workspace);
    out.outcome = value.known == 0 ? Outcome::Unknown : Outcome::Fires;
    return out;
  }
  const detail::ConditionRun run = detail::run_condition(rule, frame, 0, workspace);
  out.missing = run.missing;
  out.outcome = !run.applicable          ? Outcome::NotApplicable
                : !run.probability       ? Outcome::Unknown
                : *run.probability > 0.5 ? Outcome::Fires
                                         : Outcome::Silent;
  return out;
}

bool same_value(const FactValue& got, const std::variant<double, bool, std::string>& wanted) {
  if (const auto* number = std::get_if<NumberColumn>(&got.value)) {
    const auto* value = std::get_if<double>(&wanted);
    return value != nullptr &&
           std::abs(number->at(0) - *value) <= kRelativeTolerance * std::max(std::abs(*value), 1e-3) + 1e-9;
  }
  if (const auto* flag = std::get_if<FlagColumn>(&got.value)) {
    const auto* value = std::get_if<bool>(&wanted);
    return value != nullptr && (flag->truth == kAllScenarios) == *value;
  }
  const auto* text = std::get_if<std::string>(&got.value);
  const auto* value = std::get_if<std::string>(&wanted);
  return text != nullptr && value != nullptr && *text == *value;
}

std::string listed(const std::vector<FactReference>& facts, const Catalogue& catalogue) {
  std::vector<std::string> names;
  for (const FactReference& fact : facts) names.push_back(catalogue.name_of(fact));
  return fmt::format("{}", fmt::join(names, ", "));
}

bool check_case(const Rule& rule, const RuleCase& wanted, const RuleBook& book, Findings& findings) {
  const Catalogue& catalogue = book.catalogue();
  const FactFrame frame = frame_of(wanted, rule, catalogue);
  const Got got = run_case(rule, frame, book);
  bool good = true;
  const auto fail = [&](const Place& place, std::string message, std::string help = {}) {
    findings.error(place, std::move(message), std::move(help));
    good = false;
  };
  if (wanted.expected && got.outcome != *wanted.expected) {
    std::string why;
    if (got.grade) why = fmt::format(" (grade {:.2f})", *got.grade);
    if (got.outcome == Outcome::Unknown && !got.missing.empty())
      why = fmt::format(" ({} is missing)", listed(got.missing, catalogue));
    fail(wanted.expected_place, fmt::format("case of `{}`: expected {}, came {}{}", rule.id.text,
                                            name_of(*wanted.expected), name_of(got.outcome), why));
  }
  if (wanted.grade && (!got.grade || std::abs(*got.grade - *wanted.grade) > kGradeTolerance)) {
    fail(wanted.grade_place,
         fmt::format("case of `{}`: expected the grade {:.2f}, came {}", rule.id.text, *wanted.grade,
                     got.grade ? fmt::format("{:.3f}", *got.grade) : "none"));
  }
  if (wanted.value && !same_value(got.value, *wanted.value)) {
    const FactInfo& info = catalogue.info(rule.derived.fact);
    fail(wanted.value_place, fmt::format("case of `{}`: expected {}, came {}", rule.id.text,
                                         wanted.written_value, show_fact(got.value, info)));
  }
  std::vector<FactReference> expected_missing = wanted.missing;
  std::vector<FactReference> got_missing = got.missing;
  std::sort(expected_missing.begin(), expected_missing.end());
  std::sort(got_missing.begin(), got_missing.end());
  if (!wanted.missing.empty() && expected_missing != got_missing) {
    fail(wanted.missing_place, fmt::format("case of `{}`: expected {} to be missing, came {}", rule.id.text,
                                           listed(wanted.missing, catalogue),
                                           got.missing.empty() ? "nothing" : listed(got.missing, catalogue)));
  }
  return good;
}

// A rule that is never seen on one of its sides is untested there.
void check_sides(const Rule& rule, const RuleBook& book, Findings& findings) {
  const auto count = [&rule](Outcome outcome) {
    return std::count_if(rule.cases.begin(), rule.cases.end(),
                         [outcome](const RuleCase& one) { return one.expected == outcome; });
  };
  const auto demand = [&](Outcome outcome) {
    if (count(outcome) > 0) return;
    findings.error(rule.place,
                   fmt::format("the rule `{}` has no case that expects `{}`", rule.id.text, name_of(outcome)),
                   "add one to `cases`");
  };
  switch (rule.kind) {
    case RuleKind::Grade:
      demand(book.word_for(rule.highest_grade));
      demand(book.word_for(rule.lowest_grade));
      break;
    case RuleKind::Derive: {
      const auto values = std::count_if(rule.cases.begin(), rule.cases.end(),
                                        [](const RuleCase& one) { return one.value.has_value(); });
      if (values < 2) {
        findings.error(rule.place, fmt::format("the rule `{}` needs two cases with a value", rule.id.text),
                       "add them to `cases`");
      }
      break;
    }
    case RuleKind::Exclude:
    case RuleKind::Caution:
    case RuleKind::Advice: {
      demand(Outcome::Fires);
      // What is always said has no silent side.
      if (rule.written.body != "true") demand(Outcome::Silent);
      break;
    }
  }
}

}  // namespace

CaseCounts run_cases(const RuleBook& book, Findings& findings) {
  CaseCounts out;
  for (const Rule& rule : book.rules()) {
    check_sides(rule, book, findings);
    for (const RuleCase& wanted : rule.cases) {
      if (check_case(rule, wanted, book, findings)) {
        ++out.passed;
      } else {
        ++out.failed;
      }
    }
  }
  return out;
}

}  // namespace firstcrop
