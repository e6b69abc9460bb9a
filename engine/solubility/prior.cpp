#include "solubility/prior.hpp"

#include <Eigen/Cholesky>
#include <Eigen/Core>
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <numeric>
#include <span>

#include "base/error.hpp"
#include "solubility/model_data.hpp"

namespace firstcrop {
namespace {

constexpr std::size_t kNearestSolids = 12;
constexpr std::size_t kLargestCellCount = 120;
constexpr double kCovarianceInflation = 1.3;
constexpr std::size_t kSimilarSolids = 3;

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

/// Conditions on the cells of the most similar solids.
class Neighbourhood {
 public:
  Neighbourhood(const Data& data, const FeatureFit& fit, std::span<const std::size_t> nearest)
      : data_(data), fit_(fit) {
    for (const std::size_t solid : nearest) {
      const LibrarySolid& record = data.solids[solid];
      for (std::size_t c = 0; c < record.cell_count && cells_.size() < kLargestCellCount; ++c) {
        cells_.push_back(record.first_cell + c);
        owners_.push_back(solid);
      }
    }
    const auto size = static_cast<Eigen::Index>(cells_.size());
    Eigen::MatrixXd covariance(size, size);
    KernelValues weights{};
    for (std::size_t i = 0; i < cells_.size(); ++i) {
      for (std::size_t j = 0; j <= i; ++j) {
        if (j == 0 || owners_[j] != owners_[j - 1]) {
          weights = residual_by_solvent_kernel(
              fit.variances,
              solid_kernels(fit.solid(owners_[i], data.solids), fit.solid(owners_[j], data.solids),
                            owners_[i] == owners_[j], fit.linear_features));
        }
        covariance(static_cast<Eigen::Index>(i), static_cast<Eigen::Index>(j)) =
            data.solvent_kernels.sum(weights, solvent(i), solvent(j));
      }
      covariance(static_cast<Eigen::Index>(i), static_cast<Eigen::Index>(i)) +=
          fit.noise_variance * fit.noise_factor[cells_[i]];
    }
    factor_.compute(covariance);
    if (factor_.info() != Eigen::Success) {
      throw Error("the covariance of the fitted model is not positive definite");
    }
  }

  /// L^-1 k for every column of k(cell, column) = sum of weights(owner of cell) times solvent kernels.
  template <typename WeightsOfSolid, typename SolventOfColumn>
  Eigen::MatrixXd whitened(WeightsOfSolid weights_of, SolventOfColumn solvent_of, std::size_t columns) const {
    Eigen::MatrixXd out(static_cast<Eigen::Index>(cells_.size()), static_cast<Eigen::Index>(columns));
    for (std::size_t c = 0; c < cells_.size(); ++c) {
      for (std::size_t j = 0; j < columns; ++j) {
        out(static_cast<Eigen::Index>(c), static_cast<Eigen::Index>(j)) =
            data_.solvent_kernels.sum(weights_of(owners_[c], j), solvent(c), solvent_of(j));
      }
    }
    factor_.matrixL().solveInPlace(out);
    return out;
  }

 private:
  [[nodiscard]] std::size_t solvent(std::size_t i) const { return data_.cells[cells_[i]].solvent; }

