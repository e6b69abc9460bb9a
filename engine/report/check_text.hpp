#pragma once

#include <string>
#include <vector>

#include "base/finding.hpp"
#include "rules/rule_cases.hpp"

namespace firstcrop {

/// The answer of `check` for people: every finding, then one line of summary.
[[nodiscard]] std::string check_text(const std::vector<Finding>& findings, const CaseCounts& cases,
                                     const std::vector<std::string>& checked);
[[nodiscard]] std::string check_json(const std::vector<Finding>& findings, const CaseCounts& cases,
                                     const std::string& version);

}  // namespace firstcrop
