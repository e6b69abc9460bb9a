#include "rules/rule_book.hpp"

#include <algorithm>
#include <map>
#include <set>
#include <tuple>

#include <fmt/format.h>

#include "rules/rule_conflicts.hpp"
#include "rules/rule_run.hpp"

namespace firstcrop {
namespace {

bool stands_before(const Place& left, const Place& right) {
  return std::tie(left.path, left.line) < std::tie(right.path, right.line);
}

// Reported at the later of the two, in whatever order the files were read.
void report_twin(const Rule& one, const Rule& other, Findings& findings) {
  const bool is_in_order = stands_before(one.place, other.place);
  const Rule& first = is_in_order ? one : other;
  const Rule& second = is_in_order ? other : one;
  Finding finding;
  finding.place = second.place;
  finding.message = fmt::format("the rule `{}` stands twice", second.id.text);
  finding.help = "give one of them another id";
  finding.note = "it stands here too";
  finding.note_place = first.place;
  findings.add(std::move(finding));
}

void report_second_verdict(const Place& one, const Place& other, Findings& findings) {
  const bool is_in_order = stands_before(one, other);
  Finding finding;
  finding.place = is_in_order ? other : one;
  finding.message = "`verdict` stands in two files";
  finding.help = "keep one of them";
  finding.note = "it stands here too";
  finding.note_place = is_in_order ? one : other;
  findings.add(std::move(finding));
}

// What several files hold together.
struct Collection {
  std::map<RuleId, Rule> rules;
  std::optional<VerdictLimits> limits;
};

void collect(std::vector<RuleFile>& files, Collection& out, Findings& findings) {
  for (RuleFile& file : files) {
    if (file.verdict) {
      if (out.limits) report_second_verdict(out.limits->place, file.verdict->place, findings);
      out.limits = file.verdict;
    }
    for (Rule& rule : file.rules) {
      const auto [at, is_new] = out.rules.try_emplace(rule.id, std::move(rule));
      if (!is_new) report_twin(at->second, rule, findings);
    }
  }
}

// Words that the grades of a rule can reach; of a ladder only its rungs count.
bool can_reach(const Rule& rule, Outcome word, const RuleBook& book) {
  if (rule.rung_grades.empty()) {
    const double low = book.limits().low_grade;
    const double high = book.limits().high_grade;
    if (word == Outcome::High) return rule.highest_grade >= high;
    if (word == Outcome::Low) return rule.lowest_grade < low;
    return rule.lowest_grade < high && rule.highest_grade >= low;
  }
  return std::any_of(rule.rung_grades.begin(), rule.rung_grades.end(),
                     [&](double grade) { return book.word_for(grade) == word; });
}

void check_sentences(const Rule& rule, const RuleBook& book, Findings& findings) {
  if (rule.kind != RuleKind::Grade) return;
  const auto check = [&](Outcome word, const Sentence& sentence) {
    if (!sentence.empty() || !can_reach(rule, word, book)) return;
    findings.error(rule.place,
                   fmt::format("the grade of `{}` can be {}, but `say` has no sentence for it", rule.id.text,
                               name_of(word)),
                   fmt::format("add `{}: ...` to `say`", name_of(word)));
  };
  check(Outcome::High, rule.high);
  check(Outcome::Middle, rule.middle);
  check(Outcome::Low, rule.low);
  const bool is_never_unsure = !can_reach(rule, Outcome::High, book) || !can_reach(rule, Outcome::Low, book);
  if (rule.unsure.empty() || !is_never_unsure) return;
  findings.error(
      rule.place,
      fmt::format("`unsure` of `{}` is never said: its grades do not reach from low to high", rule.id.text),
      "leave it out");
}

// The flag of the chance, and every fact that the derive rules behind it look at.
std::set<FactReference> facts_behind(const FactReference& chance, const std::vector<Rule>& rules) {
  std::set<FactReference> out{chance};
  for (std::size_t before = 0; before != out.size();) {
    before = out.size();
    for (const Rule& rule : rules) {
      if (rule.kind == RuleKind::Derive && out.contains(rule.derived)) {
        out.insert(rule.facts.begin(), rule.facts.end());
      }
    }
  }
  return out;
}

std::vector<bool> which_bear_on(const FactReference& chance, const std::vector<Rule>& rules) {
  const std::set<FactReference> behind = facts_behind(chance, rules);
  std::vector<bool> out;
  out.reserve(rules.size());
  for (const Rule& rule : rules) {
    out.push_back(std::any_of(rule.facts.begin(), rule.facts.end(),
                              [&behind](const FactReference& fact) { return behind.contains(fact); }));
  }
  return out;
}

}  // namespace

std::string_view name_of(RuleKind kind) {
  switch (kind) {
    case RuleKind::Derive:
      return "derive";
    case RuleKind::Exclude:
      return "exclude";
    case RuleKind::Grade:
      return "grade";
    case RuleKind::Caution:
      return "caution";
    case RuleKind::Advice:
      break;
  }
  return "advice";
}

std::string_view name_of(CautionLevel level) {
  switch (level) {
    case CautionLevel::Note:
      return "note";
    case CautionLevel::Warning:
      return "warning";
    case CautionLevel::Danger:
      break;
  }
  return "danger";
}

std::string_view name_of(Outcome outcome) {
  switch (outcome) {
    case Outcome::High:
      return "high";
    case Outcome::Middle:
      return "middle";
    case Outcome::Low:
      return "low";
    case Outcome::Fires:
      return "fires";
    case Outcome::Possible:
      return "possible";
    case Outcome::Silent:
      return "silent";
    case Outcome::Unknown:
      return "unknown";
    case Outcome::NotApplicable:
      break;
  }
  return "not-applicable";
}

std::optional<RuleBook> RuleBook::build(const Catalogue& catalogue, std::vector<RuleFile> files,
                                        std::vector<RuleFile> additions, Findings& findings) {
  Findings own;
  Collection base;
  Collection added;
  collect(files, base, own);
  collect(additions, added, own);
  std::map<RuleId, Rule>& rules = base.rules;
  const std::optional<VerdictLimits>& in_force = added.limits ? added.limits : base.limits;
  if (in_force && !own.has_errors() && !findings.has_errors()) {
    detail::report_conflicts(rules, added.rules, catalogue, *in_force, own);
  }
  for (auto& [id, rule] : added.rules) rules.insert_or_assign(id, std::move(rule));
  if (!in_force) {
    own.error(Place{"rules", 0, 0, 1, {}}, "no rule file holds a `verdict` without errors",
              "add `verdict:` with the limits to one of them");
    findings.append(own);
    return std::nullopt;
  }
  RuleBook out;
  out.catalogue_ = &catalogue;
  out.limits_ = *in_force;
  std::vector<Rule> sorted;
  sorted.reserve(rules.size());
  for (auto& [id, rule] : rules) sorted.push_back(std::move(rule));
  for (const Rule& rule : sorted) check_sentences(rule, out, own);
  out.bears_on_chance_ = which_bear_on(out.limits_.chance_of, sorted);
  out.rules_ = std::make_shared<const std::vector<Rule>>(std::move(sorted));
  findings.append(own);
  return out;
}

const Rule* RuleBook::find(std::string_view id) const {
  const auto found =
      std::find_if(rules_->begin(), rules_->end(), [id](const Rule& rule) { return rule.id.text == id; });
  return found == rules_->end() ? nullptr : &*found;
}

std::vector<Producer> RuleBook::producers() const {
  std::vector<Producer> out;
  out.reserve(rules_->size());
  for (std::size_t i = 0; i < rules_->size(); ++i) {
    const Rule& rule = (*rules_)[i];
    if (rule.kind != RuleKind::Derive) continue;
    Producer producer;
    producer.name = "rule " + rule.id.text;
    producer.needs = rule.facts;
    producer.gives = {rule.derived};
    producer.place = rule.place;
    producer.run = [rules = rules_, i](FactFrame& frame, std::size_t each) {
      const Rule& derive = (*rules)[i];
      thread_local Workspace workspace;  // its columns are large, and rules run for every ratio of every pair
      frame.set(derive.derived, detail::run_derive(derive, frame, each, workspace), each);
    };
    out.push_back(std::move(producer));
  }
  return out;
}

std::vector<FactReference> RuleBook::facts_of_verdict() const {
  std::set<FactReference> out{limits_.chance_of};
  for (const Rule& rule : *rules_) {
    const bool counts = rule.kind == RuleKind::Exclude || rule.kind == RuleKind::Grade;
    if (counts) out.insert(rule.facts.begin(), rule.facts.end());
  }
  return {out.begin(), out.end()};
}

Outcome RuleBook::word_for(double grade) const {
  if (grade >= limits_.high_grade) return Outcome::High;
  return grade < limits_.low_grade ? Outcome::Low : Outcome::Middle;
}

}  // namespace firstcrop
