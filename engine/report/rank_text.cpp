#include "report/rank_text.hpp"

#include <algorithm>
#include <map>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "report/table.hpp"

namespace firstcrop {
namespace {

// Names longer than this would push the numbers off the page.
constexpr std::size_t kMostRefusedPairs = 5;

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
    const auto limit = quantity_of(judged, "system.recovery_limit");
    std::string stays = "?";
    if (limit) {
      const Unit share = *find_unit("%");
      stays =
          show_range(1 - limit->high.value_or(limit->value), 1 - limit->low.value_or(limit->value), share);
    }
    table.add({fmt::format("{}", ++place), spoken_name(judged.system, library),
               known_by(judged, judge.inquiry()), percent(*judgement.chance),
               shown_bare(quantity_of(judged, "system.volume_per_gram"), "mL/g"), stays,
               fmt::format("{:.2f}", *judgement.score), std::string(name_of(judgement.verdict))});
    table.remark(main_reason(judged, judge.book()));
  }
  std::string out = table.to_text(4);
  // Colour last, so that escape codes do not disturb the alignment.
  if (style.colour) {
    for (const Verdict verdict : {Verdict::Sound, Verdict::Doubtful}) {
      const std::string word = fmt::format("  {}\n", name_of(verdict));
      for (std::size_t at = out.find(word); at != std::string::npos; at = out.find(word, at + word.size())) {
        out.replace(at, word.size(), "  " + style.verdict(verdict, std::string(name_of(verdict))) + "\n");
      }
    }
  }
  return out;
}

std::string refused_text(const SystemJudge& judge, const Ranking& ranking, const Style& style) {
  const Library& library = judge.inquiry().knowledge->library;
  std::string out;
  std::size_t pairs = 0;
  std::size_t more = 0;
  for (const RefusedSystem& refused : ranking.refused) {
    if (refused.judged.system.is_pair() && ++pairs > kMostRefusedPairs) {
      ++more;
      continue;
    }
    if (out.empty()) out = "\n" + style.strong("Unfit") + "\n";
    std::string line =
        fmt::format("{}  {}", padded(spoken_name(refused.judged.system, library), 26), refused.text);
    if (refused.judged.judgement.chance && !refused.judged.judgement.excluded) {
      line += fmt::format(" (chance {})", percent(*refused.judged.judgement.chance));
    }
    // The name is padded, so its blanks must survive the wrapping.
    const std::string name = padded(spoken_name(refused.judged.system, library), 26);
    out += "    " + name + "  " + wrapped(line.substr(name.size() + 2), 0, 32, kPageWidth).substr(0);
  }
  if (more > 0) out += fmt::format("    and {} more pair{}\n", more, more == 1 ? "" : "s");
  return out;
}

int gravity(CautionLevel level) {
  return level == CautionLevel::Danger ? 0 : level == CautionLevel::Warning ? 1 : 2;
}

}  // namespace

std::string cautions_text(const std::vector<const JudgedSystem*>& systems, CautionLevel least,
                          const Style& style) {
  struct Line {
    CautionLevel level;
    std::string step;
    std::string text;
  };
  std::vector<Line> lines;
  for (const JudgedSystem* judged : systems) {
    for (const RuleOutcome& outcome : judged->judgement.outcomes) {
      const bool speaks = outcome.kind == RuleKind::Caution &&
                          (outcome.outcome == Outcome::Fires || outcome.outcome == Outcome::Possible);
      if (!speaks || outcome.text.empty() || gravity(outcome.level) > gravity(least)) continue;
      const bool known = std::any_of(lines.begin(), lines.end(),
                                     [&outcome](const Line& line) { return line.text == outcome.text; });
      if (!known) lines.push_back({outcome.level, outcome.step, outcome.text});
    }
  }
  std::stable_sort(lines.begin(), lines.end(), [](const Line& left, const Line& right) {
    const bool left_always = left.step == "always";
    const bool right_always = right.step == "always";
    if (left_always != right_always) return right_always;
    if (left.level != right.level) return gravity(left.level) < gravity(right.level);
    return left.step < right.step;
  });
  std::string out;
  for (const Line& line : lines) {
    const std::string level(name_of(line.level));
    const std::string head =
        line.step.empty() || line.step == "always" ? level : fmt::format("{}, {}", level, line.step);
    const std::string body = wrapped(line.text, 0, 28, kPageWidth);
    out += "    " + style.level(line.level, padded(head, 22)) + "  " + body;
  }
  return out;
}

std::string rank_text(const SystemJudge& judge, const Ranking& ranking, const Style& style) {
  const Inquiry& inquiry = judge.inquiry();
  const Library& library = inquiry.knowledge->library;
  std::string out = style.strong(inquiry.solute.name) + "\n";
  for (const std::string& line : heading(inquiry)) out += wrapped(line, 0, 2);
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
      out += wrapped(
          fmt::format("{}: {} unknown", spoken_name(system.system, library), fmt::join(system.missing, ", ")),
          4, 8);
    }
  }
  std::vector<const JudgedSystem*> shown_systems;
  for (const JudgedSystem& judged : ranking.systems) shown_systems.push_back(&judged);
  const std::string cautions = cautions_text(shown_systems, CautionLevel::Warning, style);
  if (!cautions.empty()) out += "\n" + style.strong("Cautions") + "\n" + cautions;
  out +=
      "\nRanges hold 8 times in 10. `stays cold`: share that the cold liquor keeps. `firstcrop why` explains "
      "a line.\n";
  return out;
}

}  // namespace firstcrop
