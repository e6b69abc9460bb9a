#pragma once

#include <cstddef>
#include <vector>

#include "facts/fact_value.hpp"

namespace firstcrop {

inline constexpr std::size_t kMostJointScores = 48;

/// Standard normal scores for the 64 scenarios: the same bytes every time. The joint columns have exactly
/// mean 0 and covariance I (up to rounding), so that a covariance built on them is reproduced; the extra
/// columns have mean 0, variance 1 and no correlation with any joint column, and little with one another. The
/// first column is the 64 middles of equally probable classes themselves; later ones lose a little of that
/// evenness to the condition.
class Scenarios {
 public:
  /// Throws Error where more than kMostJointScores joint columns are asked for.
  Scenarios(std::size_t joint_count, std::size_t extra_count);
  [[nodiscard]] const ScenarioValues& joint(std::size_t index) const { return joint_[index]; }
  [[nodiscard]] const ScenarioValues& extra(std::size_t index) const { return extra_[index]; }
  [[nodiscard]] std::size_t joint_count() const { return joint_.size(); }
  [[nodiscard]] std::size_t extra_count() const { return extra_.size(); }

 private:
  std::vector<ScenarioValues> joint_;
  std::vector<ScenarioValues> extra_;
};

}  // namespace firstcrop