  const Data& data_;
  const FeatureFit& fit_;
  std::vector<std::size_t> cells_;
  std::vector<std::size_t> owners_;
  Eigen::LLT<Eigen::MatrixXd> factor_;
};

void predict_from_features(const Data& data, const FeatureFit& fit, const std::vector<double>& raw,
                           const SoluteInput& solute, SolubilityPrior& prior) {
  const std::vector<double> features = fit.standardised(raw);
  prior.melting_point_assumed = !solute.melting_point_k.has_value();
  prior.melting_point_k = solute.melting_point_k.value_or(fit.estimated_melting_point_k(features));
  const SolidPoint point{features, scaled_melting_point(prior.melting_point_k), prior.melting_point_assumed};
  const Kinship kin = kinship(data, solute);
  const std::size_t solvents = data.solvents.size();

  std::vector<KernelValues> to_solids(data.solids.size());
  std::vector<KernelValues> sums(data.fitted_solvents);
  for (std::size_t i = 0; i < data.solids.size(); ++i) {
    to_solids[i] = solid_kernels(point, fit.solid(i, data.solids), kin.identical == i, fit.linear_features);
    const KernelValues weights = by_solvent_kernel(fit.variances, to_solids[i]);
    const LibrarySolid& solid = data.solids[i];
    for (std::size_t c = solid.first_cell; c < solid.first_cell + solid.cell_count; ++c) {
      for (std::size_t k = 0; k < kKernelCount; ++k)
        sums[data.cells[c].solvent][k] += weights[k] * fit.alpha[c];
    }
  }
  prior.mean = fit.base_line(raw, data.solvents);
  add_kernel_sums(data.solvent_kernels, sums, prior.mean);

  std::vector<std::size_t> nearest;
  for (std::size_t i = 0; i < data.solids.size(); ++i) {
    if (!solute.as_unknown || !kin.same_skeleton[i]) nearest.push_back(i);
  }
  std::stable_sort(nearest.begin(), nearest.end(), [&](std::size_t a, std::size_t b) {
    return to_solids[a][kSimilarity] > to_solids[b][kSimilarity];
  });
  nearest.resize(std::min(nearest.size(), kNearestSolids));
  for (std::size_t i = 0; i < std::min(nearest.size(), kSimilarSolids); ++i) {
    const LibrarySolid& solid = data.solids[nearest[i]];
    SimilarSolid similar{solid.name, solid.canonical_smiles, to_solids[nearest[i]][kSimilarity], {}};
    for (std::size_t c = solid.first_cell; c < solid.first_cell + solid.cell_count; ++c) {
      similar.solvents.push_back(data.solvent_ids[data.cells[c].solvent]);
    }
    prior.similar.push_back(std::move(similar));
  }

  const KernelValues own =
      residual_by_solvent_kernel(fit.variances, solid_kernels(point, point, true, fit.linear_features));
  std::vector<KernelValues> residual(data.solids.size());
  for (std::size_t i = 0; i < data.solids.size(); ++i) {
    residual[i] = residual_by_solvent_kernel(fit.variances, to_solids[i]);
  }
  const Neighbourhood neighbourhood(data, fit, nearest);
  const Eigen::MatrixXd to_cells =
      neighbourhood.whitened([&](std::size_t solid, std::size_t) { return residual[solid]; },
                             [](std::size_t column) { return column; }, solvents);
  RowMatrix covariance = own_covariance(data.solvent_kernels, own);
  covariance.noalias() -= to_cells.transpose() * to_cells;
  covariance *= kCovarianceInflation;
  prior.covariance = to_matrix(covariance);

  if (!solute.as_unknown) return;
  // The fit has seen the solid. With C the covariance given all other cells, leaving out the cells b changes
  // the mean by -C(s, b) alpha_b (block inverse); C is taken from the same neighbours.
  for (std::size_t own_solid = 0; own_solid < data.solids.size(); ++own_solid) {
    if (!kin.same_skeleton[own_solid]) continue;
    const LibrarySolid& record = data.solids[own_solid];
    const SolidPoint own_point = fit.solid(own_solid, data.solids);
    const auto solvent_of = [&](std::size_t column) {
      return data.cells[record.first_cell + column].solvent;
    };
    std::vector<std::optional<KernelValues>> known(data.solids.size());
    const Eigen::MatrixXd own_to_cells = neighbourhood.whitened(
        [&](std::size_t solid, std::size_t) {
          if (!known[solid]) {
            known[solid] = residual_by_solvent_kernel(
                fit.variances,
                solid_kernels(own_point, fit.solid(solid, data.solids), false, fit.linear_features));
          }
          return *known[solid];
        },
        solvent_of, record.cell_count);
    Eigen::MatrixXd change = -to_cells.transpose() * own_to_cells;
    for (std::size_t c = 0; c < record.cell_count; ++c) {
      for (std::size_t s = 0; s < solvents; ++s) {
        const double prior_covariance = data.solvent_kernels.sum(residual[own_solid], s, solvent_of(c));
        prior.mean[s] -=
            (prior_covariance + change(static_cast<Eigen::Index>(s), static_cast<Eigen::Index>(c))) *
            fit.alpha[record.first_cell + c];
      }
    }
  }
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
                     residual_by_solvent_kernel(fit.variances, solid_kernels(point, point, true, 0)));
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
  return prior;
}

}  // namespace firstcrop
