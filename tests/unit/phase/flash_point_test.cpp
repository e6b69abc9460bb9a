#include "phase/flash_point.hpp"

#include <doctest/doctest.h>

#include <array>

#include "phase_fixture.hpp"

using namespace firstcrop;
using doctest::Approx;

namespace {

/// Closed-cup flash points, K: ethanol 12 °C, methanol 9 °C, toluene 4 °C, octane 13 °C (IEC 60079-20-1).
FlashComponent burning(const std::string& name, double flash_point_c) {
  return {phase_fixture::vapour_pressure(name), flash_point_c + 273.15};
}

FlashComponent not_burning(const std::string& name) {
  return {phase_fixture::vapour_pressure(name), std::nullopt};
}

}  // namespace

TEST_CASE("a pure liquid flashes at its own flash point") {
  const std::array components{burning("ethanol", 12), not_burning("water")};
  const auto answer =
      flash_point(components, phase_fixture::model({"ethanol", "water"}), std::array{1.0, 0.0});
  REQUIRE(answer.status == FlashStatus::Calculated);
  CHECK(*answer.temperature_k == Approx(285.15).epsilon(1e-6));
}

TEST_CASE("water raises the flash point of ethanol the more, the more there is") {
  const std::array components{burning("ethanol", 12), not_burning("water")};
  const auto model = phase_fixture::model({"ethanol", "water"});
  double before_k = 285.1;
  for (const double ethanol : {0.9, 0.5, 0.2, 0.05, 0.02}) {
    const auto answer = flash_point(components, model, std::array{ethanol, 1 - ethanol});
    REQUIRE(answer.temperature_k);
    CHECK(*answer.temperature_k > before_k);
    before_k = *answer.temperature_k;
  }
}

TEST_CASE("liquids that repel each other flash below either alone") {
  const std::array components{burning("octane", 13), burning("ethanol", 12)};
  const auto answer =
      flash_point(components, phase_fixture::model({"octane", "ethanol"}), std::array{0.3, 0.7});
  REQUIRE(answer.temperature_k);
  CHECK(*answer.temperature_k < 285.15 - 5);
}

TEST_CASE("two layers flash at the same temperature whatever their amounts") {
  const std::array components{burning("toluene", 4), not_burning("water")};
  const auto model = phase_fixture::model({"toluene", "water"});
  const auto little = flash_point(components, model, std::array{0.05, 0.95});
  const auto much = flash_point(components, model, std::array{0.7, 0.3});
  REQUIRE(little.temperature_k);
  REQUIRE(much.temperature_k);
  CHECK(*little.temperature_k == Approx(*much.temperature_k).epsilon(1e-6));
  // Its own layer is nearly pure toluene.
  CHECK(*little.temperature_k == Approx(277.15).epsilon(0.002));
}

TEST_CASE("nothing that burns, no flash point") {
  const std::array components{not_burning("chloroform"), not_burning("water")};
  CHECK(flash_point(components, phase_fixture::model({"chloroform", "water"}), std::array{0.5, 0.5}).status ==
        FlashStatus::NothingBurns);
  const std::array absent{burning("ethanol", 12), not_burning("water")};
  CHECK(flash_point(absent, phase_fixture::model({"ethanol", "water"}), std::array{0.0, 1.0}).status ==
        FlashStatus::NothingBurns);
}

TEST_CASE("a mere trace of a liquid that burns is not reached") {
  const std::array components{burning("methanol", 9), not_burning("water")};
  CHECK(flash_point(components, phase_fixture::model({"methanol", "water"}), std::array{1e-7, 1 - 1e-7})
            .status == FlashStatus::NotReached);
}

TEST_CASE("without a model the mixture is ideal and the answer says so") {
  const std::array components{burning("ethanol", 12), not_burning("water")};
  const auto ideal = flash_point(components, std::nullopt, std::array{0.2, 0.8});
  CHECK(ideal.status == FlashStatus::Ideal);
  const auto real = flash_point(components, phase_fixture::model({"ethanol", "water"}), std::array{0.2, 0.8});
  CHECK(*real.temperature_k < *ideal.temperature_k);
}

TEST_CASE("strongly associating liquids are not calculated") {
  const std::array components{burning("formic-acid", 42), burning("pyridine", 17)};
  CHECK(flash_point(components, phase_fixture::model({"formic-acid", "pyridine"}), std::array{0.5, 0.5})
            .status == FlashStatus::NotCalculated);
}
