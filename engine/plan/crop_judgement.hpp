#pragma once

#include <optional>
#include <string>
#include <vector>

#include "quantity/quantity.hpp"
#include "ranking/system_judge.hpp"

namespace firstcrop {

/// What was weighed and read.
struct WeighedCrop {
  double crude_mg = 0;                              ///< above 0
  double crop_mg = 0;                               ///< above 0
  std::optional<WrittenQuantity> melting_range_k;   ///< of the crop; its high end is the clear point
  std::optional<System> system;                     ///< from which it came
  std::optional<double> volume_ml;                  ///< solvent in all, above 0; nothing: as little as dissolves it
};

/// What the crop is worth, and what to do next.
struct CropJudgement {
  WeighedCrop crop;
  Quantity recovery;                         ///< crop over crude
  std::optional<Quantity> pure_share;        ///< product in the crude, stated or from its melting range
  std::optional<Quantity> recovery_of_pure;  ///< product in the crop over product in the crude
  std::optional<Quantity> limit;             ///< recovery limit of the system at the volume taken
  std::optional<Quantity> purity;            ///< by mole, from the clear point
  std::optional<double> depression_k;
  std::optional<double> gain_k;              ///< clear point of the crop minus that of the crude
  std::vector<RuleOutcome> next;             ///< cautions, then advice, that look at the crop
  std::vector<std::string> missing;          ///< what could not be worked out, and for want of what
};

/// Judges a crop with the rules that look at `crop.` facts. A pair must have the better solvent first.
[[nodiscard]] CropJudgement judge_crop(const SystemJudge& judge, const WeighedCrop& crop);

}  // namespace firstcrop
