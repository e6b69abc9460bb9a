#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <limits>
#include <random>
#include <string>
#include <vector>

#include "solubility/posterior.hpp"
#include "state_fixture.hpp"

using namespace firstcrop;

namespace {

constexpr std::size_t kSolvents = 3;
constexpr std::size_t kSize = 2 * kSolvents;
constexpr double kInfinity = std::numeric_limits<double>::infinity();

using Point = std::array<double, kSize>;

// Lower triangle of the Cholesky decomposition.
std::array<Point, kSize> root_of(const Matrix& covariance) {
  std::array<Point, kSize> root{};
  for (std::size_t i = 0; i < kSize; ++i)
    for (std::size_t j = 0; j <= i; ++j) {
      double left = covariance(i, j);
      for (std::size_t k = 0; k < j; ++k) left -= root[i][k] * root[j][k];
      root[i][j] = i == j ? std::sqrt(left) : left / root[j][j];
    }
  return root;
}

double below(double z) {
  return 0.5 * std::erfc(-z / std::sqrt(2.0));
}

// How likely an observation is at a point of the state, as the observation itself is defined.
double likelihood(const Observation& one, const Point& point) {
  const double t = tau(one.temperature_k);
  double look = one.offset;
  for (const auto& [solvent, weight] : one.weights)
    look += weight * (point[solvent] + t * point[kSolvents + solvent]);
  if (one.value) {
    const double z = (*one.value - look) / one.noise_sd;
    return std::exp(-0.5 * z * z);
  }
  const double right = below((one.high - look) / one.noise_sd) - below((one.low - look) / one.noise_sd);
  return (1 - one.error_chance) * right + one.error_chance;
}

struct Sampled {
  Point mean{};
  Point sd{};
  double effective_draws = 0;
};

Sampled by_sampling(const SolubilityState& state, const std::vector<Observation>& observations) {
  constexpr int kDraws = 200000;
  const auto root = root_of(state.covariance);
  std::mt19937_64 generator(11);
  std::normal_distribution<double> normal;
  double weight = 0;
  double weight_squared = 0;
  Point first{};
  Point second{};
  for (int draw = 0; draw < kDraws; ++draw) {
    Point scores{};
    for (double& score : scores) score = normal(generator);
    Point point{};
    for (std::size_t i = 0; i < kSize; ++i) {
      point[i] = state.mean[i];
      for (std::size_t j = 0; j <= i; ++j) point[i] += root[i][j] * scores[j];
    }
    double w = 1;
    for (const Observation& one : observations) w *= likelihood(one, point);
    weight += w;
    weight_squared += w * w;
    for (std::size_t i = 0; i < kSize; ++i) {
      const double off = point[i] - state.mean[i];
      first[i] += w * off;
      second[i] += w * off * off;
    }
  }
  Sampled sampled;
  sampled.effective_draws = weight * weight / weight_squared;
  for (std::size_t i = 0; i < kSize; ++i) {
    const double off = first[i] / weight;
    sampled.mean[i] = state.mean[i] + off;
    sampled.sd[i] = std::sqrt(second[i] / weight - off * off);
  }
  return sampled;
}

Observation look(std::size_t solvent, double temperature_k, double low, double high) {
  Observation one;
  one.weights = {{solvent, 1.0}};
  one.temperature_k = temperature_k;
  one.low = low;
  one.high = high;
  return one;
}

Observation measured(std::size_t solvent, double temperature_k, double value) {
  Observation one;
  one.weights = {{solvent, 1.0}};
  one.temperature_k = temperature_k;
  one.value = value;
  one.noise_sd = 0.16;
  return one;
}

// Largest deviation of mean and sd, both in units of the sampled sd.
void compare(const std::string& name, const std::vector<Observation>& observations, double mean_tolerance,
             double sd_tolerance) {
  CAPTURE(name);
  const SolubilityState state = usual_state(kSolvents);
  const Posterior posterior = update(state, observations);
  REQUIRE(posterior.converged);
  const Sampled sampled = by_sampling(state, observations);
  REQUIRE(sampled.effective_draws > 2000);
  double mean_off = 0;
  double sd_off = 0;
  for (std::size_t i = 0; i < kSize; ++i) {
    mean_off = std::max(mean_off, std::abs(posterior.state.mean[i] - sampled.mean[i]) / sampled.sd[i]);
    sd_off = std::max(sd_off, std::abs(std::sqrt(posterior.state.covariance(i, i)) / sampled.sd[i] - 1));
  }
  INFO("effective draws " << sampled.effective_draws);
  CHECK(mean_off < mean_tolerance);
  CHECK(sd_off < sd_tolerance);
}

}  // namespace

// 200 000 draws from the prior, weighted by how likely the observations are at each: exact but for chance.
// Expectation propagation is not: it replaces what may be two hills by one. The tolerances are what it
// reaches, with some room.
TEST_CASE("where observations agree the joint update has the moments that sampling finds") {
  const SolubilityState state = usual_state(kSolvents);
  const auto mean = [&](std::size_t solvent, double t) {
    return log10_molar_moments(state, solvent, t).mean;
  };
  compare("one look", {look(0, 345, mean(0, 345) + 0.3, kInfinity)}, 0.02, 0.02);
  compare("two values", {measured(0, 298.15, mean(0, 298.15) + 0.4), measured(1, 330, mean(1, 330) + 0.1)},
          0.02, 0.02);
  compare("a tube: not cold, hot, crystals in ice",
          {look(0, 293.15, -kInfinity, mean(0, 293.15) + 0.2), look(0, 345, mean(0, 345) - 0.3, kInfinity),
           look(0, 278.15, -kInfinity, mean(0, 278.15) + 0.4)},
          0.06, 0.12);
}

TEST_CASE("where one observation is wrong the joint update believes the others, as sampling does") {
  const SolubilityState state = usual_state(kSolvents);
  const double level = state.mean[0];
  compare("a value against a look", {measured(0, 298.15, level), look(0, 298.15, level + 0.7, kInfinity)},
          0.03, 0.03);
  compare("a look against a look",
          {look(0, 298.15, level + 0.6, kInfinity), look(0, 298.15, -kInfinity, level - 0.2)}, 0.08, 0.08);
  compare("a look against the model",
          {look(0, 298.15, level + 1.7, kInfinity), look(1, 298.15, -kInfinity, state.mean[1] + 0.3)}, 0.03,
          0.12);
}

TEST_CASE("where several observations are doubtful at once the joint update is a rough guide") {
  const SolubilityState state = usual_state(kSolvents);
  const auto mean = [&](std::size_t solvent, double t) {
    return log10_molar_moments(state, solvent, t).mean;
  };
  compare("two tubes that ask for a steep curve",
          {look(0, 293.15, mean(0, 293.15) - 0.6, mean(0, 293.15) + 0.1),
           look(0, 345, mean(0, 345) + 0.3, kInfinity), look(0, 278.15, -kInfinity, mean(0, 278.15) + 0.4),
           look(1, 293.15, -kInfinity, mean(1, 293.15) - 0.2),
           look(1, 340, mean(1, 340) - 0.2, mean(1, 340) + 0.5)},
          0.2, 0.45);
  compare("a value and a tube that pull apart",
          {measured(0, 298.15, mean(0, 298.15) + 0.4), look(1, 293.15, -kInfinity, mean(1, 293.15) - 0.2),
           look(1, 340, mean(1, 340), kInfinity)},
          0.3, 0.35);
}
