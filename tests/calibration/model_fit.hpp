#pragma once

#include <vector>

#include "gaussian_fit.hpp"
#include "sample.hpp"
#include "solubility/model_data.hpp"

namespace firstcrop {

/// The free choices of a fit.
struct Configuration {
  double partition_weight = 0;  ///< of log10 K(gas to solvent) in the mean
  bool with_doubtful = false;   ///< keep the curves that an audit distrusts
};
/// What the project ships.
[[nodiscard]] inline Configuration shipped_configuration() {
  return {0.45, false};
}
/// What the figures of the reference implementation were made with.
[[nodiscard]] inline Configuration reference_configuration() {
  return {0.7, true};
}

/// All solids of the table.
[[nodiscard]] Sample sample_of(const CalibrationTable& table, const Configuration& configuration);

/// All four fits to one sample, and the model made of them.
struct ModelFit {
  Sample sample;
  std::vector<GaussianFit> fits;  ///< structure, groups, melting-point, nothing
  SolubilityModel::Data data;
};

/// Fits all that a model file holds.
[[nodiscard]] ModelFit fit_model(const CalibrationTable& table, Sample sample, double partition_weight);

}  // namespace firstcrop
