#pragma once

#include <string>
#include <vector>

#include "model_fit.hpp"
#include "solubility/prior.hpp"

namespace firstcrop {

/// How well levels were foretold, gathered solid by solid.
class Score {
 public:
  /// One solid: foretold mean and covariance over solvents against its cells.
  void add(const SolubilityPrior& foretold, const std::vector<SampleCell>& cells);
  /// `solids, median rmse per solid, rmse of all, pairs of solvents ordered right, inside 95 %` in one line.
  [[nodiscard]] std::string text() const;

 private:
  std::vector<double> rmse_per_solid_;
  std::vector<double> squares_;
  double covered_ = 0;
  double pairs_ = 0;
  double pairs_right_ = 0;
};

/// What the model would be told of a solid in each mode.
[[nodiscard]] SoluteInput input_of(const CalibrationSolid& solid, ModelMode mode);

/// Groups of solids that share a skeleton: left out together.
[[nodiscard]] std::vector<std::vector<std::size_t>> skeletons(const Sample& sample);

/// Puts the weights of the fit without some solids into the model's data.
void leave_out(ModelFit& fit, ModelMode mode, const std::vector<std::size_t>& solids);
/// A model that looks at `data` for as long as that lives.
[[nodiscard]] SolubilityModel borrowed_model(const SolubilityModel::Data& data);

/// Three tables: every solid left out by itself (block inverse of one fit, four modes); five folds, each
/// foretold by a fit without it; and the approximate leaving out that the shipped file allows.
[[nodiscard]] std::string cross_validation_text(const CalibrationTable& table,
                                                const Configuration& configuration);

}  // namespace firstcrop
