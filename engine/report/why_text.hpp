#pragma once

#include <optional>
#include <string>
#include <vector>

#include "ranking/changes.hpp"
#include "ranking/rank.hpp"
#include "report/words.hpp"

namespace firstcrop {

/// What `why` answers: the system, what would change its verdict, and another system to hold against it.
struct WhyAnswer {
  JudgedSystem judged;
  std::vector<Change> changes;
  std::optional<JudgedSystem> against;
};

/// The answer of `why`: verdict first, which kind of answer it is and what would change it, then rule by rule with
/// numbers, origin and source.
[[nodiscard]] std::string why_text(const SystemJudge& judge, const WhyAnswer& answer, const Style& style);
[[nodiscard]] std::string why_json(const SystemJudge& judge, const WhyAnswer& answer, const std::string& version,
                                   const std::string& data_fingerprint, const std::vector<Finding>& findings);

/// Rules on which two systems differ by more than a tenth of a grade, or by speaking and being silent.
struct Difference {
  std::string rule;
  const RuleOutcome* first = nullptr;
  const RuleOutcome* second = nullptr;
};
[[nodiscard]] std::vector<Difference> differences(const JudgedSystem& first, const JudgedSystem& second);

}  // namespace firstcrop
