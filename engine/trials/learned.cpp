#include "trials/learned.hpp"

#include <algorithm>

#include "systems/system_solubility.hpp"

namespace firstcrop {
namespace {

std::string word_of(Dissolved seen) {
  return seen == Dissolved::All ? "all" : seen == Dissolved::Part ? "part" : "none";
}

std::string word_of(OnCooling seen) {
  switch (seen) {
    case OnCooling::Crystals:
      return "crystals";
    case OnCooling::Powder:
      return "powder";
    case OnCooling::Oil:
      return "oil";
    case OnCooling::Cloud:
      return "cloud";
    case OnCooling::Nothing:
      break;
  }
  return "nothing";
}

LearnedLook look_of(LearnedLook::When when, double temperature_k, Dissolved seen, double ratio) {
  LearnedLook out;
  out.when = when;
  out.temperature_k = temperature_k;
  out.seen = word_of(seen);
  if (seen != Dissolved::None) out.over_mg_ml = seen == Dissolved::All ? ratio : kUnnoticedShare * ratio;
  if (seen != Dissolved::All) out.under_mg_ml = seen == Dissolved::Part ? ratio : kUnnoticedShare * ratio;
  return out;
}

std::vector<LearnedLook> looks_of(const Tube& tube) {
  const double ratio = tube.mass_mg / tube.volume_ml;
  std::vector<LearnedLook> out;
  if (tube.cold) out.push_back(look_of(LearnedLook::When::Cold, tube.cold_temperature_k, *tube.cold, ratio));
  if (tube.hot) out.push_back(look_of(LearnedLook::When::Hot, tube.hot_temperature_k, *tube.hot, ratio));
  const bool was_clear = tube.hot == Dissolved::All || tube.cold == Dissolved::All;
  if (tube.cooled) {
    LearnedLook look;
    look.when = LearnedLook::When::Cooled;
    look.temperature_k = tube.cooled_to_k;
    look.seen = word_of(*tube.cooled);
    if (*tube.cooled != OnCooling::Nothing) {
      look.under_mg_ml = ratio;
    } else if (was_clear) {
      look.over_mg_ml = ratio;
      look.weak = true;
    }
    out.push_back(std::move(look));
  }
  return out;
}

double share_within(const NumberColumn& column, const LearnedLook& look) {
  std::size_t within = 0;
  for (std::size_t k = 0; k < kScenarioCount; ++k) {
    const double value = column.at(k);
    if (value > look.over_mg_ml.value_or(0) && value <= look.under_mg_ml.value_or(1e9)) ++within;
  }
  return static_cast<double>(within) / static_cast<double>(kScenarioCount);
}

Quantity told(const NumberColumn& column, Origin origin) {
  Quantity out = summary(FactValue{column, origin, {}}, dimension::kConcentration).value_or(Quantity{});
  out.origin = origin;
  return out;
}

void compare(LearnedLook& look, const System& system, const Inquiry& before, const Inquiry& now) {
  const NumberColumn temperature = NumberColumn::of(look.temperature_k);
  const auto solubility_before = SystemSolubility::create(before, system);
  const auto solubility_now = SystemSolubility::create(now, system);
  if (!solubility_before || !solubility_now) return;
  const NumberColumn column = solubility_before->at(temperature);
  look.before = told(column, Origin::Predicted);
  look.now = told(solubility_now->at(temperature), Origin::Measured);
  look.chance_before = share_within(column, look);
}

void add_belief(LearnedLook& look, const Tube& tube, const Posterior& posterior) {
  if (!posterior.converged) return;
  const char* word = look.when == LearnedLook::When::Cold  ? "cold"
                     : look.when == LearnedLook::When::Hot ? "hot"
                                                           : "cooled";
  const std::string label = tube.label + ", " + word;
  for (const ObservationReport& report : posterior.reports) {
    if (report.place != tube.place || report.label != label) continue;
    look.believed = report.weight;
    if (report.contradicts) look.against = posterior.reports[*report.contradicts].label;
  }
}

struct Standing {
  std::vector<Expectation> expected;
  std::optional<std::size_t> choice;
};

bool is_oil(const Tube& tube) { return tube.cooled == OnCooling::Oil || tube.cooled == OnCooling::Cloud; }

// Whether one of the tubes that are taken in oiled in this solvent alone.
bool oiled(const Inquiry& inquiry, SolventId solvent) {
  const auto index = inquiry.knowledge->in_model(solvent);
  return std::any_of(inquiry.tubes.begin(), inquiry.tubes.end(), [&index](const Tube& tube) {
    return is_oil(tube) && tube.system.size() == 1 && index && tube.system.front().solvent == *index;
  });
}

// An oil counts from the tube on that showed it.
Standing standing_of(const Inquiry& inquiry, const std::vector<TrialSolvent>& solvents) {
  std::vector<Bottle> bottles;
  for (std::size_t i = 0; i < solvents.size(); ++i) {
    bottles.push_back(solvents[i].bottle);
    bottles.back().in_state = i;
    if (!oiled(inquiry, solvents[i].id())) bottles.back().after_oil = 1;
  }
  Standing out;
  out.expected = expectations(state_of(inquiry.posterior.state, *inquiry.knowledge, solvents), bottles);
  for (std::size_t i = 0; i < out.expected.size(); ++i) {
    if (!out.choice || out.expected[i].usefulness > out.expected[*out.choice].usefulness) out.choice = i;
  }
  return out;
}

std::vector<std::string> advice_on(const SystemJudge& judge, const Tube& tube, const System& system) {
  JudgedSystem judged = judge.judge(system);
  const auto set = [&](const char* fact, FactValue value) {
    judged.frame.set(judge.catalogue().find(fact).value(), std::move(value));
  };
  const auto text = [](std::string word) { return FactValue{std::move(word), Origin::Given, {}}; };
  set("trial.ratio", {NumberColumn::of(tube.volume_ml / tube.mass_mg), Origin::Given, {}});
  if (tube.cold) set("trial.cold", text(word_of(*tube.cold)));
  if (tube.hot) set("trial.hot", text(word_of(*tube.hot)));
  if (tube.cooled) set("trial.cooled", text(word_of(*tube.cooled)));
  judge.explain(judged);
  return what_rules_say_of_outcome(judged);
}

const Trial* trial_of(const Inquiry& inquiry, const Tube& tube) {
  const auto found = std::find_if(inquiry.file.trials.begin(), inquiry.file.trials.end(),
                                  [&tube](const Trial& trial) {
                                    return trial.place.line == tube.place && tube.label == "tube " + trial.tube;
                                  });
  return found == inquiry.file.trials.end() ? nullptr : &*found;
}

}  // namespace

double TubeLesson::surprise_chance() const {
  double out = 1;
  for (const LearnedLook& look : looks) {
    if (look.over_mg_ml || look.under_mg_ml) out = std::min(out, look.chance_before);
  }
  return out;
}

std::vector<TubeLesson> lessons_of_tubes(const SystemJudge& judge, const std::vector<TrialSolvent>& solvents) {
  const Inquiry& now = judge.inquiry();
  const Library& library = now.knowledge->library;
  std::vector<TubeLesson> out;
  if (now.tubes.empty()) return out;
  Inquiry before = with_first_tubes(now, 0);
  Standing standing = standing_of(before, solvents);
  for (std::size_t i = 0; i < now.tubes.size(); ++i) {
    const Tube& tube = now.tubes[i];
    const Trial* trial = trial_of(now, tube);
    Inquiry after = i + 1 < now.tubes.size() ? with_first_tubes(now, i + 1) : now;
    Standing next = standing_of(after, solvents);
    if (trial != nullptr) {
      TubeLesson lesson;
      lesson.tube = trial->tube;
      lesson.system = parse_system(trial->system.text, library).system.value().system;
      lesson.size = {tube.mass_mg, tube.volume_ml};
      lesson.doubtful = tube.doubtful;
      lesson.looks = looks_of(tube);
      for (LearnedLook& look : lesson.looks) {
        compare(look, lesson.system, before, now);
        add_belief(look, tube, now.posterior);
      }
      for (std::size_t s = 0; s < solvents.size(); ++s) {
        if (!(solvents[s].judged.system == lesson.system)) continue;
        lesson.before = standing.expected[s];
        lesson.after = next.expected[s];
        if (is_oil(tube)) lesson.after_oil = solvents[s].bottle.after_oil;
      }
      if (standing.choice) lesson.choice_before = solvents[*standing.choice].id();
      if (next.choice) lesson.choice_after = solvents[*next.choice].id();
      lesson.advice = advice_on(judge, tube, judge.with_good_first(lesson.system));
      out.push_back(std::move(lesson));
    }
    before = std::move(after);
    standing = std::move(next);
  }
  return out;
}

}  // namespace firstcrop
