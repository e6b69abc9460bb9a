#pragma once

#include <string>
#include <vector>

#include "ranking/rank.hpp"
#include "report/words.hpp"

namespace firstcrop {

/// The answer of `why`: verdict first, then rule by rule with numbers, origin and source; `against` may be
/// null.
[[nodiscard]] std::string why_text(const SystemJudge& judge, const JudgedSystem& judged,
                                   const JudgedSystem* against, const Style& style);
[[nodiscard]] std::string why_json(const SystemJudge& judge, const JudgedSystem& judged,
                                   const JudgedSystem* against, const std::string& version,
                                   const std::string& data_fingerprint, const std::vector<Finding>& findings);

/// Rules on which two systems differ by more than a tenth of a grade, or by speaking and being silent.
struct Difference {
  std::string rule;
  const RuleOutcome* first = nullptr;
  const RuleOutcome* second = nullptr;
};
[[nodiscard]] std::vector<Difference> differences(const JudgedSystem& first, const JudgedSystem& second);

}  // namespace firstcrop
