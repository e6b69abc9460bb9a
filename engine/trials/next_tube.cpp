#include "trials/next_tube.hpp"

#include <algorithm>
#include <cmath>

#include "solubility/observations.hpp"
#include "systems/candidates.hpp"
#include "systems/solubility_rows.hpp"

namespace firstcrop {
namespace {

// Tubes are looked for among the solvents of largest expected usefulness: of 30 solids none lost more by it than the
// draws can tell.
constexpr std::size_t kMostSolvents = 20;
// mL that 50 mg go into.
constexpr std::array<double, 3> kVolumesMl{0.5, 1.0, 2.0};
constexpr double kVolumesAreForMg = 50;
// The cooled part of a solid that melts low must still be a solid.
constexpr double kBelowMeltingK = 10;
constexpr double kSmallestSpanK = 15;
constexpr double kAboveFreezingK = 3;
constexpr double kSameRatio = 0.1;
constexpr double kToldOutcome = 0.01;
// Gains closer than this are the same for 1024 draws.
constexpr double kSameGain = 0.002;
constexpr double kFewWork = 0.5;
// A pair needs a good solvent of this strength at room temperature, and this contrast.
constexpr double kGoodMgMl = 50;
constexpr double kContrast = 16;
constexpr std::size_t kMostPairsJudged = 12;

std::optional<double> median_of(const JudgedSystem& judged, const char* fact) {
  const Catalogue& catalogue = judged.frame.catalogue();
  const FactReference reference = catalogue.find(fact).value();
  const auto quantity = summary(judged.frame.get(reference), catalogue.info(reference.fact).dimension);
  return quantity ? std::optional(quantity->value) : std::nullopt;
}

// 1 where nothing is known of it.
double mean_share_of(const JudgedSystem& judged, const char* fact) {
  const FactValue& value = judged.frame.get(judged.frame.catalogue().find(fact).value());
  const auto* column = std::get_if<NumberColumn>(&value.value);
  if (column == nullptr) return 1;
  double sum = 0;
  for (std::size_t k = 0; k < kScenarioCount; ++k) sum += column->at(k);
  return sum / static_cast<double>(kScenarioCount);
}

bool is_refused_solid(const Inquiry& inquiry) { return inquiry.solute.energetic.value_or(false); }

// The rule that speaks of explosive solids, whatever the system.
std::string refusal_of(const SystemJudge& judge) {
  const Shelf& shelf = judge.inquiry().aim.shelf;
  if (shelf.solvents.empty()) return {};
  JudgedSystem judged = judge.judge(System{{shelf.solvents.front()}, 1});
  judge.explain(judged);
  for (const RuleOutcome& outcome : judged.judgement.outcomes) {
    const bool speaks = outcome.kind == RuleKind::Caution && outcome.outcome == Outcome::Fires &&
                        outcome.level == CautionLevel::Danger;
    const bool looks_at_energy =
        std::any_of(outcome.facts.begin(), outcome.facts.end(),
                    [](const UsedFact& fact) { return fact.name == "solute.energetic" && fact.shown == "yes"; });
    if (speaks && looks_at_energy) return outcome.text;
  }
  return {};
}

std::optional<TrialSolvent> to_try(const SystemJudge& judge, JudgedSystem judged) {
  const Inquiry& inquiry = judge.inquiry();
  const auto hot = median_of(judged, "system.saturation_temperature");
  const auto cold = median_of(judged, "system.cold_temperature");
  const auto boiling = median_of(judged, "system.boiling_point");
  if (!inquiry.knowledge->in_model(judged.system.solvents.front()) || !hot || !cold || !boiling) return std::nullopt;
  TrialSolvent out{std::move(judged), {}, *boiling, {}, false};
  out.bottle.hot_k = std::min(*hot, inquiry.melting_point_k - kBelowMeltingK);
  out.bottle.cold_k = *cold;
  out.bottle.after_oil = mean_share_of(out.judged, "system.after_oil");
  const auto freezing = median_of(out.judged, "system.freezing_point");
  out.bottle.room_k = std::max(inquiry.aim.room_temperature_k, freezing ? *freezing + kAboveFreezingK : 0.0);
  for (const Trial& trial : inquiry.file.trials) {
    const SystemAnswer answer = parse_system(trial.system.text, inquiry.knowledge->library);
    if (answer.system && answer.system->system == out.judged.system) out.tubed = true;
  }
  return out;
}

// --- tubes --------------------------------------------------------------------------------------------------------------

double ratio_of(const TubeSize& size) { return size.mass_mg / size.volume_ml; }

bool is_same_ratio(double left, double right) { return std::abs(left / right - 1) < kSameRatio; }

// Tubes of the file that hold this solvent alone.
std::vector<const Trial*> trials_in(const Inquiry& inquiry, const TrialSolvent& solvent) {
  std::vector<const Trial*> out;
  for (const Trial& trial : inquiry.file.trials) {
    const SystemAnswer answer = parse_system(trial.system.text, inquiry.knowledge->library);
    const bool same = answer.system && answer.system->system == solvent.judged.system;
    if (same && trial.mass && trial.volume && trial.volume->middle() > 0) out.push_back(&trial);
  }
  return out;
}

bool was_made(const std::vector<const Trial*>& trials, const TubeSize& size) {
  return std::any_of(trials.begin(), trials.end(), [&size](const Trial* trial) {
    return is_same_ratio(trial->mass->middle() / trial->volume->middle(), ratio_of(size));
  });
}

// The tube that needs least solvent to become the one wanted.
std::optional<TopUp> top_up_of(const std::vector<const Trial*>& trials, const TubeSize& size) {
  std::optional<TopUp> out;
  for (const Trial* trial : trials) {
    const double more = trial->mass->middle() / ratio_of(size) - trial->volume->middle();
    if (more <= 0 || trial->doubtful) continue;
    if (!out || more < out->volume_ml) out = TopUp{trial->tube, more};
  }
  return out;
}

struct Candidate {
  std::size_t solvent = 0;
  TubeSize size;
  TubeWorth worth;
};

std::vector<Candidate> candidates(const Inquiry& inquiry, const std::vector<TrialSolvent>& solvents,
                                  const TubeDraws& draws, double mass_mg) {
  std::vector<Candidate> out;
  for (std::size_t i = 0; i < std::min(solvents.size(), kMostSolvents); ++i) {
    const std::vector<const Trial*> trials = trials_in(inquiry, solvents[i]);
    for (const double volume_ml : kVolumesMl) {
      const TubeSize size{mass_mg, volume_ml * mass_mg / kVolumesAreForMg};
      if (!was_made(trials, size)) out.push_back({i, size, worth_of_tube(draws, i, size)});
    }
  }
  return out;
}

double score_of(const TrialSolvent& solvent) { return solvent.judged.judgement.score.value_or(0); }

// The tube of largest gain of every solvent; where gains are the same, the solvent that the rules like better.
std::vector<Candidate> best_of_each(std::vector<Candidate> all, const std::vector<TrialSolvent>& solvents) {
  std::stable_sort(all.begin(), all.end(), [](const Candidate& left, const Candidate& right) {
    return left.worth.gain > right.worth.gain;
  });
  std::vector<Candidate> out;
  for (Candidate& candidate : all) {
    const bool known = std::any_of(out.begin(), out.end(), [&candidate](const Candidate& other) {
      return other.solvent == candidate.solvent;
    });
    if (!known) out.push_back(std::move(candidate));
  }
  std::stable_sort(out.begin(), out.end(), [&solvents](const Candidate& left, const Candidate& right) {
    const auto left_step = std::lround(left.worth.gain / kSameGain);
    const auto right_step = std::lround(right.worth.gain / kSameGain);
    if (left_step != right_step) return left_step > right_step;
    return score_of(solvents[left.solvent]) > score_of(solvents[right.solvent]);
  });
  return out;
}

TubeSight sight_of(const TubeReading& reading) {
  using Look = TubeReading::Look;
  if (reading.cold == Look::All) return TubeSight::ColdAll;
  if (reading.hot == Look::None) return TubeSight::HotNothing;
  if (reading.hot == Look::Part) return TubeSight::HotPart;
  return reading.ice == TubeReading::Ice::Crystals ? TubeSight::HotThenCrystals : TubeSight::HotStaysClear;
}

Dissolved dissolved(TubeReading::Look look) {
  return look == TubeReading::Look::All    ? Dissolved::All
         : look == TubeReading::Look::Part ? Dissolved::Part
                                           : Dissolved::None;
}

// What would be believed once such a tube stood in the file.
SolubilityState after_reading(const SolubilityState& state, const Bottle& bottle, const TubeSize& size,
                              const TubeReading& reading) {
  Tube tube;
  tube.system = {{bottle.in_state, 1.0, 0.0}};
  tube.mass_mg = size.mass_mg;
  tube.volume_ml = size.volume_ml;
  tube.cold = dissolved(reading.cold);
  tube.cold_temperature_k = bottle.room_k;
  tube.hot = dissolved(reading.hot);
  tube.hot_temperature_k = bottle.hot_k;
  if (reading.ice != TubeReading::Ice::NotAsked) {
    tube.cooled = reading.ice == TubeReading::Ice::Crystals ? OnCooling::Crystals : OnCooling::Nothing;
  }
  tube.cooled_to_k = bottle.cold_k;
  return update(state, observations_of_tube(state, tube)).state;
}

FactValue text_fact(const char* word) { return {std::string(word), Origin::Predicted, {}}; }

// The frame of a solvent as if a tube had shown this.
JudgedSystem with_trial_facts(const SystemJudge& judge, const JudgedSystem& judged, const TubeSize& size,
                              std::optional<TubeSight> sight) {
  JudgedSystem out = judged;
  const auto set = [&](const char* fact, FactValue value) {
    out.frame.set(judge.catalogue().find(fact).value(), std::move(value));
  };
  set("trial.ratio", {NumberColumn::of(1 / ratio_of(size)), Origin::Given, {}});
  if (sight) {
    const bool went = *sight == TubeSight::HotThenCrystals || *sight == TubeSight::HotStaysClear;
    if (*sight == TubeSight::ColdAll) set("trial.cold", text_fact("all"));
    if (went) set("trial.hot", text_fact("all"));
    if (*sight == TubeSight::HotPart) set("trial.hot", text_fact("part"));
    if (*sight == TubeSight::HotNothing) set("trial.hot", text_fact("none"));
    if (went) set("trial.cooled", text_fact(*sight == TubeSight::HotThenCrystals ? "crystals" : "nothing"));
  }
  judge.explain(out);
  return out;
}

bool is_about_outcome(const RuleOutcome& outcome) {
  return std::any_of(outcome.facts.begin(), outcome.facts.end(), [](const UsedFact& fact) {
    return fact.name == "trial.cold" || fact.name == "trial.hot" || fact.name == "trial.cooled";
  });
}

bool speaks(const RuleOutcome& outcome) {
  const bool warns = outcome.kind == RuleKind::Caution || outcome.kind == RuleKind::Advice;
  return warns && outcome.outcome == Outcome::Fires && !outcome.text.empty();
}

// A tube is dissolved, heated and cooled; what is filtered, dried and thrown away comes later. Of advice, only that
// for tubes is of use: the rest speaks of the flask.
std::vector<RuleOutcome> handling_of(const JudgedSystem& with_facts) {
  std::vector<RuleOutcome> out;
  for (const RuleOutcome& outcome : with_facts.judgement.outcomes) {
    if (!speaks(outcome) || is_about_outcome(outcome)) continue;
    const bool in_a_tube = outcome.step == "always" || outcome.step == "dissolving" || outcome.step == "heating" ||
                           outcome.step == "cooling";
    const bool about_tubes = std::any_of(outcome.facts.begin(), outcome.facts.end(), [](const UsedFact& fact) {
      return fact.name.starts_with("trial.");
    });
    if (in_a_tube && (outcome.kind == RuleKind::Caution || about_tubes)) out.push_back(outcome);
  }
  return out;
}

std::vector<TubeOutcome> outcomes_of(const SystemJudge& judge, const SolubilityState& state,
                                     const std::vector<TrialSolvent>& solvents,
                                     const std::vector<Bottle>& bottles, const Candidate& candidate) {
  struct Group {
    double chance = 0;
    double usefulness = 0;
    double own = 0;
    std::vector<double> votes;
  };
  std::array<Group, kSights.size()> groups;
  for (Group& group : groups) group.votes.resize(solvents.size());
  for (std::size_t index = 0; index < kReadingCount; ++index) {
    const double chance = candidate.worth.chance[index];
    if (chance == 0) continue;
    const TubeReading reading = reading_of(index);
    const auto expected =
        expectations(after_reading(state, bottles[candidate.solvent], candidate.size, reading), bottles);
    const auto best = static_cast<std::size_t>(
        std::max_element(expected.begin(), expected.end(),
                         [](const Expectation& left, const Expectation& right) {
                           return left.usefulness < right.usefulness;
                         }) -
        expected.begin());
    Group& group = groups[static_cast<std::size_t>(sight_of(reading))];
    group.chance += chance;
    group.usefulness += chance * expected[best].usefulness;
    group.own += chance * expected[candidate.solvent].usefulness;
    group.votes[best] += chance;
  }
  std::vector<TubeOutcome> out;
  for (const TubeSight sight : kSights) {
    const Group& group = groups[static_cast<std::size_t>(sight)];
    if (group.chance < kToldOutcome) continue;
    TubeOutcome outcome{sight, group.chance, 0, group.usefulness / group.chance, group.own / group.chance, {}};
    outcome.choice = static_cast<std::size_t>(std::max_element(group.votes.begin(), group.votes.end()) -
                                              group.votes.begin());
    outcome.advice = what_rules_say_of_outcome(
        with_trial_facts(judge, solvents[candidate.solvent].judged, candidate.size, sight));
    out.push_back(std::move(outcome));
  }
  std::stable_sort(out.begin(), out.end(), [](const TubeOutcome& left, const TubeOutcome& right) {
    return left.chance > right.chance;
  });
  return out;
}

// --- a pair -------------------------------------------------------------------------------------------------------------

struct PairChance {
  std::size_t good = 0;
  std::size_t poor = 0;
  double chance = 0;
};

// Chance that `good` dissolves enough at room temperature and much more than `poor`.
double contrast_chance(const std::vector<double>& room, std::size_t bottles, std::size_t good, std::size_t poor) {
  std::size_t fits = 0;
  const std::size_t draws = room.size() / bottles;
  for (std::size_t m = 0; m < draws; ++m) {
    const double strong = room[m * bottles + good];
    if (strong >= kGoodMgMl && strong >= kContrast * room[m * bottles + poor]) ++fits;
  }
  return static_cast<double>(fits) / static_cast<double>(draws);
}

std::vector<PairChance> pairs_by_chance(const Inquiry& inquiry, const std::vector<TrialSolvent>& solvents,
                                        const TubeDraws& draws) {
  std::vector<double> room(draws.count() * solvents.size());
  for (std::size_t m = 0; m < draws.count(); ++m) {
    for (std::size_t b = 0; b < solvents.size(); ++b) room[m * solvents.size() + b] = draws.room_mg_ml(m, b);
  }
  const auto place_of = [&solvents](SolventId id) {
    return static_cast<std::size_t>(std::find_if(solvents.begin(), solvents.end(),
                                                 [id](const TrialSolvent& one) { return one.id() == id; }) -
                                    solvents.begin());
  };
  std::vector<PairChance> out;
  for (const auto& [first, second] : candidate_pairs(inquiry.aim.shelf, inquiry)) {
    const std::size_t a = place_of(first);
    const std::size_t b = place_of(second);
    if (a == solvents.size() || b == solvents.size()) continue;
    const auto one = inquiry.knowledge->phase.one_liquid(first, second, inquiry.aim.room_temperature_k);
    const double liquid = one ? one->chance : 1;
    for (const auto& [good, poor] : {std::pair{a, b}, std::pair{b, a}}) {
      out.push_back({good, poor, liquid * contrast_chance(room, solvents.size(), good, poor)});
    }
  }
  std::stable_sort(out.begin(), out.end(),
                   [](const PairChance& left, const PairChance& right) { return left.chance > right.chance; });
  return out;
}

// The ratio that the rules like best, with the good solvent of the proposal first.
std::optional<JudgedSystem> judged_pair(const SystemJudge& judge, SolventId good, SolventId poor) {
  const ChosenPair chosen = judge.choose_ratio(good, poor);
  if (chosen.system.solvents.front() != good) return std::nullopt;
  JudgedSystem out = judge.judge(chosen.system);
  if (out.judgement.excluded) return std::nullopt;
  out.window = chosen.window;
  return out;
}

std::optional<ProposedPair> propose_pair(const SystemJudge& judge, const std::vector<TrialSolvent>& solvents,
                                         const TubeDraws& draws, double mass_mg) {
  const std::vector<PairChance> pairs = pairs_by_chance(judge.inquiry(), solvents, draws);
  for (std::size_t i = 0; i < std::min(pairs.size(), kMostPairsJudged) && pairs[i].chance > 0; ++i) {
    const TrialSolvent& good = solvents[pairs[i].good];
    auto judged = judged_pair(judge, good.id(), solvents[pairs[i].poor].id());
    if (!judged) continue;
    ProposedPair out{std::move(*judged), {mass_mg, kVolumesMl.front() * mass_mg / kVolumesAreForMg},
                     good.bottle.hot_k, std::nullopt, pairs[i].chance, {}};
    const auto ratio = cloud_volume(judge.inquiry(), out.judged.system, out.hot_k);
    if (ratio) {
      Quantity volume = *ratio;
      for (double* end : {&volume.value, volume.low ? &*volume.low : nullptr, volume.high ? &*volume.high : nullptr}) {
        if (end != nullptr) *end *= out.in_good.volume_ml;
      }
      out.cloud_ml = volume;
    }
    out.judged = with_trial_facts(judge, out.judged, out.in_good, std::nullopt);
    out.cautions = handling_of(out.judged);
    return out;
  }
  return std::nullopt;
}

}  // namespace

double usual_tube_mass_mg(const Aim& aim) {
  constexpr double kMostMg = 50;
  constexpr double kLeastMg = 10;
  constexpr double kStepMg = 5;
  constexpr double kShareOfCrude = 0.05;
  if (!aim.mass_given) return kMostMg;
  return std::clamp(std::floor(aim.mass_mg * kShareOfCrude / kStepMg) * kStepMg, kLeastMg, kMostMg);
}

std::string_view name_of(TrialAdvice advice) {
  switch (advice) {
    case TrialAdvice::Try:
      return "try";
    case TrialAdvice::Confirm:
      return "confirm";
    case TrialAdvice::Stop:
      return "stop";
    case TrialAdvice::Pair:
      return "pair";
    case TrialAdvice::Nothing:
      return "nothing";
    case TrialAdvice::Refused:
      return "refused";
  }
  return {};
}

std::vector<TrialSolvent> solvents_to_try(const SystemJudge& judge, std::vector<LeftOut>& left_out,
                                          std::vector<NotJudgedSystem>& not_judged) {
  std::vector<SolventId> shelf = judge.inquiry().aim.shelf.solvents;
  // In the order of the library, so that the order of a shelf makes no difference.
  std::sort(shelf.begin(), shelf.end(),
            [](const SolventId& left, const SolventId& right) { return left.index < right.index; });
  std::vector<TrialSolvent> out;
  for (const SolventId solvent : shelf) {
    JudgedSystem judged = judge.judge(System{{solvent}, 1});
    if (judged.judgement.excluded) {
      RefusedSystem refused = refuse(judge, std::move(judged));
      left_out.push_back({refused.judged.system, refused.rule, refused.text});
      continue;
    }
    auto one = to_try(judge, judged);
    if (!one) {
      judge.explain(judged);
      not_judged.push_back({judged.system, missing_facts(judged.judgement)});
    } else if (one->bottle.hot_k - one->bottle.cold_k < kSmallestSpanK) {
      left_out.push_back({one->judged.system, "no-span", {}});
    } else {
      out.push_back(std::move(*one));
    }
  }
  return out;
}

std::vector<std::string> what_rules_say_of_outcome(const JudgedSystem& explained) {
  std::vector<std::string> out;
  for (const RuleOutcome& outcome : explained.judgement.outcomes) {
    if (speaks(outcome) && is_about_outcome(outcome)) out.push_back(outcome.text);
  }
  return out;
}

SolubilityState state_of(const SolubilityState& whole, const KnowledgeBase& knowledge,
                         const std::vector<TrialSolvent>& solvents) {
  std::vector<std::size_t> indices;
  for (const TrialSolvent& one : solvents) indices.push_back(*knowledge.in_model(one.id()));
  return state_of_some(whole, indices);
}

TrialPlan plan_trials(const SystemJudge& judge, const TrialOptions& options) {
  const Inquiry& inquiry = judge.inquiry();
  TrialPlan out;
  if (is_refused_solid(inquiry)) {
    out.advice = TrialAdvice::Refused;
    out.refusal = refusal_of(judge);
    return out;
  }
  out.solvents = solvents_to_try(judge, out.left_out, out.not_judged);
  if (out.solvents.empty()) return out;

  const auto bottles_of = [&out] {
    std::vector<Bottle> bottles;
    for (std::size_t i = 0; i < out.solvents.size(); ++i) {
      out.solvents[i].bottle.in_state = i;
      bottles.push_back(out.solvents[i].bottle);
    }
    return bottles;
  };
  SolubilityState state = state_of(inquiry.posterior.state, *inquiry.knowledge, out.solvents);
  const std::vector<Expectation> expected = expectations(state, bottles_of());
  for (std::size_t i = 0; i < out.solvents.size(); ++i) out.solvents[i].expected = expected[i];
  std::stable_sort(out.solvents.begin(), out.solvents.end(), [](const TrialSolvent& left, const TrialSolvent& right) {
    return left.expected.usefulness > right.expected.usefulness;
  });
  state = state_of(inquiry.posterior.state, *inquiry.knowledge, out.solvents);
  const std::vector<Bottle> bottles = bottles_of();

  const TubeDraws draws(state, bottles);
  out.best_or_close = chance_of_best(draws, 0, kCloseUsefulness);
  out.any_works = chance_that_any_works(draws);
  std::vector<Candidate> found =
      best_of_each(candidates(inquiry, out.solvents, draws, options.mass_mg), out.solvents);
  if (!found.empty()) out.best_gain = found.front().worth.gain;
  const bool worth_it = out.best_gain >= kStopBelow;
  if (!worth_it && !out.choice().tubed) {
    // The choice itself comes first: what was never seen is not yet a choice.
    std::stable_partition(found.begin(), found.end(),
                          [](const Candidate& candidate) { return candidate.solvent == 0; });
  }
  out.advice = worth_it               ? TrialAdvice::Try
               : !out.choice().tubed ? TrialAdvice::Confirm
                                     : TrialAdvice::Stop;
  if (out.any_works < kFewWork) {
    out.pair = propose_pair(judge, out.solvents, draws, options.mass_mg);
    if (out.pair) out.advice = TrialAdvice::Pair;
  }
  if (found.size() > options.tubes) found.resize(options.tubes);
  for (const Candidate& candidate : found) {
    const TrialSolvent& solvent = out.solvents[candidate.solvent];
    ProposedTube tube;
    tube.solvent = candidate.solvent;
    tube.size = candidate.size;
    tube.gain = candidate.worth.gain;
    tube.top_up = top_up_of(trials_in(inquiry, solvent), candidate.size);
    tube.outcomes = outcomes_of(judge, state, out.solvents, bottles, candidate);
    tube.cautions = handling_of(with_trial_facts(judge, solvent.judged, candidate.size, std::nullopt));
    out.tubes.push_back(std::move(tube));
  }
  return out;
}

}  // namespace firstcrop
