#include <algorithm>

#include <fmt/format.h>

#include "report/lesson_report.hpp"
#include "report/table.hpp"

namespace firstcrop {
namespace {

constexpr std::size_t kAnswerLine = 60;
constexpr const char* kHowTo =
    "Decide before you go to the bench, and write it down: an answer that was committed to teaches more than one "
    "that was read.";

std::string blank_line() {
  return "     " + std::string(kAnswerLine, '_') + "\n";
}

// The same question about every solvent: what the gallery answers, to be written down first.
std::string every_solvent(const SystemJudge& judge, const Lesson& lesson, const Style& style) {
  const std::string blank(8, '_');
  Table table({{"solvent"}, {"boils", true}, {"polarity", true}, {"mL/g hot"}, {"% comes back"}, {"oil?"},
               {"alone, in a pair, or never"}});
  for (const std::size_t place : lesson.shelf_order) {
    const GalleryEntry& entry = lesson.gallery[place];
    table.add({name_of(entry.judged.system, judge.inquiry().knowledge->library),
               shown(quantity_of(entry.judged, "system.boiling_point"), "°C"),
               shown(quantity_of(entry.judged, "system.polarity"), ""), blank, blank, "____", std::string(26, '_')});
  }
  return "\n" + style.strong("Every solvent of the shelf: what do you expect?") + "\n" + table.to_text();
}

std::string sheet(const SystemJudge& judge, const Lesson& lesson, const Style& style) {
  const Library& library = judge.inquiry().knowledge->library;
  std::string out = style.strong("Questions") + "\n" + wrapped(kHowTo, 2, 2);
  int number = 0;
  for (const WhichQuestion& question : lesson.questions) {
    out += "\n" + indented(fmt::format("{:>2}.", ++number), question.question, 5) + "     ";
    char letter = 'a';
    for (const std::size_t place : question.choices) {
      out += fmt::format("{}) {}   ", letter++, name_of(lesson.gallery[place].judged.system, library));
    }
    out.erase(out.find_last_not_of(' ') + 1);
    out += "\n" + blank_line();
  }
  const bool any_asked = std::any_of(lesson.gallery.begin(), lesson.gallery.end(),
                                     [](const GalleryEntry& entry) { return entry.asked; });
  if (any_asked) out += "\n" + style.strong("One solvent at a time") + "\n";
  for (const std::size_t place : lesson.shelf_order) {
    const GalleryEntry& entry = lesson.gallery[place];
    if (!entry.asked) continue;
    out += "\n" + indented(fmt::format("{:>2}.", ++number),
                           fmt::format("{} (boils at {}; polarity {}). {}", name_of(entry.judged.system, library),
                                       shown(quantity_of(entry.judged, "system.boiling_point"), "°C"),
                                       shown(quantity_of(entry.judged, "system.polarity"), ""), entry.question),
                           5);
    out += blank_line();
  }
  return out + every_solvent(judge, lesson, style);
}

std::string gallery(const SystemJudge& judge, const Lesson& lesson) {
  const Library& library = judge.inquiry().knowledge->library;
  Table table({{"solvent"}, {"cold, mg/mL", true}, {"hot, mg/mL", true}, {"from", true}, {"to", true}, {"chance", true},
               {"verdict"}});
  for (const GalleryEntry& entry : lesson.gallery) {
    const Judgement& judgement = entry.judged.judgement;
    table.add({name_of(entry.judged.system, library),
               shown_bare(quantity_of(entry.judged, "system.cold_solubility"), "mg/mL"),
               shown_bare(quantity_of(entry.judged, "system.hot_solubility"), "mg/mL"),
               shown(quantity_of(entry.judged, "system.saturation_temperature"), "°C"),
               shown(quantity_of(entry.judged, "system.cold_temperature"), "°C"),
               judgement.excluded || !judgement.chance ? "-" : percent(*judgement.chance),
               judgement.chance || judgement.excluded ? std::string(name_of(judgement.verdict)) : "not known"});
    if (!entry.decides.empty()) table.remark(entry.decides);
  }
  return table.to_text(4);
}

std::string answers(const SystemJudge& judge, const Lesson& lesson, const Style& style) {
  std::string out = "\n" + std::string(kPageWidth, '-') + "\n" + style.strong("Answers") + "\n";
  const std::vector<std::string> basis = heading(judge.inquiry());
  for (std::size_t i = 1; i < basis.size(); ++i) out += wrapped(basis[i], 2, 2);
  out += "\n";
  int number = 0;
  for (const WhichQuestion& question : lesson.questions) {
    out += indented(fmt::format("{:>2}.", ++number), answer_to(judge, lesson, question), 5);
  }
  const Library& library = judge.inquiry().knowledge->library;
  for (const std::size_t place : lesson.shelf_order) {
    const GalleryEntry& entry = lesson.gallery[place];
    if (!entry.asked) continue;
    out += indented(fmt::format("{:>2}.", ++number),
                    fmt::format("{}: {}", name_of(entry.judged.system, library), answer_for(entry)), 5);
  }
  out += "\n" + style.strong("The shelf as a gallery") + "\n" + gallery(judge, lesson);
  out += "\n" + style.strong("What the rules teach") + "\n";
  for (const Rule* rule : rules_of(judge, lesson)) {
    std::string title = rule->id.text;
    std::replace(title.begin(), title.end(), '-', ' ');
    out += wrapped(fmt::format("{}: {}", title, rule->teach), 2, 4);
    out += wrapped(fmt::format("source: {}", rule->source), 4, 6);
  }
  return out + "\nRanges hold 8 times in 10 and are predictions where nothing else is said.\n";
}

}  // namespace

std::string lesson_text(const SystemJudge& judge, const Lesson& lesson, bool with_answers, const Style& style) {
  const Inquiry& inquiry = judge.inquiry();
  std::string out = style.strong(fmt::format("{}: which solvent?", inquiry.solute.name)) + "\n";
  // What is published or measured would give the answers away, so only the first line stands here.
  out += wrapped(heading(inquiry).front(), 2, 2) + "\n" + sheet(judge, lesson, style);
  if (with_answers) out += answers(judge, lesson, style);
  out += "\nData sheets, local rules and the supervisor decide what may be opened at all.\n";
  if (!with_answers) out += "`--answers` prints the answers behind the questions.\n";
  return out;
}

}  // namespace firstcrop
