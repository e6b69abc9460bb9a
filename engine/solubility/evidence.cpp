#include "solubility/evidence.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace firstcrop {
namespace {

constexpr double kBelievedSurprise = 2.0;

// A truncated normal narrower than this share of its variance is a numerical accident.
constexpr double kSmallestVarianceShare = 1e-6;

double density(double z) {
  return std::isfinite(z) ? std::exp(-0.5 * z * z) / std::sqrt(2.0 * std::numbers::pi) : 0.0;
}

double density_moment(double z) {
  return std::isfinite(z) ? z * density(z) : 0.0;
}

double upper_tail(double z) {
  return 0.5 * std::erfc(z / std::numbers::sqrt2);
}

// Differences of tails, taken on the side where they are small, keep their digits.
double probability_between(double low, double high) {
  return low > 0 ? upper_tail(low) - upper_tail(high) : upper_tail(-high) - upper_tail(-low);
}

}  // namespace

Judged judge_value(Belief before, double value, double noise_variance) {
  const double residual = value - before.mean;
  const double whole = before.variance + noise_variance;
  Judged judged;
  judged.surprise = residual / std::sqrt(whole);
  const double believed = residual / kBelievedSurprise;
  judged.noise_variance = std::max(whole, believed * believed) - before.variance;
  judged.weight = noise_variance / judged.noise_variance;
  const double gain = before.variance / (before.variance + judged.noise_variance);
  judged.belief = {before.mean + gain * residual, before.variance * (1.0 - gain)};
  return judged;
}

Judged judge_interval(Belief before, double low, double high, double noise_variance, double error_chance) {
  const double sd = std::sqrt(before.variance + noise_variance);
  const double a = (low - before.mean) / sd;
  const double b = (high - before.mean) / sd;
  const double right = (1.0 - error_chance) * std::max(probability_between(a, b), 0.0);
  const double whole = right + error_chance;
  const double share = (1.0 - error_chance) / whole;
  const double first_moment = share * (density(a) - density(b));
  const double second_moment = 1.0 + share * (density_moment(a) - density_moment(b));
  const double narrowed = std::max(second_moment - first_moment * first_moment, kSmallestVarianceShare);

  Judged judged;
  judged.noise_variance = noise_variance;
  judged.weight = right / whole;
  judged.surprise = a > 0 ? a : (b < 0 ? b : 0.0);
  const double gain = before.variance / sd;
  judged.belief = {before.mean + gain * first_moment, before.variance - gain * gain * (1.0 - narrowed)};
  return judged;
}

}  // namespace firstcrop
