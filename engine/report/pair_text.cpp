#include <algorithm>
#include <cmath>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "report/cautions_text.hpp"
#include "report/pair_report.hpp"
#include "report/table.hpp"

namespace firstcrop {
namespace {

constexpr double kSurely = 0.9;
constexpr double kFlashDropK = 3;
// Records of miscibility hold near the temperature of a room.
constexpr double kRecordReachK = 15;
// How far below the higher boiling point of the two mixtures must boil to be told apart.
constexpr double kBoilsLowerK = 3;
constexpr const char* kNotKnown = "not known";

std::string celsius(double temperature_k) { return show(temperature_k, *find_unit("°C")); }

const std::string& name(const PairStudy& study, const Library& library, std::size_t part) {
  return name_in_sentence(library.solvent(study.pair.solvents[part]));
}

std::string ratio(const System& pair) {
  return fmt::format("{:.0f}:{:.0f}", pair.first_fraction * 100, (1 - pair.first_fraction) * 100);
}

std::string limit_words(const PairPhases& at, const std::string& first, const std::string& second) {
  std::vector<std::string> out;
  if (at.limits.first_in_second_weight_percent) {
    out.push_back(fmt::format("{:.2g} % {} in {}", *at.limits.first_in_second_weight_percent, first, second));
  }
  if (at.limits.second_in_first_weight_percent) {
    out.push_back(fmt::format("{:.2g} % {} in {}", *at.limits.second_in_first_weight_percent, second, first));
  }
  return out.empty() ? std::string() : fmt::format("by mass {}", fmt::join(out, ", "));
}

std::string phases_text(const PairStudy& study, const Library& library) {
  std::string out = "Liquids\n";
  if (study.phases.empty()) return out + "  no record and no calculation: shake them in a test tube\n";
  Table table({{"  at", true}, {"one liquid", true}, {"evidence"}, {"where it parts"}});
  for (const PairPhases& at : study.phases) {
    const bool elsewhere = at.answer.evidence == "published" && !study.critical_temperature_k &&
                           std::abs(at.temperature_k - 298.15) > kRecordReachK;
    table.add({celsius(at.temperature_k),
               at.answer.evidence == kNotKnown ? std::string("?") : percent(at.answer.one_liquid),
               elsewhere ? "published at 25 °C" : at.answer.evidence,
               limit_words(at, name(study, library, 0), name(study, library, 1))});
  }
  out += table.to_text(2);
  if (study.critical_temperature_k) {
    out += wrapped(fmt::format("one liquid above {}{}, two below (published critical temperature)",
                               celsius(*study.critical_temperature_k),
                               study.critical_from_memory ? " by memory" : ""),
                   2, 2);
  }
  out += wrapped(fmt::format("source: {}", study.phases.front().answer.source), 2, 4);
  const std::string what = study.at_ratio ? fmt::format("chance of one liquid at {} by volume", ratio(study.pair))
                                          : "chance that they mix in every proportion";
  return out + wrapped(what + "; the dissolved solid shifts it and is not calculated, nor is water in a wet bottle",
                       2, 2);
}

std::string azeotrope_text(const PairStudy& study, const Library& library) {
  if (!study.azeotrope) {
    const bool is_mixture = library.solvent(study.pair.solvents[0]).is_mixture ||
                            library.solvent(study.pair.solvents[1]).is_mixture;
    return wrapped(is_mixture ? "one of the two is itself a mixture: no azeotrope was looked for"
                              : "no azeotrope listed or found by calculation",
                   2, 2);
  }
  const PairAzeotrope& azeotrope = *study.azeotrope;
  std::string where;
  if (study.azeotrope_volume_fraction) {
    where = fmt::format(", {:.0f} % {} by volume", *study.azeotrope_volume_fraction * 100,
                        name(study, library, 0));
  }
  const char* basis = azeotrope.basis == PairAzeotrope::Basis::Table        ? "published"
                      : azeotrope.basis == PairAzeotrope::Basis::TableMoved ? "published, carried to this pressure"
                                                                            : "calculated: a hint";
  std::string out = wrapped(fmt::format("azeotrope at {}{}, boils {}{} ({})", celsius(azeotrope.temperature_k),
                                        where, azeotrope.maximum ? "highest" : "lowest",
                                        azeotrope.heterogeneous ? ", comes over as two layers" : "", basis),
                            2, 4);
  if (azeotrope.record != nullptr) {
    out += wrapped(fmt::format("source: {}", library.source_text(azeotrope.record->source)), 2, 4);
  }
  return out;
}

std::string boiling_text(const PairStudy& study, const Library& library) {
  std::string out = fmt::format("Boiling at {:.1f} kPa, % {} by volume\n", study.pressure_kpa,
                                name(study, library, 0));
  std::string shares;
  std::string temperatures;
  bool two_liquids = false;
  for (const PairBoiling& at : study.boiling) {
    shares += fmt::format("{:>7.0f}", at.first_fraction * 100);
    const std::string value =
        at.temperature_k ? fmt::format("{:.1f}{}", *at.temperature_k - 273.15, at.two_liquids ? "*" : "") : "?";
    temperatures += fmt::format("{:>7}", value);
    two_liquids = two_liquids || at.two_liquids;
  }
  out += fmt::format("  %  {}\n  °C {}\n", shares, temperatures);
  if (two_liquids) out += "  * from two liquids\n";
  out += azeotrope_text(study, library);
  const auto& first_k = study.boiling.back().temperature_k;
  const auto& second_k = study.boiling.front().temperature_k;
  // With a solid the rules say which goes into which.
  if (!study.solid && !study.reacts() && first_k && second_k &&
      study.lowest_boiling_k < std::max(*first_k, *second_k) - kBoilsLowerK) {
    out += wrapped(fmt::format("the two together boil from {} on: hotter than that, neither goes into the other",
                               celsius(study.lowest_boiling_k)),
                   2, 4);
  }
  return out;
}

std::string drift_text(const PairStudy& study, const Library& library) {
  std::string out = fmt::format("Boiling down from {} by volume\n", ratio(study.pair));
  if (study.drift.points.empty()) return out + "  not calculated: a vapour pressure or group is missing\n";
  Table table({{"  boiled off", true}, {"left, by volume"}, {"boils at", true}});
  for (const BoiledDown& point : study.drift.points) {
    std::vector<std::string> left;
    for (std::size_t i = 0; i < study.drift.components.size(); ++i) {
      left.push_back(fmt::format("{:.0f} % {}", point.volume_fractions[i] * 100,
                                 library.solvent(study.drift.components[i]).id));
    }
    table.add({percent(point.share_off), fmt::format("{}", fmt::join(left, ", ")), celsius(point.temperature_k)});
  }
  out += table.to_text(2);
  if (study.drift.components.size() == 2) {
    const double change = study.drift.points.back().volume_fractions[0] - study.pair.first_fraction;
    const bool first_is_component = study.drift.components[0] == study.pair.solvents[0];
    const double of_first = first_is_component ? change : -change;
    if (std::abs(of_first) > 0.03) {
      out += wrapped(fmt::format("{} leaves first", name(study, library, of_first < 0 ? 0 : 1)), 2, 2);
    } else {
      out += wrapped("hardly drifts: it boils nearly unchanged", 2, 2);
    }
  }
  return out;
}

std::string flash_text(const PairStudy& study, const Library& library) {
  std::string out = "Fire\n";
  std::vector<std::string> alone;
  std::optional<double> lowest;
  for (std::size_t i = 0; i < 2; ++i) {
    const auto& flash = study.flash_point_k[i];
    const bool none = library.solvent(study.pair.solvents[i]).flash_point_k.knowledge == Knowledge::NoneKnown;
    alone.push_back(fmt::format("{} {}", name(study, library, i), flash  ? celsius(*flash)
                                                                  : none ? "none"
                                                                         : "not looked for"));
    if (flash) lowest = std::min(lowest.value_or(*flash), *flash);
  }
  out += wrapped(fmt::format("flash points: {}", fmt::join(alone, ", ")), 2, 4);
  if (study.lowest_flash_point_k && lowest && *study.lowest_flash_point_k >= *lowest) {
    out += wrapped(fmt::format("mixtures: none below {} (calculated)", celsius(*lowest)), 2, 4);
  } else if (study.lowest_flash_point_k) {
    out += wrapped(fmt::format("mixture: down to {} at {:.0f} % {} (calculated)",
                               celsius(*study.lowest_flash_point_k), study.lowest_flash_fraction * 100,
                               name(study, library, 0)),
                   2, 4);
    if (lowest && *study.lowest_flash_point_k < *lowest - kFlashDropK) {
      out += wrapped("the mixture catches fire more easily than either solvent alone", 2, 4);
    }
  } else {
    out += "  mixture: not calculated; take the lower one\n";
  }
  return out;
}

std::string reaction_text(const PairStudy& study) {
  if (!study.reaction.severity) return "Reaction\n  none known between them\n";
  return fmt::format("Reaction\n{}{}", wrapped(fmt::format("{}: {}", name_of(*study.reaction.severity),
                                                           study.reaction.text),
                                               2, 4),
                     wrapped(fmt::format("source: {}", study.reaction.source), 2, 4));
}

std::string reaction_with_solid_text(const PairStudy& study) {
  std::string out;
  for (const RuleOutcome& outcome : study.judged.judgement.outcomes) {
    const bool about_reaction = std::any_of(outcome.facts.begin(), outcome.facts.end(), [](const UsedFact& fact) {
      return fact.name == "solvent.reaction";
    });
    if (about_reaction && outcome.kind == RuleKind::Exclude && outcome.outcome == Outcome::Fires)
      out += wrapped(fmt::format("with the solid: {}", outcome.text), 2, 4);
  }
  return out;
}

std::string solid_text(const SystemJudge& judge, const PairStudy& study) {
  const Library& library = judge.inquiry().knowledge->library;
  const PairForSolid& solid = *study.solid;
  const Judgement& judgement = study.judged.judgement;
  std::string out = fmt::format("For {}\n", judge.inquiry().solute.name);
  if (study.reacts()) return out + "  no ratio is judged: the two must not be mixed\n";
  const std::string chance =
      judgement.chance ? fmt::format(", chance {}{}", percent(*judgement.chance),
                                     judgement.excluded ? " if it were not excluded" : "")
                       : std::string();
  out += wrapped(fmt::format("{} dissolves it better, {} throws it out; {} by volume is {}{}", name(study, library, 0),
                             name(study, library, 1), ratio(study.pair), name_of(judgement.verdict),
                             chance),
                 2, 4);
  if (judgement.verdict == Verdict::Unfit) {
    return out + wrapped(main_reason(study.judged), 2, 4);
  }
  if (solid.window.from < solid.window.to) {
    out += wrapped(fmt::format("good between {:.0f} and {:.0f} % {}: nearly as useful there as at best",
                               solid.window.from * 100, solid.window.to * 100, name(study, library, 0)),
                   2, 4);
  }
  if (solid.cloud_volume) {
    out += wrapped(fmt::format("to cloud a hot solution that is 80 % saturated in {}: add {} drop by drop to the "
                               "cloud, foreseen after {} mL per mL",
                               name(study, library, 0), name(study, library, 1), cloud_words(*solid.cloud_volume)),
                   2, 4);
  } else {
    out += wrapped("no cloud is foreseen when the poor solvent is added hot", 2, 4);
  }
  const auto limit = quantity_of(study.judged, "system.recovery_limit");
  if (solid.best_single) {
    out += wrapped(fmt::format("at most {} comes back; from {}, the best single of the shelf, {}", shown(limit, "%"),
                               spoken_name(*solid.best_single, library), shown(solid.single_recovery_limit, "%")),
                   2, 4);
  } else {
    out += wrapped(fmt::format("at most {} comes back; no single solvent of the shelf is fit", shown(limit, "%")), 2, 4);
  }
  return out;
}

std::string stand_ins_text(const PairStudy& study, const Library& library) {
  std::string out = "What instead\n";
  for (std::size_t part = 0; part < 2; ++part) {
    std::vector<std::string> names;
    for (const StandIn& stand_in : study.stand_ins) {
      if (stand_in.replaces == study.pair.solvents[1 - part]) names.push_back(name_in_sentence(library.solvent(stand_in.solvent)));
    }
    if (!names.empty()) {
      out += wrapped(fmt::format("with {}, in place of {}: {}", name(study, library, part),
                                 name(study, library, 1 - part), fmt::join(names, ", ")),
                     2, 4);
    }
  }
  return out;
}

std::string rules_text(const PairStudy& study) {
  std::string out;
  for (const RuleOutcome& outcome : study.judged.judgement.outcomes) {
    const bool speaks = outcome.kind == RuleKind::Advice ? outcome.outcome == Outcome::Fires
                                                         : outcome.kind == RuleKind::Grade && outcome.grade;
    if (speaks && speaks_of_solvents_only(outcome) && is_told(study, outcome) && !outcome.text.empty())
      out += indented(fmt::format("  {}", outcome.rule.text), outcome.text, 26);
  }
  return out.empty() ? out : "What the rules say of the two\n" + out;
}

// `up to 8 % hexane`: the shares of the first at which a pair that parts is one liquid.
std::string share_words(const std::array<double, 2>& share, const std::string& first) {
  const std::string from = fmt::format("{:.0f}", share[0] * 100);
  const std::string to = fmt::format("{:.0f}", share[1] * 100);
  if (share[0] <= 0) return fmt::format("up to {} % {}", to, first);
  if (share[1] >= 1) return fmt::format("from {} % {} on", from, first);
  return fmt::format("between {} and {} % {}", from, to, first);
}

}  // namespace

PairVerdict verdict_on(const PairStudy& study, const Library& library) {
  const std::string& first = name(study, library, 0);
  const std::string& second = name(study, library, 1);
  if (study.reacts()) {
    return {"refused", fmt::format("{} and {} must not be mixed: {}", first, second, study.reaction.text)};
  }
  if (study.phases.empty()) {
    return {"try first", fmt::format("nothing is known of {} with {}: try a few drops in a tube", first, second)};
  }
  const auto at = std::min_element(study.phases.begin(), study.phases.end(),
                                   [](const PairPhases& left, const PairPhases& right) {
                                     return left.answer.one_liquid < right.answer.one_liquid;
                                   });
  if (study.one_liquid_share) {
    const auto& share = *study.one_liquid_share;
    const bool mostly_parts = share[1] - share[0] < 0.5;
    return {"one liquid",
            fmt::format("{} and {} part into two liquids over {} of the range, but {} they are one liquid, by volume",
                        first, second, mostly_parts ? "most" : "a part", share_words(share, first))};
  }
  if (study.parts()) {
    const bool everywhere = std::all_of(study.phases.begin(), study.phases.end(),
                                        [](const PairPhases& phases) { return phases.answer.one_liquid < 0.5; });
    const bool hot_not_known = study.phases.back().answer.evidence == kNotKnown;
    const std::string part = fmt::format("{} and {} part into two liquids", first, second);
    if (hot_not_known) return {"two liquids", part + " at 25 °C; whether they do so hot is not known"};
    if (everywhere) return {"two liquids", part + ", cold and hot"};
    return {"two liquids",
            fmt::format("{} at {}, though not at every temperature", part, celsius(at->temperature_k))};
  }
  if (at->answer.one_liquid < kSurely) {
    return {"try first", fmt::format("{} and {} are probably one liquid, but at {} only with a chance of {}", first,
                                     second, celsius(at->temperature_k), percent(at->answer.one_liquid))};
  }
  return {"one liquid", study.at_ratio ? fmt::format("{} and {} are one liquid at {} by volume, cold and hot", first,
                                                     second, ratio(study.pair))
                                       : fmt::format("{} and {} mix, cold and hot", first, second)};
}

std::string pair_text(const SystemJudge& judge, const PairStudy& study, const Style& style) {
  const Library& library = judge.inquiry().knowledge->library;
  const PairVerdict verdict = verdict_on(study, library);
  std::string out = style.strong(fmt::format("{} + {}: {}", library.solvent(study.pair.solvents[0]).id,
                                             library.solvent(study.pair.solvents[1]).id,
                                             study.one_liquid_share ? verdict.word + " at " + ratio(study.pair)
                                                                    : verdict.word)) +
                    "\n" + wrapped(verdict.sentence, 2, 2);
  out += "\n" + reaction_text(study);
  if (study.solid) out += reaction_with_solid_text(study);
  out += "\n" + phases_text(study, library);
  out += "\n" + boiling_text(study, library);
  if (!study.reacts()) out += "\n" + drift_text(study, library);
  out += "\n" + flash_text(study, library);
  if (study.solid) {
    out += "\n" + solid_text(judge, study);
  }
  if (!study.stand_ins.empty()) out += "\n" + stand_ins_text(study, library);
  const std::string rules = rules_text(study);
  if (!rules.empty()) out += "\n" + rules;
  JudgedSystem told = study.judged;
  std::erase_if(told.judgement.outcomes,
                [&study](const RuleOutcome& outcome) { return !is_told(study, outcome); });
  const std::string cautions = cautions_text(judge, {&told}, CautionLevel::Note, style);
  if (!cautions.empty()) out += "\n" + style.strong("Cautions") + "\n" + cautions;
  return out + "\nOnly well-known hazards are pointed out; data sheets, local rules and a trained supervisor decide.\n";
}

}  // namespace firstcrop
