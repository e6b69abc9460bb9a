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
constexpr std::size_t kLongestName = 36;

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
    const std::string name = spoken_name(judged.system, library);
    // The second solvent of a long pair stands on a line of its own, so that the table fits the page.
    const std::size_t plus = display_width(name) > kLongestName ? name.find(" + ") : std::string::npos;
    table.add({fmt::format("{}", ++place), plus == std::string::npos ? name : name.substr(0, plus + 2),
               known_by(judged, judge.inquiry()), percent(*judgement.chance),
               shown_bare(quantity_of(judged, "system.volume_per_gram"), "mL/g"), share_that_stays(judged),
               fmt::format("{:.2f}", *judgement.score), std::string(name_of(judgement.verdict))});
    if (plus != std::string::npos) table.add({"", name.substr(plus + 3)});
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

// Refusals that one sentence serves. `before` and `after` stand around the solvent that the sentence names;
// where it names none, or speaks of both solvents of a pair, all of it stands in `after`.
struct RefusalGroup {
  std::string rule;
  std::string before;
  std::string after;
  bool names_solvent = false;
  bool is_of_pairs = false;
  bool is_excluded = false;
  std::vector<const RefusedSystem*> systems;
};

RefusalGroup outline_of(const SystemJudge& judge, const RefusedSystem& refused) {
  RefusalGroup out;
  const JudgedSystem& judged = refused.judged;
  out.rule = refused.rule;
  out.is_of_pairs = judged.system.is_pair();
  out.is_excluded = judged.judgement.excluded;
  out.after = refused.text;
  if (judged.judgement.chance && !out.is_excluded) {
    out.after += fmt::format(" (chance {})", percent(*judged.judgement.chance));
  }
  const std::vector<std::string> names = judge.names_of(judged.system).components;
  const std::string name =
      out.is_of_pairs ? fmt::format("{} and {}", names.front(), names.back()) : names.front();
  const std::size_t at = out.after.find(name);
  if (at == std::string::npos) return out;
  if (out.is_of_pairs) {
    out.after.replace(at, name.size(), "the two");
  } else {
    out.names_solvent = true;
    out.before = out.after.substr(0, at);
    out.after.erase(0, at + name.size());
  }
  return out;
}

std::vector<RefusalGroup> group(const SystemJudge& judge, const std::vector<const RefusedSystem*>& refused) {
  std::vector<RefusalGroup> out;
  for (const RefusedSystem* one : refused) {
    RefusalGroup own = outline_of(judge, *one);
    const auto same = std::find_if(out.begin(), out.end(), [&own](const RefusalGroup& known) {
      return known.rule == own.rule && known.before == own.before && known.after == own.after &&
             known.is_of_pairs == own.is_of_pairs;
    });
    RefusalGroup& place = same == out.end() ? out.emplace_back(std::move(own)) : *same;
    place.systems.push_back(one);
  }
  return out;
}

bool has(const std::vector<SolventId>& solvents, SolventId solvent) {
  return std::find(solvents.begin(), solvents.end(), solvent) != solvents.end();
}

// Single solvents as a list; where all of a class that stand on the shelf are among them, the class stands
// for them.
std::string list_of_solvents(const SystemJudge& judge, const RefusalGroup& group) {
  constexpr std::size_t kFewestForClass = 3;
  // Classes that are no nouns, or hold what chemists would not call by the name.
  const std::vector<std::string> unspoken{"hydroxylic", "chlorinated", "chlorinated-aliphatic",
                                          "ethers-of-glycols"};
  const Library& library = judge.inquiry().knowledge->library;
  std::vector<SolventId> left;
  for (const RefusedSystem* one : group.systems) left.push_back(one->judged.system.solvents.front());
  std::vector<std::string> words;
  while (left.size() >= kFewestForClass) {
    std::string best;
    std::vector<SolventId> covered;
    for (const std::string& name : library.solvent(left.front()).classes) {
      if (std::find(unspoken.begin(), unspoken.end(), name) != unspoken.end()) continue;
      std::vector<SolventId> members;
      for (const SolventId solvent : judge.inquiry().aim.shelf.solvents) {
        const auto& classes = library.solvent(solvent).classes;
        if (std::find(classes.begin(), classes.end(), name) != classes.end()) members.push_back(solvent);
      }
      const bool is_whole = std::all_of(members.begin(), members.end(),
                                        [&left](SolventId member) { return has(left, member); });
      if (!is_whole || members.size() < kFewestForClass || members.size() <= covered.size()) continue;
      best = name;
      covered = std::move(members);
    }
    if (covered.empty()) {
      words.push_back(library.solvent(left.front()).id);
      left.erase(left.begin());
      continue;
    }
    std::replace(best.begin(), best.end(), '-', ' ');
    words.push_back("all " + best);
    std::erase_if(left, [&covered](SolventId solvent) { return has(covered, solvent); });
  }
  for (const SolventId solvent : left) words.push_back(library.solvent(solvent).id);
  return fmt::format("{}", fmt::join(words, ", "));
}

