#include "report/why_text.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "report/cautions_text.hpp"
#include "report/changes_report.hpp"
#include "report/json_tools.hpp"
#include "report/table.hpp"

namespace firstcrop {
namespace {

using report::Json;

constexpr double kWorthTelling = 0.1;
// A handbook's full title would fill the line; `firstcrop solvents` prints it.
constexpr std::size_t kLongestSource = 50;

std::string title_of(const RuleOutcome& outcome) {
  std::string out = outcome.rule.text;
  std::replace(out.begin(), out.end(), '-', ' ');
  return out;
}

std::string grade_cell(const RuleOutcome& outcome) {
  if (outcome.kind == RuleKind::Grade) {
    if (!outcome.grade) return "?";
    if (outcome.grade_low && outcome.grade_high && *outcome.grade_high - *outcome.grade_low > 0.05) {
      return fmt::format("{:.2f} ({:.2f}-{:.2f})", *outcome.grade, *outcome.grade_low, *outcome.grade_high);
    }
    return fmt::format("{:.2f}", *outcome.grade);
  }
  if (outcome.outcome == Outcome::Fires) return "excludes";
  if (outcome.outcome == Outcome::Possible) return fmt::format("maybe {}", percent(*outcome.probability));
  return outcome.outcome == Outcome::Unknown ? "?" : "passed";
}

// The facts a rule looked at, each with what it rests on where that is worth a word.
std::string facts_line(const RuleOutcome& outcome) {
  std::vector<std::string> parts;
  for (const UsedFact& fact : outcome.facts) {
    if (fact.shown == "unknown") continue;
    // What is assumed, and what is only probable, says what it rests on.
    const bool is_weak = fact.origin == Origin::Assumed || fact.shown.starts_with("yes by");
    const bool tells_source = is_weak && !fact.source.empty() && display_width(fact.source) <= kLongestSource;
    parts.push_back(fmt::format("{} {} ({}{})", fact.name, fact.shown, name_of(fact.origin),
                                tells_source ? ": " + fact.source : std::string()));
  }
  return fmt::format("{}", fmt::join(parts, "; "));
}

std::string verdict_line(const SystemJudge& judge, const JudgedSystem& judged, const Style& style) {
  const Judgement& judgement = judged.judgement;
  std::string out = fmt::format("{}: {}", spoken_name(judged.system, judge.inquiry().knowledge->library),
                                style.verdict(judgement.verdict, std::string(name_of(judgement.verdict))));
  if (judgement.excluded) {
    out += ", excluded by a rule";
  } else if (judgement.chance) {
    out += fmt::format(", chance {}", percent(*judgement.chance));
  } else {
    out += ", no chance can be told: the solubility is unknown";
  }
  if (judgement.score) out += fmt::format(", score {:.2f}", *judgement.score);
  if (judgement.judged < 0.995)
    out += fmt::format(" ({} of the weight could be judged)", percent(judgement.judged));
  return out + "\n";
}

std::string like_text(const Inquiry& inquiry) {
  const std::vector<std::string> like = like_lines(inquiry);
  if (like.empty()) return {};
  std::string out = "\nSolubilities lean on\n";
  for (const std::string& line : like) out += wrapped(line, 2, 4);
  return out;
}

// The name of a solvent may itself say a share, so the shares stand behind it.
std::string window_words(const SystemJudge& judge, const JudgedSystem& judged) {
  const Library& library = judge.inquiry().knowledge->library;
  const std::string& good = library.solvent(judged.system.solvents[0]).name;
  const RatioWindow& window = *judged.window;
  if (window.from == window.to) {
    return fmt::format("share of {}: {} of the volume, more or less spoils it", good, percent(window.from));
  }
  return fmt::format("share of {}: good from {:.0f} to {} of the volume", good, window.from * 100,
                     percent(window.to));
}

std::string numbers(const SystemJudge& judge, const JudgedSystem& judged) {
  Table table({{""}, {""}, {""}});
  const auto add = [&](const char* label, const char* fact, const char* unit) {
    const auto quantity = quantity_of(judged, fact);
    if (!quantity) return;
    const std::string& source = judged.frame.get(*judge.catalogue().find(fact)).source;
    const bool worth_a_word = !source.empty() && display_width(source) <= kLongestSource;
    table.add({std::string("  ") + label, shown(quantity, unit),
               worth_a_word ? fmt::format("{}: {}", name_of(quantity->origin), source)
                            : std::string(name_of(quantity->origin))});
  };
  add("boils at", "system.boiling_point", "°C");
  add("saturate at", "system.saturation_temperature", "°C");
  add("collect at", "system.cold_temperature", "°C");
  add("undissolved solid melts near", "system.wet_melting_point", "°C");
  add("solubility hot", "system.hot_solubility", "mg/mL");
  add("solubility cold", "system.cold_solubility", "mg/mL");
  add("minimum volume", "system.volume_per_gram", "mL/g");
  add("recovery limit", "system.recovery_limit", "%");
  add("impurities held", "system.impurity_held", "%");
  std::string out = table.to_text();
  if (judged.window) {
    out += "  " + window_words(judge, judged) + "\n";
  }
  return out;
}

std::string rules_table(const SystemJudge& judge, const JudgedSystem& judged, const Style& style) {
  std::vector<const RuleOutcome*> spoken;
  std::vector<const RuleOutcome*> unknown;
  std::size_t passed = 0;
  for (const RuleOutcome& outcome : judged.judgement.outcomes) {
    if (outcome.kind == RuleKind::Caution || outcome.kind == RuleKind::Advice) continue;
    if (outcome.outcome == Outcome::NotApplicable) continue;
    if (outcome.outcome == Outcome::Silent) {
      ++passed;
    } else if (outcome.outcome == Outcome::Unknown) {
      unknown.push_back(&outcome);
    } else {
      spoken.push_back(&outcome);
    }
  }
  const auto cost = [](const RuleOutcome* outcome) {
    if (outcome->kind == RuleKind::Exclude) return 1e9 * outcome->probability.value_or(0);
    return -outcome->weight * std::log(std::max(outcome->grade.value_or(1), 0.01));
  };
  std::stable_sort(spoken.begin(), spoken.end(), [&cost](const RuleOutcome* left, const RuleOutcome* right) {
    return cost(left) > cost(right);
  });
  Table table({{"rule"}, {"grade"}, {"weight", true}, {"says"}});
  for (const RuleOutcome* outcome : spoken) {
    const bool is_grade = outcome->kind == RuleKind::Grade;
    // Long sentences go to a line of their own, so that the columns stay narrow.
    table.add(
        {title_of(*outcome), grade_cell(*outcome), is_grade ? fmt::format("{:g}", outcome->weight) : "", ""});
    table.remark(outcome->text);
    const std::string facts = facts_line(*outcome);
    if (!facts.empty()) table.remark(facts);
    table.remark(fmt::format("source: {}", outcome->source));
  }
  std::string out = style.strong("Rules, dearest first") + "\n" + table.to_text(4);
  if (passed > 0)
    out += fmt::format("    {} exclusion{} looked and found nothing.\n", passed, passed == 1 ? "" : "s");
  if (!unknown.empty()) {
    out += "\n" + style.strong("Not judged") + "\n";
    for (const RuleOutcome* outcome : unknown) {
      std::string line = fmt::format("{}: ", title_of(*outcome));
      if (outcome->missing.empty()) line += "a number is unknown";
      for (std::size_t i = 0; i < outcome->missing.size(); ++i) {
        line += fmt::format("{}{} is unknown; {}", i > 0 ? "; " : "", outcome->missing[i],
                            report::what_settles(outcome->missing[i]));
      }
      out += wrapped(line, 4, 8);
    }
  }
  static_cast<void>(judge);
  return out;
}

// In the order of the work.
std::string advice_text(const JudgedSystem& judged) {
  std::vector<const RuleOutcome*> advice;
  for (const RuleOutcome& outcome : judged.judgement.outcomes) {
    if (outcome.kind != RuleKind::Advice || outcome.outcome != Outcome::Fires || outcome.text.empty())
      continue;
    advice.push_back(&outcome);
  }
  std::stable_sort(advice.begin(), advice.end(), [](const RuleOutcome* left, const RuleOutcome* right) {
    return place_in_work(left->step) < place_in_work(right->step);
  });
  std::string out;
  for (const RuleOutcome* outcome : advice) out += indented("  " + outcome->step, outcome->text, 16);
  return out;
}

std::string contrast_text(const SystemJudge& judge, const JudgedSystem& first, const JudgedSystem& second,
                          const Style& style) {
  const Library& library = judge.inquiry().knowledge->library;
  std::string out = "\n" + style.strong(fmt::format("Against {}", spoken_name(second.system, library))) +
                    "\n" + "    " + verdict_line(judge, second, style);
  Table table({{"rule"},
               {spoken_name(first.system, library), true},
               {spoken_name(second.system, library), true},
               {"there"}});
  for (const Difference& difference : differences(first, second)) {
    std::string rule = difference.rule;
    std::replace(rule.begin(), rule.end(), '-', ' ');
    table.add({rule, difference.first != nullptr ? grade_cell(*difference.first) : "-",
               difference.second != nullptr ? grade_cell(*difference.second) : "-", ""});
    if (difference.second != nullptr && !difference.second->text.empty())
      table.remark(difference.second->text);
  }
  return out + table.to_text(4);
}

bool counts(const RuleOutcome& outcome) {
  return outcome.kind == RuleKind::Grade || outcome.kind == RuleKind::Exclude;
}

}  // namespace

std::vector<Difference> differences(const JudgedSystem& first, const JudgedSystem& second) {
  std::vector<Difference> out;
  const auto find = [](const JudgedSystem& judged, const RuleId& rule) -> const RuleOutcome* {
    for (const RuleOutcome& outcome : judged.judgement.outcomes) {
      if (outcome.rule == rule && outcome.outcome != Outcome::NotApplicable) return &outcome;
    }
    return nullptr;
  };
  std::vector<RuleId> rules;
  for (const JudgedSystem* judged : {&first, &second}) {
    for (const RuleOutcome& outcome : judged->judgement.outcomes) {
      if (counts(outcome) && std::find(rules.begin(), rules.end(), outcome.rule) == rules.end())
        rules.push_back(outcome.rule);
    }
  }
  for (const RuleId& rule : rules) {
    const RuleOutcome* one = find(first, rule);
    const RuleOutcome* other = find(second, rule);
    if (one == nullptr && other == nullptr) continue;
    const bool same_kind = one != nullptr && other != nullptr && one->outcome == other->outcome;
    const bool same_grade =
        same_kind && (!one->grade || !other->grade || std::abs(*one->grade - *other->grade) < kWorthTelling);
    if (!same_grade) out.push_back({rule.text, one, other});
  }
  return out;
}

std::string why_text(const SystemJudge& judge, const WhyAnswer& answer, const Style& style) {
  const JudgedSystem& judged = answer.judged;
  std::string out = style.strong(judge.inquiry().solute.name) + "\n";
  for (const std::string& line : heading(judge.inquiry())) out += wrapped(line, 2, 2);
  out += "\n" + verdict_line(judge, judged, style);
  const std::string reason = main_reason(judged);
  if (!reason.empty()) out += wrapped(reason, 2, 2);
  out += report::standing_text(standing_of(judge, judged), judge);
  out += "\n" + style.strong("What would change it") + "\n" +
         report::changes_text(answer.changes, judge, judged, style);
  out += "\n" + numbers(judge, judged) + like_text(judge.inquiry()) + "\n" + rules_table(judge, judged, style);
  const std::string advice = advice_text(judged);
  if (!advice.empty()) out += "\n" + style.strong("Advice") + "\n" + advice;
  const std::string cautions = cautions_text(judge, {&judged}, CautionLevel::Note, style);
  if (!cautions.empty()) out += "\n" + style.strong("Cautions") + "\n" + cautions;
  if (answer.against) out += contrast_text(judge, judged, *answer.against, style);
  out += "\nRanges hold 8 times in 10. `firstcrop rules ID` shows a rule in full.\n";
  return out;
}

std::string why_json(const SystemJudge& judge, const WhyAnswer& answer, const std::string& version,
                     const std::string& data_fingerprint, const std::vector<Finding>& findings) {
  const Inquiry& inquiry = judge.inquiry();
  const JudgedSystem& judged = answer.judged;
  Json out = report::head_json({"firstcrop/why/1", version, data_fingerprint}, inquiry, findings);
  out["system"] = report::system_json(judged, inquiry, 0);
  out["answer"] = report::standing_json(standing_of(judge, judged));
  out["changes"] = report::changes_json(answer.changes, judge, judged);
  if (!answer.against) {
    out["against"] = nullptr;
    return report::to_text(out);
  }
  Json list = Json::array();
  for (const Difference& difference : differences(judged, *answer.against)) {
    list.push_back(
        {{"rule", difference.rule},
         {"here", difference.first != nullptr ? report::reason_json(*difference.first, judge.catalogue())
                                              : Json(nullptr)},
         {"there", difference.second != nullptr ? report::reason_json(*difference.second, judge.catalogue())
                                                : Json(nullptr)}});
  }
  out["against"] =
      Json{{"system", report::system_json(*answer.against, inquiry, 0)}, {"differences", std::move(list)}};
  return report::to_text(out);
}

}  // namespace firstcrop
