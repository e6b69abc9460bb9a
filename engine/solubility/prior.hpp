#pragma once

#include <optional>
#include <string>
#include <vector>

#include "solubility/model_file.hpp"
#include "solubility/state.hpp"

namespace firstcrop {

/// What is known of the solid. Empty vectors and strings mean not known.
struct SoluteInput {
  std::vector<double> structure_features;  ///< of `DescriptorScheme::structure_features`
  std::vector<double> group_features;      ///< of `group_features`; used only without a structure
  std::optional<double> melting_point_k;
  double molar_mass_g_mol = 0;
  std::string canonical_smiles_without_stereo;  ///< finds the solid among those that the model was fitted on
  std::string canonical_smiles;                 ///< with stereo marks: decides between stereoisomers
  bool as_unknown = false;                      ///< judge it as if it were not among them
};

/// Mean and covariance of log10 solubility [log10 mol/L of solution] at 298.15 K over all solvents of the
/// model, laboratory scatter not included: Gaussian process regression (Rasmussen & Williams, Gaussian
/// Processes for Machine Learning, MIT Press 2006, ch. 2), with the covariance conditioned on the twelve most
/// similar solids. The mode follows from what is given: structure, else groups, else melting point, else
/// nothing. Feature vectors of another length than the model's are taken as not known.
[[nodiscard]] SolubilityPrior predict(const SolubilityModel& model, const SoluteInput& solute);

}  // namespace firstcrop
