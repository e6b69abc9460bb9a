#include "solubility/posterior.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <tuple>

#include "base/error.hpp"
#include "solubility/curve.hpp"
#include "solubility/evidence.hpp"
#include "solubility/fixed_point.hpp"
#include "solubility/observation_order.hpp"

namespace firstcrop {
namespace {

constexpr double kTolerance = 1e-10;
// A change [log10, and its square] far below the noise of a reading.
constexpr double kGoodEnough = 0.01;
constexpr double kToldSurprise = 2.0;

// Rows whose prior variance is below this know their outcome already; nothing can be learned from them.
constexpr double kSmallestVariance = 1e-12;

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;
using RowMajor = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;

Index to_index(std::size_t i) {
  return static_cast<Index>(i);
}

void check(const SolubilityState& state, const Observation& one) {
  if (one.weights.empty()) throw Error("an observation of solubility names no solvent");
  for (const auto& [solvent, weight] : one.weights)
    if (solvent >= state.solvent_count || !std::isfinite(weight))
      throw Error("an observation of solubility names a solvent that the model does not have");
  if (!(one.noise_sd > 0)) throw Error("an observation of solubility needs a noise above 0");
  if (!one.value && (!(one.error_chance > 0 && one.error_chance < 1) || !(one.low < one.high)))
    throw Error("an interval of solubility is empty, or the chance that it is wrong is not between 0 and 1");
}

struct MixtureGroup {
  std::size_t first = 0;
  std::size_t second = 0;
  VectorXd sd;  // of every observation; 0 where it is none of this pair
};

// The prior of what the observations look at, and how it hangs together with the state.
struct Looks {
  VectorXd mean;
  MatrixXd covariance;
  MatrixXd with_own;      // covariance of state and looks
  MatrixXd with_typical;  // the same for the state without the scatter of the own laboratory
  std::vector<MixtureGroup> mixtures;
};

std::vector<MixtureGroup> mixture_groups(const std::vector<const Observation*>& observations) {
  std::vector<MixtureGroup> groups;
  for (std::size_t i = 0; i < observations.size(); ++i) {
    const auto& error = observations[i]->mixture_error;
    if (!error) continue;
    const auto [first, second] = std::minmax(error->first, error->second);
    auto group =
        std::find_if(groups.begin(), groups.end(), [first = first, second = second](const MixtureGroup& g) {
          return g.first == first && g.second == second;
        });
    if (group == groups.end())
      group = groups.insert(groups.end(), {first, second, VectorXd::Zero(to_index(observations.size()))});
    group->sd(to_index(i)) = error->sd;
  }
  std::sort(groups.begin(), groups.end(), [](const MixtureGroup& a, const MixtureGroup& b) {
    return std::tie(a.first, a.second) < std::tie(b.first, b.second);
  });
  return groups;
}

Looks look(const SolubilityState& state, const std::vector<const Observation*>& observations) {
  const std::size_t solvents = state.solvent_count;
  const Index size = to_index(2 * solvents);
  const Index count = to_index(observations.size());
  const Eigen::Map<const RowMajor> p(state.covariance.values.data(), size, size);
  const double scatter = state.laboratory_sd * state.laboratory_sd;

  Looks looks;
  looks.mean.resize(count);
  looks.with_own = MatrixXd::Zero(size, count);
  looks.with_typical = MatrixXd::Zero(size, count);
  for (Index i = 0; i < count; ++i) {
    const Observation& one = *observations[static_cast<std::size_t>(i)];
    const double t = tau(one.temperature_k);
    double mean = one.offset;
    VectorXd scatter_part = VectorXd::Zero(size);
    for (const auto& [solvent, weight] : one.weights) {
      const Index level = to_index(solvent);
      const Index enthalpy = to_index(solvents + solvent);
      mean += weight * (state.mean[solvent] + t * state.mean[solvents + solvent]);
      looks.with_own.col(i) += weight * (p.row(level) + t * p.row(enthalpy)).transpose();
      if (scatter > 0) {
        const double slope = state.enthalpy_per_level[solvent];
        const double seen = weight * scatter * (1.0 + t * slope);
        scatter_part(level) += seen;
        scatter_part(enthalpy) += slope * seen;
      }
    }
    looks.mean(i) = mean;
    looks.with_typical.col(i) = looks.with_own.col(i) - scatter_part;
    if (one.other_laboratory) looks.with_own.col(i) = looks.with_typical.col(i);
  }

  looks.covariance.resize(count, count);
  for (Index i = 0; i < count; ++i) {
    const Observation& one = *observations[static_cast<std::size_t>(i)];
    const MatrixXd& shared = one.other_laboratory ? looks.with_typical : looks.with_own;
    const double t = tau(one.temperature_k);
    looks.covariance.row(i).setZero();
    for (const auto& [solvent, weight] : one.weights)
      looks.covariance.row(i) +=
          weight * (shared.row(to_index(solvent)) + t * shared.row(to_index(solvents + solvent)));
  }
  looks.mixtures = mixture_groups(observations);
  for (const MixtureGroup& group : looks.mixtures) looks.covariance += group.sd * group.sd.transpose();
  looks.covariance = (0.5 * (looks.covariance + looks.covariance.transpose())).eval();
  return looks;
}

// One Gaussian factor per observation, on what it looks at minus the prior mean.
struct Factors {
  VectorXd precision;
  VectorXd shift;  // precision times mean
};

struct Marginals {
  VectorXd mean;
  VectorXd variance;
  bool proper = false;
};

Marginals marginals(const MatrixXd& covariance, const Factors& factors) {
  const Index count = covariance.rows();
  const MatrixXd system = MatrixXd::Identity(count, count) + covariance * factors.precision.asDiagonal();
  const Eigen::PartialPivLU<MatrixXd> lu(system);
  const MatrixXd posterior = lu.solve(covariance);
  Marginals result;
  result.mean = posterior * factors.shift;
  result.variance = posterior.diagonal();
  result.proper = lu.determinant() > 0 && result.mean.allFinite() && (result.variance.array() > 0).all() &&
                  (factors.precision.array() * result.variance.array() < 1.0).all();
  return result;
}

// What is expected from the model and all observations but this one.
Belief without_own_factor(const Marginals& all, const Factors& factors, Index i) {
  const double left = 1.0 - factors.precision(i) * all.variance(i);
  return {(all.mean(i) - all.variance(i) * factors.shift(i)) / left, all.variance(i) / left};
}

Judged judge(const Observation& one, Belief before, double prior_mean) {
  const double noise = one.noise_sd * one.noise_sd;
  if (one.value) return judge_value(before, *one.value - prior_mean, noise);
  return judge_interval(before, one.low - prior_mean, one.high - prior_mean, noise, one.error_chance);
}

// The numbers that the iteration runs in, two per observation, in units of the prior of its look. Of an
// interval: precision and shift of its factor. Of a value: its noise variance alone, which changes gently
// where the precision would leap.
class Settings {
 public:
  Settings(const Looks& looks, const std::vector<const Observation*>& observations)
      : looks_(looks), observations_(observations) {
    VectorXd per_sd(looks.mean.size());
    for (Index i = 0; i < per_sd.size(); ++i) per_sd(i) = 1.0 / std::sqrt(scale(static_cast<std::size_t>(i)));
    const MatrixXd correlation = per_sd.asDiagonal() * looks.covariance * per_sd.asDiagonal();
    const Eigen::SelfAdjointEigenSolver<MatrixXd> solver(correlation, Eigen::EigenvaluesOnly);
    entanglement_ = std::max(solver.eigenvalues().maxCoeff(), 1.0);
  }

