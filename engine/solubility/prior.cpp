#include "solubility/prior.hpp"

#include <Eigen/Core>
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <optional>
#include <span>

#include "solubility/model_data.hpp"
#include "solubility/neighbourhood.hpp"

namespace firstcrop {
namespace {

constexpr std::size_t kNearestSolids = 12;
constexpr std::size_t kLargestCellCount = 120;
constexpr double kCovarianceInflation = 1.3;
constexpr std::size_t kSimilarSolids = 3;
// Wider, for what is left over is told as a mean: 0.03 log10 from the exact answer instead of 0.06.
constexpr std::size_t kForgetSolids = 40;
constexpr std::size_t kForgetCells = 300;

using Data = SolubilityModel::Data;
using RowMatrix = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;

constexpr auto kSimilarity = static_cast<std::size_t>(SolidKernel::Similarity);

/// Which library solids are the solute itself.
struct Kinship {
  std::vector<bool> same_skeleton;
  std::optional<std::size_t> identical;  ///< the one whose measurements are the solute's own
};

Kinship kinship(const Data& data, const SoluteInput& solute) {
  Kinship out{std::vector<bool>(data.solids.size(), false), std::nullopt};
  if (solute.canonical_smiles_without_stereo.empty()) return out;
  // Among stereoisomers: the one drawn, else the nearest melting point, else the best measured.
  const auto rank = [&](std::size_t i) {
    const LibrarySolid& solid = data.solids[i];
    double score = solid.canonical_smiles == solute.canonical_smiles ? 1e6 : 0.0;
    if (solute.melting_point_k && solid.melting_point_k) {
      score += std::max(0.0, 1e3 - std::abs(*solute.melting_point_k - *solid.melting_point_k));
    }
    return score + 1e-3 * static_cast<double>(solid.cell_count);
  };
  for (std::size_t i = 0; i < data.solids.size(); ++i) {
    if (data.solids[i].canonical_smiles_without_stereo != solute.canonical_smiles_without_stereo) continue;
    out.same_skeleton[i] = true;
    if (!solute.as_unknown && (!out.identical || rank(i) > rank(*out.identical))) out.identical = i;
  }
  return out;
}

/// Adds, for every solvent, the kernels with the fitted solvents times the sums of alpha.
void add_kernel_sums(const SolventKernels& kernels, const std::vector<KernelValues>& sums,
                     std::vector<double>& mean) {
  for (std::size_t s = 0; s < mean.size(); ++s) {
    for (std::size_t other = 0; other < sums.size(); ++other) mean[s] += kernels.sum(sums[other], s, other);
  }
}

Matrix to_matrix(const RowMatrix& values) {
  Matrix out(static_cast<std::size_t>(values.rows()), static_cast<std::size_t>(values.cols()));
  std::copy(values.data(), values.data() + values.size(), out.values.begin());
  return out;
}

/// The covariance over solvents of what is uncertain about one solid, before any neighbour is looked at.
RowMatrix own_covariance(const SolventKernels& kernels, const KernelValues& weights) {
  const auto size = static_cast<Eigen::Index>(kernels.size());
  RowMatrix out(size, size);
  for (Eigen::Index i = 0; i < size; ++i) {
    for (Eigen::Index j = 0; j <= i; ++j) {
      out(i, j) = out(j, i) = kernels.sum(weights, static_cast<std::size_t>(i), static_cast<std::size_t>(j));
    }
  }
  return out;
}

/// Solids of the library by falling similarity; the solute itself and its stereoisomers only if they count.
std::vector<std::size_t> by_similarity(const std::vector<KernelValues>& to_solids, const Kinship& kin,
                                       bool as_unknown) {
  std::vector<std::size_t> out;
  for (std::size_t i = 0; i < to_solids.size(); ++i) {
    if (!as_unknown || !kin.same_skeleton[i]) out.push_back(i);
  }
  std::stable_sort(out.begin(), out.end(), [&](std::size_t a, std::size_t b) {
    return to_solids[a][kSimilarity] > to_solids[b][kSimilarity];
  });
  return out;
}

SimilarSolid similar_solid(const Data& data, std::size_t index, double similarity) {
  const LibrarySolid& solid = data.solids[index];
  SimilarSolid out{
      solid.name.empty() ? solid.canonical_smiles : solid.name, solid.canonical_smiles, similarity, {}};
  for (std::size_t c = solid.first_cell; c < solid.first_cell + solid.cell_count; ++c) {
    out.solvents.push_back(data.solvent_ids[data.cells[c].solvent]);
  }
  return out;
}

std::vector<KernelValues> residual_weights(const FeatureFit& fit,
                                           const std::vector<KernelValues>& to_solids) {
  std::vector<KernelValues> out;
  out.reserve(to_solids.size());
  for (const KernelValues& values : to_solids)
    out.push_back(residual_by_solvent_kernel(fit.variances, values));
  return out;
}

std::span<const std::size_t> first_of(const std::vector<std::size_t>& values, std::size_t count) {
  return std::span(values).first(std::min(values.size(), count));
}

/// Takes out of the mean what the fit learned from the solute itself. With C the covariance given all other
/// cells, leaving out the cells b changes the mean by -C(s, b) alpha_b (block inverse of a partitioned
/// matrix); C is taken given the cells of `similar` solids only, so that C(s, b) alpha_b = k(s, b) alpha_b -
/// k(s, cells) K^-1 k(cells, b) alpha_b: sums over cells again.
void forget_own_cells(const Data& data, const FeatureFit& fit, const Kinship& kin,
                      const detail::Neighbourhood& similar, const std::vector<KernelValues>& weights,
                      std::vector<double>& mean) {
  std::vector<KernelValues> sums(data.fitted_solvents);
  const auto add = [&](std::size_t solvent, std::size_t solid, double factor) {
    for (std::size_t k = 0; k < kKernelCount; ++k) sums[solvent][k] += weights[solid][k] * factor;
  };
  Eigen::VectorXd to_own = Eigen::VectorXd::Zero(static_cast<Eigen::Index>(similar.size()));
  for (std::size_t own = 0; own < data.solids.size(); ++own) {
    if (!kin.same_skeleton[own]) continue;
    const LibrarySolid& record = data.solids[own];
    const std::size_t end = record.first_cell + record.cell_count;
    for (std::size_t c = record.first_cell; c < end; ++c) add(data.cells[c].solvent, own, -fit.alpha[c]);
    KernelValues to_owner{};
    for (std::size_t i = 0; i < similar.size(); ++i) {
      if (i == 0 || similar.owner(i) != similar.owner(i - 1)) {
        to_owner = residual_by_solvent_kernel(
            fit.variances,
            fit.kernels(fit.solid(own, data.solids), fit.solid(similar.owner(i), data.solids), false));
      }
      for (std::size_t c = record.first_cell; c < end; ++c) {
        to_own(static_cast<Eigen::Index>(i)) +=
            fit.alpha[c] * data.solvent_kernels.sum(to_owner, similar.solvent(i), data.cells[c].solvent);
      }
    }
  }
  const Eigen::VectorXd explained = similar.solved(to_own);
  for (std::size_t i = 0; i < similar.size(); ++i) {
    add(similar.solvent(i), similar.owner(i), explained(static_cast<Eigen::Index>(i)));
  }
  add_kernel_sums(data.solvent_kernels, sums, mean);
}

/// The estimate of an unknown melting point. What the process learned from the solute itself does not count
/// where this is judged as unknown: the process is fitted again without it.
double estimated_melting_point_k(const Data& data, const FeatureFit& fit, const Kinship& kin, bool as_unknown,
                                 std::span<const double> features) {
  bool learned = false;
  std::vector<std::optional<double>> others(data.solids.size());
  for (std::size_t i = 0; i < data.solids.size(); ++i) {
    if (!kin.same_skeleton[i]) {
      others[i] = data.solids[i].melting_point_k;
    } else if (data.solids[i].melting_point_k) {
      learned = true;
    }
  }
  if (!as_unknown || !learned || !fit.melting_point_process) return fit.estimated_melting_point_k(features);
  return fit.melting_point_process->estimate_k(features, fit.features,
                                               fit.melting_point_process->alpha(fit.features, others));
}

void predict_from_features(const Data& data, const FeatureFit& fit, const std::vector<double>& raw,
                           const SoluteInput& solute, SolubilityPrior& prior) {
  const std::vector<double> features = fit.standardised(raw);
  const Kinship kin = kinship(data, solute);
  prior.is_fitted_solid = kin.identical.has_value();
  prior.melting_point_assumed = !solute.melting_point_k.has_value();
  prior.melting_point_k = solute.melting_point_k
                              ? *solute.melting_point_k
                              : estimated_melting_point_k(data, fit, kin, solute.as_unknown, features);
  const SolidPoint point{features, scaled_melting_point(prior.melting_point_k), prior.melting_point_assumed};

  std::vector<KernelValues> to_solids(data.solids.size());
  std::vector<KernelValues> sums(data.fitted_solvents);
  for (std::size_t i = 0; i < data.solids.size(); ++i) {
    to_solids[i] = fit.kernels(point, fit.solid(i, data.solids), kin.identical == i);
    const KernelValues weights = by_solvent_kernel(fit.variances, to_solids[i]);
    const LibrarySolid& solid = data.solids[i];
    for (std::size_t c = solid.first_cell; c < solid.first_cell + solid.cell_count; ++c) {
      KernelValues& sum = sums[data.cells[c].solvent];
      for (std::size_t k = 0; k < kKernelCount; ++k) sum[k] += weights[k] * fit.alpha[c];
    }
  }
  prior.mean = fit.base_line(raw, data.solvents);
  add_kernel_sums(data.solvent_kernels, sums, prior.mean);

  const std::vector<std::size_t> nearest = by_similarity(to_solids, kin, solute.as_unknown);
  for (const std::size_t i : first_of(nearest, kSimilarSolids)) {
    prior.similar.push_back(similar_solid(data, i, to_solids[i][kSimilarity]));
  }
  const std::vector<KernelValues> weights = residual_weights(fit, to_solids);
  const bool forgets = solute.as_unknown && std::find(kin.same_skeleton.begin(), kin.same_skeleton.end(),
                                                      true) != kin.same_skeleton.end();
  // To forget takes more solids than the covariance, whose cells are the first of them: one factor serves
  // both.
  const detail::Neighbourhood similar(data, fit, first_of(nearest, forgets ? kForgetSolids : kNearestSolids),
                                      forgets ? kForgetCells : kLargestCellCount);
  std::size_t near_cells = 0;
  for (const std::size_t i : first_of(nearest, kNearestSolids)) near_cells += data.solids[i].cell_count;
  const Eigen::MatrixXd to_cells =
      similar.whitened(weights, std::min({near_cells, kLargestCellCount, similar.size()}));
  RowMatrix covariance = own_covariance(
      data.solvent_kernels, residual_by_solvent_kernel(fit.variances, fit.kernels(point, point, true)));
  covariance.noalias() -= to_cells.transpose() * to_cells;
  covariance *= kCovarianceInflation;
  prior.covariance = to_matrix(covariance);
  if (forgets) forget_own_cells(data, fit, kin, similar, weights, prior.mean);
}

void predict_from_sums(const Data& data, const SummedFit& fit, const SoluteInput& solute,
                       SolubilityPrior& prior) {
  prior.melting_point_assumed = !solute.melting_point_k.has_value();
  prior.melting_point_k = solute.melting_point_k.value_or(fit.melting_point_k);
  const SolidPoint point{{}, scaled_melting_point(prior.melting_point_k), prior.melting_point_assumed};
  const auto weights = [&](double constant, double melting_point) {
    KernelValues solid_values{};
    solid_values[static_cast<std::size_t>(SolidKernel::Constant)] = constant;
    solid_values[static_cast<std::size_t>(SolidKernel::MeltingPoint)] = melting_point * point.t;
    return by_solvent_kernel(fit.variances, solid_values);
  };
  std::vector<KernelValues> sums;
  for (std::size_t s = 0; s < data.fitted_solvents; ++s)
    sums.push_back(weights(fit.alpha[s], fit.alpha_t[s]));
  prior.mean.assign(data.solvents.size(), fit.mean);
  add_kernel_sums(data.solvent_kernels, sums, prior.mean);
  const RowMatrix covariance =
      kCovarianceInflation *
      own_covariance(data.solvent_kernels,
                     residual_by_solvent_kernel(fit.variances, solid_kernels(point, point, true, 0, {})));
  prior.covariance = to_matrix(covariance);
}

}  // namespace

SolubilityPrior predict(const SolubilityModel& model, const SoluteInput& solute) {
  const Data& data = model.data();
  SolubilityPrior prior;
  const auto usable = [&](const FeatureFit& fit, const std::vector<double>& raw) {
    return !raw.empty() && raw.size() == fit.feature_count() && !data.solids.empty();
  };
  if (usable(data.structure, solute.structure_features)) {
    prior.mode = ModelMode::Structure;
    predict_from_features(data, data.structure, solute.structure_features, solute, prior);
  } else if (usable(data.groups, solute.group_features)) {
    prior.mode = ModelMode::Groups;
    predict_from_features(data, data.groups, solute.group_features, solute, prior);
  } else if (solute.melting_point_k) {
    prior.mode = ModelMode::MeltingPoint;
    predict_from_sums(data, data.melting_point, solute, prior);
  } else {
    prior.mode = ModelMode::Nothing;
    predict_from_sums(data, data.nothing, solute, prior);
  }
  for (std::size_t s = 0; s < data.solvents.size(); ++s)
    prior.covariance(s, s) += data.solvents[s].borrowed_variance;
  return prior;
}

}  // namespace firstcrop
