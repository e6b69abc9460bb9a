#pragma once

#include <cstddef>
#include <string>
#include <utility>
#include <vector>

namespace firstcrop {

/// A dense matrix, row by row.
struct Matrix {
  std::size_t rows = 0;
  std::size_t columns = 0;
  std::vector<double> values;

  Matrix() = default;
  Matrix(std::size_t row_count, std::size_t column_count)
      : rows(row_count), columns(column_count), values(row_count * column_count, 0.0) {}
  [[nodiscard]] double operator()(std::size_t row, std::size_t column) const {
    return values[row * columns + column];
  }
  double& operator()(std::size_t row, std::size_t column) { return values[row * columns + column]; }
};

/// How much of the solid is known to the model, and so which of its four fits answers.
enum class ModelMode { Structure, Groups, MeltingPoint, Nothing };

/// A library solid that resembles the solute.
struct SimilarSolid {
  std::string name;  ///< its SMILES where it has none
  std::string smiles;
  double similarity = 0;              ///< 0 to 1
  std::vector<std::string> solvents;  ///< ids in which it was measured
};

/// What the model knows of one solid before any measurement: log10 molar solubility [log10 mol per litre of
/// solution] at 298.15 K in every solvent of the model, in the order of the model's solvents.
struct SolubilityPrior {
  ModelMode mode = ModelMode::Nothing;
  std::vector<double> mean;    ///< S
  Matrix covariance;           ///< S x S, without laboratory scatter
  double melting_point_k = 0;  ///< as given, or estimated
  bool melting_point_assumed = false;
  std::vector<SimilarSolid> similar;  ///< nearest first, at most 3
  bool is_fitted_solid = false;       ///< the model was fitted on this very solid, and it counts
};

/// Joint Gaussian of level and enthalpy for all solvents: theta = (y_1..y_S, h_1..h_S), y at 298.15 K in
/// log10 mol/L, h in kJ/mol, so that log10 S(T) = min(y + h tau(T), log10(1270/M)).
struct SolubilityState {
  std::size_t solvent_count = 0;
  std::vector<double> mean;  ///< 2 S
  Matrix covariance;         ///< 2 S x 2 S, laboratory scatter (0.16 log10) included in the levels
  double molar_mass_g_mol = 0;
  double laboratory_sd = 0;   ///< scatter of the own laboratory that the levels hold [log10]; 0: none
  /// S: how far the enthalpy follows the level [kJ/mol per log10 unit]; it carries the scatter into the enthalpies.
  std::vector<double> enthalpy_per_level;
};

}  // namespace firstcrop
