#pragma once

#include <bit>
#include <cstdint>
#include <optional>
#include <vector>

#include "rules/rule_book.hpp"

namespace firstcrop::detail {

[[nodiscard]] inline double share_of(std::uint64_t scenarios) {
  return static_cast<double>(std::popcount(scenarios)) / static_cast<double>(kScenarioCount);
}

/// How often a rule is judged on a system of so many solvents: once a component, or once; never where it is
/// for pairs and this is none.
[[nodiscard]] std::size_t times_judged(const Rule& rule, std::size_t component_count);

/// What a grade rule says, scenario by scenario; of two components the worse counts.
struct GradeRun {
  std::uint64_t weighed = 0;  ///< scenarios in which the rule applies, or may apply
  std::uint64_t judged = 0;   ///< those of them in which the grade is known
  bool is_certain = true;     ///< `certain` holds in all judged scenarios
  double certain = 1;
  ScenarioValues values{};    ///< where not certain; meaningful where judged
  std::size_t component = 0;  ///< the worse one, or the unknown one where nothing could be judged

  [[nodiscard]] double at(std::size_t scenario) const { return is_certain ? certain : values[scenario]; }
  /// Mean over the judged scenarios; nothing where there is none.
  [[nodiscard]] std::optional<double> mean() const;
};
void run_grade(const Rule& rule, const FactFrame& frame, Workspace& workspace, GradeRun& out);

/// Whether the condition of an exclusion, caution or advice holds, for one component; `when` counts with it.
struct ConditionRun {
  std::uint64_t truth = 0;
  std::uint64_t known = kAllScenarios;
  bool is_applicable = false;  ///< false where `when` is false in every scenario

  [[nodiscard]] double least_probability() const { return share_of(truth); }
  /// As if it held wherever it is unknown.
  [[nodiscard]] double largest_probability() const { return share_of(truth | ~known); }
};
[[nodiscard]] ConditionRun run_condition(const Rule& rule, const FactFrame& frame, std::size_t each,
                                         Workspace& workspace);
/// The word for it: an exclusion Fires, is Possible, Silent or Unknown; a caution or advice Fires, is Silent
/// or Unknown. NotApplicable where `when` is false.
[[nodiscard]] Outcome word_for(const ConditionRun& run, const Rule& rule, const VerdictLimits& limits);

/// The value of a derive rule; unknown with the reason where it has none.
[[nodiscard]] FactValue run_derive(const Rule& rule, const FactFrame& frame, std::size_t each,
                                   Workspace& workspace);
/// False where `when` is known to be false in every scenario.
[[nodiscard]] bool may_apply(const Rule& rule, const FactFrame& frame, std::size_t each,
                             Workspace& workspace);

/// The facts for want of which a rule cannot be judged on one component, each once.
[[nodiscard]] std::vector<FactReference> missing_facts(const Rule& rule, const FactFrame& frame,
                                                       std::size_t each, Workspace& workspace);

}  // namespace firstcrop::detail
