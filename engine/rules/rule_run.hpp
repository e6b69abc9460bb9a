#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "rules/rule_book.hpp"

namespace firstcrop::detail {

/// What the condition `when` of a rule says of one component.
struct Applies {
  std::uint64_t truth = kAllScenarios;
  std::uint64_t known = kAllScenarios;
  [[nodiscard]] bool never() const { return known == kAllScenarios && truth == 0; }
  [[nodiscard]] bool unknown() const { return truth == 0 && known != kAllScenarios; }
};
[[nodiscard]] Applies applies(const Rule& rule, const FactFrame& frame, std::size_t each,
                              Workspace& workspace);

/// How often a rule is judged on a system of so many solvents; 0 where its scope is pairs and this is none.
[[nodiscard]] std::size_t times_judged(const Rule& rule, std::size_t component_count);

/// The grade of a rule in every scenario, the worse component where it is judged twice.
struct GradeRun {
  bool applicable = false;
  std::uint64_t weighed = 0;  ///< scenarios in which the rule applies
  std::uint64_t known = 0;    ///< scenarios in which a grade is known
  NumberColumn grade;         ///< certain or spread; meaningful where known
  std::size_t component = 0;  ///< the worse one
  std::vector<FactReference> missing;
  /// Mean over the known scenarios; nothing if none is.
  [[nodiscard]] std::optional<double> mean() const;
};
[[nodiscard]] GradeRun run_grade(const Rule& rule, const FactFrame& frame, Workspace& workspace);

/// The condition of an exclusion, caution or advice for one component.
struct ConditionRun {
  bool applicable = false;
  std::optional<double> probability;  ///< nothing: unknown
  bool partly_unknown = false;
  std::vector<FactReference> missing;
};
[[nodiscard]] ConditionRun run_condition(const Rule& rule, const FactFrame& frame, std::size_t each,
                                         Workspace& workspace);

}  // namespace firstcrop::detail
