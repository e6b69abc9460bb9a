#pragma once

#include <string>
#include <vector>

#include "ranking/system_judge.hpp"
#include "report/words.hpp"

namespace firstcrop {

/// A caution with all solvents that it names.
struct MergedCaution {
  CautionLevel level = CautionLevel::Note;
  std::string step;
  std::string text;
};

/// Cautions of the systems, each once, gravest first. Those below `least` are left out, but for what holds always.
/// `one_line_a_rule`: what differs in a parenthesis only (flash points) is told in one line, the parenthesis behind each
/// name.
[[nodiscard]] std::vector<MergedCaution> merged_cautions(const SystemJudge& judge,
                                                         const std::vector<const JudgedSystem*>& systems,
                                                         CautionLevel least, bool one_line_a_rule = false);

/// Cautions of the systems shown, gravest first, each once with all solvents that it names, and the step
/// where it bites. Those below `least` are left out.
[[nodiscard]] std::string cautions_text(const SystemJudge& judge,
                                        const std::vector<const JudgedSystem*>& systems, CautionLevel least,
                                        const Style& style, bool one_line_a_rule = false);

}  // namespace firstcrop
