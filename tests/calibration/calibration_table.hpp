#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "solubility/kernels.hpp"
#include "solubility/melting_point.hpp"
#include "solubility/model_file.hpp"
#include "structure/descriptors.hpp"

namespace firstcrop {

/// A solid of the calibration table with all that the fit needs of its structure.
struct CalibrationSolid {
  std::string name;
  std::optional<double> melting_point_k;
  std::string canonical_smiles;
  std::string canonical_smiles_without_stereo;
  double molar_mass_g_mol = 0;
  std::vector<double> structure_features;
  std::vector<double> group_features;
};

/// One straight line of log10 S against 1/T from one source.
struct CalibrationCurve {
  std::size_t solid = 0;
  std::string solvent;
  std::optional<double> level;  ///< log10 mol/L at 298.15 K
  std::optional<double> enthalpy_kj_mol;
  bool doubtful = false;
  double coldest_k = 0;  ///< range of the measurements
  double hottest_k = 0;
};

struct KernelVariance {
  std::string mode;
  SolidKernel solid = SolidKernel::Constant;
  SolventKernel solvent = SolventKernel::Constant;
  double variance = 0;
};

struct CalibrationTable {
  std::vector<CalibrationSolid> solids;
  std::vector<CalibrationCurve> curves;
  std::vector<SolventTraits> solvents;
  std::vector<KernelVariance> variances;
  std::vector<std::pair<std::string, double>> noise;  ///< mode and noise variance of an ordinary cell
  SimilarityWeights similarity_weights;               ///< of mode structure
  MeltingPointProcess melting_point_process;

  [[nodiscard]] VarianceTable variances_of(const std::string& mode) const;
  [[nodiscard]] double noise_of(const std::string& mode) const;          ///< throws Error where unknown
  [[nodiscard]] std::size_t solvent_index(const std::string& id) const;  ///< throws Error where unknown
};

/// Reads solids.csv and solubility-curves.csv of solvents/, and solvents.csv, variances.csv,
/// similarity-weights.csv and melting-point-process.csv of tests/calibration/, under the top of the project.
/// Throws Error where a table or a structure cannot be read.
[[nodiscard]] CalibrationTable read_calibration_table(const std::string& root,
                                                      const DescriptorScheme& scheme);

}  // namespace firstcrop
