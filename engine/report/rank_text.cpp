#include "report/rank_text.hpp"

#include <algorithm>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "report/cautions_text.hpp"
#include "report/table.hpp"

namespace firstcrop {
namespace {

// Unfit pairs are many and much alike; of them a few are enough in print, all stand in the machine form.
constexpr std::size_t kMostRefusedPairs = 3;
constexpr std::size_t kNameWidth = 28;

std::string share_that_stays(const JudgedSystem& judged) {
  const auto limit = quantity_of(judged, "system.recovery_limit");
  if (!limit) return "?";
  const Unit share = *find_unit("%");
  return show_range(1 - limit->high.value_or(limit->value), 1 - limit->low.value_or(limit->value), share);
}

std::string list_of_systems(const SystemJudge& judge, const Ranking& ranking, const Style& style) {
  const Library& library = judge.inquiry().knowledge->library;
  Table table({{"", true},
               {"system"},
               {"known by"},
               {"chance", true},
               {"hot, mL/g", true},
               {"stays cold", true},
               {"score", true},
               {"verdict"}});
  std::size_t place = 0;
  for (const JudgedSystem& judged : ranking.systems) {
    const Judgement& judgement = judged.judgement;
    table.add({fmt::format("{}", ++place), spoken_name(judged.system, library),
               known_by(judged, judge.inquiry()), percent(*judgement.chance),
               shown_bare(quantity_of(judged, "system.volume_per_gram"), "mL/g"), share_that_stays(judged),
               fmt::format("{:.2f}", *judgement.score), std::string(name_of(judgement.verdict))});
    table.remark(main_reason(judged));
  }
  std::string out = table.to_text(4);
  if (!style.colour) return out;
  // Colour last, so that escape codes do not disturb the alignment.
  for (const Verdict verdict : {Verdict::Sound, Verdict::Doubtful}) {
    const std::string word = fmt::format("  {}\n", name_of(verdict));
    const std::string painted = fmt::format("  {}\n", style.verdict(verdict, std::string(name_of(verdict))));
    for (std::size_t at = out.find(word); at != std::string::npos; at = out.find(word, at + painted.size()))
      out.replace(at, word.size(), painted);
  }
  return out;
}

std::string refused_text(const SystemJudge& judge, const Ranking& ranking, const Style& style) {
  const Library& library = judge.inquiry().knowledge->library;
  std::string out;
  std::size_t pairs = 0;
  for (const RefusedSystem& refused : ranking.refused) {
    if (refused.judged.system.is_pair() && ++pairs > kMostRefusedPairs) continue;
    if (out.empty()) out = "\n" + style.strong("Unfit") + "\n";
    std::string text = refused.text;
    if (refused.judged.judgement.chance && !refused.judged.judgement.excluded) {
      text += fmt::format(" (chance {})", percent(*refused.judged.judgement.chance));
    }
    out += indented("  " + spoken_name(refused.judged.system, library) + "  ", text, kNameWidth);
  }
  if (pairs > kMostRefusedPairs) {
    const std::size_t more = pairs - kMostRefusedPairs;
    out += fmt::format("  and {} more pair{}\n", more, more == 1 ? "" : "s");
  }
  return out;
}

}  // namespace

std::string rank_text(const SystemJudge& judge, const Ranking& ranking, const Style& style) {
  const Inquiry& inquiry = judge.inquiry();
  const Library& library = inquiry.knowledge->library;
  std::string out = style.strong(inquiry.solute.name) + "\n";
  for (const std::string& line : heading(inquiry)) out += wrapped(line, 2, 2);
  out += "\n";
  if (ranking.systems.empty()) {
    out += "Nothing on this shelf is suitable.\n";
  } else {
    out += list_of_systems(judge, ranking, style);
    if (ranking.suitable_count > ranking.systems.size()) {
      out += fmt::format("    {} more doubtful or sound; --top {} shows them.\n",
                         ranking.suitable_count - ranking.systems.size(), ranking.suitable_count);
    }
  }
  out += refused_text(judge, ranking, style);
  if (!ranking.not_judged.empty()) {
    out += "\n" + style.strong("Not judged") + "\n";
    for (const NotJudgedSystem& system : ranking.not_judged) {
      out += indented("  " + spoken_name(system.system, library) + "  ",
                      fmt::format("{} unknown", fmt::join(system.missing, ", ")), kNameWidth);
    }
  }
  std::vector<const JudgedSystem*> shown_systems;
  for (const JudgedSystem& judged : ranking.systems) shown_systems.push_back(&judged);
  for (const RefusedSystem& refused : ranking.refused) {
    if (shown_systems.empty()) shown_systems.push_back(&refused.judged);
  }
  const std::string cautions = cautions_text(judge, shown_systems, CautionLevel::Warning, style);
  if (!cautions.empty()) out += "\n" + style.strong("Cautions") + "\n" + cautions;
  out +=
      "\nRanges hold 8 times in 10. `stays cold`: share that the cold liquor keeps. `firstcrop why` explains "
      "a line.\n";
  return out;
}

}  // namespace firstcrop
