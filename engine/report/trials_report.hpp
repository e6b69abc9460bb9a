#pragma once

#include <string>
#include <vector>

#include "report/words.hpp"
#include "trials/learned.hpp"

namespace firstcrop {

/// All that `trials` has to say.
struct TrialsAnswer {
  TrialPlan plan;
  std::vector<TubeLesson> lessons;
};

/// What the tubes taught, what to try next and what it would decide, when to stop, and how to handle a tube.
[[nodiscard]] std::string trials_text(const SystemJudge& judge, const TrialsAnswer& answer, const Style& style);
[[nodiscard]] std::string trials_json(const SystemJudge& judge, const TrialsAnswer& answer,
                                      const std::string& version, const std::string& data_fingerprint,
                                      const std::vector<Finding>& findings);
/// A card to print, to be filled in at the bench and copied into the solute file.
[[nodiscard]] std::string trial_card(const SystemJudge& judge, const TrialsAnswer& answer);

}  // namespace firstcrop
