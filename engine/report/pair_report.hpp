#pragma once

#include <string>
#include <vector>

#include "ranking/pair_study.hpp"
#include "report/words.hpp"

namespace firstcrop {

/// The answer of `pair`: verdict first, then phases, boiling, drift, fire, reaction, what a solid adds, and what
/// instead.
[[nodiscard]] std::string pair_text(const SystemJudge& judge, const PairStudy& study, const Style& style);
[[nodiscard]] std::string pair_json(const SystemJudge& judge, const PairStudy& study, const std::string& version,
                                    const std::string& data_fingerprint, const std::vector<Finding>& findings);

/// `one liquid`, `two liquids`, `refused` or `try first`, and the sentence to it.
struct PairVerdict {
  std::string word;
  std::string sentence;
};
[[nodiscard]] PairVerdict verdict_on(const PairStudy& study, const Library& library);

}  // namespace firstcrop
