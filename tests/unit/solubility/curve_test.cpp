#include "solubility/curve.hpp"

#include <doctest/doctest.h>

#include <cmath>

#include "base/error.hpp"
#include "state_fixture.hpp"

using namespace firstcrop;

TEST_CASE("tau is zero at 298.15 K and its slope is that of van 't Hoff's line") {
  CHECK(tau(298.15) == doctest::Approx(0.0));
  // d tau/dT = 1/(R T^2 ln 10)
  const double t = 330.0;
  const double slope = (tau(t + 0.01) - tau(t - 0.01)) / 0.02;
  CHECK(slope == doctest::Approx(1.0 / (8.314462e-3 * t * t * std::log(10.0))));
}

TEST_CASE("20 kJ/mol lift the solubility 2.3-fold from 298.15 to 333.15 K") {
  // exp(20000/8.314462 (1/298.15 - 1/333.15))
  CHECK(std::pow(10.0, 20.0 * tau(333.15)) ==
        doctest::Approx(std::exp(20000.0 / 8.314462 * (1 / 298.15 - 1 / 333.15))));
}

TEST_CASE("no solution holds more than the pure melt") {
  const double melt = std::log10(1270.0 / 150.0);
  CHECK(log10_molar_of_melt(150.0) == doctest::Approx(melt));
  CHECK(log10_molar_at(0.5, 60.0, 390.0, 150.0) == doctest::Approx(melt));
  CHECK(log10_molar_at(-1.0, 20.0, 320.0, 150.0) == doctest::Approx(-1.0 + 20.0 * tau(320.0)));
}

TEST_CASE("concentrations come back unchanged from every way of writing them") {
  for (const double mg_per_ml : {0.01, 3.0, 45.0, 300.0, 900.0}) {
    CAPTURE(mg_per_ml);
    const double level = log10_molar_from_per_solvent(mg_per_ml, 180.0);
    CHECK(per_solvent_from_log10_molar(level, 180.0) == doctest::Approx(mg_per_ml));
    const double per_solution = per_solution_from_per_solvent(mg_per_ml);
    CHECK(log10_molar_from_per_solution(per_solution, 180.0) == doctest::Approx(level));
    CHECK(per_solution_from_log10_molar(level, 180.0) == doctest::Approx(per_solution));
    CHECK(per_solvent_from_per_solution(per_solution).value() == doctest::Approx(mg_per_ml));
    const double x = mole_fraction_from_log10_molar(level, 180.0, 58.7);
    CHECK(log10_molar_from_mole_fraction(x, 180.0, 58.7) == doctest::Approx(level));
    // mole fraction by counting: 1 mL of solvent is 1/58.7 mol
    const double solute_mmol = mg_per_ml / 180.0;
    CHECK(x == doctest::Approx(solute_mmol / (solute_mmol + 1000.0 / 58.7)));
  }
}

TEST_CASE("dilute solutions are the same per mL of solvent and per mL of solution") {
  CHECK(log10_molar_from_per_solvent(0.15, 150.0) == doctest::Approx(-3.0).epsilon(1e-4));
}

TEST_CASE("at and above the pure melt a concentration stays within its bounds") {
  CHECK(per_solvent_from_log10_molar(5.0, 150.0) == doctest::Approx(1500.0));
  CHECK(per_solution_from_log10_molar(5.0, 150.0) == doctest::Approx(1270.0));
  CHECK(mole_fraction_from_log10_molar(5.0, 150.0, 18.0) == doctest::Approx(1.0));
  CHECK_FALSE(per_solvent_from_per_solution(1270.0).has_value());
}

TEST_CASE("the enthalpy rule is the sum of its six terms and the solvent's own") {
  const EnthalpyModel model{{1.0, 2.0, 3.0, 4.0, 5.0, 6.0}, {0.0, 7.0}, 6.5, 6.0};
  const double level = -1.5;
  const double melting = 440.0;
  const double slope = (std::log10(1270.0 / 200.0) + 1.5) / tau(440.0);
  const double expected =
      1.0 + 2.0 * level + 3.0 * slope / 10.0 + 4.0 * 0.2 + 5.0 * level * 0.2 + 6.0 * 0.25 + 7.0;
  CHECK(enthalpy_kj_mol(model, 1, level, melting, 200.0) == doctest::Approx(expected));
}

