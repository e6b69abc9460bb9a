#include "solubility/posterior.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <random>

#include "base/error.hpp"
#include "solubility/curve.hpp"
#include "solubility/evidence.hpp"
#include "state_fixture.hpp"

using namespace firstcrop;

namespace {

constexpr double kInfinity = std::numeric_limits<double>::infinity();

Observation value_at(std::size_t solvent, double temperature_k, double value) {
  Observation one;
  one.weights = {{solvent, 1.0}};
  one.temperature_k = temperature_k;
  one.value = value;
  one.noise_sd = 0.16;
  return one;
}

Observation between(std::size_t solvent, double temperature_k, double low, double high) {
  Observation one;
  one.weights = {{solvent, 1.0}};
  one.temperature_k = temperature_k;
  one.low = low;
  one.high = high;
  return one;
}

double largest_difference(const SolubilityState& a, const SolubilityState& b) {
  double largest = 0;
  for (std::size_t i = 0; i < a.mean.size(); ++i) {
    largest = std::max(largest, std::abs(a.mean[i] - b.mean[i]));
    for (std::size_t j = 0; j < a.mean.size(); ++j)
      largest = std::max(largest, std::abs(a.covariance(i, j) - b.covariance(i, j)));
  }
  return largest;
}

}  // namespace

TEST_CASE("without observations nothing changes") {
  const SolubilityState state = usual_state(4);
  const Posterior posterior = update(state, {});
  CHECK(posterior.converged);
  CHECK(largest_difference(posterior.state, state) == 0);
  for (std::size_t i = 0; i < 4; ++i)
    CHECK(posterior.without_scatter.covariance(i, i) == doctest::Approx(usual_prior(4).covariance(i, i)));
}

TEST_CASE("one interval is one step of moment matching on the whole state") {
  const SolubilityState state = usual_state(4);
  const double temperature = 340.0;
  const double t = tau(temperature);
  const double low = state.mean[1] + t * state.mean[5] + 0.4;
  const Posterior posterior = update(state, {between(1, temperature, low, kInfinity)});
  REQUIRE(posterior.converged);
  std::vector<double> shared(8);
  for (std::size_t i = 0; i < 8; ++i) shared[i] = state.covariance(i, 1) + t * state.covariance(i, 5);
  const Belief before{state.mean[1] + t * state.mean[5], shared[1] + t * shared[5]};
  const Belief after = judge_interval(before, low, kInfinity, 0.0064, 0.03).belief;
  for (std::size_t i = 0; i < 8; ++i) {
    const double gain = shared[i] / before.variance;
    CHECK(posterior.state.mean[i] == doctest::Approx(state.mean[i] + gain * (after.mean - before.mean)));
    for (std::size_t j = 0; j < 8; ++j)
      CHECK(posterior.state.covariance(i, j) ==
            doctest::Approx(state.covariance(i, j) -
                            gain * shared[j] / before.variance * (before.variance - after.variance)));
  }
}

TEST_CASE("a single surprising interval widens the whole state") {
  const SolubilityState state = usual_state(4);
  const Moments before = log10_molar_moments(state, 1, 298.15);
  const Posterior posterior = update(state, {between(1, 298.15, before.mean + 2.2 * before.sd, kInfinity)});
  REQUIRE(posterior.converged);
  for (std::size_t i = 0; i < 4; ++i) CHECK(posterior.state.covariance(i, i) > state.covariance(i, i));
}

TEST_CASE("two looks at one solvent are the product of their evidence") {
  // By summing: the level alone, one temperature, two independent readings.
  const SolubilityState state = usual_state(2);
  const Moments before = log10_molar_moments(state, 0, 298.15);
  const double low = before.mean - 0.2;
  const double high = before.mean + 0.5;
  const Posterior posterior =
      update(state, {between(0, 298.15, low, kInfinity), between(0, 298.15, -kInfinity, high)});
  REQUIRE(posterior.converged);
  double weight = 0;
  double first = 0;
  double second = 0;
  const auto below = [](double z) { return 0.5 * std::erfc(-z / std::sqrt(2.0)); };
  for (int i = -8000; i <= 8000; ++i) {
    const double z = i / 1000.0;
    const double x = before.mean + before.sd * z;
    const double w = std::exp(-0.5 * z * z) * (0.97 * below((x - low) / 0.08) + 0.03) *
                     (0.97 * below((high - x) / 0.08) + 0.03);
    weight += w;
    first += w * x;
    second += w * x * x;
  }
  const double mean = first / weight;
  const double sd = std::sqrt(second / weight - mean * mean);
  CHECK(posterior.state.mean[0] == doctest::Approx(mean).epsilon(0.02));
  CHECK(std::sqrt(posterior.state.covariance(0, 0)) == doctest::Approx(sd).epsilon(0.05));
}

