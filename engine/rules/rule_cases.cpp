#include "rules/rule_cases.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "rules/rule_run.hpp"

namespace firstcrop {
namespace {

// Half a unit of the second decimal, for cases state grades to two.
constexpr double kGradeTolerance = 0.005 + 1e-9;

struct Got {
  Outcome outcome = Outcome::Unknown;
  std::optional<double> grade;
  std::optional<FactValue> value;
  std::vector<FactReference> missing;
};

std::string listed(const std::vector<FactReference>& facts, const Catalogue& catalogue) {
  std::vector<std::string> names;
  names.reserve(facts.size());
  for (const FactReference& fact : facts) names.push_back(fmt::format("`{}`", catalogue.name_of(fact)));
  std::sort(names.begin(), names.end());
  return names.empty() ? "nothing" : fmt::format("{}", fmt::join(names, ", "));
}

std::vector<FactReference> sorted(std::vector<FactReference> facts) {
  std::sort(facts.begin(), facts.end());
  return facts;
}

// With all the digits that a case may ask for.
std::string precisely(const FactValue& value, const FactInfo& info) {
  const auto* number = std::get_if<NumberColumn>(&value.value);
  if (number == nullptr) return show_fact(value, info);
  const auto unit = find_unit(info.shown_unit);
  if (!unit) return fmt::format("{:.6g}", number->at(0));
  return fmt::format("{:.6g} {}", unit->from_canonical(number->at(0)), unit->symbol);
}

bool has_value(const FactValue& got, const RuleCase& wanted) {
  if (const auto* number = std::get_if<NumberColumn>(&got.value)) {
    const auto* value = std::get_if<double>(&*wanted.value);
    return value != nullptr && std::abs(number->at(0) - *value) <= wanted.value_tolerance + 1e-12;
  }
  if (const auto* flag = std::get_if<FlagColumn>(&got.value)) {
    const auto* value = std::get_if<bool>(&*wanted.value);
    return value != nullptr && flag->is_known() && (flag->truth != 0) == *value;
  }
  const auto* text = std::get_if<std::string>(&got.value);
  const auto* value = std::get_if<std::string>(&*wanted.value);
  return text != nullptr && value != nullptr && *text == *value;
}

class CaseRunner {
 public:
  CaseRunner(const RuleBook& book, Findings& findings) : book_(book), findings_(findings) {}

  // True if the case came as expected.
  bool run(const Rule& rule, const RuleCase& wanted) {
    const Got got = outcome_of(rule, wanted);
    bool is_good = true;
    const auto fail = [&](const Place& place, const std::string& expected, const std::string& came) {
      findings_.error(place,
                      fmt::format("a case of `{}` expects {}, but {} came", rule.id.text, expected, came),
                      "correct the rule or the case");
      is_good = false;
    };
    if (wanted.expected && got.outcome != *wanted.expected) {
      fail(wanted.expected_place, fmt::format("`{}`", name_of(*wanted.expected)), described(rule, got));
      return false;
    }
    if (wanted.grade && (!got.grade || std::abs(*got.grade - *wanted.grade) > kGradeTolerance)) {
      fail(wanted.grade_place, fmt::format("the grade {:.2f}", *wanted.grade), described(rule, got));
    }
    if (wanted.value && !(got.value && has_value(*got.value, wanted))) {
      fail(wanted.value_place, fmt::format("`{}`", wanted.written_value), described(rule, got));
    }
    if (!wanted.missing.empty() && sorted(wanted.missing) != sorted(got.missing)) {
      fail(wanted.missing_place, fmt::format("{} to be missing", listed(wanted.missing, book_.catalogue())),
           listed(got.missing, book_.catalogue()));
    }
    return is_good;
  }

 private:
  [[nodiscard]] FactFrame frame_of(const Rule& rule, const RuleCase& wanted) const {
    FactFrame frame(book_.catalogue(), rule.scope == RuleScope::Pair ? 2 : 1);
    for (const RuleCase::Given& given : wanted.given) frame.set(given.fact, given.value);
    return frame;
  }

