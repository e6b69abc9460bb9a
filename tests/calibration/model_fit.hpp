#pragma once

#include <functional>
#include <vector>

#include "configuration.hpp"
#include "gaussian_fit.hpp"
#include "sample.hpp"
#include "solubility/model_data.hpp"

namespace firstcrop {

/// The solids of the table that `wanted` accepts, all if none is given.
[[nodiscard]] Sample sample_of(
    const CalibrationTable& table, const Configuration& configuration,
    const std::function<bool(const CalibrationSolid&)>& wanted = [](const CalibrationSolid&) {
      return true;
    });

/// All four fits to one sample, and the model made of them.
struct ModelFit {
  Sample sample;
  std::vector<GaussianFit> fits;  ///< structure, groups, melting-point, nothing
  SolubilityModel::Data data;
};

/// Fits all that a model file holds.
[[nodiscard]] ModelFit fit_model(const CalibrationTable& table, Sample sample,
                                 const Configuration& configuration);

}  // namespace firstcrop
