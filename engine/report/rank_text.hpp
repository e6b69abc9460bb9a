#pragma once

#include <string>

#include "ranking/rank.hpp"
#include "report/words.hpp"

namespace firstcrop {

/// The answer of `rank` for people.
[[nodiscard]] std::string rank_text(const SystemJudge& judge, const Ranking& ranking, const Style& style);

/// Cautions of the systems shown, gravest first, each once, with the step where it bites.
[[nodiscard]] std::string cautions_text(const std::vector<const JudgedSystem*>& systems, CautionLevel least,
                                        const Style& style);

}  // namespace firstcrop
