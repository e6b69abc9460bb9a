#include "solubility/evidence.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>

using namespace firstcrop;

namespace {

constexpr double kInfinity = std::numeric_limits<double>::infinity();

// Mean and variance of prior times likelihood by summing over a fine grid: the reading is right with 0.97 and
// then lies in the interval, or it is wrong and says nothing.
Belief by_summing(Belief before, double low, double high, double noise_variance, double error_chance) {
  double weight = 0;
  double first = 0;
  double second = 0;
  const double sd = std::sqrt(before.variance);
  const auto below = [](double z) { return 0.5 * std::erfc(-z / std::sqrt(2.0)); };
  for (int i = -40000; i <= 40000; ++i) {
    const double x = before.mean + sd * i / 4000.0;
    const double z = (x - before.mean) / sd;
    const double noise = std::sqrt(noise_variance);
    const double inside = below((high - x) / noise) - below((low - x) / noise);
    const double w = std::exp(-0.5 * z * z) * ((1 - error_chance) * inside + error_chance);
    weight += w;
    first += w * x;
    second += w * x * x;
  }
  const double mean = first / weight;
  return {mean, second / weight - mean * mean};
}

}  // namespace

TEST_CASE("moments after an interval are those of prior times likelihood") {
  const Belief before{-1.0, 0.49};
  const struct {
    double low, high;
  } intervals[] = {{-1.2, kInfinity}, {-kInfinity, -1.5}, {-1.7, -1.0},
                   {0.5, kInfinity},  {-kInfinity, -2.6}, {0.8, 1.4}};
  for (const auto& interval : intervals) {
    const double low = interval.low;
    const double high = interval.high;
    CAPTURE(low);
    CAPTURE(high);
    const Belief exact = by_summing(before, low, high, 0.0064, 0.03);
    const Judged judged = judge_interval(before, low, high, 0.0064, 0.03);
    CHECK(judged.belief.mean == doctest::Approx(exact.mean).epsilon(1e-6));
    CHECK(judged.belief.variance == doctest::Approx(exact.variance).epsilon(1e-6));
  }
}

TEST_CASE("an interval that holds everything teaches nothing") {
  const Judged judged = judge_interval({-1.0, 0.5}, -kInfinity, kInfinity, 0.0064, 0.03);
  CHECK(judged.belief.mean == doctest::Approx(-1.0));
  CHECK(judged.belief.variance == doctest::Approx(0.5));
  CHECK(judged.surprise == doctest::Approx(0.0));
}

TEST_CASE("a surprising interval widens, an impossible one is not believed") {
  const Judged surprising = judge_interval({-1.0, 0.25}, 0.1, kInfinity, 0.0064, 0.03);
  CHECK(surprising.belief.variance > 0.25);
  CHECK(surprising.surprise > 2);
  const Judged impossible = judge_interval({-1.0, 0.25}, 30.0, kInfinity, 0.0064, 0.03);
  CHECK(impossible.weight < 1e-6);
  CHECK(impossible.belief.mean == doctest::Approx(-1.0));
  CHECK(impossible.belief.variance == doctest::Approx(0.25));
}

TEST_CASE("surprise is counted from the nearest edge, with its sign") {
  CHECK(judge_interval({0.0, 1.0}, -1.0, 1.0, 1e-9, 0.03).surprise == doctest::Approx(0.0));
  CHECK(judge_interval({0.0, 1.0}, 1.5, 3.0, 1e-9, 0.03).surprise == doctest::Approx(1.5));
  CHECK(judge_interval({0.0, 1.0}, -3.0, -1.5, 1e-9, 0.03).surprise == doctest::Approx(-1.5));
}

TEST_CASE("an ordinary value is Gaussian evidence") {
  const Judged judged = judge_value({-1.0, 0.3}, -0.6, 0.1);
  CHECK(judged.weight == doctest::Approx(1.0));
  CHECK(judged.noise_variance == doctest::Approx(0.1));
  CHECK(judged.belief.mean == doctest::Approx(-1.0 + 0.75 * 0.4));
  CHECK(judged.belief.variance == doctest::Approx(0.3 * 0.1 / 0.4));
}

TEST_CASE("a value beyond 2 sd is put at 2 sd") {
  const double z = 5.0;
  const Judged judged = judge_value({0.0, 0.3}, z * std::sqrt(0.4), 0.1);
  CHECK(judged.surprise == doctest::Approx(z));
  CHECK(judged.noise_variance == doctest::Approx(0.1 + (z * z / 4 - 1) * 0.4));
  CHECK(z * std::sqrt(0.4) / std::sqrt(0.3 + judged.noise_variance) == doctest::Approx(2.0));
  CHECK(judged.weight < 0.1);
}
