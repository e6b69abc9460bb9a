#include "solubility/observations.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>

#include "solubility/curve.hpp"
#include "solubility/mixture.hpp"
#include "state_fixture.hpp"

using namespace firstcrop;

namespace {

constexpr double kInfinity = std::numeric_limits<double>::infinity();

double charge_of(double mg_per_ml) {
  return log10_molar_from_per_solvent(mg_per_ml, kUsualMolarMass);
}

Tube usual_tube() {
  Tube tube;
  tube.system = {{1, 1.0, 58.7}};
  tube.mass_mg = 50;
  tube.volume_ml = 1.0;
  tube.cold_temperature_k = 293.15;
  tube.hot_temperature_k = 350.0;
  tube.cooled_to_k = 278.15;
  tube.label = "tube 1";
  tube.place = 9;
  return tube;
}

ObservedSystem usual_pair() {
  return {{0, 0.6, 58.7}, {1, 0.4, 18.07}};
}

}  // namespace

TEST_CASE("each way of dissolving is its own interval") {
  const SolubilityState state = usual_state(4);
  const double charge = charge_of(50);
  const double fifth = charge_of(10);
  const struct {
    Dissolved seen;
    double low, high;
  } cases[] = {{Dissolved::All, charge, kInfinity},
               {Dissolved::Part, fifth, charge},
               {Dissolved::None, -kInfinity, fifth}};
  for (const auto& [seen, low, high] : cases) {
    Tube tube = usual_tube();
    tube.cold = seen;
    const auto cold = observations_of_tube(state, tube);
    REQUIRE(cold.size() == 1);
    CHECK(cold[0].low == low);
    CHECK(cold[0].high == high);
    CHECK(cold[0].temperature_k == doctest::Approx(293.15));
    CHECK(cold[0].noise_sd == doctest::Approx(0.08));
    CHECK(cold[0].error_chance == doctest::Approx(0.03));
    CHECK_FALSE(cold[0].other_laboratory);
    CHECK(cold[0].weights == std::vector<std::pair<std::size_t, double>>{{1, 1.0}});
    tube.cold.reset();
    tube.hot = seen;
    const auto hot = observations_of_tube(state, tube);
    REQUIRE(hot.size() == 1);
    CHECK(hot[0].temperature_k == doctest::Approx(350.0));
    CHECK(hot[0].low == low);
  }
}

TEST_CASE("whatever separates on cooling was more than the solution can hold") {
  const SolubilityState state = usual_state(4);
  for (const OnCooling seen : {OnCooling::Crystals, OnCooling::Powder, OnCooling::Oil, OnCooling::Cloud}) {
    Tube tube = usual_tube();
    tube.hot = Dissolved::All;
    tube.cooled = seen;
    const auto observations = observations_of_tube(state, tube);
    REQUIRE(observations.size() == 2);
    CHECK(observations[1].low == -kInfinity);
    CHECK(observations[1].high == doctest::Approx(charge_of(50)));
    CHECK(observations[1].temperature_k == doctest::Approx(278.15));
  }
}

TEST_CASE("a tube that stays clear on cooling is weak evidence, and none if solid was left") {
  const SolubilityState state = usual_state(4);
  Tube tube = usual_tube();
  tube.cooled = OnCooling::Nothing;
  tube.hot = Dissolved::All;
  const auto clear = observations_of_tube(state, tube);
  REQUIRE(clear.size() == 2);
  CHECK(clear[1].low == doctest::Approx(charge_of(50)));
  CHECK(clear[1].error_chance > clear[0].error_chance);
  tube.hot = Dissolved::Part;
  CHECK(observations_of_tube(state, tube).size() == 1);
  // weaker: the belief moves less than by the same reading of a dissolved tube
  const Moments before = log10_molar_moments(state, 1, 278.15);
  Observation firm = clear[1];
  firm.error_chance = 0.03;
  const double weak_shift =
      log10_molar_moments(update(state, {clear[1]}).state, 1, 278.15).mean - before.mean;
  const double firm_shift = log10_molar_moments(update(state, {firm}).state, 1, 278.15).mean - before.mean;
  CHECK(weak_shift > 0);
  CHECK(weak_shift < firm_shift);
}

