#pragma once

#include <optional>
#include <string>

#include "base/finding.hpp"
#include "phase/unifac_parameters.hpp"

namespace firstcrop {

/// Reads `solvents/group-contributions.yaml`. Throws Error where the file cannot be read; all that is wrong
/// inside it is a finding at its line, and then there is no value.
[[nodiscard]] std::optional<UnifacParameters> load_group_contributions(const std::string& path,
                                                                       Findings& findings);

/// The same from a text; `path` is for the findings.
[[nodiscard]] std::optional<UnifacParameters> read_group_contributions(std::string path, std::string text,
                                                                       Findings& findings);

}  // namespace firstcrop