TEST_CASE("a value from elsewhere leaves the scatter of the own laboratory untouched") {
  // The other way round: condition the prior without scatter, then add the scatter.
  const SolubilityPrior prior = usual_prior(4);
  const SolubilityState state = usual_state(4);
  const double residual = 0.4;
  Observation known = value_at(2, 298.15, prior.mean[2] + residual);
  known.other_laboratory = true;
  const Posterior posterior = update(state, {known});
  REQUIRE(posterior.converged);
  const double scatter = 0.16 * 0.16;
  const double variance = prior.covariance(2, 2) + scatter;
  for (std::size_t i = 0; i < 4; ++i) {
    CHECK(posterior.state.mean[i] ==
          doctest::Approx(prior.mean[i] + prior.covariance(i, 2) / variance * residual));
    for (std::size_t j = 0; j < 4; ++j) {
      const double left = prior.covariance(i, j) - prior.covariance(i, 2) * prior.covariance(2, j) / variance;
      CHECK(posterior.without_scatter.covariance(i, j) == doctest::Approx(left));
      CHECK(posterior.state.covariance(i, j) == doctest::Approx(left + (i == j ? scatter : 0.0)));
    }
  }
  CHECK(posterior.without_scatter.mean[0] == doctest::Approx(posterior.state.mean[0]));
}

TEST_CASE("a value from the own laboratory tells more of what it will find next than one from elsewhere") {
  const SolubilityState state = usual_state(4);
  Observation own = value_at(2, 298.15, state.mean[2] + 0.3);
  own.noise_sd = 0.08;
  Observation elsewhere = own;
  elsewhere.other_laboratory = true;
  const Posterior by_own = update(state, {own});
  const Posterior by_other = update(state, {elsewhere});
  CHECK(by_own.state.covariance(2, 2) < by_other.state.covariance(2, 2));
  CHECK(by_own.without_scatter.covariance(2, 2) > by_other.without_scatter.covariance(2, 2));
}

TEST_CASE("values taken in together are one linear solution") {
  const SolubilityState state = usual_state(4);
  const Observation first = value_at(0, 298.15, state.mean[0] + 0.2);
  const Observation second = value_at(1, 330.0, log10_molar_moments(state, 1, 330.0).mean + 0.1);
  const Posterior together = update(state, {first, second});
  SolubilityState one_by_one = update(state, {first}).state;
  one_by_one = update(one_by_one, {second}).state;
  CHECK(largest_difference(together.state, one_by_one) < 1e-9);
}

TEST_CASE("the order of observations has no influence") {
  const SolubilityState state = usual_state(12);
  std::vector<Observation> observations;
  for (const std::size_t i : {0U, 3U, 5U}) {
    Observation known = value_at(i, 298.15 + 5.0 * static_cast<double>(i), state.mean[i] + 0.5);
    known.other_laboratory = i != 3;
    known.label = "value " + std::to_string(i);
    observations.push_back(known);
  }
  observations.push_back(value_at(3, 298.15, state.mean[3] - 2.5));  // contradicts
  for (const std::size_t i : {1U, 4U}) {
    observations.push_back(between(i, 293.15, -kInfinity, state.mean[i] - 0.1));
    observations.push_back(between(i, 350.0, state.mean[i] + 0.4, kInfinity));
    observations.push_back(between(i, 278.15, -kInfinity, state.mean[i] + 0.4));
  }
  observations.push_back(between(7, 330.0, state.mean[7] + 2.5, kInfinity));  // contradicts
  const Posterior listed = update(state, observations);
  REQUIRE(listed.converged);
  std::mt19937 generator(3);
  for (int round = 0; round < 8; ++round) {
    std::vector<std::size_t> order(observations.size());
    for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
    std::shuffle(order.begin(), order.end(), generator);
    std::vector<Observation> shuffled;
    for (const std::size_t i : order) shuffled.push_back(observations[i]);
    const Posterior other = update(state, shuffled);
    CHECK(other.converged);
    CHECK(largest_difference(listed.state, other.state) < 1e-9);
    for (std::size_t i = 0; i < order.size(); ++i) {
      CHECK(other.reports[i].label == listed.reports[order[i]].label);
      CHECK(other.reports[i].surprise == doctest::Approx(listed.reports[order[i]].surprise));
    }
  }
}

