#include "solubility/neighbourhood.hpp"

#include <Eigen/Cholesky>
#include <algorithm>

#include "base/error.hpp"

namespace firstcrop::detail {

Neighbourhood::Neighbourhood(const SolubilityModel::Data& data, const FeatureFit& fit,
                             std::span<const std::size_t> solids, std::size_t largest_cell_count)
    : data_(data) {
  struct Block {
    std::size_t solid;
    std::size_t first;
    std::size_t end;
  };
  std::vector<Block> blocks;
  for (const std::size_t solid : solids) {
    const LibrarySolid& record = data.solids[solid];
    const std::size_t first = cells_.size();
    for (std::size_t c = 0; c < record.cell_count && cells_.size() < largest_cell_count; ++c) {
      cells_.push_back(record.first_cell + c);
      owners_.push_back(solid);
    }
    blocks.push_back({solid, first, cells_.size()});
  }
  const auto size = static_cast<Eigen::Index>(cells_.size());
  lower_.resize(size, size);
  for (const Block& a : blocks) {
    for (const Block& b : blocks) {
      if (b.first > a.first) break;
      const KernelValues weights = residual_by_solvent_kernel(
          fit.variances,
          fit.kernels(fit.solid(a.solid, data.solids), fit.solid(b.solid, data.solids), a.solid == b.solid));
      for (std::size_t j = b.first; j < b.end; ++j) {
        for (std::size_t i = std::max(a.first, j); i < a.end; ++i) {
          lower_(static_cast<Eigen::Index>(i), static_cast<Eigen::Index>(j)) =
              data.solvent_kernels.sum(weights, solvent(i), solvent(j));
        }
      }
    }
  }
  for (std::size_t i = 0; i < cells_.size(); ++i) {
    lower_(static_cast<Eigen::Index>(i), static_cast<Eigen::Index>(i)) +=
        fit.noise_variance * fit.noise_factor[cells_[i]];
  }
  const Eigen::LLT<Eigen::Ref<Eigen::MatrixXd>> in_place(lower_);
  if (in_place.info() != Eigen::Success) {
    throw Error("the covariance of the fitted model is not positive definite");
  }
}

Eigen::MatrixXd Neighbourhood::whitened(const std::vector<KernelValues>& weights, std::size_t count) const {
  const auto rows = static_cast<Eigen::Index>(count);
  Eigen::MatrixXd out(rows, static_cast<Eigen::Index>(data_.solvents.size()));
  for (std::size_t column = 0; column < data_.solvents.size(); ++column) {
    for (std::size_t c = 0; c < count; ++c) {
      out(static_cast<Eigen::Index>(c), static_cast<Eigen::Index>(column)) =
          data_.solvent_kernels.sum(weights[owners_[c]], solvent(c), column);
    }
  }
  // The leading block of a Cholesky factor is the factor of the leading block.
  lower_.topLeftCorner(rows, rows).triangularView<Eigen::Lower>().solveInPlace(out);
  return out;
}

Eigen::VectorXd Neighbourhood::solved(const Eigen::VectorXd& values) const {
  Eigen::VectorXd out = values;
  lower_.triangularView<Eigen::Lower>().solveInPlace(out);
  lower_.triangularView<Eigen::Lower>().transpose().solveInPlace(out);
  return out;
}

}  // namespace firstcrop::detail
