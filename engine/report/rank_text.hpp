#pragma once

#include <string>

#include "ranking/rank.hpp"
#include "report/words.hpp"

namespace firstcrop {

/// The answer of `rank` for people.
[[nodiscard]] std::string rank_text(const SystemJudge& judge, const Ranking& ranking, const Style& style);

}  // namespace firstcrop
