#include <algorithm>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "report/lesson_report.hpp"

namespace firstcrop {

std::string answer_to(const SystemJudge& judge, const Lesson& lesson, const WhichQuestion& question) {
  const Library& library = judge.inquiry().knowledge->library;
  std::vector<std::string> parts;
  for (const std::size_t place : question.right) {
    const JudgedSystem& judged = lesson.gallery[place].judged;
    std::string part = name_of(judged.system, library);
    for (const RuleOutcome& outcome : judged.judgement.outcomes) {
      if (outcome.rule.text != question.rule || outcome.text.empty()) continue;
      part += " (" + outcome.text + ")";
      break;
    }
    parts.push_back(std::move(part));
  }
  return fmt::format("{}", fmt::join(parts, "; "));
}

std::string answer_for(const GalleryEntry& entry) {
  const Judgement& judgement = entry.judged.judgement;
  std::string out(name_of(judgement.verdict));
  if (judgement.excluded) {
    out += ", excluded by a rule";
  } else if (judgement.chance) {
    out += fmt::format(", chance {}", percent(*judgement.chance));
  } else {
    out = "not known, the solubility cannot be told";
  }
  return entry.decides.empty() ? out : out + ": " + entry.decides;
}

std::vector<const Rule*> rules_of(const SystemJudge& judge, const Lesson& lesson) {
  std::vector<const Rule*> out;
  const auto add = [&](const std::string& id) {
    const Rule* rule = id.empty() ? nullptr : judge.book().find(id);
    if (rule != nullptr && !rule->teach.empty() && std::find(out.begin(), out.end(), rule) == out.end()) {
      out.push_back(rule);
    }
  };
  for (const WhichQuestion& question : lesson.questions) add(question.rule);
  for (const GalleryEntry& entry : lesson.gallery) add(entry.rule);
  return out;
}

}  // namespace firstcrop
