#include "systems/solubility_scenarios.hpp"

#include <doctest/doctest.h>

#include <cmath>

#include "knowledge_fixture.hpp"

namespace firstcrop {
namespace {

// Four solvents whose levels share an error, whose enthalpies share another, and whose level and enthalpy
// lean on each other.
SolubilityState small_state() {
  constexpr std::size_t kSolvents = 4;
  SolubilityState state;
  state.solvent_count = kSolvents;
  state.molar_mass_g_mol = 200;
  state.mean = {-1.0, -0.3, 0.2, -3.5, 22, 25, 30, 35};
  state.covariance = Matrix(2 * kSolvents, 2 * kSolvents);
  for (std::size_t i = 0; i < kSolvents; ++i) {
    for (std::size_t j = 0; j < kSolvents; ++j) {
      const double own = i == j ? 1.0 : 0.0;
      const double level = 0.16 + own * (0.04 + 0.02 * static_cast<double>(i));
      state.covariance(i, j) = level;
      state.covariance(kSolvents + i, kSolvents + j) = 40 + own * 30;
      state.covariance(i, kSolvents + j) = -0.6 - own * 0.2;
      state.covariance(kSolvents + j, i) = state.covariance(i, kSolvents + j);
    }
  }
  return state;
}

}  // namespace

TEST_CASE("the draws have the means and the covariance of the state") {
  const SolubilityState state = small_state();
  const SolubilityScenarios scenarios = draw_scenarios(state, 0, 0);
  REQUIRE(scenarios.levels.size() == state.solvent_count);
  REQUIRE(scenarios.enthalpies.size() == state.solvent_count);
  const auto column = [&](std::size_t i) -> const ScenarioValues& {
    return i < state.solvent_count ? scenarios.levels[i] : scenarios.enthalpies[i - state.solvent_count];
  };
  for (std::size_t i = 0; i < state.mean.size(); ++i) {
    const double sd = std::sqrt(state.covariance(i, i));
    CHECK(std::abs(fixture::spread_of(column(i)).mean - state.mean[i]) < 0.01 * sd);
    for (std::size_t j = 0; j < state.mean.size(); ++j) {
      const double scale = sd * std::sqrt(state.covariance(j, j));
      INFO(i, " ", j);
      CHECK(std::abs(fixture::covariance_of(column(i), column(j)) - state.covariance(i, j)) < 0.03 * scale);
    }
  }
}

TEST_CASE("the spread of every level and enthalpy of a real solid is drawn") {
  const Inquiry inquiry = fixture::inquiry(fixture::solute("smiles: \"O=C(O)c1ccccc1\"\n"), {}, true);
  const SolubilityState& state = inquiry.posterior.state;
  for (std::size_t s = 0; s < state.solvent_count; ++s) {
    INFO(fixture::knowledge().model.solvent_ids()[s]);
    const auto level = fixture::spread_of(inquiry.scenarios.levels[s]);
    const auto enthalpy = fixture::spread_of(inquiry.scenarios.enthalpies[s]);
    const std::size_t h = state.solvent_count + s;
    CHECK(std::abs(level.mean - state.mean[s]) < 0.02);
    CHECK(level.sd == doctest::Approx(std::sqrt(state.covariance(s, s))).epsilon(0.05));
    CHECK(enthalpy.sd == doctest::Approx(std::sqrt(state.covariance(h, h))).epsilon(0.05));
  }
}

TEST_CASE("the same state gives the same draws") {
  const SolubilityScenarios first = draw_scenarios(small_state(), 10, 0.02);
  const SolubilityScenarios second = draw_scenarios(small_state(), 10, 0.02);
  CHECK(first.levels == second.levels);
  CHECK(first.enthalpies == second.enthalpies);
  CHECK(first.melting_shift_k == second.melting_shift_k);
  CHECK(first.molar_mass_factor == second.molar_mass_factor);
  CHECK(first.independent == second.independent);
}

TEST_CASE("what is known does not vary, what is estimated varies by its spread") {
  const SolubilityScenarios known = draw_scenarios(small_state(), 0, 0);
  CHECK(fixture::spread_of(known.melting_shift_k).sd == 0);
  CHECK(fixture::spread_of(known.molar_mass_factor).sd == 0);
  CHECK(known.molar_mass_factor[0] == 1);
  const SolubilityScenarios estimated = draw_scenarios(small_state(), 46, 0.1);
  CHECK(fixture::spread_of(estimated.melting_shift_k).sd == doctest::Approx(46).epsilon(0.02));
  CHECK(std::abs(fixture::spread_of(estimated.melting_shift_k).mean) < 0.5);
  CHECK(fixture::spread_of(fixture::log10_of(estimated.molar_mass_factor)).sd ==
        doctest::Approx(0.1).epsilon(0.02));
}

TEST_CASE("a pair has one score whichever solvent is named first") {
  const SolubilityScenarios scenarios = draw_scenarios(small_state(), 0, 0);
  CHECK(&scenarios.pair_score(3, 11) == &scenarios.pair_score(11, 3));
  CHECK(&scenarios.phase_score(3, 11) == &scenarios.phase_score(11, 3));
}

TEST_CASE("a state without uncertainty gives 64 times its mean") {
  SolubilityState state = small_state();
  state.covariance = Matrix(state.mean.size(), state.mean.size());
  const SolubilityScenarios scenarios = draw_scenarios(state, 0, 0);
  for (std::size_t s = 0; s < state.solvent_count; ++s) {
    const auto level = fixture::spread_of(scenarios.levels[s]);
    CHECK(level.mean == doctest::Approx(state.mean[s]));
    CHECK(level.sd < 1e-9);
  }
}

}  // namespace firstcrop
