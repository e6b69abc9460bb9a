#include "solubility/neighbourhood.hpp"

#include "base/error.hpp"

namespace firstcrop::detail {

Neighbourhood::Neighbourhood(const SolubilityModel::Data& data, const FeatureFit& fit,
                             std::span<const std::size_t> solids, std::size_t largest_cell_count)
    : data_(data) {
  for (const std::size_t solid : solids) {
    const LibrarySolid& record = data.solids[solid];
    for (std::size_t c = 0; c < record.cell_count && cells_.size() < largest_cell_count; ++c) {
      cells_.push_back(record.first_cell + c);
      owners_.push_back(solid);
    }
  }
  const auto size = static_cast<Eigen::Index>(cells_.size());
  Eigen::MatrixXd covariance(size, size);
  KernelValues weights{};
  for (std::size_t j = 0; j < cells_.size(); ++j) {
    for (std::size_t i = j; i < cells_.size(); ++i) {
      if (i == j || owners_[i] != owners_[i - 1]) {
        weights = residual_by_solvent_kernel(
            fit.variances,
            solid_kernels(fit.solid(owners_[i], data.solids), fit.solid(owners_[j], data.solids),
                          owners_[i] == owners_[j], fit.linear_features));
      }
      covariance(static_cast<Eigen::Index>(i), static_cast<Eigen::Index>(j)) =
          data.solvent_kernels.sum(weights, solvent(i), solvent(j));
    }
    covariance(static_cast<Eigen::Index>(j), static_cast<Eigen::Index>(j)) +=
        fit.noise_variance * fit.noise_factor[cells_[j]];
  }
  factor_.compute(covariance);
  if (factor_.info() != Eigen::Success) {
    throw Error("the covariance of the fitted model is not positive definite");
  }
}

Eigen::MatrixXd Neighbourhood::whitened(const std::vector<KernelValues>& weights,
                                        std::span<const std::size_t> solvents) const {
  Eigen::MatrixXd out(static_cast<Eigen::Index>(cells_.size()), static_cast<Eigen::Index>(solvents.size()));
  for (std::size_t column = 0; column < solvents.size(); ++column) {
    for (std::size_t c = 0; c < cells_.size(); ++c) {
      out(static_cast<Eigen::Index>(c), static_cast<Eigen::Index>(column)) =
          data_.solvent_kernels.sum(weights[owners_[c]], solvent(c), solvents[column]);
    }
  }
  factor_.matrixL().solveInPlace(out);
  return out;
}

}  // namespace firstcrop::detail
