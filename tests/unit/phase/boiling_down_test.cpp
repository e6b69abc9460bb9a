#include "phase/boiling_down.hpp"

#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <vector>

#include "library_fixture.hpp"

namespace firstcrop {
namespace {

const PhaseModel& phase() {
  return phase_fixture::shipped();
}

BoilingDown boiled(const char* first, const char* second, double fraction, std::vector<double> shares) {
  const std::array<SolventId, 2> solvents{phase_fixture::id(first), phase_fixture::id(second)};
  const std::array<double, 2> fractions{fraction, 1 - fraction};
  return boil_down(phase(), solvents, fractions, kStandardPressureKpa, shares);
}

}  // namespace

TEST_CASE("benzene and toluene follow Rayleigh's law with a relative volatility near 2.4") {
  // Nearly ideal; 2.4 is the textbook value of the pair (C. J. King, Separation Processes, 1971; by memory).
  constexpr double kAlpha = 2.4;
  const std::vector<double> shares{0.2, 0.4, 0.6};
  const BoilingDown down = boiled("benzene", "toluene", 0.5, shares);
  REQUIRE(down.points.size() == 3);
  const double v1 = phase().library().solvent(phase_fixture::id("benzene")).molar_volume_ml_mol->value;
  const double v2 = phase().library().solvent(phase_fixture::id("toluene")).molar_volume_ml_mol->value;
  const auto moles = [&](double share_off, double fraction) {
    return std::array<double, 2>{(1 - share_off) * fraction / v1, (1 - share_off) * (1 - fraction) / v2};
  };
  const auto start = moles(0, 0.5);
  for (const BoiledDown& point : down.points) {
    const auto left = moles(point.share_off, point.volume_fractions[0]);
    // ln(n1/n1') = alpha ln(n2/n2'), the integrated law (Lord Rayleigh 1902).
    CHECK(std::log(left[0] / start[0]) ==
          doctest::Approx(kAlpha * std::log(left[1] / start[1])).epsilon(0.06));
  }
}

TEST_CASE("at an azeotrope nothing drifts, on either side of it the flask drifts away") {
  const auto azeotrope = phase().azeotrope(phase_fixture::id("ethyl-acetate"), phase_fixture::id("ethanol"),
                                           kStandardPressureKpa);
  REQUIRE(azeotrope);
  REQUIRE(azeotrope->first_fraction);
  const std::array<SolventId, 2> solvents{phase_fixture::id("ethyl-acetate"), phase_fixture::id("ethanol")};
  const std::array<double, 2> moles{*azeotrope->first_fraction, 1 - *azeotrope->first_fraction};
  const double at = (*phase().volume_fractions(solvents, moles))[0];
  const auto end = [](double fraction) {
    return boiled("ethyl-acetate", "ethanol", fraction, {0.5}).points.front().volume_fractions[0];
  };
  CHECK(std::abs(end(at) - at) < 0.03);
  CHECK(end(at - 0.2) < at - 0.2);
  CHECK(end(at + 0.2) > at + 0.2);
}

TEST_CASE("the boiling point of the flask never falls, and fractions add up to one") {
  const BoilingDown down = boiled("ethanol", "water", 0.6, {0.1, 0.3, 0.5, 0.7});
  REQUIRE(down.points.size() == 4);
  double last = 0;
  for (const BoiledDown& point : down.points) {
    CHECK(point.temperature_k >= last);
    last = point.temperature_k;
    CHECK(point.volume_fractions[0] + point.volume_fractions[1] == doctest::Approx(1));
  }
}

TEST_CASE("95 % ethanol is taken apart into ethanol and water") {
  const BoilingDown down = boiled("ethanol-95", "heptane", 0.5, {0.3});
  REQUIRE(down.components.size() == 3);
  REQUIRE(down.points.size() == 1);
}

TEST_CASE("without group parameters nothing is told") {
  CHECK(boiled("formamide", "ethanol", 0.5, {0.3}).points.empty());
}

}  // namespace firstcrop
