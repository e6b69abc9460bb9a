#include "solubility/mixture.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <utility>

using namespace firstcrop;

namespace {

// About a drug-like solid in ethanol and water.
const MixtureEnds kEnds{-1.5, -4.5, 58.69, 18.07, 150.0};

MixtureEnds turned(MixtureEnds ends) {
  std::swap(ends.first_log10_mole_fraction, ends.second_log10_mole_fraction);
  std::swap(ends.first_molar_volume_ml_mol, ends.second_molar_volume_ml_mol);
  return ends;
}

}  // namespace

TEST_CASE("a mixture of one solvent is that solvent") {
  CHECK(mixed_log10_mole_fraction(kEnds, 1.0) == doctest::Approx(-1.5));
  CHECK(mixed_log10_mole_fraction(kEnds, 0.0) == doctest::Approx(-4.5));
  CHECK(mixed_molar_volume_ml_mol(58.69, 18.07, 1.0) == doctest::Approx(58.69));
  CHECK(mixed_molar_volume_ml_mol(58.69, 18.07, 0.0) == doctest::Approx(18.07));
  CHECK(mixing_rule_sd(3.0, 0.0) == doctest::Approx(0.0));
  CHECK(mixing_rule_sd(3.0, 1.0) == doctest::Approx(0.0));
}

TEST_CASE("the order in which the solvents are named does not matter") {
  for (const double fraction : {0.0, 0.2, 0.5, 0.9}) {
    CHECK(mixed_log10_mole_fraction(kEnds, fraction) ==
          doctest::Approx(mixed_log10_mole_fraction(turned(kEnds), 1.0 - fraction)));
    CHECK(mixed_per_solvent_mg_ml(kEnds, fraction) ==
          doctest::Approx(mixed_per_solvent_mg_ml(turned(kEnds), 1.0 - fraction)));
    CHECK(mixed_sd(kEnds, fraction, 0.3, 0.5, 0.4) ==
          doctest::Approx(mixed_sd(turned(kEnds), 1.0 - fraction, 0.5, 0.3, 0.4)));
  }
  CHECK(better_fraction_for(kEnds, 20.0).value() ==
        doctest::Approx(better_fraction_for(turned(kEnds), 20.0).value()));
  CHECK(cloud_volume_ratio(kEnds, 0.8).value() ==
        doctest::Approx(cloud_volume_ratio(turned(kEnds), 0.8).value()));
}

TEST_CASE("a little of the better solvent does more than its volume") {
  CHECK(share_of_better(0.5) == doctest::Approx(2.58 / 3.58));
  double before = 0.0;
  for (double fraction = 0.05; fraction < 1.0; fraction += 0.05) {
    CHECK(share_of_better(fraction) > fraction);
    CHECK(share_of_better(fraction) > before);
    before = share_of_better(fraction);
  }
}

TEST_CASE("solvents that dissolve alike give a mixture that dissolves alike") {
  const MixtureEnds alike{-2.0, -2.0, 60.0, 90.0, 150.0};
  CHECK(mixed_log10_mole_fraction(alike, 0.3) == doctest::Approx(-2.0));
}

TEST_CASE("mg per mL counts the solvent that the moles of solute stand in") {
  // 1 mL of water is 1/18.07 mol; x = 10^-4.5.
  const double x = std::pow(10.0, -4.5);
  CHECK(mixed_per_solvent_mg_ml(kEnds, 0.0) == doctest::Approx(1000.0 / 18.07 * x / (1 - x) * 150.0));
  CHECK(std::isinf(mixed_per_solvent_mg_ml({0.0, -2.0, 50.0, 50.0, 100.0}, 1.0)));
}

TEST_CASE("the spread of a mixture holds that of its ends and of the rule") {
  CHECK(mixed_sd(kEnds, 1.0, 0.3, 0.5, 0.0) == doctest::Approx(0.3));
  CHECK(mixed_sd(kEnds, 0.0, 0.3, 0.5, 0.0) == doctest::Approx(0.5));
  CHECK(mixing_rule_sd(6.0, 0.5) == doctest::Approx(mixing_rule_sd(4.0, 0.5)));
  CHECK(mixed_sd(kEnds, 0.5, 0.3, 0.5, 0.9) > mixed_sd(kEnds, 0.5, 0.3, 0.5, 0.0));
  CHECK(mixed_sd(kEnds, 0.5, 0.0, 0.0, 0.0) == doctest::Approx(0.14 * 4.0));
}

TEST_CASE("the window is where the mixture just holds what it should") {
  for (const double target : {1.0, 10.0, 40.0}) {
    const auto fraction = better_fraction_for(kEnds, target);
    REQUIRE(fraction.has_value());
    CHECK(mixed_per_solvent_mg_ml(kEnds, *fraction) == doctest::Approx(target));
  }
  CHECK(better_fraction_for(kEnds, 1e-3).value() == doctest::Approx(0.0));
  CHECK_FALSE(better_fraction_for(kEnds, 1e4).has_value());
}

TEST_CASE("at the cloud volume the diluted solution is just saturated") {
  const double saturation = 0.8;
  const auto ratio = cloud_volume_ratio(kEnds, saturation);
  REQUIRE(ratio.has_value());
  const double better = 1.0 / (1.0 + *ratio);
  CHECK(mixed_per_solvent_mg_ml(kEnds, better) ==
        doctest::Approx(saturation * mixed_per_solvent_mg_ml(kEnds, 1.0) * better));
  CHECK(cloud_volume_ratio(kEnds, 0.5).value() > *ratio);
}

TEST_CASE("the first drop clouds a saturated solution only above the limiting contrast") {
  CHECK(contrast_that_clouds_at_once() == doctest::Approx(1.12).epsilon(0.005));
  // Dilute and of equal molar volumes, where the limit holds exactly.
  const MixtureEnds above{-4.0, -4.0 - 1.25, 50.0, 50.0, 150.0};
  const MixtureEnds below{-4.0, -4.0 - 1.0, 50.0, 50.0, 150.0};
  CHECK(cloud_volume_ratio(above, 1.0).value() < 1e-6);
  const auto later = cloud_volume_ratio(below, 1.0);
  CHECK((!later || *later > 0.05));
}

TEST_CASE("a solvent that is hardly poorer never clouds") {
  CHECK_FALSE(cloud_volume_ratio({-2.0, -2.1, 60.0, 60.0, 150.0}, 0.8).has_value());
  CHECK_FALSE(cloud_volume_ratio(kEnds, 0.0).has_value());
}
