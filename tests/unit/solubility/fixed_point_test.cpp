#include "solubility/fixed_point.hpp"

#include <doctest/doctest.h>

#include <cmath>

using namespace firstcrop;

namespace {

struct Found {
  std::vector<double> place;
  bool settled = false;
  int rounds = 0;
};

template <class Equation>
Found settle(std::vector<double> start, Equation equation) {
  FixedPoint iteration(std::move(start));
  for (int round = 0;; ++round) {
    const std::vector<double> given = equation(iteration.place());
    double change = 0;
    for (std::size_t i = 0; i < given.size(); ++i)
      change = std::max(change, std::abs(given[i] - iteration.place()[i]));
    if (change < 1e-12) return {iteration.place(), true, round};
    if (!iteration.move_on(given)) return {iteration.place(), false, round};
  }
}

}  // namespace

TEST_CASE("the cosine settles where it equals its argument") {
  const Found found = settle({0.0}, [](const std::vector<double>& x) { return std::vector{std::cos(x[0])}; });
  CHECK(found.settled);
  CHECK(found.place[0] == doctest::Approx(0.7390851332151607));
}

TEST_CASE("an equation that overshoots in turns still settles") {
  // plain iteration diverges: the slope is -1.8 in each of four numbers, and they push each other
  const Found found = settle({5.0, -3.0, 2.0, 7.0}, [](const std::vector<double>& x) {
    std::vector<double> y(4);
    for (std::size_t i = 0; i < 4; ++i) y[i] = 1.0 - 1.8 * x[i] + 0.1 * std::tanh(x[(i + 1) % 4]);
    return y;
  });
  CHECK(found.settled);
  CHECK(found.rounds < 100);
  for (const double x : found.place) CHECK(2.8 * x - 0.1 * std::tanh(x) == doctest::Approx(1.0));
}

TEST_CASE("an equation without a solution is given up") {
  const Found found = settle({0.0, 0.0, 0.0}, [](const std::vector<double>& x) {
    return std::vector{x[0] + 1.0 + 0.5 * std::sin(x[0]), 0.5 * x[1], 0.5 * x[2]};
  });
  CHECK_FALSE(found.settled);
}
