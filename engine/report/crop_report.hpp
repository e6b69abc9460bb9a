#pragma once

#include <string>
#include <vector>

#include "plan/crop_judgement.hpp"
#include "report/words.hpp"

namespace firstcrop {

[[nodiscard]] std::string crop_text(const SystemJudge& judge, const CropJudgement& judgement, const Style& style);
[[nodiscard]] std::string crop_json(const SystemJudge& judge, const CropJudgement& judgement, const std::string& version,
                                    const std::string& data_fingerprint, const std::vector<Finding>& findings);

}  // namespace firstcrop
