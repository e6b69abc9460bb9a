#pragma once

#include <Eigen/Core>
#include <cstddef>
#include <span>
#include <vector>

#include "solubility/model_data.hpp"

namespace firstcrop::detail {

/// The cells of some solids of the library and the covariance between them, factored once: what is known of
/// one solid is conditioned on these. Internal to the room, for it shows the linear algebra library.
class Neighbourhood {
 public:
  /// Takes the cells of the solids in this order, at most `largest_cell_count`. Throws Error where their
  /// covariance is not positive definite, which no model file that was accepted brings about.
  Neighbourhood(const SolubilityModel::Data& data, const FeatureFit& fit, std::span<const std::size_t> solids,
                std::size_t largest_cell_count);

  [[nodiscard]] std::size_t size() const { return cells_.size(); }
  /// Solvent and solid of a cell.
  [[nodiscard]] std::size_t solvent(std::size_t i) const { return data_.cells[cells_[i]].solvent; }
  [[nodiscard]] std::size_t owner(std::size_t i) const { return owners_[i]; }

  /// L^-1 k for the first `count` cells, a column for each solvent of the model: k(cell, column) is the sum
  /// over solvent kernels of the weights of the cell's solid, `weights` by solid of the library, times the
  /// kernel. The same as in a neighbourhood of these cells alone.
  [[nodiscard]] Eigen::MatrixXd whitened(const std::vector<KernelValues>& weights, std::size_t count) const;
  /// The inverse covariance times a number for each cell.
  [[nodiscard]] Eigen::VectorXd solved(const Eigen::VectorXd& values) const;

 private:
  const SolubilityModel::Data& data_;
  std::vector<std::size_t> cells_;
  std::vector<std::size_t> owners_;
  Eigen::MatrixXd lower_;  ///< Cholesky factor L in its lower half
};

}  // namespace firstcrop::detail