  [[nodiscard]] Got outcome_of(const Rule& rule, const RuleCase& wanted) const {
    const FactFrame frame = frame_of(rule, wanted);
    Workspace workspace;
    Got out;
    if (rule.kind == RuleKind::Grade) {
      detail::GradeRun run;
      detail::run_grade(rule, frame, workspace, run);
      out.grade = run.mean();
      if (out.grade) out.outcome = book_.word_for(*out.grade);
      if (run.weighed == 0) out.outcome = Outcome::NotApplicable;
    } else if (rule.kind == RuleKind::Derive) {
      FactValue value = detail::run_derive(rule, frame, 0, workspace);
      if (!detail::may_apply(rule, frame, 0, workspace)) out.outcome = Outcome::NotApplicable;
      if (value.is_known()) {
        out.value = std::move(value);
        // What has a value is neither unknown nor not applicable.
        out.outcome = Outcome::Fires;
      }
    } else {
      out.outcome = detail::word_for(detail::run_condition(rule, frame, 0, workspace), rule, book_.limits());
    }
    if (out.outcome == Outcome::Unknown) out.missing = detail::missing_facts(rule, frame, 0, workspace);
    return out;
  }

  [[nodiscard]] std::string described(const Rule& rule, const Got& got) const {
    if (got.value) {
      return fmt::format("`{}`", precisely(*got.value, book_.catalogue().info(rule.derived.fact)));
    }
    if (got.grade) return fmt::format("`{}` with the grade {:.3f}", name_of(got.outcome), *got.grade);
    if (got.outcome == Outcome::Unknown && !got.missing.empty()) {
      return fmt::format("`unknown` for want of {}", listed(got.missing, book_.catalogue()));
    }
    return fmt::format("`{}`", name_of(got.outcome));
  }

  const RuleBook& book_;
  Findings& findings_;
};

// A rule that is never seen on one of its sides is untested there.
class SideCheck {
 public:
  SideCheck(const RuleBook& book, Findings& findings) : book_(book), findings_(findings) {}

  void run(const Rule& rule) {
    switch (rule.kind) {
      case RuleKind::Grade:
        check_grade(rule);
        return;
      case RuleKind::Derive:
        if (count(rule, [](const RuleCase& one) { return one.value.has_value(); }) < 2) {
          lacks(rule, "fewer than two cases with a `value`");
        }
        return;
      case RuleKind::Exclude:
      case RuleKind::Caution:
      case RuleKind::Advice:
        break;
    }
    (void)demand(rule, Outcome::Fires);
    // What is always said where it applies has no silent side.
    const bool is_always = rule.written.body == "true";
    if (!is_always) (void)demand(rule, Outcome::Silent);
    if (is_always && rule.when) (void)demand(rule, Outcome::NotApplicable);
  }

 private:
  template <typename Test>
  static std::ptrdiff_t count(const Rule& rule, Test test) {
    return std::count_if(rule.cases.begin(), rule.cases.end(), test);
  }
  void lacks(const Rule& rule, const std::string& what) {
    findings_.error(rule.place, fmt::format("rule `{}` has {}", rule.id.text, what),
                    "a rule is tested on each of its sides; add to `cases`");
  }
  bool demand(const Rule& rule, Outcome outcome) {
    if (count(rule, [outcome](const RuleCase& one) { return one.expected == outcome; }) > 0) return true;
    lacks(rule, fmt::format("no case that expects `{}`", name_of(outcome)));
    return false;
  }
  // The best and the worst word that the rule can give; where both are one word, two grades of it.
  void check_grade(const Rule& rule) {
    const Outcome best = book_.word_for(rule.highest_grade);
    const Outcome worst = book_.word_for(rule.lowest_grade);
    const bool has_best = demand(rule, best);
    if (best != worst) {
      (void)demand(rule, worst);
      return;
    }
    const auto graded = count(rule, [](const RuleCase& one) { return one.grade.has_value(); });
    if (has_best && rule.lowest_grade < rule.highest_grade && graded < 2) {
      lacks(rule, "fewer than two cases with a `grade`");
    }
  }

  const RuleBook& book_;
  Findings& findings_;
};

}  // namespace

CaseCounts run_cases(const RuleBook& book, Findings& findings) {
  CaseCounts out;
  CaseRunner runner(book, findings);
  SideCheck sides(book, findings);
  for (const Rule& rule : book.rules()) {
    sides.run(rule);
    for (const RuleCase& wanted : rule.cases) ++(runner.run(rule, wanted) ? out.passed : out.failed);
  }
  return out;
}

}  // namespace firstcrop