  [[nodiscard]] std::vector<double> start() const {
    std::vector<double> settings(2 * observations_.size(), 0.0);
    for (std::size_t i = 0; i < observations_.size(); ++i)
      if (observations_[i]->value) settings[2 * i] = lowest_noise(i) / scale(i);
    return settings;
  }
  [[nodiscard]] Factors factors(const std::vector<double>& settings) const {
    Factors result{VectorXd::Zero(to_index(observations_.size())),
                   VectorXd::Zero(to_index(observations_.size()))};
    for (std::size_t i = 0; i < observations_.size(); ++i) {
      const Index k = to_index(i);
      if (observations_[i]->value) {
        result.precision(k) = 1.0 / std::max(settings[2 * i] * scale(i), lowest_noise(i));
        result.shift(k) = result.precision(k) * (*observations_[i]->value - looks_.mean(k));
      } else {
        result.precision(k) = std::max(settings[2 * i] / scale(i), lowest_precision(i));
        result.shift(k) = settings[2 * i + 1] / std::sqrt(scale(i));
      }
    }
    return result;
  }
  // What the marginals of all factors make of each observation, and how far that is from where they are.
  [[nodiscard]] std::pair<std::vector<double>, double> renewed(const Factors& factors,
                                                               const Marginals& now) const {
    std::vector<double> settings = start();
    double change = 0;
    for (std::size_t i = 0; i < observations_.size(); ++i) {
      const Index k = to_index(i);
      if (looks_.covariance(k, k) < kSmallestVariance) continue;
      const Belief before = without_own_factor(now, factors, k);
      const Judged judged = judge(*observations_[i], before, looks_.mean(k));
      double variance = judged.belief.variance;
      if (observations_[i]->value) {
        settings[2 * i] = judged.noise_variance / scale(i);
      } else {
        const double precision = std::max(1.0 / variance - 1.0 / before.variance, lowest_precision(i));
        variance = before.variance / (1.0 + before.variance * precision);
        settings[2 * i] = precision * scale(i);
        settings[2 * i + 1] =
            (judged.belief.mean / variance - before.mean / before.variance) * std::sqrt(scale(i));
      }
      change = std::max(
          {change, std::abs(judged.belief.mean - now.mean(k)), std::abs(variance - now.variance(k))});
    }
    return {settings, change};
  }