TEST_CASE("the slope to the pure melt is bounded for solids that melt near room temperature") {
  const EnthalpyModel only_slope{{0, 0, 1.0, 0, 0, 0}, {0.0}, 6.5, 6.0};
  CHECK(enthalpy_kj_mol(only_slope, 0, -4.0, 300.0, 200.0) == doctest::Approx(12.0));
  CHECK(enthalpy_kj_mol(only_slope, 0, 0.5, 300.0, 200.0) ==
        doctest::Approx(enthalpy_kj_mol(only_slope, 0, 0.5, 320.0, 200.0)));
  // more soluble than the melt: the distance stays positive
  CHECK(enthalpy_kj_mol(only_slope, 0, 3.0, 420.0, 200.0) > 0);
}

TEST_CASE("the initial state is the prior with laboratory scatter, and enthalpies on the chord of the rule") {
  const std::size_t count = 4;
  const SolubilityPrior prior = usual_prior(count);
  const EnthalpyModel rule = usual_enthalpy(count);
  const SolubilityState state = usual_state(count);
  for (std::size_t i = 0; i < count; ++i) {
    CHECK(state.mean[i] == doctest::Approx(prior.mean[i]));
    CHECK(state.covariance(i, i) == doctest::Approx(prior.covariance(i, i) + 0.16 * 0.16));
    const double sd = std::sqrt(state.covariance(i, i));
    const double above = enthalpy_kj_mol(rule, i, prior.mean[i] + sd, 400.0, kUsualMolarMass);
    const double below = enthalpy_kj_mol(rule, i, prior.mean[i] - sd, 400.0, kUsualMolarMass);
    CHECK(state.mean[count + i] == doctest::Approx((above + below) / 2));
    // One sd in level moves the enthalpy to the ends of the chord.
    CHECK(state.covariance(i, count + i) / state.covariance(i, i) ==
          doctest::Approx((above - below) / (2 * sd)));
    for (std::size_t j = 0; j < count; ++j) {
      CHECK(
          state.covariance(count + i, count + j) ==
          doctest::Approx(state.enthalpy_per_level[i] * state.covariance(i, j) * state.enthalpy_per_level[j] +
                          6.5 * 6.5 + (i == j ? 36.0 : 0.0)));
      CHECK(state.covariance(i, count + j) == doctest::Approx(state.covariance(count + j, i)));
    }
  }
}

TEST_CASE("an enthalpy rule for other solvents than the prior's is refused") {
  CHECK_THROWS_AS((void)initial_state(usual_prior(4), usual_enthalpy(3), 150.0), Error);
}

TEST_CASE("moments at a temperature follow from level and enthalpy") {
  const SolubilityState state = usual_state(3);
  const double t = tau(340.0);
  const Moments moments = log10_molar_moments(state, 1, 340.0);
  CHECK(moments.mean == doctest::Approx(state.mean[1] + t * state.mean[4]));
  CHECK(moments.sd * moments.sd == doctest::Approx(state.covariance(1, 1) + 2 * t * state.covariance(1, 4) +
                                                   t * t * state.covariance(4, 4)));
  CHECK(log10_molar_covariance(state, 0, 340.0, 2, 280.0) ==
        doctest::Approx(log10_molar_covariance(state, 2, 280.0, 0, 340.0)));
}

TEST_CASE("a measured enthalpy is taken up, and others learn by the shared spread") {
  const SolubilityState before = usual_state(3);
  const double expected = before.mean[3];
  const SolubilityState after = with_measured_enthalpies(before, {{0, expected + 15.0, 2.0}});
  CHECK(after.mean[3] == doctest::Approx(expected + 15.0).epsilon(0.05));
  CHECK(std::sqrt(after.covariance(3, 3)) < 2.5);
  CHECK(after.mean[4] > before.mean[4] + 3.0);
  CHECK(after.covariance(4, 4) < before.covariance(4, 4));
}

TEST_CASE("the order of measured enthalpies does not matter") {
  const SolubilityState before = usual_state(3);
  const MeasuredEnthalpy first{0, 30.0, 2.0};
  const MeasuredEnthalpy second{2, 12.0, 3.0};
  const SolubilityState one = with_measured_enthalpies(before, {first, second});
  const SolubilityState other = with_measured_enthalpies(before, {second, first});
  for (std::size_t i = 0; i < 6; ++i) {
    CHECK(one.mean[i] == doctest::Approx(other.mean[i]));
    for (std::size_t j = 0; j < 6; ++j) CHECK(std::abs(one.covariance(i, j) - other.covariance(i, j)) < 1e-9);
  }
}