TEST_CASE("two values that contradict each other are believed alike, and name each other") {
  SolubilityPrior prior = usual_prior(2);
  for (double& c : prior.covariance.values) c *= 4.0;
  const SolubilityState state = initial_state(prior, usual_enthalpy(2), kUsualMolarMass);
  Observation high = value_at(0, 298.15, prior.mean[0] + 1.0);
  Observation low = value_at(0, 298.15, prior.mean[0] - 1.0);
  const Posterior posterior = update(state, {high, low});
  REQUIRE(posterior.converged);
  CHECK(posterior.state.mean[0] == doctest::Approx(prior.mean[0]));
  CHECK(posterior.reports[0].weight == doctest::Approx(posterior.reports[1].weight));
  CHECK(posterior.reports[0].weight < 0.5);
  CHECK(posterior.reports[0].surprise > 2);
  CHECK(posterior.reports[1].surprise < -2);
  CHECK(posterior.reports[0].contradicts == std::optional<std::size_t>(1));
  CHECK(posterior.reports[1].contradicts == std::optional<std::size_t>(0));
  // and leave more doubt than two that agree
  const Posterior agreed =
      update(state, {value_at(0, 298.15, prior.mean[0]), value_at(0, 298.15, prior.mean[0])});
  CHECK(posterior.state.covariance(0, 0) > 2 * agreed.state.covariance(0, 0));
}

TEST_CASE("one wrong value among three is named and outvoted") {
  const SolubilityState state = usual_state(4);
  const double truth = state.mean[1];
  const std::vector<Observation> observations = {value_at(1, 298.15, truth), value_at(1, 298.15, truth + 0.1),
                                                 value_at(1, 298.15, truth - 2.5)};
  const Posterior posterior = update(state, observations);
  REQUIRE(posterior.converged);
  CHECK(std::abs(posterior.state.mean[1] - truth) < 0.15);
  CHECK(posterior.reports[2].weight < 0.1);
  CHECK(posterior.reports[0].weight > 0.9);
  CHECK(posterior.reports[2].surprise < -4);
}

TEST_CASE("a value that only the model contradicts names no other observation") {
  const SolubilityState state = usual_state(4);
  const Posterior posterior =
      update(state, {value_at(1, 298.15, state.mean[1] + 4.0), value_at(2, 298.15, state.mean[2])});
  REQUIRE(posterior.converged);
  CHECK(posterior.reports[0].surprise > 2);
  CHECK_FALSE(posterior.reports[0].contradicts.has_value());
  CHECK_FALSE(posterior.reports[1].contradicts.has_value());
}

TEST_CASE("a report tells what was expected without its own observation") {
  const SolubilityState state = usual_state(4);
  Observation first = value_at(0, 298.15, state.mean[0] + 0.3);
  first.label = "balance";
  first.place = 12;
  const Observation second = value_at(1, 310.0, log10_molar_moments(state, 1, 310.0).mean);
  const Posterior both = update(state, {first, second});
  const Posterior without = update(state, {second});
  const Moments expected = log10_molar_moments(without.state, 0, 298.15);
  const ObservationReport& report = both.reports[0];
  CHECK(report.label == "balance");
  CHECK(report.place == 12);
  CHECK(report.predicted_mean == doctest::Approx(expected.mean));
  CHECK(report.predicted_sd == doctest::Approx(std::hypot(expected.sd, 0.16)));
  CHECK(report.surprise ==
        doctest::Approx((state.mean[0] + 0.3 - expected.mean) / std::hypot(expected.sd, 0.16)));
  CHECK(report.model_mean == doctest::Approx(state.mean[0]));
}

