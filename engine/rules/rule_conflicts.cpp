#include "rules/rule_conflicts.hpp"

#include <cmath>
#include <iterator>
#include <optional>
#include <set>

#include <fmt/format.h>

#include "rules/rule_run.hpp"

namespace firstcrop::detail {
namespace {

// Grades that lie this near are the same for all that follows.
constexpr double kSameGrade = 0.1;
constexpr int kFewestOpposites = 2;

// What one rule said of one case.
struct Said {
  bool is_for = false;      // high, or silent
  bool is_against = false;  // low, or fires
  double grade = 1;
};

class Comparison {
 public:
  Comparison(const Catalogue& catalogue, const VerdictLimits& limits) : catalogue_(catalogue), limits_(limits) {}

  void run(const Rule& one, const Rule& other) {
    for (const Rule* rule : {&one, &other}) {
      for (const RuleCase& given : rule->cases) hold_against(one, other, given);
    }
  }
  /// One case may be an accident of two rules that look at the same facts for different reasons.
  [[nodiscard]] bool contradicts() const { return opposite_ >= kFewestOpposites && opposite_ >= same_; }
  /// Seen on both sides, and never apart.
  [[nodiscard]] bool repeats() const { return compared_ == same_ && has_for_ && has_against_; }

 private:
  void hold_against(const Rule& one, const Rule& other, const RuleCase& given) {
    FactFrame frame(catalogue_, one.scope == RuleScope::Pair ? 2 : 1);
    for (const RuleCase::Given& fact : given.given) frame.set(fact.fact, fact.value);
    const auto first = say(one, frame);
    const auto second = say(other, frame);
    if (!first || !second) return;
    ++compared_;
    if ((first->is_for && second->is_against) || (first->is_against && second->is_for)) ++opposite_;
    const bool is_same = first->is_for == second->is_for && first->is_against == second->is_against &&
                         std::abs(first->grade - second->grade) < kSameGrade;
    if (!is_same) return;
    ++same_;
    has_for_ = has_for_ || first->is_for;
    has_against_ = has_against_ || first->is_against || !first->is_for;
  }

  [[nodiscard]] std::optional<Said> say(const Rule& rule, const FactFrame& frame) {
    if (rule.kind == RuleKind::Grade) {
      GradeRun run;
      run_grade(rule, frame, workspace_, run);
      const auto mean = run.mean();
      if (run.judged != kAllScenarios || !mean) return std::nullopt;
      return Said{*mean >= limits_.high_grade, *mean < limits_.low_grade, *mean};
    }
    const ConditionRun run = run_condition(rule, frame, 0, workspace_);
    if (!run.is_applicable || run.known != kAllScenarios) return std::nullopt;
    const bool fires = run.truth == kAllScenarios;
    return Said{!fires, fires, 1};
  }

  const Catalogue& catalogue_;
  const VerdictLimits& limits_;
  Workspace workspace_;
  int compared_ = 0;
  int same_ = 0;
  int opposite_ = 0;
  bool has_for_ = false;
  bool has_against_ = false;
};

void tell(Findings& findings, Severity severity, const Rule& added, std::string message, std::string help,
          const Rule& there, std::string note) {
  Finding finding;
  finding.severity = severity;
  finding.place = added.place;
  finding.message = std::move(message);
  finding.help = std::move(help);
  finding.note = std::move(note);
  // The id finds the rule; where the data lie, and on which line, is of no use to the person.
  const std::size_t folder = there.place.path.rfind("/rules/");
  finding.note_place =
      Place{folder == std::string::npos ? there.place.path : there.place.path.substr(folder + 1), 0, 0, 1, {}};
  findings.add(std::move(finding));
}

// Rules that look at different facts have different reasons, even where their answers differ.
bool can_be_compared(const Rule& one, const Rule& other) {
  const bool judges = one.kind == RuleKind::Grade || one.kind == RuleKind::Exclude;
  if (!judges || one.kind != other.kind || one.scope != other.scope) return false;
  return std::set<FactReference>(one.facts.begin(), one.facts.end()) ==
         std::set<FactReference>(other.facts.begin(), other.facts.end());
}

class ConflictReport {
 public:
  ConflictReport(const Catalogue& catalogue, const VerdictLimits& limits, Findings& findings)
      : catalogue_(catalogue), limits_(limits), findings_(findings) {}

  void replaced(const Rule& added, const Rule& old) {
    if (added.kind != old.kind) {
      tell(findings_, Severity::Warning, added,
           fmt::format("`{}` was `{}` and becomes `{}`", added.id.text, name_of(old.kind), name_of(added.kind)),
           "give it another id if the old rule shall stay in force", old, "the rule that it replaces");
      return;
    }
    if (can_be_compared(added, old) && compared(added, old).contradicts()) {
      tell(findings_, Severity::Warning, added,
           fmt::format("`{}` says the contrary of the rule that it replaces", added.id.text),
           "leave it so if that is meant", old, "the rule that it replaces");
      return;
    }
    tell(findings_, Severity::Note, added, fmt::format("`{}` replaces the rule of that id", added.id.text), {}, old,
         "the rule that it replaces");
  }

  void beside(const Rule& added, const Rule& other) {
    if (!can_be_compared(added, other)) return;
    const Comparison comparison = compared(added, other);
    if (comparison.contradicts()) {
      tell(findings_, Severity::Warning, added,
           fmt::format("`{}` says the contrary of `{}`, and both are in force", added.id.text, other.id.text),
           fmt::format("write `id: {}` to replace that one", other.id.text), other, "the other rule");
    } else if (comparison.repeats()) {
      tell(findings_, Severity::Warning, added,
           fmt::format("`{}` says again what `{}` says", added.id.text, other.id.text),
           added.kind == RuleKind::Grade
               ? fmt::format("the matter counts twice now; write `id: {}` to replace that one", other.id.text)
               : std::string("it changes nothing; leave it out"),
           other, "the other rule");
    }
  }

 private:
  [[nodiscard]] Comparison compared(const Rule& one, const Rule& other) const {
    Comparison out(catalogue_, limits_);
    out.run(one, other);
    return out;
  }

  const Catalogue& catalogue_;
  const VerdictLimits& limits_;
  Findings& findings_;
};

}  // namespace

void report_conflicts(const std::map<RuleId, Rule>& base, const std::map<RuleId, Rule>& added,
                      const Catalogue& catalogue, const VerdictLimits& limits, Findings& findings) {
  ConflictReport report(catalogue, limits, findings);
  for (auto own = added.begin(); own != added.end(); ++own) {
    const Rule& rule = own->second;
    if (const auto old = base.find(own->first); old != base.end()) report.replaced(rule, old->second);
    for (const auto& [id, other] : base) {
      // One that is itself replaced is out of force.
      if (!added.contains(id)) report.beside(rule, other);
    }
    for (auto next = std::next(own); next != added.end(); ++next) report.beside(rule, next->second);
  }
}

}  // namespace firstcrop::detail
