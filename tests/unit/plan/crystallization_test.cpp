#include "plan/crystallization.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <vector>

namespace firstcrop {
namespace {

// 2.5 g of something that dissolves to 100 mg/mL hot, 12 at room temperature and 6 cold, with an impurity.
CrystallizationRun run() {
  CrystallizationRun out;
  out.product = {2300, 100, 12, 6};
  out.impurities = {{150, 400, 90, 40}};
  out.insoluble_mg = 50;
  out.workable_hot_mg_ml = 300;
  out.wash_mg_ml = 6;
  return out;
}

double charge(const CrystallizationRun& of) {
  double out = of.product.mass_mg + of.insoluble_mg;
  for (const CrudePart& impurity : of.impurities) out += impurity.mass_mg;
  return out;
}

double sum(const Crystallization& of) {
  return of.in_crop_mg + of.in_liquor_mg + of.in_wash_mg + of.on_filter_mg + of.in_transfers_mg;
}

std::vector<CrystallizationRun> many_runs() {
  std::vector<CrystallizationRun> out;
  for (const double hot : {2.0, 30.0, 100.0, 900.0}) {
    for (const double cold : {0.01, 1.0, 20.0, 250.0}) {
      for (const double volume : {0.0, 1.0, 23.0, 400.0}) {
        for (const bool filters : {false, true}) {
          CrystallizationRun one = run();
          one.product = {2300, hot, std::min(2 * cold, hot), std::min(cold, hot)};
          one.wash_mg_ml = one.product.cold_mg_ml;
          one.filters_hot = filters;
          one.uses_charcoal = filters;
          if (volume > 0) one.volume_ml = volume;
          out.push_back(one);
        }
      }
    }
  }
  return out;
}

}  // namespace

TEST_CASE("the balance closes") {
  for (const CrystallizationRun& one : many_runs()) {
    CHECK(sum(crystallize(one)) == doctest::Approx(charge(one)).epsilon(1e-9));
  }
}

TEST_CASE("no recovery exceeds the limit, and nothing is less than nothing") {
  for (const CrystallizationRun& one : many_runs()) {
    const Crystallization done = crystallize(one);
    CHECK(done.crop_product_mg <= done.recovery_limit * one.product.mass_mg * (1 + 1e-9));
    for (const double mass : {done.in_crop_mg, done.in_liquor_mg, done.in_wash_mg, done.on_filter_mg,
                              done.in_transfers_mg, done.second_crop_mg, done.room_deposit_mg, done.undissolved_mg}) {
      CHECK(mass >= 0);
    }
    CHECK(done.second_volume_ml <= done.volume_ml * (1 + 1e-12));
  }
}

TEST_CASE("more solvent than the least never raises the crop") {
  for (const bool filters : {false, true}) {
    double last = charge(run());
    for (double volume = 23; volume < 500; volume *= 1.1) {
      CrystallizationRun one = run();
      one.filters_hot = filters;
      one.volume_ml = volume;
      const double crop = crystallize(one).crop_product_mg;
      CHECK(crop <= last + 1e-9);
      last = crop;
    }
  }
}

TEST_CASE("100 g at 100 g/L hot and 10 g/L cold: 90 % from one litre, 80 % from two") {
  // Worked example in a textbook of practical chemistry.
  CrystallizationRun one;
  one.product = {1e5, 100, 20, 10};
  one.workable_hot_mg_ml = 300;
  one.wash_mg_ml = 10;
  const Crystallization least = crystallize(one);
  CHECK(least.minimum_volume_ml == doctest::Approx(1000));
  CHECK(least.deposit_mg == doctest::Approx(9e4));
  CHECK(least.recovery_limit == doctest::Approx(0.9));
  one.volume_ml = 2000;
  CHECK(crystallize(one).deposit_mg == doctest::Approx(8e4));
}

TEST_CASE("3 g of an impurity beside 97 g stay behind where the liquor can hold 5 g") {
  // F. G. Mann, B. C. Saunders, Practical Organic Chemistry: the cold liquor holds 15 g of A and 5 g of B.
  CrystallizationRun one;
  one.product = {97000, 100, 30, 15000 / 970.0};
  one.impurities = {{3000, 50, 20, 5000 / 970.0}};
  one.workable_hot_mg_ml = 300;
  one.wash_mg_ml = 15;
  const Crystallization done = crystallize(one);
  CHECK(done.volume_ml == doctest::Approx(970));
  CHECK(done.deposit_mg == doctest::Approx(82000));
  // Only what the liquor in the cake carries.
  CHECK(done.crop_foreign_mg < 0.02 * 3000);
}

TEST_CASE("the impurity joins where the liquor becomes too small for it") {
  CrystallizationRun one = run();
  one.impurities = {{150, 400, 90, 10}};
  const Crystallization done = crystallize(one);
  CHECK(done.impurity_joins_ml == doctest::Approx(15));
  CHECK(done.second_volume_ml == doctest::Approx(15));
  CHECK(done.second_crop_mg == doctest::Approx((23 - 15) * 6.0));
}

TEST_CASE("too little solvent leaves product undissolved: on the filter, or in the crop as it was") {
  CrystallizationRun one = run();
  one.volume_ml = 10;
  CHECK(crystallize(one).undissolved_mg == doctest::Approx(1300));
  one.filters_hot = true;
  CHECK(crystallize(one).on_filter_mg > 1300);
}

TEST_CASE("a syrup is thinned: no more than the workable solubility is counted") {
  CrystallizationRun one = run();
  one.product.hot_mg_ml = 900;
  CHECK(crystallize(one).minimum_volume_ml == doctest::Approx(2300 / 300.0));
}

}  // namespace firstcrop
