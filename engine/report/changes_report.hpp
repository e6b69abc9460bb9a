#pragma once

#include <string>
#include <vector>

#include "ranking/changes.hpp"
#include "report/json_tools.hpp"
#include "report/words.hpp"

namespace firstcrop::report {

/// `collected at -10 °C instead of 5 °C (colder bath)`: what is made otherwise, without the verdict.
[[nodiscard]] std::string words_of(const Change& change, const SystemJudge& judge, const JudgedSystem& judged);
/// One line a change, with the verdict that it leads to; where there is none, what was tried.
[[nodiscard]] std::string changes_text(const std::vector<Change>& changes, const SystemJudge& judge,
                                       const JudgedSystem& judged, const Style& style);
[[nodiscard]] Json changes_json(const std::vector<Change>& changes, const SystemJudge& judge,
                                const JudgedSystem& judged);

/// Which kind of answer the verdict is, and which measurement would settle what is missing. Empty for a system that
/// rules speak for.
[[nodiscard]] std::string standing_text(const StandingAnswer& answer, const SystemJudge& judge);
[[nodiscard]] Json standing_json(const StandingAnswer& answer);

/// What a person can measure or write down so that a fact becomes known.
[[nodiscard]] std::string what_settles(const std::string& fact);

}  // namespace firstcrop::report
