#include "plan/vessel.hpp"

#include <doctest/doctest.h>

namespace firstcrop {

TEST_CASE("no vessel is filled higher than two thirds") {
  // Lab manuals: half, at most two thirds.
  for (double volume_ml = 0.05; volume_ml < 20000; volume_ml *= 1.3) {
    const Vessel vessel = choose_vessel(volume_ml, volume_ml * 20);
    CHECK(volume_ml <= vessel.nominal_ml * vessel.count * 2 / 3);
  }
}

TEST_CASE("from 20 mg to 50 g the vessel and the funnel suit") {
  CHECK(choose_vessel(0.3, 20).name == "3 mL Craig tube or conical vial");
  CHECK(choose_vessel(0.3, 20).collector == "filter-tipped pipette or centrifuge");
  CHECK(choose_vessel(40, 4000).name == "100 mL conical flask");
  CHECK(choose_vessel(8, 500).collector == "Hirsch funnel");
  CHECK(choose_vessel(500, 50000).name == "1 L conical flask");
  CHECK(choose_vessel(500, 50000).collector == "Buchner funnel");
}

TEST_CASE("what no flask holds is parted") {
  CHECK(choose_vessel(10000, 1000).count == 2);
}

}  // namespace firstcrop
