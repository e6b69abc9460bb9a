#include "trials/tube_value.hpp"

#include <cmath>
#include <numeric>

#include <doctest/doctest.h>

#include "bench.hpp"
#include "solubility/curve.hpp"

namespace firstcrop {
namespace {

// Two solvents that know nothing of each other.
SolubilityState two_solvents(double level_sd) {
  SolubilityState out;
  out.solvent_count = 2;
  out.molar_mass_g_mol = 150;
  out.mean = {-1.0, -1.2, 30, 30};
  out.covariance = Matrix(4, 4);
  out.enthalpy_per_level = {0, 0};
  for (std::size_t i = 0; i < 2; ++i) {
    out.covariance(i, i) = level_sd * level_sd;
    out.covariance(2 + i, 2 + i) = 1;
  }
  return out;
}

const std::vector<Bottle> kBottles{{0, 350.15, 293.15, 278.15}, {1, 350.15, 293.15, 278.15}};

}  // namespace

TEST_CASE("usefulness is what the rule says it is") {
  const fixture::TrialBench bench("smiles: \"C1c2ccccc2-c2ccccc21\"\nmelting_point: 115 °C\n");
  for (const char* id : {"ethanol", "heptane", "water", "toluene", "acetone", "2-propanol"}) {
    CAPTURE(id);
    JudgedSystem judged = bench.judge->judge(System{{fixture::solvent(id)}, 1});
    bench.judge->explain(judged);
    const ScenarioValues hot = fixture::values_of(judged.frame, "system.hot_solubility");
    const ScenarioValues cold = fixture::values_of(judged.frame, "system.cold_solubility");
    const ScenarioValues by_rule = fixture::values_of(judged.frame, "system.usefulness");
    const auto& works = std::get<FlagColumn>(
        judged.frame.get(judged.frame.catalogue().find("system.works").value()).value);
    for (std::size_t k = 0; k < kScenarioCount; ++k) {
      CHECK(usefulness(hot[k], cold[k]) == doctest::Approx(by_rule[k]).scale(1).epsilon(1e-9));
      CHECK(((works.truth >> k & 1U) == 1U) == (by_rule[k] >= kWorks));
    }
  }
}

TEST_CASE("readings have numbers of their own") {
  for (std::size_t i = 0; i < kReadingCount; ++i) CHECK(index_of(reading_of(i)) == i);
}

TEST_CASE("draws have the moments of the state") {
  const SolubilityState state = two_solvents(0.5);
  const TubeDraws draws(state, kBottles);
  double mean = 0;
  for (std::size_t m = 0; m < draws.count(); ++m) mean += draws.usefulness_of(m, 0);
  mean /= static_cast<double>(draws.count());
  CHECK(mean == doctest::Approx(expectations(state, kBottles)[0].usefulness).epsilon(0.02));
}

TEST_CASE("what is known already is worth no tube") {
  const TubeDraws sure(two_solvents(0.001), kBottles);
  const TubeDraws unsure(two_solvents(0.8), kBottles);
  CHECK(worth_of_tube(sure, 0, {50, 1}).gain < 0.01);
  CHECK(worth_of_tube(unsure, 0, {50, 1}).gain > 0.02);
}

TEST_CASE("the chances of all readings of a tube add up to one") {
  const TubeDraws draws(two_solvents(0.8), kBottles);
  const TubeWorth worth = worth_of_tube(draws, 1, {50, 0.5});
  CHECK(std::accumulate(worth.chance.begin(), worth.chance.end(), 0.0) == doctest::Approx(1));
  // Ice is asked only of what had dissolved.
  CHECK(worth.chance[index_of({TubeReading::Look::None, TubeReading::Look::Part, TubeReading::Ice::Crystals})] == 0);
}

TEST_CASE("the best is surely within the whole range of usefulness") {
  const TubeDraws draws(two_solvents(0.8), kBottles);
  CHECK(chance_of_best(draws, 0, 1.0) == doctest::Approx(1));
  CHECK(chance_of_best(draws, 0, 0.05) < 1);
  CHECK(chance_that_any_works(draws) > 0.5);
}

TEST_CASE("some solvents of a state keep their moments") {
  SolubilityState state = two_solvents(0.5);
  state.covariance(0, 1) = state.covariance(1, 0) = 0.1;
  const SolubilityState turned = state_of_some(state, {1, 0});
  CHECK(turned.mean == std::vector<double>{-1.2, -1.0, 30, 30});
  CHECK(turned.covariance(0, 1) == 0.1);
  CHECK(turned.covariance(2, 2) == 1);
}

}  // namespace firstcrop
