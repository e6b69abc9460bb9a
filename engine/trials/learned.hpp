#pragma once

#include <optional>
#include <string>
#include <vector>

#include "trials/next_tube.hpp"

namespace firstcrop {

/// One look at a tube: what was expected, what was seen, and what is believed now.
struct LearnedLook {
  enum class When { Cold, Hot, Cooled };
  When when = When::Cold;
  double temperature_k = 0;
  std::string seen;  ///< all, part, none; crystals, powder, oil, cloud, nothing
  std::optional<double> over_mg_ml;   ///< what was seen says that the solubility is over this,
  std::optional<double> under_mg_ml;  ///< and under this
  bool weak = false;                  ///< clear on cooling may be supersaturated
  Quantity before;                    ///< solubility [mg/mL], from the values and the tubes before this one
  Quantity now;                       ///< from all values and tubes
  double chance_before = 0;           ///< of what was seen, before it was
  double believed = 1;                ///< how far it was believed, 0 to 1, when all was taken in
  std::string against;                ///< what it contradicts, `tube 2, cold`; empty: the prediction, or nothing
};

/// What one tube of the file taught.
struct TubeLesson {
  std::string tube;
  System system;
  TubeSize size;
  bool doubtful = false;
  std::vector<LearnedLook> looks;
  std::optional<Expectation> before;  ///< of the solvent in the tube, where it may be tried alone
  std::optional<Expectation> after;   ///< when this tube had been read
  std::optional<SolventId> choice_before;
  std::optional<SolventId> choice_after;
  double after_oil = 1;  ///< chance that the oil which this tube showed stays away; 1 without oil
  std::vector<std::string> advice;  ///< what the rules say of such a tube

  /// The smallest chance that any of its looks had.
  [[nodiscard]] double surprise_chance() const;
};

/// Goes through the tubes of the file in their order. `solvents` are those that may be tried.
[[nodiscard]] std::vector<TubeLesson> lessons_of_tubes(const SystemJudge& judge,
                                                   const std::vector<TrialSolvent>& solvents);

}  // namespace firstcrop
