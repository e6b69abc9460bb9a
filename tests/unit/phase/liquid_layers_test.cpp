#include "phase/liquid_layers.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <string>
#include <utility>

#include "phase_fixture.hpp"

using namespace firstcrop;
using doctest::Approx;

TEST_CASE("both layers have the same activities") {
  for (const auto& [first, second] : {std::pair<std::string, std::string>{"water", "1-butanol"},
                                      {"hexane", "methanol"},
                                      {"acetonitrile", "heptane"},
                                      {"octane", "water"}}) {
    CAPTURE(first);
    const BinaryActivity pair = phase_fixture::pair(first, second, 298.15);
    const LayerAnswer answer = liquid_layers(pair);
    REQUIRE(answer.status == LayerStatus::TwoLiquids);
    const auto in_poor = pair.ln_activity(answer.layers->poor_log_ratio);
    const auto in_rich = pair.ln_activity(answer.layers->rich_log_ratio);
    CHECK(std::abs(in_poor[0] - in_rich[0]) < 1e-9);
    CHECK(std::abs(in_poor[1] - in_rich[1]) < 1e-9);
    CHECK(answer.layers->poor_fraction() < answer.layers->rich_fraction());
    // Either layer alone is stable.
    CHECK(pair.stability(answer.layers->poor_log_ratio) > 0);
    CHECK(pair.stability(answer.layers->rich_log_ratio) > 0);
  }
}

TEST_CASE("a pair has two layers exactly where its margin is above 0") {
  int two_liquids = 0;
  for (const auto& [first, second] : {std::pair<std::string, std::string>{"ethanol", "water"},
                                      {"ethanol", "hexane"},
                                      {"hexane", "methanol"},
                                      {"acetone", "chloroform"},
                                      {"acetonitrile", "heptane"},
                                      {"toluene", "water"}}) {
    for (const double temperature_k : {260.0, 298.15, 330.0, 400.0}) {
      CAPTURE(first);
      CAPTURE(temperature_k);
      const BinaryActivity pair = phase_fixture::pair(first, second, temperature_k);
      const bool splits = miscibility_margin(pair) > 0;
      CHECK((liquid_layers(pair).status == LayerStatus::TwoLiquids) == splits);
      two_liquids += splits ? 1 : 0;
    }
  }
  CHECK(two_liquids > 8);
  CHECK(two_liquids < 20);
}

TEST_CASE("turning the pair round turns the layers round") {
  const auto straight = liquid_layers(phase_fixture::pair("water", "1-butanol", 298.15)).layers;
  const auto turned = liquid_layers(phase_fixture::pair("1-butanol", "water", 298.15)).layers;
  REQUIRE(straight);
  REQUIRE(turned);
  CHECK(straight->poor_log_ratio == Approx(-turned->rich_log_ratio).epsilon(1e-8));
  CHECK(straight->rich_log_ratio == Approx(-turned->poor_log_ratio).epsilon(1e-8));
}

TEST_CASE("hexane and methanol take up more of each other when warmer") {
  double width_before = 1;
  for (const double temperature_k : {270.0, 285.0, 300.0, 315.0}) {
    const auto layers = liquid_layers(phase_fixture::pair("hexane", "methanol", temperature_k)).layers;
    REQUIRE(layers);
    const double width = layers->rich_fraction() - layers->poor_fraction();
    CHECK(width < width_before);
    width_before = width;
  }
}

TEST_CASE("layers hold what lies between them and nothing else") {
  const auto layers = liquid_layers(phase_fixture::pair("water", "1-butanol", 298.15)).layers;
  REQUIRE(layers);
  CHECK(layers->holds(0.7));
  CHECK_FALSE(layers->holds(0.1));
  CHECK_FALSE(layers->holds(0.99));
}

TEST_CASE("mutual solubilities are the weight shares in the layers") {
  const auto layers = liquid_layers(phase_fixture::pair("water", "1-butanol", 298.15)).layers;
  REQUIRE(layers);
  const MutualSolubility limits = mutual_solubility(*layers, 18.015, 74.12);
  const double x = layers->poor_fraction();
  CHECK(*limits.first_in_second_weight_percent == Approx(100 * x * 18.015 / (x * 18.015 + (1 - x) * 74.12)));
  const double y = 1 - layers->rich_fraction();
  CHECK(*limits.second_in_first_weight_percent == Approx(100 * y * 74.12 / (y * 74.12 + (1 - y) * 18.015)));
}
