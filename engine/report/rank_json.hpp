#pragma once

#include <string>
#include <vector>

#include "ranking/rank.hpp"

namespace firstcrop {

/// The answer of `rank` for machines, format firstcrop/rank/1.
[[nodiscard]] std::string rank_json(const SystemJudge& judge, const Ranking& ranking,
                                    const std::string& version, const std::string& data_fingerprint,
                                    const std::vector<Finding>& findings);

}  // namespace firstcrop