TEST_CASE("a doubtful tube is believed less, and every look carries label and place") {
  const SolubilityState state = usual_state(4);
  Tube tube = usual_tube();
  tube.cold = Dissolved::None;
  tube.hot = Dissolved::All;
  tube.cooled = OnCooling::Crystals;
  tube.doubtful = true;
  const auto observations = observations_of_tube(state, tube);
  REQUIRE(observations.size() == 3);
  for (const Observation& one : observations) {
    CHECK(one.error_chance == doctest::Approx(kDoubtfulErrorChance));
    CHECK(one.place == 9);
  }
  CHECK(observations[0].label == "tube 1, cold");
  CHECK(observations[1].label == "tube 1, hot");
  CHECK(observations[2].label == "tube 1, cooled");
}

TEST_CASE("a tube without mass, volume or system says nothing") {
  const SolubilityState state = usual_state(4);
  Tube tube = usual_tube();
  tube.hot = Dissolved::All;
  Tube weightless = tube;
  weightless.mass_mg = 0;
  CHECK(observations_of_tube(state, weightless).empty());
  Tube dry = tube;
  dry.volume_ml = 0;
  CHECK(observations_of_tube(state, dry).empty());
  Tube nowhere = tube;
  nowhere.system.clear();
  CHECK(observations_of_tube(state, nowhere).empty());
  Tube unknown = tube;
  unknown.system[0].solvent = 4;
  CHECK(observations_of_tube(state, unknown).empty());
}

TEST_CASE("one solubility written in four ways is one observation") {
  const SolubilityState state = usual_state(4);
  KnownValue known;
  known.system = {{2, 1.0, 58.7}};
  known.temperature_k = 313.15;
  known.value = 60;
  known.basis = SolubilityBasis::MgPerMlSolvent;
  const double expected = charge_of(60);
  CHECK(observation_of_value(state, known)->value.value() == doctest::Approx(expected));
  known.basis = SolubilityBasis::MgPerMlSolution;
  known.value = 60 / (1 + 60.0 / 1270);
  CHECK(observation_of_value(state, known)->value.value() == doctest::Approx(expected));
  known.basis = SolubilityBasis::MolPerLitre;
  known.value = std::pow(10.0, expected);
  CHECK(observation_of_value(state, known)->value.value() == doctest::Approx(expected));
  known.basis = SolubilityBasis::MoleFraction;
  const double solute_mmol = 60.0 / kUsualMolarMass;
  known.value = solute_mmol / (solute_mmol + 1000.0 / 58.7);
  CHECK(observation_of_value(state, known)->value.value() == doctest::Approx(expected));
  CHECK(observation_of_value(state, known)->temperature_k == doctest::Approx(313.15));
}

TEST_CASE("a value carries the scatter of a laboratory unless its spread is told") {
  const SolubilityState state = usual_state(4);
  KnownValue known;
  known.system = {{2, 1.0, 58.7}};
  known.value = 60;
  CHECK(observation_of_value(state, known)->noise_sd == doctest::Approx(0.16));
  CHECK(observation_of_value(state, known)->other_laboratory);
  known.spread_log10 = 0.05;
  known.own_laboratory = true;
  CHECK(observation_of_value(state, known)->noise_sd == doctest::Approx(0.05));
  CHECK_FALSE(observation_of_value(state, known)->other_laboratory);
}

TEST_CASE("a value that cannot be is no observation") {
  const SolubilityState state = usual_state(4);
  KnownValue known;
  known.system = {{2, 1.0, 58.7}};
  for (const double value : {0.0, -3.0, kInfinity}) {
    known.value = value;
    CHECK_FALSE(observation_of_value(state, known).has_value());
  }
  known.value = 1300;
  CHECK(observation_of_value(state, known).has_value());  // per mL of solvent there is no limit
  known.basis = SolubilityBasis::MgPerMlSolution;
  CHECK_FALSE(observation_of_value(state, known).has_value());
  known.basis = SolubilityBasis::MolPerLitre;
  known.value = 9;
  CHECK_FALSE(observation_of_value(state, known).has_value());
  known.basis = SolubilityBasis::MoleFraction;
  known.value = 1;
  CHECK_FALSE(observation_of_value(state, known).has_value());
  known.value = 0.1;
  known.system[0].molar_volume_ml_mol = 0;
  CHECK_FALSE(observation_of_value(state, known).has_value());
}

