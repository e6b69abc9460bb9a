#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "solubility/enthalpy.hpp"
#include "solubility/kernels.hpp"
#include "solubility/melting_point.hpp"
#include "solubility/model_file.hpp"

namespace firstcrop {

/// A solid that the model was fitted on. Its cells stand together in `SolubilityModel::Data::cells`.
struct LibrarySolid {
  std::string name;  ///< may be empty
  std::string canonical_smiles;
  std::string canonical_smiles_without_stereo;
  std::optional<double> melting_point_k;
  std::size_t first_cell = 0;
  std::size_t cell_count = 0;
};

/// One measured solubility: median over its sources.
struct LibraryCell {
  std::size_t solvent = 0;
  double level = 0;  ///< log10 [mol/L] at 298.15 K
};

/// The fit for solids with features (structure or groups): one weight for each cell.
struct FeatureFit {
  double mean = 0;                         ///< log10 mol/L
  double noise_variance = 0;               ///< of an ordinary cell
  double partition_weight = 0;             ///< of log10 K(gas to solvent) in the mean; 0 leaves the term out
  std::vector<std::size_t> core_solvents;  ///< whose mean log10 K is taken off
  std::size_t linear_features = 0;
  SimilarityWeights similarity_weights;
  VarianceTable variances{};
  std::vector<double> feature_mean;
  std::vector<double> feature_sd;
  /// Foretells an unknown melting point; where there is none, the ridge regression below does.
  std::optional<MeltingPointProcess> melting_point_process;
  std::vector<double> melting_point_alpha;       ///< by solid, of the process; 0 where unknown
  std::vector<double> melting_point_estimate_k;  ///< by solid, by the process; read only where unknown
  std::vector<double> melting_point_terms;       ///< ridge: constant [K], then one per standardised feature
  std::vector<double> raw_features;              ///< by solid
  std::vector<double> alpha;                     ///< by cell: inverse covariance times residual
  std::vector<double> noise_factor;              ///< by cell: 1, more for gross errors
  // from the above
  std::vector<double> features;  ///< by solid, standardised
  std::vector<double> t;         ///< by solid

  [[nodiscard]] std::size_t feature_count() const { return feature_mean.size(); }
  /// (x - mean)/sd, clipped to +-4.
  [[nodiscard]] std::vector<double> standardised(std::span<const double> raw) const;
  /// Melting point [K] from standardised features: by the process, or by ridge regression.
  [[nodiscard]] double estimated_melting_point_k(std::span<const double> standardised_features) const;
  /// Fills `features` from the raw ones.
  void standardise_solids();
  /// Fills `features` and `t` from the rest.
  void place_solids(const std::vector<LibrarySolid>& solids);
  [[nodiscard]] std::span<const double> features_of(std::size_t solid) const {
    return std::span(features).subspan(solid * feature_count(), feature_count());
  }
  /// The kernels between two solids as this fit weighs them.
  [[nodiscard]] KernelValues kernels(const SolidPoint& first, const SolidPoint& second,
                                     bool same_solid) const {
    return solid_kernels(first, second, same_solid, linear_features, similarity_weights);
  }
  [[nodiscard]] SolidPoint solid(std::size_t index, const std::vector<LibrarySolid>& solids) const;
  /// Mean over solids of log10 S in each solvent, for a solid with these raw features.
  [[nodiscard]] std::vector<double> base_line(std::span<const double> raw,
                                              const std::vector<SolventTraits>& solvents) const;
};

/// The fit for solids without features: alpha summed over the cells of each solvent suffices.
struct SummedFit {
  double mean = 0;
  double melting_point_k = 0;  ///< taken where none is known
  VarianceTable variances{};
  std::vector<double> alpha;    ///< by solvent
  std::vector<double> alpha_t;  ///< by solvent: alpha times scaled melting point
};

struct SolubilityModel::Data {
  std::vector<SolventTraits> solvents;  ///< fitted ones first
  std::size_t fitted_solvents = 0;
  std::vector<std::string> solvent_ids;
  SolventKernels solvent_kernels;
  EnthalpyModel enthalpy;
  std::vector<LibrarySolid> solids;
  std::vector<LibraryCell> cells;
  FeatureFit structure;
  FeatureFit groups;
  SummedFit melting_point;
  SummedFit nothing;
};

}  // namespace firstcrop
