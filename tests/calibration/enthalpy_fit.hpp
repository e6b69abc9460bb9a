#pragma once

#include <cstddef>

#include "sample.hpp"
#include "solubility/enthalpy.hpp"
#include "solubility/model_data.hpp"

namespace firstcrop {

/// Fits the enthalpy rule to the cells that have an enthalpy between -20 and 120 kJ/mol: least squares, drawn
/// to zero (ridge 3 for the solvents' terms, 0.03 for the others, none for the constant), each solid weighted
/// by the inverse root of its number of cells, residuals beyond 12 kJ/mol weighted down (Huber, Ann. Math.
/// Stat. 1964, 35, 73). Melting points that are unknown are taken from `structure`.
[[nodiscard]] EnthalpyModel fit_enthalpies(const Sample& sample, const FeatureFit& structure,
                                           std::size_t solvent_count);

}  // namespace firstcrop
