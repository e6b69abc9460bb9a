#pragma once

#include <vector>

#include "plan/bench_plan.hpp"

namespace firstcrop {

/// Whether a flag counts: from the probability on that makes a caution fire.
[[nodiscard]] bool holds(const JudgedSystem& judged, const char* fact, const RuleBook& book);

/// The steps of a run with amounts, temperatures and minutes, still without what the rules say at them.
[[nodiscard]] std::vector<BenchStep> make_steps(const SystemJudge& judge, const BenchPlan& plan, const Course& course,
                                                const Course::Plan& way);

/// Hands every advice and caution that fires to the step at which it bites; what holds always, and what belongs to
/// trouble, to the plan itself.
void place_outcomes(BenchPlan& plan);

}  // namespace firstcrop
