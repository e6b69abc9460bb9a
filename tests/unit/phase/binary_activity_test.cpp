#include "phase/binary_activity.hpp"

#include <doctest/doctest.h>

#include <cmath>

#include "phase_fixture.hpp"

using namespace firstcrop;
using doctest::Approx;

namespace {

const std::vector<std::vector<std::string>> kPairs{
    {"ethanol", "water"}, {"acetone", "chloroform"}, {"hexane", "methanol"}, {"octane", "water"}};

}  // namespace

TEST_CASE("the fast pair agrees with the model for any number of components") {
  for (const auto& names : kPairs) {
    const auto at_temperature = phase_fixture::model(names).at(315);
    const BinaryActivity pair(at_temperature);
    for (const double t : {-12.0, -3.0, -0.5, 0.0, 1.0, 4.0, 12.0}) {
      const std::vector<double> fractions{fraction_of_log_ratio(t), fraction_of_log_ratio(-t)};
      const auto expected = at_temperature.ln_gamma(fractions);
      const auto found = pair.ln_gamma(t);
      CHECK(std::abs(found[0] - expected[0]) < 1e-11);
      CHECK(std::abs(found[1] - expected[1]) < 1e-11);
      CHECK(std::abs(pair.log_ratio(t) - (expected[0] - expected[1])) < 1e-11);
    }
  }
}

TEST_CASE("the closed form of the stability is the derivative of the activities") {
  for (const auto& names : kPairs) {
    CAPTURE(names[0]);
    const BinaryActivity pair = phase_fixture::pair(names[0], names[1], 315);
    for (const double t : {-6.0, -2.0, 0.0, 1.5, 5.0}) {
      constexpr double kStep = 1e-4;
      const double slope = (pair.log_ratio(t + kStep) - pair.log_ratio(t - kStep)) / (2 * kStep);
      CHECK(pair.stability(t) == Approx(1 + slope).epsilon(1e-6));
    }
  }
}

TEST_CASE("the activities of a pair move against each other as Gibbs and Duhem demand") {
  for (const auto& names : kPairs) {
    const BinaryActivity pair = phase_fixture::pair(names[0], names[1], 300);
    for (const double t : {-5.0, -1.0, 0.3, 2.0}) {
      constexpr double kStep = 1e-4;
      const auto after = pair.ln_activity(t + kStep);
      const auto before = pair.ln_activity(t - kStep);
      const double stability = pair.stability(t);
      CHECK((after[0] - before[0]) / (2 * kStep) ==
            Approx(fraction_of_log_ratio(-t) * stability).epsilon(1e-5));
      CHECK((after[1] - before[1]) / (2 * kStep) ==
            Approx(-fraction_of_log_ratio(t) * stability).epsilon(1e-5));
    }
  }
}

TEST_CASE("towards the pure liquids every mixture becomes ideal") {
  const BinaryActivity pair = phase_fixture::pair("octane", "water", 298.15);
  CHECK(pair.stability(-40) == Approx(1).epsilon(1e-9));
  CHECK(pair.stability(40) == Approx(1).epsilon(1e-9));
  CHECK(std::abs(pair.ln_activity(40)[0]) < 1e-12);
  CHECK(std::abs(pair.ln_activity(-40)[1]) < 1e-12);
}

TEST_CASE("traces keep their digits") {
  CHECK(fraction_of_log_ratio(-100) == Approx(std::exp(-100.0)));
  CHECK(log_ratio_of_fraction(1e-30) == Approx(std::log(1e-30)));
  CHECK(log_ratio_of_fraction(fraction_of_log_ratio(-7.25)) == Approx(-7.25));
  const BinaryActivity pair = phase_fixture::pair("hexane", "water", 298.15);
  CHECK(pair.ln_activity(-60)[0] == Approx(pair.ln_gamma(-60)[0] - 60));
}
