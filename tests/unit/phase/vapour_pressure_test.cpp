#include "phase/vapour_pressure.hpp"

#include <doctest/doctest.h>

#include <cmath>

#include "phase_fixture.hpp"

using namespace firstcrop;
using doctest::Approx;

TEST_CASE(
    "every liquid has one atmosphere at its listed boiling point, whatever its Antoine equation says there") {
  for (const std::string name : {"water", "ethanol", "toluene", "formic-acid"}) {
    const VapourPressure pressure = phase_fixture::vapour_pressure(name);
    CHECK(std::exp(*pressure.ln_kpa(phase_fixture::liquid(name).boiling_point_k)) == Approx(101.325));
    CHECK(*pressure.boiling_temperature_k(101.325) == Approx(phase_fixture::liquid(name).boiling_point_k));
  }
}

TEST_CASE("boiling temperature and vapour pressure undo each other") {
  const VapourPressure pressure = phase_fixture::vapour_pressure("acetone");
  for (const double temperature_k : {250.0, 300.0, 360.0})
    CHECK(*pressure.boiling_temperature_k(std::exp(*pressure.ln_kpa(temperature_k))) ==
          Approx(temperature_k));
}

TEST_CASE("the slope is the derivative of the logarithm") {
  const VapourPressure pressure = phase_fixture::vapour_pressure("water");
  const double slope = (*pressure.ln_kpa(330.001) - *pressure.ln_kpa(329.999)) / 0.002;
  CHECK(pressure.slope_per_k(330) == Approx(slope).epsilon(1e-6));
}

TEST_CASE("below the pole of the equation there is no vapour pressure") {
  const VapourPressure pressure = phase_fixture::vapour_pressure("water");
  CHECK(pressure.lowest_temperature_k() == Approx(42.98));
  CHECK_FALSE(pressure.ln_kpa(40).has_value());
  CHECK(pressure.ln_kpa(50).has_value());
}

TEST_CASE("a pressure that the equation never reaches has no boiling temperature") {
  const VapourPressure pressure = phase_fixture::vapour_pressure("water");
  CHECK_FALSE(pressure.boiling_temperature_k(1e9).has_value());
}

TEST_CASE("an equation without a value at the boiling point is refused") {
  AntoineEquation antoine;
  antoine.a = 6;
  antoine.b = 1200;
  antoine.c = -50;
  CHECK_FALSE(VapourPressure::create(antoine, 45).has_value());
  CHECK(VapourPressure::create(antoine, 350).has_value());
  antoine.b = -1;
  CHECK_FALSE(VapourPressure::create(antoine, 350).has_value());
}

TEST_CASE("air thins out with height as in the International Standard Atmosphere") {
  // ISO 2533, table of the standard atmosphere: 1000 m 89.875 kPa, 5000 m 54.020 kPa (from memory of the
  // printed table).
  CHECK(pressure_at_altitude_kpa(0) == Approx(101.325));
  CHECK(pressure_at_altitude_kpa(1000) == Approx(89.875).epsilon(0.0005));
  CHECK(pressure_at_altitude_kpa(5000) == Approx(54.020).epsilon(0.001));
}
