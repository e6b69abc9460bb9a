#include "facts/scenarios.hpp"

#include <algorithm>
#include <cmath>

#include <doctest/doctest.h>

#include "base/error.hpp"

using namespace firstcrop;

namespace {

double product(const ScenarioValues& left, const ScenarioValues& right) {
  double out = 0;
  for (std::size_t k = 0; k < kScenarioCount; ++k) out += left[k] * right[k];
  return out / static_cast<double>(kScenarioCount);
}

double mean(const ScenarioValues& values) {
  double out = 0;
  for (const double value : values) out += value;
  return out / static_cast<double>(kScenarioCount);
}

}  // namespace

TEST_CASE("joint scores have mean 0 and covariance I") {
  const Scenarios scenarios(kMostJointScores, 0);
  for (std::size_t i = 0; i < scenarios.joint_count(); ++i) {
    CHECK(std::abs(mean(scenarios.joint(i))) < 1e-12);
    for (std::size_t j = 0; j <= i; ++j) {
      const double expected = i == j ? 1.0 : 0.0;
      CHECK(std::abs(product(scenarios.joint(i), scenarios.joint(j)) - expected) < 1e-10);
    }
  }
}

TEST_CASE("extra scores have variance 1 and no correlation with the joint ones") {
  const Scenarios scenarios(40, 200);
  REQUIRE(scenarios.extra_count() == 200);
  for (std::size_t i = 0; i < scenarios.extra_count(); ++i) {
    const ScenarioValues& extra = scenarios.extra(i);
    CHECK(std::abs(mean(extra)) < 1e-12);
    CHECK(product(extra, extra) == doctest::Approx(1));
    for (std::size_t j = 0; j < scenarios.joint_count(); ++j) {
      CHECK(std::abs(product(extra, scenarios.joint(j))) < 1e-10);
    }
  }
}

TEST_CASE("the same scores come every time, whatever else is asked for") {
  const Scenarios few(3, 0);
  const Scenarios many(30, 10);
  const Scenarios again(30, 10);
  CHECK(few.joint(2) == many.joint(2));
  CHECK(many.extra(9) == again.extra(9));
}

TEST_CASE("the first column holds the middles of equally probable classes") {
  const Scenarios scenarios(1, 0);
  ScenarioValues sorted = scenarios.joint(0);
  std::sort(sorted.begin(), sorted.end());
  CHECK(sorted.front() == doctest::Approx(-sorted.back()));
  // Half of the scores lie within the quartiles of the normal distribution, 0.6745.
  const auto inside =
      std::count_if(sorted.begin(), sorted.end(), [](double value) { return std::abs(value) < 0.6745; });
  CHECK(inside == 32);
}

TEST_CASE("late columns still look normal") {
  const Scenarios scenarios(40, 100);
  double fourth = 0;
  std::size_t inside = 0;
  for (std::size_t i = 0; i < scenarios.extra_count(); ++i) {
    for (const double value : scenarios.extra(i)) {
      fourth += value * value * value * value;
      if (std::abs(value) < 1.2816) ++inside;
    }
  }
  const double count = static_cast<double>(kScenarioCount) * 100;
  CHECK(fourth / count == doctest::Approx(3).epsilon(0.1));
  CHECK(static_cast<double>(inside) / count == doctest::Approx(0.8).epsilon(0.02));
}

TEST_CASE("more joint scores than the scenarios can carry are refused") {
  CHECK_THROWS_AS(Scenarios(kMostJointScores + 1, 0), Error);
}
