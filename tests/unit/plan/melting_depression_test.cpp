#include "plan/melting_depression.hpp"

#include <doctest/doctest.h>

#include <cmath>

namespace firstcrop {

TEST_CASE("the law of the lowered melting point is the ideal solubility read backwards") {
  // Naphthalene, 19.28 kJ/mol, 80.2 °C: ideal mole fraction 0.296 at 25 °C (IUPAC-NIST Solubility Data Series 59); with
  // 4610 cal/mol 0.260 at 20 °C and 0.430 at 40 °C (exercise of a teaching laboratory).
  constexpr double kMelting = 353.35;
  CHECK(1 - impurity_by_depression(298.15, kMelting, 19.28) == doctest::Approx(0.296).epsilon(0.005));
  const double in_calories = 4.610 * 4.184;
  CHECK(1 - impurity_by_depression(293.15, kMelting, in_calories) == doctest::Approx(0.260).epsilon(0.005));
  CHECK(1 - impurity_by_depression(313.15, kMelting, in_calories) == doctest::Approx(0.430).epsilon(0.005));
}

TEST_CASE("one per cent takes about half a degree off") {
  // R Tm^2 / dH: naphthalene 0.54 K a mole per cent (19.1 kJ/mol), benzoic acid 0.72 K (18.0 kJ/mol, 122.4 °C).
  CHECK(impurity_by_depression(353.35 - 0.54, 353.35, 19.1) == doctest::Approx(0.01).epsilon(0.02));
  CHECK(impurity_by_depression(395.55 - 0.72, 395.55, 18.0) == doctest::Approx(0.01).epsilon(0.02));
}

TEST_CASE("a solid that melts where it should, or above, shows no impurity") {
  CHECK(impurity_by_depression(390, 390, 20) == 0);
  CHECK(impurity_by_depression(392, 390, 20) == 0);
  const PurityEstimate estimate = purity_by_melting(390, 390);
  CHECK(estimate.purity == 1);
  CHECK(estimate.high == 1);
  // Two readings good to half a degree cannot tell the last per cent.
  CHECK(estimate.low < 0.995);
  CHECK(estimate.low > 0.97);
}

TEST_CASE("the estimate falls with the depression and holds its range around it") {
  double before = 1.1;
  for (double depression = 0; depression < 40; depression += 1) {
    const PurityEstimate estimate = purity_by_melting(390 - depression, 390);
    CHECK(estimate.purity < before);
    CHECK(estimate.low <= estimate.purity);
    CHECK(estimate.high >= estimate.purity);
    CHECK(estimate.low >= 0);
    before = estimate.purity;
  }
}

TEST_CASE("the spread of Walden's rule reaches to measured enthalpies of fusion") {
  // kJ/mol and K, CRC Handbook of Chemistry and Physics: naphthalene, acetanilide, benzoic acid, benzil.
  const double measured[][2] = {{19.1, 353.4}, {21.3, 387.5}, {18.0, 395.5}, {23.5, 368.0}};
  for (const auto& [enthalpy, melting_point] : measured) {
    const FusionEnthalpy range = fusion_enthalpy_with_range(melting_point);
    CHECK(enthalpy > range.low_kj_mol);
    CHECK(enthalpy < range.high_kj_mol);
  }
}

}  // namespace firstcrop
