#include "phase/bubble_point.hpp"

#include <doctest/doctest.h>

#include <array>
#include <cmath>

#include "phase_fixture.hpp"

using namespace firstcrop;
using doctest::Approx;

namespace {

double pressure_over(const BoilingLiquid& liquid, const std::vector<double>& fractions,
                     double temperature_k) {
  const auto ln_gamma = liquid.model()->ln_gamma(fractions, temperature_k);
  double sum = 0;
  for (std::size_t i = 0; i < fractions.size(); ++i)
    sum += fractions[i] * std::exp(ln_gamma[i] + *liquid.vapour_pressure(i).ln_kpa(temperature_k));
  return sum;
}

}  // namespace

TEST_CASE("at the bubble point the partial pressures add up to the pressure and the vapour to one") {
  const BoilingLiquid liquid = phase_fixture::boiling({"ethanol", "water", "acetone"});
  for (const double pressure_kpa : {101.325, 70.0, 10.0}) {
    const std::vector<double> fractions{0.3, 0.5, 0.2};
    const BubblePoint point = liquid.bubble_point(fractions, pressure_kpa);
    REQUIRE(point.status == BoilingStatus::Calculated);
    CHECK(pressure_over(liquid, fractions, *point.temperature_k) == Approx(pressure_kpa).epsilon(1e-8));
    CHECK(point.vapour_fractions[0] + point.vapour_fractions[1] + point.vapour_fractions[2] == Approx(1));
  }
}

TEST_CASE("a pure liquid boils at its boiling point") {
  const BoilingLiquid liquid = phase_fixture::boiling({"ethanol", "water"});
  CHECK(*liquid.bubble_point(std::array{1.0, 0.0}, 101.325).temperature_k ==
        Approx(phase_fixture::liquid("ethanol").boiling_point_k));
  CHECK(*liquid.bubble_point(std::array{0.0, 1.0}, 101.325).temperature_k ==
        Approx(phase_fixture::liquid("water").boiling_point_k));
}

TEST_CASE("liquids boil lower on a mountain") {
  const BoilingLiquid liquid = phase_fixture::boiling({"ethanol", "water"});
  double before_k = 1000;
  for (const double altitude_m : {0.0, 500.0, 1500.0, 3000.0}) {
    const auto point = liquid.bubble_point(std::array{0.4, 0.6}, pressure_at_altitude_kpa(altitude_m));
    CHECK(*point.temperature_k < before_k);
    before_k = *point.temperature_k;
  }
}

TEST_CASE("without a model Raoult's law is used and the answer says so") {
  const BoilingLiquid liquid(
      {phase_fixture::vapour_pressure("hexane"), phase_fixture::vapour_pressure("heptane")}, std::nullopt);
  const BubblePoint ideal = liquid.bubble_point(std::array{0.5, 0.5}, 101.325);
  CHECK(ideal.status == BoilingStatus::Ideal);
  const auto real = phase_fixture::boiling({"hexane", "heptane"}).bubble_point(std::array{0.5, 0.5}, 101.325);
  CHECK(std::abs(*ideal.temperature_k - *real.temperature_k) < 0.3);
  CHECK_FALSE(liquid.three_phase_line(101.325).has_value());
}

TEST_CASE("a strongly associating acid and base are not calculated") {
  const BoilingLiquid liquid = phase_fixture::boiling({"formic-acid", "pyridine"});
  const BubblePoint point = liquid.bubble_point(std::array{0.5, 0.5}, 101.325);
  CHECK(point.status == BoilingStatus::NotCalculated);
  CHECK_FALSE(point.temperature_k.has_value());
  CHECK(liquid.bubble_point(std::array{1.0, 0.0}, 101.325).status == BoilingStatus::Calculated);
}

TEST_CASE("a pressure that cannot be reached is not converged, never a number") {
  const BoilingLiquid liquid = phase_fixture::boiling({"ethanol", "water"});
  const BubblePoint point = liquid.bubble_point(std::array{0.5, 0.5}, 1e12);
  CHECK(point.status == BoilingStatus::NotConverged);
  CHECK_FALSE(point.temperature_k.has_value());
}

TEST_CASE("two layers boil together at one temperature, below either liquid alone") {
  const BoilingLiquid liquid = phase_fixture::boiling({"toluene", "water"});
  const auto line = liquid.three_phase_line(101.325);
  REQUIRE(line);
  CHECK(line->temperature_k < phase_fixture::liquid("water").boiling_point_k);
  const auto curve = liquid.boiling_curve(std::array{0.05, 0.5, 0.9}, 101.325);
  for (const BubblePoint& point : curve) {
    CHECK(point.two_liquids);
    CHECK(*point.temperature_k == line->temperature_k);
  }
  CHECK_FALSE(liquid.boiling_point(0.9999, 101.325).two_liquids);
}

TEST_CASE("the boiling curve is continuous where a second layer appears") {
  const BoilingLiquid liquid = phase_fixture::boiling({"1-butanol", "water"});
  const auto line = liquid.three_phase_line(101.325);
  REQUIRE(line);
  for (const double edge : {line->layers.poor_fraction(), line->layers.rich_fraction()}) {
    const BubblePoint outside = liquid.bubble_point(std::array{edge, 1 - edge}, 101.325);
    CHECK(*outside.temperature_k == Approx(line->temperature_k).epsilon(1e-9));
    CHECK(outside.vapour_fractions[0] == Approx(line->vapour_fraction).epsilon(1e-7));
  }
}

TEST_CASE("liquids that mix have no three-phase line") {
  CHECK_FALSE(phase_fixture::boiling({"ethanol", "water"}).three_phase_line(101.325).has_value());
  CHECK_FALSE(phase_fixture::boiling({"hexane", "heptane"}).three_phase_line(101.325).has_value());
}

TEST_CASE("the volatility of a trace is the limit of the volatility in dilute liquids") {
  const BoilingLiquid liquid = phase_fixture::boiling({"methanol", "toluene"});
  const auto limit = liquid.volatility_of_trace(0, 1, 101.325);
  REQUIRE(limit);
  const double trace = 1e-7;
  const BubblePoint dilute = liquid.bubble_point(std::array{trace, 1 - trace}, 101.325);
  CHECK(dilute.vapour_fractions[0] / dilute.vapour_fractions[1] / trace == Approx(*limit).epsilon(1e-4));
  CHECK_FALSE(
      phase_fixture::boiling({"formic-acid", "pyridine"}).volatility_of_trace(0, 1, 101.325).has_value());
}