std::string text_of(const SystemJudge& judge, const RefusalGroup& group) {
  const Library& library = judge.inquiry().knowledge->library;
  if (group.systems.size() == 1) {
    const JudgedSystem& judged = group.systems.front()->judged;
    const std::string name = judge.names_of(judged.system).components.front();
    return indented("  " + spoken_name(judged.system, library) + "  ",
                    group.before + (group.names_solvent ? name : "") + group.after, kNameWidth);
  }
  if (group.is_of_pairs) {
    std::vector<std::string> names;
    for (const RefusedSystem* one : group.systems) names.push_back(spoken_name(one->judged.system, library));
    return wrapped(fmt::format("{}: {}", fmt::join(names, ", "), group.after), 2, 6);
  }
  const std::string solvents = list_of_solvents(judge, group);
  if (group.names_solvent && group.before.empty()) return wrapped(solvents + group.after, 2, 6);
  return wrapped(fmt::format("{}: {}{}{}", solvents, group.before, group.names_solvent ? "each of them" : "",
                             group.after),
                 2, 6);
}

// A pair with a solvent that is refused by itself for the same reason tells nothing new.
bool is_told(const RefusedSystem& pair, const std::vector<const RefusedSystem*>& singles) {
  return std::any_of(singles.begin(), singles.end(), [&pair](const RefusedSystem* single) {
    return single->judged.judgement.excluded && single->rule == pair.rule &&
           has(pair.judged.system.solvents, single->judged.system.solvents.front());
  });
}

std::string refused_text(const SystemJudge& judge, const Ranking& ranking, const Style& style) {
  if (ranking.refused.empty()) return {};
  std::vector<const RefusedSystem*> singles;
  std::vector<const RefusedSystem*> pairs;
  for (const RefusedSystem& refused : ranking.refused) {
    if (!refused.judged.system.is_pair()) singles.push_back(&refused);
  }
  std::size_t more = 0;
  for (const RefusedSystem& refused : ranking.refused) {
    if (!refused.judged.system.is_pair()) continue;
    if (is_told(refused, singles) || pairs.size() == kMostRefusedPairs) {
      ++more;
    } else {
      pairs.push_back(&refused);
    }
  }
  std::vector<RefusalGroup> groups = group(judge, singles);
  std::string out = "\n" + style.strong("Unfit") + "\n";
  // Where one exclusion takes most of the shelf and nothing is left, it is the solid that is refused.
  const auto largest =
      std::max_element(groups.begin(), groups.end(), [](const RefusalGroup& left, const RefusalGroup& right) {
        return left.systems.size() < right.systems.size();
      });
  const bool is_refused_everywhere =
      ranking.systems.empty() && ranking.not_judged.empty() && largest != groups.end() &&
      largest->is_excluded && largest->systems.size() > 1 && 2 * largest->systems.size() > singles.size();
  if (is_refused_everywhere) {
    return out + wrapped(fmt::format("{}{}{}", largest->before, largest->names_solvent ? "every solvent" : "",
                                     largest->after),
                         2, 6);
  }
  for (const RefusalGroup& one : groups) out += text_of(judge, one);
  for (const RefusalGroup& one : group(judge, pairs)) out += text_of(judge, one);
  if (more > 0) out += fmt::format("  and {} more pair{}\n", more, more == 1 ? "" : "s");
  return out;
}

// A person who wrote the record of the solvent is told what to add to it.
std::string unjudged_words(const NotJudgedSystem& system, const KnowledgeBase& knowledge) {
  std::vector<std::string> without;
  for (const SolventId solvent : system.system.solvents) {
    if (!knowledge.in_model(solvent)) without.push_back(knowledge.library.solvent(solvent).id);
  }
  if (without.empty()) return fmt::format("{} unknown", fmt::join(system.missing, ", "));
  return fmt::format("the record of {} does not tell what it dissolves: add `smiles`, `classes` or `polarity`",
                     fmt::join(without, " and "));
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
  if (ranking.pairs_judged < ranking.pairs_considered) {
    out += fmt::format("    {} of {} pairs were judged: those that serve best at the mean solubilities.\n",
                       ranking.pairs_judged, ranking.pairs_considered);
  }
  out += refused_text(judge, ranking, style);
  if (!ranking.not_judged.empty()) {
    out += "\n" + style.strong("Not judged") + "\n";
    for (const NotJudgedSystem& system : ranking.not_judged) {
      out += indented("  " + spoken_name(system.system, library) + "  ", unjudged_words(system, *inquiry.knowledge),
                      kNameWidth);
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
      "\nRanges hold 8 times in 10. `stays cold`: what the liquor keeps. `firstcrop why` explains a "
      "line.\n";
  return out;
}

}  // namespace firstcrop
