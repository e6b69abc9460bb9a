#include "plan/mass_balance.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <random>

namespace firstcrop {
namespace {

constexpr int kTries = 20000;

// Charges as they may be typed, the awkward ones among them.
class Charges {
 public:
  ChargeAmounts next() {
    ChargeAmounts out;
    out.crude_mg = between(10, 1e5);
    out.insoluble_mg = often() ? 0 : out.crude_mg * between(0, 0.3);
    if (often()) out.impurity_mg = out.crude_mg * between(0, 0.4);
    out.hot_mg_ml = between(1, 800);
    out.cold_mg_ml = *out.hot_mg_ml * (often() ? between(0, 1) : 0);
    if (out.impurity_mg && often()) out.impurity_hot_mg_ml = between(1, 800);
    if (out.impurity_mg) out.impurity_cold_mg_ml = out.impurity_hot_mg_ml.value_or(500) * between(0, 1);
    const double minimum = out.product_mg() / *out.hot_mg_ml;
    if (often()) out.volume_ml = minimum * between(0.1, 12);
    if (often()) out.wash_volume_ml = minimum * between(0.01, 0.1);
    if (often()) out.boil_down_to_ml = minimum * between(0.01, 0.09);
    return out;
  }
  double between(double low, double high) { return std::uniform_real_distribution<double>(low, high)(engine_); }

 private:
  bool often() { return between(0, 1) < 0.6; }
  std::mt19937 engine_{20260117};
};

double sum(const ComponentBalance& part) {
  return *part.undissolved_mg + *part.crystals_mg + *part.liquor_mg + part.wash_mg.value_or(0);
}

}  // namespace

TEST_CASE("every gram is accounted for") {
  Charges charges;
  double worst = 0;
  for (int i = 0; i < kTries; ++i) {
    const ChargeAmounts charge = charges.next();
    const MassBalance balance = balance_of(charge);
    worst = std::max(worst, std::abs(sum(balance.product) / balance.product_mg - 1));
    worst = std::max(worst, std::abs((*balance.product.dissolved_mg + *balance.product.undissolved_mg) /
                                         balance.product_mg - 1));
    if (balance.impurity) worst = std::max(worst, std::abs(sum(*balance.impurity) - *charge.impurity_mg) / charge.crude_mg);
    const double all = sum(balance.product) + charge.insoluble_mg + charge.impurity_mg.value_or(0);
    worst = std::max(worst, std::abs(all / charge.crude_mg - 1));
    if (balance.second_crop)
      worst = std::max(worst, std::abs(balance.second_crop->crystals_mg + balance.second_crop->liquor_mg -
                                       *balance.product.liquor_mg) / balance.product_mg);
  }
  CHECK(worst < 1e-9);
}

TEST_CASE("no amount is negative, and no more comes back than the limit") {
  Charges charges;
  for (int i = 0; i < kTries; ++i) {
    const MassBalance balance = balance_of(charges.next());
    REQUIRE(*balance.product.crystals_mg >= 0);
    REQUIRE(*balance.product.liquor_mg >= 0);
    REQUIRE(*balance.product.undissolved_mg >= 0);
    REQUIRE(*balance.recovery <= *balance.recovery_limit + 1e-12);
    if (balance.purity) REQUIRE(*balance.purity <= 1);
  }
}

TEST_CASE("more solvent than the minimum never raises the crop") {
  Charges charges;
  for (int i = 0; i < kTries; ++i) {
    ChargeAmounts charge = charges.next();
    charge.boil_down_to_ml.reset();
    charge.volume_ml.reset();
    const double minimum = *balance_of(charge).minimum_volume_ml;
    charge.volume_ml = minimum * charges.between(1, 5);
    const double before = *balance_of(charge).product.crystals_mg;
    *charge.volume_ml *= charges.between(1, 3);
    REQUIRE(*balance_of(charge).product.crystals_mg <= before * (1 + 1e-12) + 1e-9);
  }
}

TEST_CASE("below the minimum volume more solvent never raises what stays solid in all") {
  Charges charges;
  for (int i = 0; i < kTries; ++i) {
    ChargeAmounts charge = charges.next();
    charge.wash_volume_ml.reset();
    charge.volume_ml = charge.product_mg() / *charge.hot_mg_ml * charges.between(0.05, 1);
    const auto solid = [](const MassBalance& balance) {
      return *balance.product.crystals_mg + *balance.product.undissolved_mg;
    };
    const double before = solid(balance_of(charge));
    *charge.volume_ml *= charges.between(1, 2);
    REQUIRE(solid(balance_of(charge)) <= before * (1 + 1e-12) + 1e-9);
  }
}

TEST_CASE("the minimum volume reaches the limit where nothing is lost to a wash") {
  ChargeAmounts charge;
  charge.crude_mg = 5000;
  charge.hot_mg_ml = 92;
  charge.cold_mg_ml = 8;
  const MassBalance balance = balance_of(charge);
  CHECK(*balance.volume_ml == doctest::Approx(5000.0 / 92));
  CHECK(*balance.recovery == doctest::Approx(*balance.recovery_limit).epsilon(1e-12));
}

TEST_CASE("the impurity sets the minimum volume where it needs more") {
  ChargeAmounts charge;
  charge.crude_mg = 1000;
  charge.impurity_mg = 200;
  charge.hot_mg_ml = 100;
  charge.impurity_hot_mg_ml = 10;
  CHECK(*balance_of(charge).minimum_volume_ml == doctest::Approx(20));
}

TEST_CASE("a wash takes no more than there is") {
  ChargeAmounts charge;
  charge.crude_mg = 1000;
  charge.hot_mg_ml = 100;
  charge.cold_mg_ml = 95;
  charge.wash_volume_ml = 9;
  const MassBalance balance = balance_of(charge);
  CHECK(*balance.product.wash_mg == doctest::Approx(50));
  CHECK(*balance.product.crystals_mg == doctest::Approx(0));
}

TEST_CASE("what does not follow is not told") {
  ChargeAmounts charge;
  charge.crude_mg = 1000;
  const MassBalance alone = balance_of(charge);
  CHECK_FALSE(alone.minimum_volume_ml);
  CHECK_FALSE(alone.recovery);
  charge.hot_mg_ml = 100;
  const MassBalance hot_only = balance_of(charge);
  CHECK(hot_only.minimum_volume_ml);
  CHECK_FALSE(hot_only.product.crystals_mg);
  CHECK_FALSE(hot_only.purity);
}

TEST_CASE("the liquor gives a second crop, and says where impurity and hot product come in") {
  ChargeAmounts charge;
  charge.crude_mg = 105000;
  charge.impurity_mg = 5000;
  charge.hot_mg_ml = 100;
  charge.cold_mg_ml = 10;
  charge.impurity_cold_mg_ml = 20;
  charge.volume_ml = 1000;
  charge.boil_down_to_ml = 200;
  const MassBalance balance = balance_of(charge);
  REQUIRE(balance.second_crop);
  CHECK(balance.second_crop->crystals_mg == doctest::Approx(8000));
  CHECK(*balance.second_crop->impurity_joins_below_ml == doctest::Approx(250));
  CHECK(*balance.second_crop->drops_hot_below_ml == doctest::Approx(100));
  CHECK(*balance.second_crop->impurity_crystals_mg == doctest::Approx(1000));
}

}  // namespace firstcrop
