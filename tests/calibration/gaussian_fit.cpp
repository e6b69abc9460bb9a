#include "gaussian_fit.hpp"

#include <algorithm>
#include <cmath>

#include "base/error.hpp"

namespace firstcrop {
namespace {

constexpr double kLargestNoiseFactor = 150.0;
constexpr int kRounds = 3;
constexpr Eigen::Index kBlock = 64;
constexpr double kMeltingPointRidge = 10.0;
constexpr double kAlphaStep = 1e-7;  // decimals of the model file
constexpr double kMeltingPointStepK = 1e-3;

/// Solvents in which most solids are measured: the partition term is counted from their mean.
constexpr std::array<std::string_view, 8> kCoreSolvents{
    "ethanol", "methanol", "ethyl-acetate", "2-propanol", "acetone", "1-propanol", "acetonitrile", "toluene"};

double rounded(double value, double step) {
  return std::round(value / step) * step;
}

/// Four significant digits, as the model file holds them.
double four_digits(double value) {
  return rounded(value, std::pow(10.0, std::floor(std::log10(value)) - 3));
}

void set_scale(FeatureFit& fit, std::size_t solids, std::size_t features) {
  fit.feature_mean.assign(features, 0);
  fit.feature_sd.assign(features, 0);
  const auto count = static_cast<double>(solids);
  for (std::size_t f = 0; f < features; ++f) {
    for (std::size_t i = 0; i < solids; ++i)
      fit.feature_mean[f] += fit.raw_features[i * features + f] / count;
    for (std::size_t i = 0; i < solids; ++i) {
      const double difference = fit.raw_features[i * features + f] - fit.feature_mean[f];
      fit.feature_sd[f] += difference * difference / count;
    }
    fit.feature_sd[f] = fit.feature_sd[f] < 1e-18 ? 1.0 : std::sqrt(fit.feature_sd[f]);
  }
}

/// Ridge regression of the melting point on the features.
void fit_melting_point_terms(FeatureFit& fit, const std::vector<LibrarySolid>& solids) {
  const std::size_t features = fit.feature_count();
  const auto size = static_cast<Eigen::Index>(features + 1);
  Eigen::MatrixXd normal = kMeltingPointRidge * Eigen::MatrixXd::Identity(size, size);
  normal(0, 0) = 0;
  Eigen::VectorXd right = Eigen::VectorXd::Zero(size);
  for (std::size_t i = 0; i < solids.size(); ++i) {
    if (!solids[i].melting_point_k) continue;
    const auto point = fit.standardised(std::span(fit.raw_features).subspan(i * features, features));
    Eigen::VectorXd row(size);
    row(0) = 1;
    for (std::size_t f = 0; f < features; ++f) row(static_cast<Eigen::Index>(f + 1)) = point[f];
    normal += row * row.transpose();
    right += row * *solids[i].melting_point_k;
  }
  const Eigen::VectorXd terms = normal.ldlt().solve(right);
  fit.melting_point_terms.assign(terms.data(), terms.data() + terms.size());
}

/// The process, and what it says of the solids of unknown melting point, in the digits of the model file.
void fit_melting_point_process(FeatureFit& fit, const std::vector<LibrarySolid>& solids) {
  std::vector<std::optional<double>> known;
  for (const LibrarySolid& solid : solids) known.push_back(solid.melting_point_k);
  fit.standardise_solids();
  fit.melting_point_alpha = fit.melting_point_process->alpha(fit.features, known);
  for (double& alpha : fit.melting_point_alpha) alpha = rounded(alpha, kAlphaStep);
  for (std::size_t i = 0; i < solids.size(); ++i) {
    fit.melting_point_estimate_k.push_back(
        known[i] ? *known[i]
                 : rounded(fit.estimated_melting_point_k(fit.features_of(i)), kMeltingPointStepK));
  }
}

Eigen::MatrixXd covariance_without_noise(const FeatureFit& fit, const std::vector<LibrarySolid>& solids,
                                         const SolventKernels& solvents,
                                         const std::vector<LibraryCell>& cells) {
  const auto size = static_cast<Eigen::Index>(cells.size());
  Eigen::MatrixXd out = Eigen::MatrixXd::Zero(size, size);
  for (std::size_t a = 0; a < solids.size(); ++a) {
    for (std::size_t b = 0; b <= a; ++b) {
      const KernelValues weights =
          by_solvent_kernel(fit.variances, fit.kernels(fit.solid(a, solids), fit.solid(b, solids), a == b));
      for (std::size_t i = solids[a].first_cell; i < solids[a].first_cell + solids[a].cell_count; ++i) {
        for (std::size_t j = solids[b].first_cell; j < solids[b].first_cell + solids[b].cell_count; ++j) {
          out(static_cast<Eigen::Index>(i), static_cast<Eigen::Index>(j)) =
              solvents.sum(weights, cells[i].solvent, cells[j].solvent);
        }
      }
    }
  }
  return out;
}

/// Diagonal of the inverse: squared lengths of the columns of L^-1, taken a block of columns at a time.
Eigen::VectorXd inverse_diagonal(const Eigen::LLT<Eigen::MatrixXd>& factor) {
  const Eigen::Index size = factor.rows();
  const auto& lower = factor.matrixLLT();
  Eigen::VectorXd out(size);
  for (Eigen::Index start = 0; start < size; start += kBlock) {
    const Eigen::Index rest = size - start;
    const Eigen::Index width = std::min(kBlock, rest);
    Eigen::MatrixXd columns = Eigen::MatrixXd::Identity(rest, width);
    lower.bottomRightCorner(rest, rest).triangularView<Eigen::Lower>().solveInPlace(columns);
    out.segment(start, width) = columns.colwise().squaredNorm();
  }
  return out;
}

}  // namespace

std::vector<FitPlan> fit_plans(const CalibrationTable& table, const Configuration& configuration) {
  const auto plan = [&](const std::string& mode, const std::string& variances, std::size_t linear_features) {
    FitPlan out;
    out.mode = mode;
    out.variances = table.variances_of(variances);
    out.noise_variance = table.noise_of(variances);
    out.linear_features = linear_features;
    return out;
  };
  std::vector<FitPlan> out{plan("structure", configuration.structure_variances, 15),
                           plan("groups", "groups", 31), plan("melting-point", "melting-point", 0),
                           plan("nothing", "nothing", 0)};
  out[0].partition_weight = configuration.partition_weight;
  if (configuration.weighted_similarity) out[0].similarity_weights = table.similarity_weights;
  if (configuration.melting_point_process) out[0].melting_point_process = table.melting_point_process;
  return out;
}

std::vector<LibrarySolid> library_solids(const Sample& sample) {
  std::vector<LibrarySolid> out;
  for (const CalibrationSolid& solid : sample.solids) {
    out.push_back({solid.name, solid.canonical_smiles, solid.canonical_smiles_without_stereo,
                   solid.melting_point_k, 0, 0});
  }
  for (const SampleCell& cell : sample.cells) ++out[cell.solid].cell_count;
  for (std::size_t i = 1; i < out.size(); ++i)
    out[i].first_cell = out[i - 1].first_cell + out[i - 1].cell_count;
  return out;
}

std::vector<LibraryCell> library_cells(const Sample& sample) {
  std::vector<LibraryCell> out;
  for (const SampleCell& cell : sample.cells) out.push_back({cell.solvent, cell.level});
  return out;
}

GaussianFit fit_gaussian(const Sample& sample, const CalibrationTable& table, const FitPlan& plan) {
  GaussianFit out;
  FeatureFit& fit = out.fit;
  fit.noise_variance = plan.noise_variance;
  fit.partition_weight = plan.partition_weight;
  fit.linear_features = plan.linear_features;
  fit.variances = plan.variances;
  if (plan.partition_weight != 0) {
    for (const auto id : kCoreSolvents) fit.core_solvents.push_back(table.solvent_index(std::string(id)));
  }
  const std::vector<LibrarySolid> solids = library_solids(sample);
  const std::vector<LibraryCell> cells = library_cells(sample);
  std::size_t features = 0;
  for (const CalibrationSolid& solid : sample.solids) {
    if (plan.mode == "structure") {
      fit.raw_features.insert(fit.raw_features.end(), solid.structure_features.begin(),
                              solid.structure_features.end());
      features = solid.structure_features.size();
    } else if (plan.mode == "groups") {
      fit.raw_features.insert(fit.raw_features.end(), solid.group_features.begin(),
                              solid.group_features.end());
      features = solid.group_features.size();
    }
  }
  set_scale(fit, solids.size(), features);
  fit.similarity_weights = plan.similarity_weights.value_or(SimilarityWeights::equal(features));
  if (fit.similarity_weights.features.size() != features) {
    throw Error("similarity-weights.csv has another number of features than the structure");
  }
  fit.melting_point_process = plan.melting_point_process;
  if (fit.melting_point_process) {
    fit_melting_point_process(fit, solids);
  } else {
    fit_melting_point_terms(fit, solids);
  }
  fit.place_solids(solids);

  const auto size = static_cast<Eigen::Index>(cells.size());
  Eigen::VectorXd residual(size);
  fit.mean = 0;
  for (std::size_t i = 0; i < solids.size(); ++i) {
    const auto base =
        fit.base_line(std::span(fit.raw_features).subspan(i * features, features), table.solvents);
    for (std::size_t c = solids[i].first_cell; c < solids[i].first_cell + solids[i].cell_count; ++c) {
      residual(static_cast<Eigen::Index>(c)) = cells[c].level - base[cells[c].solvent];
    }
  }
  fit.mean = rounded(residual.mean(), kAlphaStep);
  residual.array() -= fit.mean;

  const SolventKernels kernels(table.solvents, table.solvents.size());
  const Eigen::MatrixXd covariance = covariance_without_noise(fit, solids, kernels, cells);
  fit.noise_factor.assign(cells.size(), 1.0);
  Eigen::VectorXd alpha;
  for (int round = 0; round < kRounds; ++round) {
    Eigen::MatrixXd noisy = covariance;
    for (Eigen::Index c = 0; c < size; ++c) {
      noisy(c, c) += fit.noise_variance * fit.noise_factor[static_cast<std::size_t>(c)];
    }
    out.factor.compute(noisy);
    if (out.factor.info() != Eigen::Success)
      throw Error("the covariance of the cells is not positive definite");
    alpha = out.factor.solve(residual);
    if (round + 1 == kRounds) break;
    const Eigen::VectorXd inverse = inverse_diagonal(out.factor);
    for (Eigen::Index c = 0; c < size; ++c) {
      const double variance = 1 / inverse(c);
      const double error = alpha(c) * variance;
      double& factor = fit.noise_factor[static_cast<std::size_t>(c)];
      factor += std::max(error * error - 4 * variance, 0.0) / fit.noise_variance;
      factor = four_digits(std::clamp(factor, 1.0, kLargestNoiseFactor));
    }
  }
  const Eigen::MatrixXd& lower = out.factor.matrixLLT();
  out.log_marginal_likelihood = -0.5 * residual.dot(alpha) - lower.diagonal().array().log().sum();
  for (Eigen::Index c = 0; c < size; ++c) fit.alpha.push_back(rounded(alpha(c), kAlphaStep));
  return out;
}

std::vector<double> alpha_without(const GaussianFit& fit, const std::vector<LibrarySolid>& solids,
                                  const std::vector<std::size_t>& left_out) {
  std::vector<Eigen::Index> block;
  for (const std::size_t solid : left_out) {
    for (std::size_t c = 0; c < solids[solid].cell_count; ++c) {
      block.push_back(static_cast<Eigen::Index>(solids[solid].first_cell + c));
    }
  }
  const auto size = static_cast<Eigen::Index>(fit.fit.alpha.size());
  const auto width = static_cast<Eigen::Index>(block.size());
  Eigen::MatrixXd columns = Eigen::MatrixXd::Zero(size, width);
  for (Eigen::Index j = 0; j < width; ++j) columns(block[static_cast<std::size_t>(j)], j) = 1;
  fit.factor.solveInPlace(columns);
  Eigen::MatrixXd own(width, width);
  Eigen::VectorXd own_alpha(width);
  for (Eigen::Index i = 0; i < width; ++i) {
    own.row(i) = columns.row(block[static_cast<std::size_t>(i)]);
    own_alpha(i) = fit.fit.alpha[static_cast<std::size_t>(block[static_cast<std::size_t>(i)])];
  }
  const Eigen::VectorXd change = columns * own.ldlt().solve(own_alpha);
  std::vector<double> out = fit.fit.alpha;
  for (Eigen::Index c = 0; c < size; ++c) out[static_cast<std::size_t>(c)] -= change(c);
  for (const Eigen::Index c : block) out[static_cast<std::size_t>(c)] = 0;
  return out;
}

SummedFit summed(const FeatureFit& fit, const std::vector<double>& alpha, const Sample& sample,
                 std::size_t solvent_count) {
  SummedFit out;
  out.mean = fit.mean;
  out.melting_point_k = fit.melting_point_terms[0];
  out.variances = fit.variances;
  out.alpha.assign(solvent_count, 0);
  out.alpha_t.assign(solvent_count, 0);
  for (std::size_t c = 0; c < sample.cells.size(); ++c) {
    out.alpha[sample.cells[c].solvent] += alpha[c];
    out.alpha_t[sample.cells[c].solvent] += alpha[c] * fit.t[sample.cells[c].solid];
  }
  return out;
}

}  // namespace firstcrop
