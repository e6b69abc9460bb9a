#include "ranking/pair_study.hpp"

#include <algorithm>
#include <cmath>

#include "ranking/solubility_study.hpp"

namespace firstcrop {
namespace {

constexpr double kRoomTemperatureK = 298.15;
constexpr int kBoilingSteps = 10;
constexpr std::array<double, 3> kShares{0.1, 0.3, 0.5};
constexpr std::size_t kMostStandIns = 3;
constexpr double kSurelyOneLiquid = 0.9;
constexpr double kLikePolarity = 0.12;  // of E_T(N)
constexpr int kShareSteps = 100;

// At its own ratio where one was asked for, else in every proportion. Hot is below the boil of the mixture.
std::vector<PairPhases> phases_of_pair(const Inquiry& inquiry, const System& pair, bool at_ratio) {
  const KnowledgeBase& knowledge = *inquiry.knowledge;
  const double lowest = lowest_boiling_of_mixtures(pair, inquiry.pressure_kpa, knowledge).temperature_k;
  const double hot = std::min(lowest - 1, inquiry.aim.heating_limit_k);
  std::vector<double> temperatures{inquiry.aim.bath_temperature_k, kRoomTemperatureK, hot};
  std::sort(temperatures.begin(), temperatures.end());
  std::vector<PairPhases> out;
  for (const double temperature : temperatures) {
    auto answer = at_ratio ? phases_of(pair, temperature, knowledge)
                           : phases_everywhere(pair, temperature, knowledge);
    if (!answer) continue;
    PairPhases phases{temperature, std::move(*answer), {}};
    if (phases.answer.one_liquid < 0.5) {
      phases.limits = knowledge.phase.mutual_solubility(pair.solvents[0], pair.solvents[1], temperature);
    }
    out.push_back(std::move(phases));
  }
  return out;
}

std::vector<PairBoiling> boiling_of_pair(const Inquiry& inquiry, const System& pair) {
  const PhaseModel& phase = inquiry.knowledge->phase;
  std::vector<double> fractions;
  for (int step = 1; step < kBoilingSteps; ++step) fractions.push_back(static_cast<double>(step) / kBoilingSteps);
  const std::vector<MixtureBoiling> curve =
      phase.boiling_curve(pair.solvents[0], pair.solvents[1], fractions, inquiry.pressure_kpa);
  const double least = listed_minimum_k(pair, inquiry.pressure_kpa, *inquiry.knowledge).value_or(0);
  std::vector<PairBoiling> out;
  out.push_back({0, phase.boiling_temperature_k(pair.solvents[1], inquiry.pressure_kpa), false});
  for (std::size_t i = 0; i < fractions.size(); ++i) {
    PairBoiling boiling{fractions[i], std::nullopt, false};
    if (i < curve.size() && curve[i].point.status == BoilingStatus::Calculated) {
      const double boil = std::max(curve[i].point.temperature_k.value_or(kRoomTemperatureK), least);
      if (curve[i].point.temperature_k) boiling.temperature_k = boil;
      const auto one = phases_of(System{pair.solvents, fractions[i]}, boil, *inquiry.knowledge);
      // The calculated gap counts only where the records do not speak against it.
      boiling.two_liquids = curve[i].point.two_liquids && !(one && one->one_liquid > 0.5);
    }
    out.push_back(boiling);
  }
  out.push_back({1, phase.boiling_temperature_k(pair.solvents[0], inquiry.pressure_kpa), false});
  return out;
}

void find_flash_points(const Inquiry& inquiry, PairStudy& study) {
  const KnowledgeBase& knowledge = *inquiry.knowledge;
  for (std::size_t i = 0; i < 2; ++i) {
    const SafetyNumber& flash = knowledge.library.solvent(study.pair.solvents[i]).flash_point_k;
    if (flash.knowledge == Knowledge::Value) study.flash_point_k[i] = flash.value;
  }
  for (int step = 1; step < kBoilingSteps; ++step) {
    const double fraction = static_cast<double>(step) / kBoilingSteps;
    const std::array<double, 2> fractions{fraction, 1 - fraction};
    const auto point = knowledge.phase.flash_point(study.pair.solvents, fractions);
    const bool calculated = point && point->temperature_k && point->status == FlashStatus::Calculated;
    if (!calculated || (study.lowest_flash_point_k && *study.lowest_flash_point_k <= *point->temperature_k))
      continue;
    study.lowest_flash_point_k = point->temperature_k;
    study.lowest_flash_fraction = fraction;
  }
}

void find_azeotrope(const Inquiry& inquiry, PairStudy& study) {
  const PhaseModel& phase = inquiry.knowledge->phase;
  study.azeotrope = phase.azeotrope(study.pair.solvents[0], study.pair.solvents[1], inquiry.pressure_kpa);
  if (!study.azeotrope || !study.azeotrope->first_fraction) return;
  const std::array<double, 2> moles{*study.azeotrope->first_fraction, 1 - *study.azeotrope->first_fraction};
  if (const auto volumes = phase.volume_fractions(study.pair.solvents, moles)) {
    study.azeotrope_volume_fraction = (*volumes)[0];
  }
}

// Shares of the first at which the pair is probably one liquid at all temperatures told, around the ratio of `pair`.
std::optional<std::array<double, 2>> one_liquid_share(const KnowledgeBase& knowledge, const System& pair,
                                                      const std::vector<PairPhases>& phases) {
  const auto is_one_liquid = [&](double share) {
    return std::all_of(phases.begin(), phases.end(), [&](const PairPhases& at) {
      const auto answer = phases_of(System{pair.solvents, share}, at.temperature_k, knowledge);
      return answer && answer->one_liquid >= 0.5;
    });
  };
  if (!is_one_liquid(pair.first_fraction)) return std::nullopt;
  constexpr double kStep = 1.0 / kShareSteps;
  std::array<double, 2> out{pair.first_fraction, pair.first_fraction};
  while (out[0] > 0 && is_one_liquid(std::max(0.0, out[0] - kStep))) out[0] = std::max(0.0, out[0] - kStep);
  while (out[1] < 1 && is_one_liquid(std::min(1.0, out[1] + kStep))) out[1] = std::min(1.0, out[1] + kStep);
  return out;
}

bool is_grave(const Reaction& reaction) {
  return reaction.severity &&
         (*reaction.severity == ReactionSeverity::Dangerous || *reaction.severity == ReactionSeverity::Reacts);
}

// Solvents of the shelf that mix with the one that stays and leave it alone, the most alike in polarity to the one
// that is replaced first.
void add_stand_ins(const Inquiry& inquiry, SolventId replaced, SolventId stays, std::vector<StandIn>& out) {
  const KnowledgeBase& knowledge = *inquiry.knowledge;
  const Library& library = knowledge.library;
  const Solvent& old = library.solvent(replaced);
  struct Found {
    StandIn stand_in;
    double distance;
  };
  std::vector<Found> found;
  for (const SolventId candidate : inquiry.aim.shelf.solvents) {
    if (candidate == replaced || candidate == stays) continue;
    const Solvent& solvent = library.solvent(candidate);
    const auto one = knowledge.phase.one_liquid(candidate, stays, kRoomTemperatureK);
    if (!one || one->chance < kSurelyOneLiquid || !solvent.polarity || !old.polarity) continue;
    if (is_grave(reaction_between(candidate, stays, inquiry.reactions, inquiry.aim, library))) continue;
    const double distance = std::abs(solvent.polarity->value - old.polarity->value);
    // Farther off in polarity it would play another part than the one it stands in for.
    if (distance > kLikePolarity) continue;
    found.push_back({{replaced, candidate, one->chance}, distance});
  }
  std::stable_sort(found.begin(), found.end(),
                   [](const Found& left, const Found& right) { return left.distance < right.distance; });
  for (std::size_t i = 0; i < std::min(found.size(), kMostStandIns); ++i) out.push_back(found[i].stand_in);
}

// The ratio to judge: the one asked for, the best one for a solid, or as it is.
System judged_ratio(const SystemJudge& judge, const System& pair, bool ratio_stated, bool with_solid,
                    RatioWindow& window) {
  if (!with_solid) return pair;
  const ChosenPair chosen = judge.choose_ratio(pair.solvents[0], pair.solvents[1]);
  window = chosen.window;
  return ratio_stated ? judge.with_good_first(pair) : chosen.system;
}

PairForSolid for_solid(const SystemJudge& judge, const System& pair, RatioWindow window) {
  PairForSolid out{window, std::nullopt, std::nullopt, std::nullopt};
  out.cloud_volume =
      cloud_volume(judge.inquiry(), pair, hot_temperature_k(judge, System{{pair.solvents[0]}, 1}));
  RankOptions options;
  options.only = Only::Singles;
  options.top = 1;
  const Ranking singles = rank(judge, options);
  if (!singles.systems.empty()) {
    const JudgedSystem& best = singles.systems.front();
    out.best_single = best.system;
    const Catalogue& catalogue = best.frame.catalogue();
    const FactReference limit = catalogue.find("system.recovery_limit").value();
    out.single_recovery_limit = summary(best.frame.get(limit), catalogue.info(limit.fact).dimension);
  }
  return out;
}

}  // namespace

bool PairStudy::parts() const {
  return std::any_of(phases.begin(), phases.end(), [](const PairPhases& at) { return at.answer.one_liquid < 0.5; });
}

bool PairStudy::reacts() const {
  return is_grave(reaction);
}

bool PairStudy::is_suitable() const {
  if (reacts() || (parts() && !one_liquid_share)) return false;
  return !solid || judged.judgement.verdict != Verdict::Unfit;
}

bool speaks_of_solvents_only(const RuleOutcome& outcome) {
  const auto about_solvents = [](const UsedFact& fact) {
    // Reactions with the solid and the contrast of solubilities need a solid.
    if (fact.name.starts_with("solvent.reaction") || fact.name == "pair.contrast") return false;
    return fact.name.starts_with("pair.") || fact.name.starts_with("solvent.") ||
           fact.name == "good.boiling_point" || fact.name == "aim.open_flame" ||
           fact.name == "aim.peroxide_test" || fact.name == "system.flash_point";
  };
  const auto about_pair = [](const UsedFact& fact) { return fact.name.starts_with("pair."); };
  const std::vector<UsedFact>& facts = outcome.facts;
  // Of grades and advice only those that look at the pair say something that the rest of the answer does not.
  const bool is_caution = outcome.kind == RuleKind::Caution;
  return !facts.empty() && std::all_of(facts.begin(), facts.end(), about_solvents) &&
         (is_caution || std::any_of(facts.begin(), facts.end(), about_pair));
}

bool is_told(const PairStudy& study, const RuleOutcome& outcome) {
  const auto any = [&outcome](const auto& wanted) {
    return std::any_of(outcome.facts.begin(), outcome.facts.end(), wanted);
  };
  if (!study.solid) {
    // The sign of the gap is that of the poor solvent against the good one.
    const bool ranks_by_gap = outcome.kind == RuleKind::Grade &&
                              any([](const UsedFact& fact) { return fact.name == "pair.boiling_gap"; });
    const bool has_roles = any([](const UsedFact& fact) { return fact.name.starts_with("good."); });
    if (!speaks_of_solvents_only(outcome) || ranks_by_gap || has_roles) return false;
  }
  if (!study.reacts() || outcome.kind == RuleKind::Exclude) return true;
  if (outcome.kind == RuleKind::Caution)
    return outcome.step.empty() || outcome.step == "always" || outcome.step == "waste";
  return outcome.kind == RuleKind::Grade &&
         any([](const UsedFact& fact) { return fact.name == "pair.reaction"; });
}

PairStudy study_pair(const SystemJudge& judge, const System& pair, bool ratio_stated, bool with_solid) {
  const Inquiry& inquiry = judge.inquiry();
  const KnowledgeBase& knowledge = *inquiry.knowledge;
  RatioWindow window;
  const System at = judged_ratio(judge, pair, ratio_stated, with_solid, window);
  PairStudy out{.pair = at, .pressure_kpa = inquiry.pressure_kpa, .judged = judge.judge(at), .at_ratio = ratio_stated};
  judge.explain(out.judged);
  out.reaction =
      reaction_between(at.solvents[0], at.solvents[1], inquiry.reactions, inquiry.aim, knowledge.library);
  if (with_solid) out.solid = for_solid(judge, at, window);
  if (out.solid && out.reacts()) {
    out.solid->window = {};
    out.solid->cloud_volume.reset();
  }
  out.boiling = boiling_of_pair(inquiry, at);
  find_azeotrope(inquiry, out);
  out.lowest_boiling_k = lowest_boiling_of_mixtures(at, inquiry.pressure_kpa, knowledge).temperature_k;
  out.phases = phases_of_pair(inquiry, at, ratio_stated);
  if (with_solid && !ratio_stated && out.parts() && out.judged.judgement.verdict != Verdict::Unfit)
    out.one_liquid_share = one_liquid_share(knowledge, at, out.phases);
  if (const MiscibilityRecord* record = knowledge.library.miscibility(at.solvents[0], at.solvents[1])) {
    out.critical_temperature_k = record->upper_critical_temperature_k;
    out.critical_from_memory = record->upper_critical_from_memory;
  }
  const std::array<double, 2> fractions{at.first_fraction, 1 - at.first_fraction};
  // Nobody boils down what must not be mixed.
  if (!out.reacts()) out.drift = boil_down(knowledge.phase, at.solvents, fractions, inquiry.pressure_kpa, kShares);
  const double least = listed_minimum_k(at, inquiry.pressure_kpa, knowledge).value_or(0);
  for (BoiledDown& point : out.drift.points) point.temperature_k = std::max(point.temperature_k, least);
  find_flash_points(inquiry, out);
  if (out.reacts() || (out.parts() && !out.one_liquid_share)) {
    add_stand_ins(inquiry, at.solvents[1], at.solvents[0], out.stand_ins);
    add_stand_ins(inquiry, at.solvents[0], at.solvents[1], out.stand_ins);
  }
  return out;
}

}  // namespace firstcrop
