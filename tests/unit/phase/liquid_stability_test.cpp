#include "phase/liquid_stability.hpp"

#include <doctest/doctest.h>

#include "phase/liquid_layers.hpp"
#include "phase_fixture.hpp"

using namespace firstcrop;
using doctest::Approx;

TEST_CASE("the tangent plane finds the same gap as the common tangent of a pair") {
  const auto at_temperature = phase_fixture::model({"water", "1-butanol"}).at(298.15);
  const auto layers = liquid_layers(BinaryActivity(at_temperature)).layers;
  REQUIRE(layers);
  const auto stability_at = [&](double x) { return liquid_stability(at_temperature, std::array{x, 1 - x}); };
  constexpr double kBeside = 0.002;
  CHECK(stability_at(layers->poor_fraction() - kBeside) == Stability::OneLiquid);
  CHECK(stability_at(layers->poor_fraction() + kBeside) == Stability::Splits);
  CHECK(stability_at(0.7) == Stability::Splits);
  CHECK(stability_at(layers->rich_fraction() - kBeside) == Stability::Splits);
  CHECK(stability_at(layers->rich_fraction() + kBeside) == Stability::OneLiquid);
}

TEST_CASE("liquids that mix are stable everywhere") {
  const auto at_temperature = phase_fixture::model({"ethanol", "water", "acetone"}).at(298.15);
  for (const double a : {0.05, 0.3, 0.6})
    for (const double b : {0.05, 0.3})
      CHECK(liquid_stability(at_temperature, std::array{a, b, 1 - a - b}) == Stability::OneLiquid);
}

TEST_CASE("enough ethanol turns water and toluene into one liquid") {
  const auto at_temperature = phase_fixture::model({"water", "toluene", "ethanol"}).at(298.15);
  const std::array<double, 3> molar_volumes{18.07, 106.6, 58.7};
  const BridgeAnswer answer = least_bridging_share(at_temperature, molar_volumes, 0.5);
  REQUIRE(answer.status == Stability::OneLiquid);
  CHECK(answer.share > 0.3);
  CHECK(answer.share < 0.9);
  const auto stability_with = [&](double ethanol) {
    const std::array shares{(1 - ethanol) / 2, (1 - ethanol) / 2, ethanol};
    std::array<double, 3> moles{};
    double total = 0;
    for (std::size_t i = 0; i < 3; ++i) total += moles[i] = shares[i] / molar_volumes[i];
    for (double& amount : moles) amount /= total;
    return liquid_stability(at_temperature, moles);
  };
  CHECK(stability_with(answer.share + 0.002) == Stability::OneLiquid);
  CHECK(stability_with(answer.share - 0.002) == Stability::Splits);
}

TEST_CASE("liquids that mix need no bridge, and a third that mixes with neither is none") {
  const std::array<double, 3> equal{1, 1, 1};
  const auto mixing = phase_fixture::model({"ethanol", "water", "acetone"}).at(298.15);
  const BridgeAnswer none_needed = least_bridging_share(mixing, equal, 0.5);
  CHECK(none_needed.status == Stability::OneLiquid);
  CHECK(none_needed.share == 0);
  const auto parting = phase_fixture::model({"water", "toluene", "hexane"}).at(298.15);
  CHECK(least_bridging_share(parting, equal, 0.5).status == Stability::Splits);
}
