#pragma once

#include <array>
#include <cstddef>
#include <span>
#include <string_view>
#include <vector>

#include "solubility/model_file.hpp"
#include "solubility/state.hpp"

namespace firstcrop {

inline constexpr std::size_t kKernelCount = 6;

/// Covariance functions over solids.
enum class SolidKernel { Constant, MeltingPoint, Linear, Similarity, SameSolid, MeltingPointUnknown };
/// Covariance functions over solvents.
enum class SolventKernel { Constant, Coefficients, Neighbour, Water, Hydrocarbon, SameSolvent };

/// Their names in files, in the order of the enumerators.
inline constexpr std::array<std::string_view, kKernelCount> kSolidKernelNames{
    "constant", "melting-point", "linear", "similarity", "same-solid", "melting-point-unknown"};
inline constexpr std::array<std::string_view, kKernelCount> kSolventKernelNames{
    "constant", "coefficients", "neighbour", "water", "hydrocarbon", "same-solvent"};

/// One number for each kernel, in the order of its enumerators.
using KernelValues = std::array<double, kKernelCount>;
/// Variances of the products: solid kernel, then solvent kernel. [log10 units squared]
using VarianceTable = std::array<KernelValues, kKernelCount>;

/// A solid as the kernels see it.
struct SolidPoint {
  std::span<const double> features;  ///< standardised and clipped
  double t = 0;                      ///< (melting point - 400 K)/100 K
  bool melting_point_assumed = false;
};

/// How much squared differences count in the similarity of solids.
struct SimilarityWeights {
  std::vector<double> features;  ///< one for each
  double melting_point = 1;

  [[nodiscard]] static SimilarityWeights equal(std::size_t feature_count) {
    return {std::vector<double>(feature_count, 1.0), 1.0};
  }
};

/// (melting point - 400 K)/100 K.
[[nodiscard]] double scaled_melting_point(double melting_point_k);
[[nodiscard]] double melting_point_k_of(double scaled);

/// The kernels over solids: constant 1; t t'; the scalar product of the first `linear_features` features over
/// their number; exp(-D/1.5), D^2 = (sum of w_i (x_i - x_i')^2 + 4 w_t (t - t')^2)/(number of features + 1);
/// same solid; same solid with a melting point that `first` does not know. Both points and the weights must
/// have the same number of features.
[[nodiscard]] KernelValues solid_kernels(const SolidPoint& first, const SolidPoint& second, bool same_solid,
                                         std::size_t linear_features, const SimilarityWeights& weights);

/// For each solvent kernel the sum over solid kernels of variance times value.
[[nodiscard]] KernelValues by_solvent_kernel(const VarianceTable& variances,
                                             const KernelValues& solid_values);
/// The same without the kernels that many solids determine (constant, melting point, linear): what is left
/// uncertain about one solid.
[[nodiscard]] KernelValues residual_by_solvent_kernel(const VarianceTable& variances,
                                                      const KernelValues& solid_values);

/// The kernels over solvents, all values held: constant 1; scalar product of the standardised Abraham
/// coefficients e s a b l over 5; exp(-|q - q'|^2/(2 0.7^2)) with q a third of the standardised e s a b l,
/// Hansen parameters and ln molar volume; both water; product of the hydrocarbon shares; same solvent.
class SolventKernels {
 public:
  SolventKernels() = default;
  /// Standardises over the first `fitted_count` solvents (at least two), so that further ones may follow.
  SolventKernels(const std::vector<SolventTraits>& solvents, std::size_t fitted_count);

  [[nodiscard]] std::size_t size() const { return water_.size(); }
  [[nodiscard]] KernelValues values(std::size_t first, std::size_t second) const;
  /// Sum over the kernels of weight times value.
  [[nodiscard]] double sum(const KernelValues& weights, std::size_t first, std::size_t second) const {
    double total = weights[0] + weights[1] * coefficients_(first, second) +
                   weights[2] * neighbour_(first, second) + weights[3] * water_[first] * water_[second] +
                   weights[4] * hydrocarbon_[first] * hydrocarbon_[second];
    if (first == second) total += weights[5];
    return total;
  }

 private:
  Matrix coefficients_;
  Matrix neighbour_;
  std::vector<double> water_;
  std::vector<double> hydrocarbon_;
};

}  // namespace firstcrop
