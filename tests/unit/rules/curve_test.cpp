#include "rules/curve.hpp"

#include <cmath>
#include <limits>

#include <doctest/doctest.h>

#include "rules/columns.hpp"

using namespace firstcrop;

namespace {

const Curve kWindow({2, 5, 10, 20, 40, 400, 1000}, {.01, .05, .3, .8, 1, 1, .9}, true);
const Curve kMargin({-60, -20, 0, 10, 30}, {.15, .45, .75, .95, 1}, false);

}  // namespace

TEST_CASE("a curve goes through its points and is level outside them") {
  CHECK(kMargin.at(-60) == 0.15);
  CHECK(kMargin.at(-20) == doctest::Approx(0.45));
  CHECK(kMargin.at(30) == 1);
  CHECK(kMargin.at(-1000) == 0.15);
  CHECK(kMargin.at(1000) == 1);
  CHECK(kWindow.at(10) == doctest::Approx(0.3));
}

TEST_CASE("lines are straight over x, or over log x") {
  CHECK(kMargin.at(-40) == doctest::Approx(0.3));
  CHECK(kWindow.at(std::sqrt(10.0 * 20.0)) == doctest::Approx(0.55));
}

TEST_CASE("a logarithmic curve is level where there is no logarithm") {
  CHECK(kWindow.at(0) == 0.01);
  CHECK(kWindow.at(-5) == 0.01);
  ScenarioValues x{};
  x[1] = -5;
  x[2] = std::numeric_limits<double>::infinity();
  ScenarioValues out{};
  kWindow.run(x, out);
  CHECK(out[0] == doctest::Approx(0.01));
  CHECK(out[1] == doctest::Approx(0.01));
  CHECK(out[2] == doctest::Approx(0.9));
}

TEST_CASE("64 values at once agree with one by one") {
  for (const Curve* curve : {&kWindow, &kMargin}) {
    ScenarioValues x{};
    for (std::size_t k = 0; k < kScenarioCount; ++k) {
      x[k] = curve == &kWindow ? std::exp(0.13 * static_cast<double>(k)) : -80 + 2.0 * static_cast<double>(k);
    }
    ScenarioValues out{};
    curve->run(x, out);
    for (std::size_t k = 0; k < kScenarioCount; ++k) CHECK(std::abs(out[k] - curve->at(x[k])) < 1e-11);
  }
}

TEST_CASE("heights never leave the range of the points") {
  ScenarioValues x{};
  for (std::size_t k = 0; k < kScenarioCount; ++k) x[k] = 40 + 5.625 * static_cast<double>(k);
  ScenarioValues out{};
  kWindow.run(x, out);
  for (const double height : out) CHECK(height <= 1);
}

TEST_CASE("the fast logarithm agrees with the library's") {
  double worst = 0;
  for (double exponent = -300; exponent < 300; exponent += 0.37) {
    const double x = std::pow(10.0, exponent);
    worst = std::max(worst, std::abs(detail::fast_log(x) - std::log(x)));
  }
  for (double x = 0.5; x < 2; x += 1e-4) worst = std::max(worst, std::abs(detail::fast_log(x) - std::log(x)));
  CHECK(worst < 1e-11);
  CHECK(detail::fast_log(1) == 0);
}
