#include <algorithm>

#include <fmt/format.h>

#include "report/cautions_text.hpp"
#include "report/table.hpp"
#include "report/trials_words.hpp"

namespace firstcrop {
namespace {

// Tubes go on where the file ends.
std::size_t first_number(const Inquiry& inquiry) { return inquiry.file.trials.size() + 1; }

std::string card_of(const std::string& system, const std::string& take, const std::string& looks, std::size_t number) {
  std::string out = fmt::format("Tube {}   {}   take {}\n", number, system, take);
  out += wrapped(looks, 4, 4);
  out += "    weighed ________ mg    measured ________ mL    lot or bottle ____________________\n";
  out += "    cold    [ ] all   [ ] part   [ ] none         at ______ °C\n";
  out += "    hot     [ ] all   [ ] part   [ ] none         at ______ °C   [ ] at the boil\n";
  out += "    cooled  [ ] crystals  [ ] powder  [ ] oil  [ ] cloud  [ ] nothing      to ______ °C\n";
  out += "    [ ] scratched  [ ] seeded     colour ______________     remarks __________________________\n\n";
  return out;
}

std::string line_of(const std::string& system, std::size_t number) {
  return fmt::format("- {{tube: {}, system: {}, mass: __ mg, volume: __ mL, cold: __, hot: __, cooled: __}}\n", number,
                     system);
}

// How to go about a tube, then what can hurt while it is heated.
std::string mind_text(const SystemJudge& judge, const TrialPlan& plan) {
  const std::vector<JudgedSystem> systems = systems_in_hand(plan);
  if (systems.empty()) return {};
  std::string out = "Mind\n";
  std::vector<const RuleOutcome*> steps;
  for (const RuleOutcome& outcome : systems.front().judgement.outcomes) {
    if (outcome.kind == RuleKind::Advice) steps.push_back(&outcome);
  }
  std::stable_sort(steps.begin(), steps.end(), [](const RuleOutcome* left, const RuleOutcome* right) {
    return place_in_work(left->step) < place_in_work(right->step);
  });
  for (const RuleOutcome* step : steps) out += wrapped("- " + step->text, 2, 4);
  std::vector<const JudgedSystem*> pointers;
  for (const JudgedSystem& system : systems) pointers.push_back(&system);
  for (const MergedCaution& caution : merged_cautions(judge, pointers, CautionLevel::Note)) {
    const bool matters = caution.level != CautionLevel::Note || caution.step == "heating";
    if (matters) out += wrapped("- " + caution.text, 2, 4);
  }
  return out;
}

}  // namespace

std::string trial_card(const SystemJudge& judge, const TrialsAnswer& answer) {
  const Inquiry& inquiry = judge.inquiry();
  const Library& library = inquiry.knowledge->library;
  const TrialPlan& plan = answer.plan;
  std::string out = fmt::format("Trial card   {}\n", inquiry.solute.name);
  out += "by ____________________   date ______________   room ______ °C   bath ______ °C\n\n";
  std::string lines;
  std::size_t number = first_number(inquiry);
  if (plan.pair) {
    const System& pair = plan.pair->judged.system;
    const std::string names = name_without_ratio(pair, library);
    out += card_of(names, shown(plan.pair->in_good) + " of " + library.solvent(pair.solvents[0]).id,
                   pair_words(*plan.pair, library), number);
    out += fmt::format("    {} in all ________ mL     {} to the cloud ________ mL\n\n",
                       library.solvent(pair.solvents[0]).id, library.solvent(pair.solvents[1]).id);
    lines += line_of(fmt::format("\"{}@__:__\"", names), number++);
  }
  for (const ProposedTube& tube : plan.tubes) {
    const TrialSolvent& solvent = plan.solvents[tube.solvent];
    const std::string& id = library.solvent(solvent.id()).id;
    std::string take = shown(tube.size);
    if (tube.top_up) {
      take += fmt::format(", or {} more into tube {}", show(tube.top_up->volume_ml, *find_unit("mL")), tube.top_up->tube);
    }
    out += card_of(id, take, look_words(solvent), number);
    lines += line_of(id, number++);
  }
  out += mind_text(judge, plan);
  out += "\nFor the solute file, under `trials:`\n" + lines;
  return out;
}

}  // namespace firstcrop
