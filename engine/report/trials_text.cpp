#include <algorithm>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "report/cautions_text.hpp"
#include "report/table.hpp"
#include "report/trials_words.hpp"

namespace firstcrop {
namespace {

const char* word_of(LearnedLook::When when) {
  return when == LearnedLook::When::Cold ? "cold" : when == LearnedLook::When::Hot ? "hot" : "cooled";
}

std::string join_sentences(const std::vector<std::string>& texts) { return fmt::format("{}", fmt::join(texts, "; ")); }

std::string lesson_text(const TubeLesson& lesson, const Library& library) {
  std::string out =
      fmt::format("  tube {}: {}, {}\n", lesson.tube, spoken_name(lesson.system, library), shown(lesson.size));
  Table table({{"    look"}, {"at", true}, {"seen"}, {"that is"}, {"expected before"}, {"known now"}});
  for (const LearnedLook& look : lesson.looks) {
    table.add({fmt::format("    {}", word_of(look.when)), show(look.temperature_k, *find_unit("°C")), look.seen,
               bound_words(look), shown(look.before, "mg/mL"), shown(look.now, "mg/mL")});
  }
  out += table.to_text();
  out += wrapped(lesson_words(lesson, library), 4, 4);
  for (const std::string& advice : lesson.advice) out += wrapped(advice, 4, 6);
  return out;
}

std::string choice_text(const SystemJudge& judge, const TrialPlan& plan) {
  const Library& library = judge.inquiry().knowledge->library;
  const TrialSolvent& choice = plan.choice();
  return wrapped(
      fmt::format("Choice so far: {}{}, {} expected; chance that it works {}, that it is the best or within 5 points of "
                  "the best {}. Chance that any single solvent here works: {}.",
                  library.solvent(choice.id()).id, choice.tubed                            ? ""
                  : plan.advice == TrialAdvice::Confirm ? " (in no tube yet)"
                                                        : " (in no tube yet: confirm it in one before the flask)",
                  points(choice.expected.usefulness), percent(choice.expected.chance), percent(plan.best_or_close),
                  percent(plan.any_works)),
      0, 2);
}

std::string tube_text(const TrialPlan& plan, const ProposedTube& tube, const Library& library, std::size_t number) {
  const TrialSolvent& solvent = plan.solvents[tube.solvent];
  const std::string aim =
      is_to_confirm(plan, tube) ? "to confirm the choice" : fmt::format("worth {}", about_points(tube.worth()));
  std::string out =
      fmt::format("\n  {}  {}, {}; {}\n", number, library.solvent(solvent.id()).id, shown(tube.size), aim);
  out += wrapped(look_words(solvent), 5, 5);
  if (tube.top_up) {
    out += wrapped(fmt::format("no need to weigh: add {} to tube {}",
                               show(tube.top_up->volume_ml, *find_unit("mL")), tube.top_up->tube),
                   5, 5);
  }
  Table table({{"     if it"}, {"in 100", true}, {"then"}});
  for (const TubeOutcome& outcome : tube.outcomes) {
    table.add({"     " + sight_words(outcome.sight, solvent), fmt::format("{:.0f}", outcome.chance * 100),
               then_words(plan, outcome, library)});
    if (number == 1 && !outcome.advice.empty()) table.remark(join_sentences(outcome.advice));
  }
  return out + table.to_text(9);
}

std::string pair_text(const ProposedPair& pair, const Library& library) {
  return fmt::format("\n  {}, {} of {}\n", spoken_name(pair.judged.system, library), shown(pair.in_good),
                     library.solvent(pair.judged.system.solvents[0]).id) +
         wrapped(pair_words(pair, library), 5, 5);
}

std::string handling_text(const SystemJudge& judge, const TrialPlan& plan, const Style& style) {
  constexpr std::size_t kIndent = 16;
  const std::vector<JudgedSystem> systems = systems_in_hand(plan);
  if (systems.empty()) return {};
  std::vector<const RuleOutcome*> steps;
  for (const RuleOutcome& outcome : systems.front().judgement.outcomes) {
    if (outcome.kind == RuleKind::Advice) steps.push_back(&outcome);
  }
  std::stable_sort(steps.begin(), steps.end(), [](const RuleOutcome* left, const RuleOutcome* right) {
    return place_in_work(left->step) < place_in_work(right->step);
  });
  std::string out;
  if (!steps.empty()) out += "\n" + style.strong("How") + "\n";
  for (const RuleOutcome* step : steps) out += indented("  " + step->step, step->text, kIndent);
  std::vector<const JudgedSystem*> pointers;
  for (const JudgedSystem& system : systems) pointers.push_back(&system);
  const std::string cautions = cautions_text(judge, pointers, CautionLevel::Note, style);
  if (!cautions.empty()) out += "\n" + style.strong("Cautions") + "\n" + cautions;
  return out;
}

std::string left_out_text(const SystemJudge& judge, const TrialPlan& plan) {
  const Library& library = judge.inquiry().knowledge->library;
  constexpr std::size_t kIndent = 26;
  std::string out;
  for (const LeftOut& one : plan.left_out) {
    out += indented("  " + spoken_name(one.system, library) + "  ", left_out_words(one), kIndent);
  }
  for (const NotJudgedSystem& one : plan.not_judged) {
    out += indented("  " + spoken_name(one.system, library) + "  ", "the solubility model does not know it", kIndent);
  }
  return out.empty() ? out : "\nNever proposed\n" + out;
}

}  // namespace

std::string trials_text(const SystemJudge& judge, const TrialsAnswer& answer, const Style& style) {
  const Inquiry& inquiry = judge.inquiry();
  const Library& library = inquiry.knowledge->library;
  const TrialPlan& plan = answer.plan;
  std::string out = style.strong(inquiry.solute.name) + "\n";
  for (const std::string& line : heading(inquiry)) out += wrapped(line, 2, 2);
  if (!answer.lessons.empty()) {
    out += "\n" + style.strong("Learned so far") + "\n";
    for (const TubeLesson& lesson : answer.lessons) out += lesson_text(lesson, library);
  }
  out += "\n" + style.strong(wrapped(trial_headline(judge, plan), 0, 2));
  if (plan.advice == TrialAdvice::Refused) return out;
  if (!plan.solvents.empty()) out += choice_text(judge, plan);
  if (plan.pair) out += pair_text(*plan.pair, library);
  for (std::size_t i = 0; i < plan.tubes.size(); ++i) out += tube_text(plan, plan.tubes[i], library, i + 1);
  out += handling_text(judge, plan, style);
  out += left_out_text(judge, plan);
  out += "\n" +
         wrapped("A point is a hundredth of an ideal solvent: all comes back, from a workable volume. What a tube is "
                 "worth is half of what the model promises, for half came true. Worth counts solubility alone: "
                 "`firstcrop rank` weighs health, drying and the other rules as well.",
                 0, 0);
  return out;
}

}  // namespace firstcrop