TEST_CASE("what is learned in one solvent teaches the others, most its like") {
  const SolubilityState state = usual_state(6);
  const Posterior posterior = update(state, {value_at(0, 298.15, state.mean[0] + 0.8)});
  const auto moved = [&](std::size_t i) { return posterior.state.mean[i] - state.mean[i]; };
  CHECK(moved(2) > moved(1));
  CHECK(moved(1) > 0);
  CHECK(posterior.state.covariance(2, 2) < state.covariance(2, 2));
}

TEST_CASE("observations of a pair share the error of the mixing rule and teach it") {
  const SolubilityState state = usual_state(4);
  Observation mixed;
  mixed.weights = {{0, 0.7}, {1, 0.3}};
  mixed.offset = 0.05;
  mixed.temperature_k = 298.15;
  mixed.noise_sd = 0.08;
  const double expected = 0.05 + 0.7 * state.mean[0] + 0.3 * state.mean[1];
  mixed.value = expected + 0.9;
  mixed.mixture_error = MixtureError{1, 0, 0.4};
  const Posterior one = update(state, {mixed});
  REQUIRE(one.converged);
  REQUIRE(one.mixture_terms.size() == 1);
  CHECK(one.mixture_terms[0].first == 0);
  CHECK(one.mixture_terms[0].second == 1);
  // Linear: the surprise is shared out by variance between the rule, the levels and the reading.
  const double levels =
      0.49 * state.covariance(0, 0) + 2 * 0.21 * state.covariance(0, 1) + 0.09 * state.covariance(1, 1);
  const double whole = levels + 0.16 + 0.0064;
  CHECK(one.reports[0].predicted_mean == doctest::Approx(expected));
  CHECK(one.mixture_terms[0].mean == doctest::Approx(0.4 / whole * 0.9));
  CHECK(one.mixture_terms[0].sd == doctest::Approx(std::sqrt(1 - 0.16 / whole)));
  // A second reading of the same pair adds little; one with an error of its own would add more.
  const Posterior twice = update(state, {mixed, mixed});
  Observation apart = mixed;
  apart.mixture_error = MixtureError{0, 2, 0.4};
  const Posterior independent = update(state, {mixed, apart});
  CHECK(independent.mixture_terms.size() == 2);
  CHECK(twice.state.covariance(0, 0) > independent.state.covariance(0, 0));
}

TEST_CASE("a large file of sane tubes settles, and its covariance stays symmetric and positive") {
  const std::size_t count = 85;
  const SolubilityState state = usual_state(count);
  std::vector<Observation> observations;
  for (std::size_t i = 0; i < 24; ++i) {
    const std::size_t solvent = (11 * i) % count;
    const Moments cold = log10_molar_moments(state, solvent, 293.15);
    const Moments hot = log10_molar_moments(state, solvent, 345.0);
    const double charge = (cold.mean + hot.mean) / 2 + 0.3 * std::sin(static_cast<double>(i));
    observations.push_back(between(solvent, 293.15, charge - 0.7, charge));
    observations.push_back(between(solvent, 345.0, charge, kInfinity));
  }
  const Posterior posterior = update(state, observations);
  REQUIRE(posterior.converged);
  const Matrix& p = posterior.state.covariance;
  for (std::size_t i = 0; i < 2 * count; ++i) {
    CHECK(p(i, i) > 0);
    CHECK(p(i, i) <= state.covariance(i, i) * (1 + 1e-9));
    for (std::size_t j = 0; j < i; ++j) {
      REQUIRE(p(i, j) == p(j, i));
      REQUIRE(p(i, j) * p(i, j) <= p(i, i) * p(j, j) * (1 + 1e-9));
    }
  }
}

TEST_CASE("observations that make no sense are refused") {
  const SolubilityState state = usual_state(3);
  Observation nameless = value_at(0, 298.15, -1.0);
  nameless.weights.clear();
  CHECK_THROWS_AS((void)update(state, {nameless}), Error);
  CHECK_THROWS_AS((void)update(state, {value_at(3, 298.15, -1.0)}), Error);
  Observation noiseless = value_at(0, 298.15, -1.0);
  noiseless.noise_sd = 0;
  CHECK_THROWS_AS((void)update(state, {noiseless}), Error);
  CHECK_THROWS_AS((void)update(state, {between(0, 298.15, 1.0, 0.0)}), Error);
  Observation certain = between(0, 298.15, -1.0, 0.0);
  certain.error_chance = 0;
  CHECK_THROWS_AS((void)update(state, {certain}), Error);
}
