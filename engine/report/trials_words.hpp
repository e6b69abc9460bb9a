#pragma once

#include <string>
#include <vector>

#include "report/trials_report.hpp"

namespace firstcrop {

/// `3 points`, `1 point`, `under 1 point`: usefulness in hundredths.
[[nodiscard]] std::string points(double usefulness);
/// As above with `about` before a number.
[[nodiscard]] std::string about_points(double usefulness);
/// What to do next, in a sentence.
[[nodiscard]] std::string trial_headline(const SystemJudge& judge, const TrialPlan& plan);
/// `50 mg in 0.50 mL`
[[nodiscard]] std::string shown(const TubeSize& size);
/// `dissolves hot, crystals in ice`, or `on cooling` where the last look is warmer than ice
[[nodiscard]] std::string sight_words(TubeSight sight, const TrialSolvent& solvent);
/// Whether this tube is to confirm the choice, whatever it is worth.
[[nodiscard]] bool is_to_confirm(const TrialPlan& plan, const ProposedTube& tube);
/// Which solvent is the choice after an outcome, and how useful it is then expected to be.
[[nodiscard]] std::string then_words(const TrialPlan& plan, const TubeOutcome& outcome, const Library& library);
/// At which temperatures a tube is looked at.
[[nodiscard]] std::string look_words(const TrialSolvent& solvent);
/// What a look says about the solubility: `10-50 mg/mL`, `over 50 mg/mL`.
[[nodiscard]] std::string bound_words(const LearnedLook& look);
/// Whether the tube was a surprise, and what became of its solvent and of the choice.
[[nodiscard]] std::string lesson_words(const TubeLesson& lesson, const Library& library);
/// Why a solvent is not to be tried.
[[nodiscard]] std::string left_out_words(const LeftOut& left_out);
/// The systems to handle, with nothing but what a tube of them asks for.
[[nodiscard]] std::vector<JudgedSystem> systems_in_hand(const TrialPlan& plan);
/// How a pair is tried.
[[nodiscard]] std::string pair_words(const ProposedPair& pair, const Library& library);

}  // namespace firstcrop
