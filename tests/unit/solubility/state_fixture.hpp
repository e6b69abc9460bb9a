#pragma once

#include <cstddef>

#include "solubility/curve.hpp"

namespace firstcrop {

/// An enthalpy rule with coefficients of the usual size, for `count` solvents.
inline EnthalpyModel usual_enthalpy(std::size_t count) {
  EnthalpyModel model;
  model.coefficients = {15.0, -2.2, 2.5, -5.3, -1.0, -0.5};
  model.solvent_terms.assign(count, 0.0);
  for (std::size_t i = 0; i < count; ++i) model.solvent_terms[i] = static_cast<double>(i % 5) - 2.0;
  return model;
}

/// What a model might know of a solid that melts at 400 K in `count` solvents: levels between -2 and 0, a
/// common spread of 0.5, one between two kinds of solvent of 0.4, and 0.3 of each solvent's own.
inline SolubilityPrior usual_prior(std::size_t count) {
  SolubilityPrior prior;
  prior.melting_point_k = 400;
  prior.mean.resize(count);
  prior.covariance = Matrix(count, count);
  const auto kind = [](std::size_t i) { return i % 2 == 0 ? 1.0 : -1.0; };
  for (std::size_t i = 0; i < count; ++i) {
    prior.mean[i] = -2.0 + static_cast<double>((7 * i) % 11) / 5.0;
    for (std::size_t j = 0; j < count; ++j)
      prior.covariance(i, j) = 0.25 + 0.16 * kind(i) * kind(j) + (i == j ? 0.09 : 0.0);
  }
  return prior;
}

inline constexpr double kUsualMolarMass = 150.0;

inline SolubilityState usual_state(std::size_t count) {
  return initial_state(usual_prior(count), usual_enthalpy(count), kUsualMolarMass);
}

}  // namespace firstcrop
