#include "solubility/oiling.hpp"

#include <doctest/doctest.h>

#include <cmath>

using namespace firstcrop;

namespace {

const OilingSolute kSolute{387.45, 21.3, 128.0};
const OilingSolvent kWater{18.07, 0.00072, 298.15, 1.0};

struct Activities {
  double solvent;
  double solute;
};

// Written out in mole fractions, apart from the form the engine uses.
Activities ln_activities(double x, double q, double chi) {
  const double phi = q * x / (q * x + 1 - x);
  return {std::log(1 - x) + chi * phi * phi, std::log(x) + q * chi * (1 - phi) * (1 - phi)};
}

}  // namespace

TEST_CASE("both liquids have the same activities of both components") {
  for (const double x : {1e-6, 1e-4, 1e-3, 5e-3}) {
    CAPTURE(x);
    const auto gap = find_oiling_gap(kSolute, {18.07, x, 298.15, 1.0});
    REQUIRE(gap.has_value());
    const double q = 0.87 * 128.0 / 18.07;
    const Activities dilute = ln_activities(gap->dilute_mole_fraction, q, gap->chi);
    const Activities rich = ln_activities(gap->rich_mole_fraction, q, gap->chi);
    CHECK(std::abs(dilute.solvent - rich.solvent) < 1e-9);
    CHECK(std::abs(dilute.solute - rich.solute) < 1e-9);
    CHECK(gap->dilute_mole_fraction < gap->rich_mole_fraction);
    // and the pure solid has it too at the wet melting point
    const double solid = -21.3 / 8.314462e-3 * (1 / gap->wet_melting_point_k - 1 / kSolute.melting_point_k);
    CHECK(std::abs(solid - rich.solute) < 1e-9);
  }
}

TEST_CASE("the known solubility is met by the constant drawn from it") {
  const auto gap = find_oiling_gap(kSolute, kWater);
  REQUIRE(gap.has_value());
  const double solid = -21.3 / 8.314462e-3 * (1 / 298.15 - 1 / kSolute.melting_point_k);
  CHECK(ln_activities(0.00072, 0.87 * 128.0 / 18.07, gap->chi).solute == doctest::Approx(solid));
}

TEST_CASE("a good solvent has no second liquid") {
  CHECK_FALSE(find_oiling_gap(kSolute, {18.07, 0.1, 298.15, 1.0}).has_value());
  // more soluble than ideal: solute and solvent attract each other
  CHECK_FALSE(find_oiling_gap(kSolute, {60.0, 0.4, 298.15, 0.0}).has_value());
  CHECK_FALSE(wet_melting_point(kSolute, {60.0, 0.05, 298.15, 0.0}).has_value());
}

TEST_CASE("the gap closes steadily as the solid becomes more soluble") {
  double wet_before = 0;
  double rich_before = 1;
  for (double log10_x = -7; log10_x < -2; log10_x += 0.25) {
    const auto gap = find_oiling_gap(kSolute, {18.07, std::pow(10.0, log10_x), 298.15, 1.0});
    if (!gap) break;
    CHECK(gap->rich_mole_fraction < rich_before);
    CHECK(gap->wet_melting_point_k < kSolute.melting_point_k);
    if (wet_before > 0) CHECK(gap->wet_melting_point_k < wet_before);
    rich_before = gap->rich_mole_fraction;
    wet_before = gap->wet_melting_point_k;
  }
  CHECK(wet_before > 0);
}

TEST_CASE("what is out of range has no answer") {
  CHECK_FALSE(find_oiling_gap(kSolute, {18.07, 0.0, 298.15, 1.0}).has_value());
  CHECK_FALSE(find_oiling_gap(kSolute, {18.07, 1.0, 298.15, 1.0}).has_value());
  CHECK_FALSE(find_oiling_gap({290.0, 21.3, 128.0}, kWater).has_value());
  CHECK_FALSE(find_oiling_gap({387.45, 0.0, 128.0}, kWater).has_value());
  CHECK_FALSE(find_oiling_gap(kSolute, {0.0, 0.00072, 298.15, 1.0}).has_value());
}

TEST_CASE("water takes 31 K off the melting point, a mixture its share") {
  const auto water = wet_melting_point(kSolute, kWater);
  REQUIRE(water.has_value());
  CHECK(water->origin == WetMeltingOrigin::WaterRule);
  CHECK(water->temperature_k.centre == doctest::Approx(387.45 - 31));
  const auto half = wet_melting_point(kSolute, {38.0, 0.02, 298.15, 0.5});
  REQUIRE(half.has_value());
  CHECK(half->origin == WetMeltingOrigin::AqueousRule);
  CHECK(half->temperature_k.centre == doctest::Approx(387.45 - 15.5));
  const auto organic = wet_melting_point(kSolute, {148.0, 1e-5, 298.15, 0.0});
  REQUIRE(organic.has_value());
  CHECK(organic->origin == WetMeltingOrigin::Model);
  CHECK(organic->temperature_k.centre == doctest::Approx(organic->gap->wet_melting_point_k));
}

TEST_CASE("eight of ten wet melting points lie within the stated range, none above the melting point") {
  const auto found = wet_melting_point(kSolute, kWater);
  REQUIRE(found.has_value());
  const SplitNormal& t = found->temperature_k;
  CHECK(t.at(0.0) == doctest::Approx(t.centre));
  CHECK(t.at(-1.2815515655) == doctest::Approx(t.centre - 50));
  CHECK(t.at(1.2815515655) == doctest::Approx(t.centre + 10));
  CHECK(t.at(8.0) == doctest::Approx(kSolute.melting_point_k));
  const auto organic = wet_melting_point(kSolute, {148.0, 1e-5, 298.15, 0.0});
  REQUIRE(organic.has_value());
  CHECK(organic->temperature_k.at(-1.2815515655) == doctest::Approx(organic->temperature_k.centre - 10));
}

TEST_CASE("the enthalpy of fusion follows Walden, symmetry and flexibility") {
  CHECK(fusion_enthalpy_by_walden_kj_mol(400.0) == doctest::Approx(22.6));
  CHECK(fusion_enthalpy_estimate_kj_mol(400.0, 1.0, 0.0) == doctest::Approx(20.0));
  CHECK(fusion_enthalpy_estimate_kj_mol(400.0, 1.0, 2.0) == doctest::Approx(20.0 + 0.4 * 14.8));
  CHECK(fusion_enthalpy_estimate_kj_mol(400.0, 2.0, 0.0) ==
        doctest::Approx(20.0 - 0.4 * 8.314462 * std::log(2.0)));
}

TEST_CASE("enough solvent lets the solid come first") {
  CHECK(volume_against_oiling_ml(1000.0, 40.0).value() == doctest::Approx(25.0));
  CHECK_FALSE(volume_against_oiling_ml(1000.0, 0.0).has_value());
}
