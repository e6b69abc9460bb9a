#include <algorithm>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "report/lesson_report.hpp"
#include "report/markdown.hpp"

namespace firstcrop {
namespace {

std::string sheet(const SystemJudge& judge, const Lesson& lesson) {
  const Library& library = judge.inquiry().knowledge->library;
  std::string out = "## Questions\n\nDecide before you go to the bench, and write it down.\n\n";
  for (const WhichQuestion& question : lesson.questions) {
    std::vector<std::string> choices;
    for (const std::size_t place : question.choices) {
      choices.push_back(name_of(lesson.gallery[place].judged.system, library));
    }
    out += fmt::format("1. {} {}\n", report::plain(question.question), fmt::join(choices, " · "));
  }
  const bool any_asked = std::any_of(lesson.gallery.begin(), lesson.gallery.end(),
                                     [](const GalleryEntry& entry) { return entry.asked; });
  if (any_asked) {
    out += "\n## One solvent at a time\n\n| solvent | boils | polarity | question | your answer |\n|---|---|---|---|---|\n";
  }
  for (const std::size_t place : lesson.shelf_order) {
    const GalleryEntry& entry = lesson.gallery[place];
    if (!entry.asked) continue;
    out += fmt::format("| {} | {} | {} | {} |  |\n", name_of(entry.judged.system, library),
                       shown(quantity_of(entry.judged, "system.boiling_point"), "°C"),
                       shown(quantity_of(entry.judged, "system.polarity"), ""), report::cell(entry.question));
  }
  out += "\n## Every solvent of the shelf: what do you expect?\n\n";
  out += "| solvent | boils | polarity | mL/g hot | % comes back | oil? | alone, in a pair, or never |\n";
  out += "|---|---|---|---|---|---|---|\n";
  for (const std::size_t place : lesson.shelf_order) {
    const GalleryEntry& entry = lesson.gallery[place];
    out += fmt::format("| {} | {} | {} |  |  |  |  |\n", name_of(entry.judged.system, library),
                       shown(quantity_of(entry.judged, "system.boiling_point"), "°C"),
                       shown(quantity_of(entry.judged, "system.polarity"), ""));
  }
  return out;
}

std::string answers(const SystemJudge& judge, const Lesson& lesson) {
  const Library& library = judge.inquiry().knowledge->library;
  std::string out = "\n---\n\n## Answers\n\n";
  const std::vector<std::string> basis = heading(judge.inquiry());
  for (std::size_t i = 1; i < basis.size(); ++i) out += report::plain(basis[i]) + "\n\n";
  for (const WhichQuestion& question : lesson.questions) {
    out += fmt::format("1. {}\n", report::plain(answer_to(judge, lesson, question)));
  }
  out += "\n## The shelf as a gallery\n\n";
  out += "| solvent | cold, mg/mL | hot, mg/mL | from | to | chance | verdict | what decides |\n";
  out += "|---|---|---|---|---|---|---|---|\n";
  for (const GalleryEntry& entry : lesson.gallery) {
    const Judgement& judgement = entry.judged.judgement;
    out += fmt::format(
        "| {} | {} | {} | {} | {} | {} | {} | {} |\n", name_of(entry.judged.system, library),
        shown_bare(quantity_of(entry.judged, "system.cold_solubility"), "mg/mL"),
        shown_bare(quantity_of(entry.judged, "system.hot_solubility"), "mg/mL"),
        shown(quantity_of(entry.judged, "system.saturation_temperature"), "°C"),
        shown(quantity_of(entry.judged, "system.cold_temperature"), "°C"),
        judgement.excluded || !judgement.chance ? "-" : percent(*judgement.chance),
        judgement.chance || judgement.excluded ? std::string(name_of(judgement.verdict)) : "not known",
        report::cell(entry.decides));
  }
  out += "\n## What the rules teach\n\n";
  for (const Rule* rule : rules_of(judge, lesson)) {
    std::string title = rule->id.text;
    std::replace(title.begin(), title.end(), '-', ' ');
    out += fmt::format("**{}.** {} *Source: {}.*\n\n", title, report::plain(rule->teach), report::plain(rule->source));
  }
  return out + "Ranges hold 8 times in 10 and are predictions where nothing else is said.\n";
}

}  // namespace

std::string lesson_markdown(const SystemJudge& judge, const Lesson& lesson, bool with_answers) {
  const Inquiry& inquiry = judge.inquiry();
  std::string out = fmt::format("# {}: which solvent?\n\n{}\n\n", report::plain(inquiry.solute.name),
                                report::plain(heading(inquiry).front()));
  out += sheet(judge, lesson);
  if (with_answers) out += answers(judge, lesson);
  return out + "\nData sheets, local rules and the supervisor decide what may be opened at all.\n";
}

}  // namespace firstcrop
