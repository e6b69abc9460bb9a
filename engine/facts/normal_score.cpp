#include "facts/normal_score.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace firstcrop {

// By Newton's method on the error function.
double normal_score(double probability) {
  double score = 0;
  for (int step = 0; step < 100; ++step) {
    const double density = std::exp(-score * score / 2) / std::sqrt(2 * std::numbers::pi);
    const double excess = std::erfc(-score / std::numbers::sqrt2) / 2 - probability;
    const double change = std::clamp(excess / density, -1.0, 1.0);
    score -= change;
    if (std::abs(change) < 1e-15) break;
  }
  return score;
}

}  // namespace firstcrop
