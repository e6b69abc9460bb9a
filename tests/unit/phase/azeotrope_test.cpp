#include "phase/azeotrope.hpp"

#include <doctest/doctest.h>

#include <array>
#include <string>
#include <utility>

#include "phase_fixture.hpp"

using namespace firstcrop;
using doctest::Approx;

TEST_CASE("an azeotrope boils to a vapour of its own composition, at an extremum of the boiling curve") {
  struct Case {
    std::string first, second;
    AzeotropeKind kind;
  };
  for (const Case& each : {Case{"ethanol", "water", AzeotropeKind::MinimumBoiling},
                           Case{"acetone", "hexane", AzeotropeKind::MinimumBoiling},
                           Case{"chloroform", "acetone", AzeotropeKind::MaximumBoiling}}) {
    CAPTURE(each.first);
    const BoilingLiquid liquid = phase_fixture::boiling({each.first, each.second});
    const AzeotropeAnswer answer = find_azeotrope(liquid, 101.325);
    REQUIRE(answer.status == AzeotropeStatus::Found);
    CHECK(answer.azeotrope->kind == each.kind);
    CHECK_FALSE(answer.azeotrope->layers.has_value());
    const double x = answer.azeotrope->first_fraction;
    const BubblePoint there = liquid.bubble_point(std::array{x, 1 - x}, 101.325);
    CHECK(there.vapour_fractions[0] == Approx(x).epsilon(1e-6));
    const double sign = each.kind == AzeotropeKind::MinimumBoiling ? 1 : -1;
    for (const double beside : {x - 0.02, x + 0.02}) {
      const BubblePoint point = liquid.bubble_point(std::array{beside, 1 - beside}, 101.325);
      CHECK(sign * (*point.temperature_k - answer.azeotrope->temperature_k) > 0);
    }
  }
}

TEST_CASE("immiscible liquids have a heterogeneous azeotrope whose vapour lies between the layers") {
  const AzeotropeAnswer answer = find_azeotrope(phase_fixture::boiling({"water", "toluene"}), 101.325);
  REQUIRE(answer.status == AzeotropeStatus::Found);
  REQUIRE(answer.azeotrope->layers.has_value());
  CHECK(answer.azeotrope->layers->holds(answer.azeotrope->first_fraction));
  CHECK(answer.azeotrope->temperature_k < phase_fixture::liquid("water").boiling_point_k);
}

TEST_CASE("turning the pair round finds the same azeotrope") {
  for (const auto& [first, second] :
       {std::pair<std::string, std::string>{"ethanol", "water"}, {"water", "1-butanol"}}) {
    const auto straight = find_azeotrope(phase_fixture::boiling({first, second}), 101.325).azeotrope;
    const auto turned = find_azeotrope(phase_fixture::boiling({second, first}), 101.325).azeotrope;
    REQUIRE(straight);
    REQUIRE(turned);
    CHECK(straight->temperature_k == Approx(turned->temperature_k).epsilon(1e-8));
    CHECK(straight->first_fraction == Approx(1 - turned->first_fraction).epsilon(1e-5));
  }
}

TEST_CASE("nearly ideal liquids that boil far apart have no azeotrope") {
  CHECK(find_azeotrope(phase_fixture::boiling({"hexane", "octane"}), 101.325).status ==
        AzeotropeStatus::None);
  CHECK(find_azeotrope(phase_fixture::boiling({"methanol", "water"}), 101.325).status ==
        AzeotropeStatus::None);
}

TEST_CASE("what the model cannot be trusted with is not searched") {
  CHECK(find_azeotrope(phase_fixture::boiling({"formic-acid", "pyridine"}), 101.325).status ==
        AzeotropeStatus::NotCalculated);
  const BoilingLiquid ideal(
      {phase_fixture::vapour_pressure("hexane"), phase_fixture::vapour_pressure("ethanol")}, std::nullopt);
  CHECK(find_azeotrope(ideal, 101.325).status == AzeotropeStatus::NotCalculated);
}
