#pragma once

#include <Eigen/Cholesky>
#include <Eigen/Core>
#include <optional>
#include <string>
#include <vector>

#include "configuration.hpp"
#include "sample.hpp"
#include "solubility/model_data.hpp"

namespace firstcrop {

/// How one of the four fits is made.
struct FitPlan {
  std::string mode;  ///< structure, groups, melting-point or nothing
  VarianceTable variances{};
  double noise_variance = 0;
  std::size_t linear_features = 0;
  std::optional<SimilarityWeights> similarity_weights;  ///< nothing: all 1
  std::optional<MeltingPointProcess> melting_point_process;
  double partition_weight = 0;
};

/// One Gaussian process fitted to a sample.
struct GaussianFit {
  FeatureFit fit;
  Eigen::LLT<Eigen::MatrixXd> factor;  ///< of the covariance with noise
  double log_marginal_likelihood = 0;
};

/// The plans of the four fits, in the order structure, groups, melting-point, nothing.
[[nodiscard]] std::vector<FitPlan> fit_plans(const CalibrationTable& table,
                                             const Configuration& configuration);

/// The library solids and cells of a sample, as the model keeps them.
[[nodiscard]] std::vector<LibrarySolid> library_solids(const Sample& sample);
[[nodiscard]] std::vector<LibraryCell> library_cells(const Sample& sample);

/// Gaussian process regression (Rasmussen & Williams 2006, algorithm 2.1). Cells that the others contradict
/// by more than two standard deviations get a larger noise in two rounds: with v = 1/(K^-1)_cc and e =
/// alpha_c v the left-out variance and residual, the noise factor grows by max(e^2 - 4 v, 0)/noise, up to
/// 150.
[[nodiscard]] GaussianFit fit_gaussian(const Sample& sample, const CalibrationTable& table,
                                       const FitPlan& plan);

/// alpha of the same fit without the cells of the given solids (block inverse); zero for these cells.
[[nodiscard]] std::vector<double> alpha_without(const GaussianFit& fit,
                                                const std::vector<LibrarySolid>& solids,
                                                const std::vector<std::size_t>& left_out);

/// The sums over cells that suffice for a fit without features.
[[nodiscard]] SummedFit summed(const FeatureFit& fit, const std::vector<double>& alpha, const Sample& sample,
                               std::size_t solvent_count);

}  // namespace firstcrop
