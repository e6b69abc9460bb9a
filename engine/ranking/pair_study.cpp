#include "ranking/pair_study.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "systems/solubility_rows.hpp"

namespace firstcrop {
namespace {

constexpr double kRoomTemperatureK = 298.15;
constexpr int kBoilingSteps = 10;
constexpr std::array<double, 3> kShares{0.1, 0.3, 0.5};
// A hot solution is made a little under saturation, so that the poor solvent can be added at all.
constexpr double kSaturation = 0.8;
constexpr std::size_t kMostStandIns = 3;
constexpr double kSurelyOneLiquid = 0.9;
constexpr double kLikePolarity = 0.12;  // of E_T(N)

// At its own ratio where one was asked for, else in every proportion. Hot is below the boil of the mixture.
std::vector<PairPhases> phases_of_pair(const Inquiry& inquiry, const System& pair, bool at_ratio,
                                       double lowest_boil_k) {
  const KnowledgeBase& knowledge = *inquiry.knowledge;
  const double hot = std::min(lowest_boil_k - 1, inquiry.aim.heating_limit_k);
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
  std::vector<PairBoiling> out;
  out.push_back({0, phase.boiling_temperature_k(pair.solvents[1], inquiry.pressure_kpa), false});
  for (std::size_t i = 0; i < fractions.size(); ++i) {
    PairBoiling boiling{fractions[i], std::nullopt, false};
    if (i < curve.size() && curve[i].point.status == BoilingStatus::Calculated) {
      boiling.temperature_k = curve[i].point.temperature_k;
      const double boil = curve[i].point.temperature_k.value_or(kRoomTemperatureK);
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

bool is_grave(const Reaction& reaction) {
  return reaction.severity &&
         (*reaction.severity == ReactionSeverity::Dangerous || *reaction.severity == ReactionSeverity::Reacts);
}

// Solvents of the same family that mix with the one that stays and leave it alone, the most alike in polarity
// first.
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

PairForSolid for_solid(const SystemJudge& judge, const System& pair, bool ratio_stated) {
  const Inquiry& inquiry = judge.inquiry();
  const ChosenPair chosen = judge.choose_ratio(pair.solvents[0], pair.solvents[1]);
  const System system = ratio_stated ? judge.with_good_first(pair) : chosen.system;
  PairForSolid out{judge.judge(system), chosen.window, std::nullopt, std::nullopt, std::nullopt};
  judge.explain(out.judged);
  const System good{{system.solvents[0]}, 1};
  const double hot = std::min({lowest_boiling_point_k(good, inquiry.pressure_kpa, *inquiry.knowledge) - 1,
                               inquiry.aim.heating_limit_k, inquiry.melting_point_k - 10});
  out.cloud_volume = cloud_volume(inquiry, system, hot, kSaturation);
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

double PairStudy::lowest_boiling_point_k() const {
  double out = std::numeric_limits<double>::infinity();
  for (const PairBoiling& at : boiling) {
    if (at.temperature_k) out = std::min(out, *at.temperature_k);
  }
  if (azeotrope && !azeotrope->maximum) out = std::min(out, azeotrope->temperature_k);
  return out;
}

bool PairStudy::parts() const {
  return std::any_of(phases.begin(), phases.end(), [](const PairPhases& at) { return at.answer.one_liquid < 0.5; });
}

bool PairStudy::reacts() const {
  return is_grave(reaction);
}

bool speaks_of_solvents_only(const RuleOutcome& outcome) {
  const auto about_solvents = [](const UsedFact& fact) {
    // Reactions with the solid and the contrast of solubilities need a solid.
    if (fact.name.starts_with("solvent.reaction") || fact.name == "pair.contrast") return false;
    return fact.name.starts_with("pair.") || fact.name.starts_with("solvent.") || fact.name == "aim.open_flame" ||
           fact.name == "aim.peroxide_test" || fact.name == "system.flash_point";
  };
  const auto about_pair = [](const UsedFact& fact) { return fact.name.starts_with("pair."); };
  const std::vector<UsedFact>& facts = outcome.facts;
  // Of grades and advice only those that look at the pair say something that the rest of the answer does not.
  const bool is_caution = outcome.kind == RuleKind::Caution;
  return !facts.empty() && std::all_of(facts.begin(), facts.end(), about_solvents) &&
         (is_caution || std::any_of(facts.begin(), facts.end(), about_pair));
}

PairStudy study_pair(const SystemJudge& judge, const System& pair, bool ratio_stated, bool with_solid) {
  const Inquiry& inquiry = judge.inquiry();
  PairStudy out{pair, inquiry.pressure_kpa, {}, std::nullopt, false, {}, std::nullopt, std::nullopt, {}, {},
                std::nullopt, 0, {}, judge.judge(pair), std::nullopt, {}, false};
  if (with_solid) {
    out.solid = for_solid(judge, pair, ratio_stated);
    out.pair = out.solid->judged.system;
  }
  out.boiling = boiling_of_pair(inquiry, out.pair);
  find_azeotrope(inquiry, out);
  out.at_ratio = ratio_stated;
  out.phases = phases_of_pair(inquiry, out.pair, ratio_stated,
                              std::min(out.lowest_boiling_point_k(),
                                       firstcrop::lowest_boiling_point_k(out.pair, inquiry.pressure_kpa,
                                                                         *inquiry.knowledge)));
  if (const MiscibilityRecord* record =
          inquiry.knowledge->library.miscibility(out.pair.solvents[0], out.pair.solvents[1])) {
    out.critical_temperature_k = record->upper_critical_temperature_k;
    out.critical_from_memory = record->upper_critical_from_memory;
  }
  const std::array<double, 2> fractions{out.pair.first_fraction, 1 - out.pair.first_fraction};
  out.drift = boil_down(inquiry.knowledge->phase, out.pair.solvents, fractions, inquiry.pressure_kpa, kShares);
  find_flash_points(inquiry, out);
  out.reaction = reaction_between(out.pair.solvents[0], out.pair.solvents[1], inquiry.reactions, inquiry.aim,
                                  inquiry.knowledge->library);
  if (out.solid) {
    out.judged = out.solid->judged;
  } else {
    judge.explain(out.judged);
  }
  if (out.parts() || out.reacts()) {
    add_stand_ins(inquiry, out.pair.solvents[1], out.pair.solvents[0], out.stand_ins);
    add_stand_ins(inquiry, out.pair.solvents[0], out.pair.solvents[1], out.stand_ins);
  }
  return out;
}

}  // namespace firstcrop
