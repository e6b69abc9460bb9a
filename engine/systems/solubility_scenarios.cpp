#include "systems/solubility_scenarios.hpp"

#include <algorithm>
#include <cmath>

namespace firstcrop {
namespace {

constexpr std::size_t kDirections = 42;
constexpr std::size_t kIndependent = 96;
// One kJ/mol moves log10 S by about this much between 25 and 65 °C; it makes levels and enthalpies comparable
// when the next direction is chosen.
constexpr double kEnthalpyScale = 0.02;
constexpr double kNegligibleVariance = 1e-10;

// Columns of a pivoted Cholesky factor of the scaled covariance, row by row, and the variance that they
// leave.
struct Factor {
  std::size_t dimension = 0;
  std::vector<std::vector<double>> directions;
  std::vector<double> remaining;

  [[nodiscard]] double remaining_covariance(const SolubilityState& state, std::size_t row, std::size_t column,
                                            double scale) const {
    double out = state.covariance(row, column) * scale;
    for (const auto& direction : directions) out -= direction[row] * direction[column];
    return out;
  }
};

double scale_of(std::size_t index, std::size_t solvents) {
  return index < solvents ? 1.0 : kEnthalpyScale;
}

Factor factorize(const SolubilityState& state) {
  Factor out;
  out.dimension = state.mean.size();
  const std::size_t solvents = state.solvent_count;
  const auto covariance = [&state, solvents](std::size_t row, std::size_t column) {
    return state.covariance(row, column) * scale_of(row, solvents) * scale_of(column, solvents);
  };
  out.remaining.resize(out.dimension);
  for (std::size_t i = 0; i < out.dimension; ++i) out.remaining[i] = covariance(i, i);
  while (out.directions.size() < kDirections) {
    const auto largest = std::max_element(out.remaining.begin(), out.remaining.end());
    if (largest == out.remaining.end() || *largest < kNegligibleVariance) break;
    const auto pivot = static_cast<std::size_t>(largest - out.remaining.begin());
    const double root = std::sqrt(*largest);
    std::vector<double> direction(out.dimension);
    for (std::size_t i = 0; i < out.dimension; ++i) direction[i] = covariance(i, pivot);
    for (const auto& earlier : out.directions) {
      const double weight = earlier[pivot];
      for (std::size_t i = 0; i < out.dimension; ++i) direction[i] -= earlier[i] * weight;
    }
    for (std::size_t i = 0; i < out.dimension; ++i) {
      direction[i] /= root;
      out.remaining[i] = std::max(out.remaining[i] - direction[i] * direction[i], 0.0);
    }
    out.remaining[pivot] = 0;
    out.directions.push_back(std::move(direction));
  }
  return out;
}

void add_scaled(ScenarioValues& target, const ScenarioValues& scores, double factor) {
  for (std::size_t k = 0; k < kScenarioCount; ++k) target[k] += factor * scores[k];
}

// Sixty-four draws never have quite the spread that was asked for; shifting and stretching them gives them mean 0 and
// this standard deviation and leaves correlations alone.
void match_moments(ScenarioValues& draws, double sd) {
  constexpr auto kCount = static_cast<double>(kScenarioCount);
  double mean = 0;
  for (const double draw : draws) mean += draw / kCount;
  double variance = 0;
  for (const double draw : draws) variance += (draw - mean) * (draw - mean) / kCount;
  const double stretch = variance > 0 ? sd / std::sqrt(variance) : 0.0;
  for (double& draw : draws) draw = (draw - mean) * stretch;
}

ScenarioValues constant(double value) {
  ScenarioValues out;
  out.fill(value);
  return out;
}

}  // namespace

const ScenarioValues& SolubilityScenarios::pair_score(std::size_t first, std::size_t second) const {
  const std::size_t low = std::min(first, second);
  const std::size_t high = std::max(first, second);
  return independent[(low * 37 + high * 11) % 64];
}

const ScenarioValues& SolubilityScenarios::phase_score(std::size_t first, std::size_t second) const {
  const std::size_t low = std::min(first, second);
  const std::size_t high = std::max(first, second);
  return independent[(low * 29 + high * 13 + 7) % 64];
}

const ScenarioValues& SolubilityScenarios::impurity_score(std::size_t index) const {
  return independent[64 + index % (kIndependent - 64)];
}

SolubilityScenarios draw_scenarios(const SolubilityState& state, double melting_point_sd_k,
                                   double molar_mass_log10_sd) {
  const Factor factor = factorize(state);
  const std::size_t solvents = state.solvent_count;
  const Scenarios scores(kDirections + 3, 2 * solvents + kIndependent);

  SolubilityScenarios out;
  out.levels.resize(solvents);
  out.enthalpies.resize(solvents);
  for (std::size_t s = 0; s < solvents; ++s) {
    ScenarioValues level = constant(0);
    ScenarioValues enthalpy = constant(0);
    for (std::size_t d = 0; d < factor.directions.size(); ++d) {
      add_scaled(level, scores.joint(d), factor.directions[d][s]);
      add_scaled(enthalpy, scores.joint(d), factor.directions[d][solvents + s]);
    }
    // What the common directions leave of this solvent, its level and enthalpy still correlated with each
    // other.
    const double level_variance = factor.remaining[s];
    const double enthalpy_variance = factor.remaining[solvents + s];
    const double level_sd = std::sqrt(level_variance);
    double slope = 0;
    if (level_variance > kNegligibleVariance) {
      slope = factor.remaining_covariance(state, s, solvents + s, kEnthalpyScale) / level_sd;
    }
    slope = std::clamp(slope, -std::sqrt(enthalpy_variance), std::sqrt(enthalpy_variance));
    add_scaled(level, scores.extra(s), level_sd);
    add_scaled(enthalpy, scores.extra(s), slope);
    add_scaled(enthalpy, scores.extra(solvents + s),
               std::sqrt(std::max(enthalpy_variance - slope * slope, 0.0)));
    match_moments(level, std::sqrt(std::max(state.covariance(s, s), 0.0)));
    match_moments(enthalpy,
                  std::sqrt(std::max(state.covariance(solvents + s, solvents + s), 0.0)) * kEnthalpyScale);
    for (std::size_t k = 0; k < kScenarioCount; ++k) {
      level[k] += state.mean[s];
      enthalpy[k] = state.mean[solvents + s] + enthalpy[k] / kEnthalpyScale;
    }
    out.levels[s] = level;
    out.enthalpies[s] = enthalpy;
  }
  out.wet_melting_score = scores.joint(kDirections);
  out.melting_shift_k = constant(0);
  add_scaled(out.melting_shift_k, scores.joint(kDirections + 1), melting_point_sd_k);
  for (std::size_t k = 0; k < kScenarioCount; ++k) {
    out.molar_mass_factor[k] = std::pow(10.0, molar_mass_log10_sd * scores.joint(kDirections + 2)[k]);
  }
  for (std::size_t i = 0; i < kIndependent; ++i) out.independent.push_back(scores.extra(2 * solvents + i));
  return out;
}

}  // namespace firstcrop
