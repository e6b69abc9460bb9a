#include "library/solvent.hpp"

#include <cmath>

#include <doctest/doctest.h>

using namespace firstcrop;

TEST_SUITE("solvent") {
  const AntoineEquation water{7.19621, 1730.63, -39.724, 274, 373, "", ""};

  TEST_CASE("the Antoine pressure rises with temperature") {
    double before = 0;
    for (double t = 280; t < 400; t += 5) {
      CHECK(water.pressure_kpa(t) > before);
      before = water.pressure_kpa(t);
    }
  }

  TEST_CASE("the temperature of a pressure is the inverse of the pressure of a temperature") {
    for (const double t : {290.0, 330.0, 373.15}) {
      const auto back = water.temperature_k(water.pressure_kpa(t));
      REQUIRE(back.has_value());
      CHECK(*back == doctest::Approx(t).epsilon(1e-9));
    }
  }

  TEST_CASE("at its pole and below the Antoine equation gives no pressure") {
    CHECK(water.pressure_kpa(39.724) == 0);
    CHECK(water.pressure_kpa(10) == 0);
  }

  TEST_CASE("a pressure that the Antoine equation never reaches has no temperature") {
    CHECK_FALSE(water.temperature_k(1e8).has_value());
    CHECK_FALSE(water.temperature_k(0).has_value());
  }

  TEST_CASE("a density line is linear in temperature") {
    const DensityLine line{1.1, -0.001, 273, 330, "", ""};
    CHECK(line.density_g_ml(300) == doctest::Approx(0.8));
    CHECK(line.density_g_ml(310) - line.density_g_ml(300) == doctest::Approx(-0.01));
  }
}