 private:
  [[nodiscard]] double scale(std::size_t i) const {
    return std::max(looks_.covariance(to_index(i), to_index(i)), kSmallestVariance);
  }
  [[nodiscard]] double lowest_noise(std::size_t i) const {
    return observations_[i]->noise_sd * observations_[i]->noise_sd;
  }
  [[nodiscard]] double lowest_precision(std::size_t i) const { return -0.6 / (entanglement_ * scale(i)); }

  const Looks& looks_;
  const std::vector<const Observation*>& observations_;
  // A surprising interval may widen what is believed, by a negative precision. Together the observations may
  // take away at most six tenths of the model's own precision: the covariance of the looks does not exceed
  // its diagonal times the largest eigenvalue of their correlations, so that this floor keeps every step
  // proper. At the usual chance of error a single observation never reaches it.
  double entanglement_;
};

struct Fit {
  Factors factors;
  bool converged = false;
};

// All factors are renewed at once from the same marginals, so that none is favoured. Contradictory
// observations now and then circle around their solution; the best round is then good enough if another would
// change little.
Fit propagate(const Looks& looks, const std::vector<const Observation*>& observations) {
  const Settings settings(looks, observations);
  FixedPoint iteration(settings.start());
  Factors best;
  double smallest_change = std::numeric_limits<double>::infinity();
  for (;;) {
    Factors factors = settings.factors(iteration.place());
    const Marginals now = marginals(looks.covariance, factors);
    if (!now.proper) break;
    const auto [renewed, change] = settings.renewed(factors, now);
    if (change < smallest_change) {
      smallest_change = change;
      best = std::move(factors);
    }
    if (change < kTolerance || !iteration.move_on(renewed)) break;
  }
  return {best, smallest_change < kGoodEnough};
}

SolubilityState conditioned(SolubilityState state, const MatrixXd& shared, const VectorXd& pull,
                            const MatrixXd& narrowing) {
  const Index size = shared.rows();
  Eigen::Map<VectorXd>(state.mean.data(), size) += shared * pull;
  Eigen::Map<RowMajor> p(state.covariance.values.data(), size, size);
  const MatrixXd half = shared * narrowing;
  p.noalias() -= half * shared.transpose();
  // Rounding is not symmetric in the product above.
  p.triangularView<Eigen::StrictlyLower>() = p.transpose().triangularView<Eigen::StrictlyLower>();
  return state;
}

SolubilityState free_of_scatter(const SolubilityState& state) {
  SolubilityState result = state;
  const double scatter = state.laboratory_sd * state.laboratory_sd;
  result.laboratory_sd = 0;
  if (!(scatter > 0)) return result;
  const std::size_t count = state.solvent_count;
  for (std::size_t i = 0; i < count; ++i) {
    const double slope = state.enthalpy_per_level[i];
    result.covariance(i, i) -= scatter;
    result.covariance(i, count + i) -= scatter * slope;
    result.covariance(count + i, i) -= scatter * slope;
    result.covariance(count + i, count + i) -= scatter * slope * slope;
  }
  return result;
}

double surprise_without(const Looks& looks, const std::vector<const Observation*>& observations,
                        Factors factors, Index of, Index without) {
  for (const Index i : {of, without}) {
    factors.precision(i) = 0;
    factors.shift(i) = 0;
  }
  const Marginals rest = marginals(looks.covariance, factors);
  if (!rest.proper) return std::numeric_limits<double>::infinity();
  const Belief before{rest.mean(of), rest.variance(of)};
  return std::abs(judge(*observations[static_cast<std::size_t>(of)], before, looks.mean(of)).surprise);
}

// The other observation that a surprise is mostly about: without it, the surprise is gone or halved.
std::optional<Index> contradicted(const Looks& looks, const std::vector<const Observation*>& observations,
                                  const Factors& factors, Index of, double surprise) {
  double smallest = std::max(kToldSurprise, std::abs(surprise) / 2.0);
  std::optional<Index> found;
  for (Index other = 0; other < looks.covariance.rows(); ++other) {
    if (other == of) continue;
    const double left = surprise_without(looks, observations, factors, of, other);
    if (left < smallest) {
      smallest = left;
      found = other;
    }
  }
  return found;
}

std::vector<ObservationReport> reports_of(const Looks& looks,
                                          const std::vector<const Observation*>& observations,
                                          const Factors& factors, const std::vector<std::size_t>& order) {
  std::vector<ObservationReport> reports(observations.size());
  const Marginals all = marginals(looks.covariance, factors);
  for (std::size_t k = 0; k < observations.size(); ++k) {
    const Index i = to_index(k);
    const Observation& one = *observations[k];
    const double noise = one.noise_sd * one.noise_sd;
    const Belief before = without_own_factor(all, factors, i);
    const Judged judged = judge(one, before, looks.mean(i));
    ObservationReport& report = reports[order[k]];
    report.label = one.label;
    report.place = one.place;
    report.predicted_mean = looks.mean(i) + before.mean;
    report.predicted_sd = std::sqrt(before.variance + noise);
    report.model_mean = looks.mean(i);
    report.model_sd = std::sqrt(looks.covariance(i, i) + noise);
    report.surprise = judged.surprise;
    report.weight = judged.weight;
    if (std::abs(judged.surprise) > kToldSurprise)
      if (const auto other = contradicted(looks, observations, factors, i, judged.surprise))
        report.contradicts = order[static_cast<std::size_t>(*other)];
  }
  return reports;
}

}  // namespace

Posterior update(const SolubilityState& state, const std::vector<Observation>& observations) {
  for (const Observation& one : observations) check(state, one);
  Posterior posterior;
  if (observations.empty()) {
    posterior.state = state;
    posterior.without_scatter = free_of_scatter(state);
    posterior.converged = true;
    return posterior;
  }
  const std::vector<std::size_t> order = order_by_content(observations);
  std::vector<const Observation*> sorted;
  for (const std::size_t i : order) sorted.push_back(&observations[i]);

  const Looks looks = look(state, sorted);
  Fit fit = propagate(looks, sorted);
  posterior.converged = fit.converged;
  if (!fit.converged) fit.factors = {VectorXd::Zero(looks.mean.size()), VectorXd::Zero(looks.mean.size())};
  posterior.reports = reports_of(looks, sorted, fit.factors, order);

  const Index count = looks.covariance.rows();
  const MatrixXd system =
      MatrixXd::Identity(count, count) + fit.factors.precision.asDiagonal() * looks.covariance;
  const Eigen::PartialPivLU<MatrixXd> lu(system);
  const VectorXd pull = lu.solve(fit.factors.shift);
  const MatrixXd narrowing = lu.solve(MatrixXd(fit.factors.precision.asDiagonal()));
  posterior.state = conditioned(state, looks.with_own, pull, narrowing);
  posterior.without_scatter = conditioned(free_of_scatter(state), looks.with_typical, pull, narrowing);
  for (const MixtureGroup& group : looks.mixtures) {
    const double variance = 1.0 - group.sd.dot(narrowing * group.sd);
    posterior.mixture_terms.push_back(
        {group.first, group.second, group.sd.dot(pull), std::sqrt(std::max(variance, 0.0))});
  }
  return posterior;
}

}  // namespace firstcrop