TEST_CASE("an observation of a pair meets the mixing rule at the means and its slopes") {
  const SolubilityState state = usual_state(4);
  Tube tube = usual_tube();
  tube.system = usual_pair();
  tube.hot = Dissolved::All;
  tube.hot_temperature_k = 330.0;
  const auto observations = observations_of_tube(state, tube);
  REQUIRE(observations.size() == 1);
  const Observation& one = observations[0];
  const double first = log10_molar_moments(state, 0, 330.0).mean;
  const double second = log10_molar_moments(state, 1, 330.0).mean;
  // The same by way of mg per mL of solvents.
  const auto direct = [&](double a, double b) {
    const MixtureEnds ends{std::log10(mole_fraction_from_log10_molar(a, kUsualMolarMass, 58.7)),
                           std::log10(mole_fraction_from_log10_molar(b, kUsualMolarMass, 18.07)), 58.7, 18.07,
                           kUsualMolarMass};
    return charge_of(mixed_per_solvent_mg_ml(ends, 0.6));
  };
  REQUIRE(one.weights.size() == 2);
  const auto linear = [&](double a, double b) {
    return one.offset + one.weights[0].second * a + one.weights[1].second * b;
  };
  CHECK(linear(first, second) == doctest::Approx(direct(first, second)));
  for (const double step : {-0.05, 0.05}) {
    CHECK(std::abs(linear(first + step, second) - direct(first + step, second)) < 2e-3);
    CHECK(std::abs(linear(first, second + step) - direct(first, second + step)) < 2e-3);
  }
  REQUIRE(one.mixture_error.has_value());
  CHECK(one.mixture_error->sd > 0.1);
}

TEST_CASE("an observation of a pair names its better solvent in either order") {
  const SolubilityState state = usual_state(4);
  Tube tube = usual_tube();
  tube.system = usual_pair();
  tube.hot = Dissolved::All;
  Tube turned = tube;
  turned.system = {usual_pair()[1], usual_pair()[0]};
  const Posterior one = update(state, observations_of_tube(state, tube));
  const Posterior other = update(state, observations_of_tube(state, turned));
  for (std::size_t i = 0; i < 8; ++i) CHECK(one.state.mean[i] == doctest::Approx(other.state.mean[i]));
}

TEST_CASE("a very soluble solid in a pair still teaches") {
  SolubilityPrior prior = usual_prior(4);
  for (double& level : prior.mean) level = 2.0;  // above the pure melt
  const SolubilityState state = initial_state(prior, usual_enthalpy(4), kUsualMolarMass);
  Tube tube = usual_tube();
  tube.system = usual_pair();
  tube.hot = Dissolved::None;
  const Posterior posterior = update(state, observations_of_tube(state, tube));
  REQUIRE(posterior.converged);
  CHECK(posterior.state.mean[0] < state.mean[0]);
}

TEST_CASE("learning takes in values and tubes alike, whatever their order") {
  const SolubilityState state = usual_state(5);
  KnownValue known;
  known.system = {{2, 1.0, 58.7}};
  known.value = 12;
  known.label = "handbook";
  KnownValue other = known;
  other.system = {{3, 1.0, 80.0}};
  other.value = 90;
  Tube first = usual_tube();
  first.cold = Dissolved::Part;
  first.hot = Dissolved::All;
  Tube mixed = usual_tube();
  mixed.system = usual_pair();
  mixed.hot = Dissolved::All;
  mixed.cooled = OnCooling::Crystals;
  const Posterior one = learn(state, {known, other}, {first, mixed});
  const Posterior turned = learn(state, {other, known}, {mixed, first});
  REQUIRE(one.converged);
  REQUIRE(one.reports.size() == 6);
  CHECK(one.reports[0].label == "handbook");
  CHECK(one.mixture_terms.size() == 1);
  for (std::size_t i = 0; i < 10; ++i) {
    CHECK(one.state.mean[i] == doctest::Approx(turned.state.mean[i]).epsilon(1e-9));
    CHECK(one.state.covariance(i, i) == doctest::Approx(turned.state.covariance(i, i)).epsilon(1e-9));
  }
}

TEST_CASE("a pair is made linear where the other observations have moved it") {
  const SolubilityState state = usual_state(4);
  KnownValue known;
  known.system = {{0, 1.0, 58.7}};
  known.value = 400;  // far above what the model expects, so that the first slopes are wrong
  known.spread_log10 = 0.05;
  known.own_laboratory = true;
  Tube mixed = usual_tube();
  mixed.system = usual_pair();
  mixed.hot = Dissolved::All;
  const Posterior learned = learn(state, {known}, {mixed});
  const Posterior at_first =
      update(state, {*observation_of_value(state, known), observations_of_tube(state, mixed)[0]});
  CHECK(std::abs(learned.state.mean[1] - at_first.state.mean[1]) > 1e-4);
}
