#include "plan/claim_diagnosis.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <string>

namespace firstcrop {
namespace {

// 5 g at 92 hot and 8 cold mg/mL, written per 100 mL: 54.3 mL, 0.435 g lost, 91.3 %.
ChargeAmounts plain() {
  ChargeAmounts out;
  out.crude_mg = 5000;
  out.hot_mg_ml = 92;
  out.cold_mg_ml = 8;
  return out;
}

ChargeAmounts impure() {
  ChargeAmounts out = plain();
  out.crude_mg = 5500;
  out.impurity_mg = 500;
  out.impurity_cold_mg_ml = 4;
  return out;
}

// The slip that is named first for a number written with three figures; "right" for a right one.
std::string slip_for(ClaimedFigure figure, double value, const ChargeAmounts& charge = plain()) {
  const double half = 0.5 * std::pow(10.0, std::floor(std::log10(std::abs(value))) - 2);
  const auto diagnosis = diagnose({figure, value, half}, charge, {100, 100});
  REQUIRE(diagnosis);
  if (diagnosis->verdict != ClaimVerdict::Wrong) return "right";
  return diagnosis->slips.empty() ? "none" : diagnosis->slips.front().id;
}

constexpr auto kRecovery = ClaimedFigure::Recovery;
constexpr auto kVolume = ClaimedFigure::Volume;
constexpr auto kCrystals = ClaimedFigure::Crystals;
constexpr auto kLiquor = ClaimedFigure::Liquor;

}  // namespace

TEST_CASE("a right figure is called right, with its rounding") {
  CHECK(slip_for(kRecovery, 0.913) == "right");
  CHECK(slip_for(kVolume, 54.3) == "right");
  CHECK(slip_for(kVolume, 54.2) == "right");
  CHECK(slip_for(kCrystals, 4570) == "right");
  CHECK(slip_for(kLiquor, 435) == "right");
  CHECK(slip_for(kVolume, 53) != "right");
}

TEST_CASE("loss over start is known as such") {
  CHECK(slip_for(kRecovery, 0.0870) == "loss-reported-as-recovery");
  CHECK(slip_for(kCrystals, 435) == "loss-reported-as-recovery");
  // 0.435 g rounded to 0.4 g.
  const auto rough = diagnose({kRecovery, 0.08, 0.005}, plain(), {100, 100});
  REQUIRE(rough);
  REQUIRE_FALSE(rough->slips.empty());
  CHECK(rough->slips.front().id == "loss-reported-as-recovery");
  ChargeAmounts weighed;
  weighed.crude_mg = 8950;
  weighed.isolated_mg = 7200;
  CHECK(slip_for(kRecovery, 0.196, weighed) == "loss-reported-as-recovery");
}

TEST_CASE("the share that the liquor keeps is known although something else was isolated") {
  ChargeAmounts weighed = plain();
  weighed.crude_mg = 5000;
  weighed.hot_mg_ml = 55;
  weighed.cold_mg_ml = 5.3;
  weighed.volume_ml = 200;
  weighed.isolated_mg = 4900;
  // 5.3 / 55 of the product at the minimum volume, 1.06 g of 5 g at 200 mL.
  const auto limit = diagnose({kRecovery, 0.096, 0.0005}, weighed, {100, 100});
  REQUIRE(limit);
  REQUIRE_FALSE(limit->slips.empty());
  CHECK(limit->slips.front().id == "loss-at-the-limit");
  CHECK(limit->slips.front().agreement == Agreement::Exact);
  CHECK(limit->right_is_isolated);
  CHECK(limit->above_limit.value() == doctest::Approx(1 - 5.3 / 55));
  CHECK(slip_for(kRecovery, 0.212, weighed) == "loss-reported-as-recovery");
}

TEST_CASE("a slip of units by 10 or 1000 is known in the answer and in the solubility") {
  CHECK(slip_for(kVolume, 543) == "unit-slip");
  CHECK(slip_for(kVolume, 0.0543) == "unit-slip");
  CHECK(slip_for(kCrystals, 4.57) == "unit-slip");
  CHECK(slip_for(kRecovery, 0.991) == "unit-slip");
}

TEST_CASE("a loss that was not scaled by the volume is known") {
  CHECK(slip_for(kCrystals, 4200) == "loss-not-scaled-by-volume");
  CHECK(slip_for(kRecovery, 0.840) == "loss-not-scaled-by-volume");
  CHECK(slip_for(kLiquor, 800) == "loss-not-scaled-by-volume");
}

TEST_CASE("a division by 0.95 is known") {
  CHECK(slip_for(kRecovery, 0.961) == "divided-by-0.95");
  CHECK(slip_for(kVolume, 57.2) == "divided-by-0.95");
}

TEST_CASE("hot and cold exchanged are known") {
  CHECK(slip_for(kVolume, 625) == "hot-and-cold-exchanged");
  CHECK(slip_for(kLiquor, 5000) == "hot-and-cold-exchanged");
}

TEST_CASE("crude taken as pure is known") {
  CHECK(slip_for(kVolume, 59.8, impure()) == "crude-taken-as-pure");
  CHECK(slip_for(kCrystals, 5020, impure()) == "crude-taken-as-pure");
  CHECK(slip_for(kRecovery, 0.830, impure()) == "counted-on-crude");
}

TEST_CASE("both crops in place of the first are known") {
  ChargeAmounts two = plain();
  two.boil_down_to_ml = 10;
  // 4.565 g and 0.355 g.
  CHECK(slip_for(kCrystals, 4920, two) == "sum-of-crops");
  CHECK(slip_for(kRecovery, 0.984, two) == "sum-of-crops");
  CHECK(slip_for(kRecovery, 1.73, two) == "sum-of-crops");
}

TEST_CASE("other usual slips are known") {
  CHECK(slip_for(kVolume, 59.5) == "volume-from-difference");
  CHECK(slip_for(kVolume, 59.8) == "reserve-counted-in");
  CHECK(slip_for(kVolume, 598) == "eleven-for-1.1");
  CHECK(slip_for(kRecovery, 1.0) == "nothing-stays-dissolved");
  ChargeAmounts more = plain();
  more.volume_ml = 100;
  CHECK(slip_for(kRecovery, 0.913, more) == "minimum-volume-taken");
  CHECK(slip_for(kCrystals, 4200, more) == "right");
  ChargeAmounts washed = plain();
  washed.wash_volume_ml = 10;
  CHECK(slip_for(kRecovery, 0.913, washed) == "wash-forgotten");
}

TEST_CASE("a wrong figure that no slip gives says what it would fit") {
  const auto volume = diagnose({kVolume, 33, 0.5}, plain(), {100, 100});
  REQUIRE(volume);
  CHECK(volume->slips.empty());
  REQUIRE(volume->mass_it_fits_mg);
  CHECK(*volume->mass_it_fits_mg == doctest::Approx(3036));
  const auto crystals = diagnose({kCrystals, 3000, 50}, plain(), {100, 100});
  REQUIRE(crystals);
  REQUIRE(crystals->volume_it_fits_ml);
  CHECK(*crystals->volume_it_fits_ml == doctest::Approx(250));
}

TEST_CASE("a figure that the amounts do not give is not judged") {
  ChargeAmounts hot_only = plain();
  hot_only.cold_mg_ml.reset();
  CHECK_FALSE(diagnose({kRecovery, 0.9, 0.005}, hot_only, {}));
  CHECK_FALSE(diagnose({ClaimedFigure::Purity, 0.9, 0.005}, plain(), {}));
}

}  // namespace firstcrop
