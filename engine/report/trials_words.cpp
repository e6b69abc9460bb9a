#include "report/trials_words.hpp"

#include <cmath>

#include <fmt/format.h>

namespace firstcrop {
namespace {

constexpr double kSurprise = 0.1;
constexpr double kLikely = 0.4;

std::string celsius(double temperature_k) { return show(temperature_k, *find_unit("°C")); }

std::string millilitres(double volume_ml) { return show(volume_ml, *find_unit("mL")); }

// 64 scenarios tell no smaller chance apart.
std::string in_hundred(double chance) {
  constexpr double kSmallest = 0.02;
  return chance < kSmallest ? std::string("under 2 in 100") : fmt::format("{:.0f} in 100", chance * 100);
}

const std::string& id_of(SolventId solvent, const Library& library) { return library.solvent(solvent).id; }

// What is taken of a look that was hardly believed is not what the tube says.
std::string disagreement_words(const TubeLesson& lesson, const LearnedLook& look) {
  constexpr double kHardlyBelieved = 0.5;
  if (look.believed >= kHardlyBelieved) return {};
  const char* word = look.when == LearnedLook::When::Cold  ? "cold"
                     : look.when == LearnedLook::When::Hot ? "hot"
                                                           : "cooled";
  const std::string taken = fmt::format("it says {} and was believed to {} only, so {} is kept in mind", bound_words(look),
                                        percent(look.believed), shown(look.now, "mg/mL"));
  if (!look.against.empty()) {
    return fmt::format(" What was seen {} disagrees with {}: {}. Repeat one of the two.", word, look.against, taken);
  }
  return fmt::format(" What was seen {} and the prediction disagree: {}. Repeat tube {}.", word, taken, lesson.tube);
}

}  // namespace

std::string points(double usefulness) {
  const auto whole = std::lround(usefulness * 100);
  if (whole < 1) return "under 1 point";
  return fmt::format("{} point{}", whole, whole == 1 ? "" : "s");
}

std::string about_points(double usefulness) {
  const std::string out = points(usefulness);
  return out.starts_with("under") ? out : "about " + out;
}

std::string shown(const TubeSize& size) {
  return fmt::format("{} in {}", show(size.mass_mg, *find_unit("mg")), millilitres(size.volume_ml));
}

std::string trial_headline(const SystemJudge& judge, const TrialPlan& plan) {
  const Library& library = judge.inquiry().knowledge->library;
  const auto first_tube = [&] {
    if (plan.tubes.empty()) return std::string("no further tube is of use");
    const ProposedTube& tube = plan.tubes.front();
    return fmt::format("{}, {}", id_of(plan.solvents[tube.solvent].id(), library), shown(tube.size));
  };
  switch (plan.advice) {
    case TrialAdvice::Try:
      return fmt::format("Next: {}; worth {}.", first_tube(), about_points(plan.tubes.front().worth()));
    case TrialAdvice::Confirm:
      return fmt::format("Next: {}. The choice was in no tube yet: confirm it in a tube before the flask.", first_tube());
    case TrialAdvice::Stop:
      return fmt::format("Stop: another tube is worth {}.", about_points(plan.best_gain / 2));
    case TrialAdvice::Pair:
      return fmt::format("Next: a pair, {}. That any single solvent of this shelf works has a chance of {} only.",
                         spoken_name(plan.pair->judged.system, library), percent(plan.any_works));
    case TrialAdvice::Nothing:
      return "Nothing on this shelf may be tried.";
    case TrialAdvice::Refused:
      break;
  }
  return "No tube: " + plan.refusal + ".";
}

bool is_to_confirm(const TrialPlan& plan, const ProposedTube& tube) {
  return plan.advice == TrialAdvice::Confirm && tube.solvent == 0;
}

std::string sight_words(TubeSight sight, const TrialSolvent& solvent) {
  switch (sight) {
    case TubeSight::ColdAll:
      return "dissolves cold";
    case TubeSight::HotThenCrystals:
      return solvent.is_cooled_in_ice() ? "dissolves hot, crystals in ice" : "dissolves hot, crystals on cooling";
    case TubeSight::HotStaysClear:
      return solvent.is_cooled_in_ice() ? "dissolves hot, stays clear in ice" : "dissolves hot, stays clear";
    case TubeSight::HotPart:
      return "part dissolves hot";
    case TubeSight::HotNothing:
      break;
  }
  return "nothing dissolves hot";
}

std::string then_words(const TrialPlan& plan, const TubeOutcome& outcome, const Library& library) {
  const std::string& choice = id_of(plan.solvents[outcome.choice].id(), library);
  return fmt::format("{} {}, {} expected", choice, outcome.choice == 0 ? "stays the choice" : "becomes the choice",
                     points(outcome.usefulness));
}

std::string look_words(const TrialSolvent& solvent) {
  const Bottle& bottle = solvent.bottle;
  const std::string hot = solvent.is_hot_at_boil()
                              ? fmt::format("hot at the boil ({})", celsius(solvent.boiling_k))
                              : fmt::format("hot at {}, no hotter (write `hot_at: {}`)", celsius(bottle.hot_k),
                                            celsius(bottle.hot_k));
  return fmt::format("look cold at {}, {}, and after 10 min at {}", celsius(bottle.room_k), hot,
                     celsius(bottle.cold_k));
}

std::string bound_words(const LearnedLook& look) {
  const Unit unit = *find_unit("mg/mL");
  if (look.over_mg_ml && look.under_mg_ml) return show_range(*look.over_mg_ml, *look.under_mg_ml, unit);
  if (look.over_mg_ml) {
    return fmt::format("over {}{}", show(*look.over_mg_ml, unit), look.weak ? ", or supersaturated" : "");
  }
  return look.under_mg_ml ? fmt::format("under {}", show(*look.under_mg_ml, unit)) : std::string("says nothing");
}

std::string lesson_words(const TubeLesson& lesson, const Library& library) {
  const double chance = lesson.surprise_chance();
  std::string out = chance < kSurprise  ? fmt::format("A surprise: it had a chance of {}.", in_hundred(chance))
                    : chance < kLikely ? fmt::format("Not the likeliest outcome ({}).", in_hundred(chance))
                                       : std::string("As expected.");
  if (lesson.before && lesson.after) {
    out += fmt::format(" {}: {} expected before, {} after it.", id_of(lesson.system.solvents.front(), library),
                       points(lesson.before->usefulness), points(lesson.after->usefulness));
  }
  if (lesson.after_oil < 1) {
    out += fmt::format(" The oil counts: that it comes again is taken to have a chance of {}.",
                       percent(1 - lesson.after_oil));
  }
  for (const LearnedLook& look : lesson.looks) out += disagreement_words(lesson, look);
  if (lesson.choice_before && lesson.choice_after) {
    out += *lesson.choice_before == *lesson.choice_after
               ? fmt::format(" The choice stayed {}.", id_of(*lesson.choice_after, library))
               : fmt::format(" The choice went from {} to {}.", id_of(*lesson.choice_before, library),
                             id_of(*lesson.choice_after, library));
  }
  if (lesson.doubtful) out += " Marked doubtful, so it moved little.";
  return out;
}

std::string left_out_words(const LeftOut& left_out) {
  return left_out.text.empty() ? "too little span between hot and cold" : left_out.text;
}

std::string pair_words(const ProposedPair& pair, const Library& library) {
  const std::string& good = id_of(pair.judged.system.solvents[0], library);
  const std::string& poor = id_of(pair.judged.system.solvents[1], library);
  const std::string cloud =
      pair.cloud_ml ? fmt::format("to the cloud, perhaps {}", shown(pair.cloud_ml, "mL")) : std::string("to the cloud");
  return fmt::format(
      "Dissolve {} {} at {}. Add hot {} by drops {}. Clear it with a few drops of {}, let it cool, then ice. Note "
      "both volumes. Chance that {} is strong enough and {} weak enough: {}; whether such pairs then work was too "
      "rare to test.",
      shown(pair.in_good), good, celsius(pair.hot_k), poor, cloud, good, good, poor, percent(pair.chance));
}

std::vector<JudgedSystem> systems_in_hand(const TrialPlan& plan) {
  std::vector<JudgedSystem> out;
  if (plan.pair) {
    out.push_back(plan.pair->judged);
    out.back().judgement.outcomes = plan.pair->cautions;
  }
  for (const ProposedTube& tube : plan.tubes) {
    out.push_back(plan.solvents[tube.solvent].judged);
    out.back().judgement.outcomes = tube.cautions;
  }
  return out;
}

}  // namespace firstcrop
