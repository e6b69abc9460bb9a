#include "facts/scenarios.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <span>
#include <utility>

#include <fmt/format.h>

#include "base/error.hpp"
#include "facts/normal_score.hpp"
#include "facts/split_mix.hpp"

namespace firstcrop {
namespace {

constexpr double kCount = static_cast<double>(kScenarioCount);

// The middles of 64 equally probable classes, ascending and exactly symmetric.
ScenarioValues class_middles() {
  ScenarioValues out{};
  for (std::size_t i = 0; i < kScenarioCount / 2; ++i) {
    out[i] = normal_score((static_cast<double>(i) + 0.5) / kCount);
    out[kScenarioCount - 1 - i] = -out[i];
  }
  return out;
}

double product(const ScenarioValues& left, const ScenarioValues& right) {
  double out = 0;
  for (std::size_t i = 0; i < kScenarioCount; ++i) out += left[i] * right[i];
  return out;
}

// Takes the mean and every earlier column out, and scales to variance 1. Twice, for rounding: once is not
// enough near the end of the room that 64 values offer (W. Hoffmann, Computing 1989, 41, 335).
void make_independent(ScenarioValues& column, std::span<const ScenarioValues> earlier) {
  for (int pass = 0; pass < 2; ++pass) {
    double mean = 0;
    for (const double value : column) mean += value;
    mean /= kCount;
    for (double& value : column) value -= mean;
    for (const ScenarioValues& other : earlier) {
      const double share = product(column, other) / kCount;
      for (std::size_t i = 0; i < kScenarioCount; ++i) column[i] -= share * other[i];
    }
    const double deviation = std::sqrt(product(column, column) / kCount);
    for (double& value : column) value /= deviation;
  }
}

}  // namespace

// A Latin hypercube (M. D. McKay, R. J. Beckman, W. J. Conover, Technometrics 1979, 21, 239): each column
// holds the same 64 normal scores in an order of its own, then the moments are made exact.
Scenarios::Scenarios(std::size_t joint_count, std::size_t extra_count) {
  if (joint_count > kMostJointScores) {
    throw Error(fmt::format("at most {} joint scores can be drawn, not {}", kMostJointScores, joint_count));
  }
  SplitMix random;
  const ScenarioValues middles = class_middles();
  const auto shuffled = [&random, &middles] {
    ScenarioValues column = middles;
    for (std::size_t i = kScenarioCount - 1; i > 0; --i) std::swap(column[i], column[random.below(i + 1)]);
    return column;
  };
  joint_.reserve(joint_count);
  for (std::size_t i = 0; i < joint_count; ++i) {
    ScenarioValues column = shuffled();
    make_independent(column, joint_);
    joint_.push_back(column);
  }
  extra_.reserve(extra_count);
  for (std::size_t i = 0; i < extra_count; ++i) {
    ScenarioValues column = shuffled();
    make_independent(column, joint_);
    extra_.push_back(column);
  }
}

}  // namespace firstcrop
