#include "solubility/kernels.hpp"

#include <algorithm>
#include <cmath>

namespace firstcrop {
namespace {

constexpr double kSimilarityLength = 1.5;
constexpr double kMeltingPointWeight = 4.0;  // in D^2, so that 100 K count as two standard deviations
constexpr double kNeighbourLength = 0.7;
constexpr std::size_t kCoefficientCount = 5;
constexpr std::size_t kNeighbourCount = 9;

std::size_t at(SolidKernel kernel) {
  return static_cast<std::size_t>(kernel);
}

}  // namespace

double scaled_melting_point(double melting_point_k) {
  return (melting_point_k - 400.0) / 100.0;
}

double melting_point_k_of(double scaled) {
  return 400.0 + 100.0 * scaled;
}

KernelValues solid_kernels(const SolidPoint& first, const SolidPoint& second, bool same_solid,
                           std::size_t linear_features, const SimilarityWeights& weights) {
  const std::size_t count =
      std::min({first.features.size(), second.features.size(), weights.features.size()});
  double squares = 0;
  double product = 0;
  for (std::size_t i = 0; i < count; ++i) {
    const double difference = first.features[i] - second.features[i];
    squares += weights.features[i] * difference * difference;
    if (i < linear_features) product += first.features[i] * second.features[i];
  }
  const double step = first.t - second.t;
  squares += kMeltingPointWeight * weights.melting_point * step * step;
  const double distance = same_solid ? 0.0 : std::sqrt(squares / static_cast<double>(count + 1));
  KernelValues out{};
  out[at(SolidKernel::Constant)] = 1;
  out[at(SolidKernel::MeltingPoint)] = first.t * second.t;
  if (linear_features > 0) out[at(SolidKernel::Linear)] = product / static_cast<double>(linear_features);
  out[at(SolidKernel::Similarity)] = std::exp(-distance / kSimilarityLength);
  if (same_solid) {
    out[at(SolidKernel::SameSolid)] = 1;
    if (first.melting_point_assumed) out[at(SolidKernel::MeltingPointUnknown)] = 1;
  }
  return out;
}

KernelValues by_solvent_kernel(const VarianceTable& variances, const KernelValues& solid_values) {
  KernelValues out{};
  for (std::size_t a = 0; a < kKernelCount; ++a) {
    for (std::size_t b = 0; b < kKernelCount; ++b) out[b] += variances[a][b] * solid_values[a];
  }
  return out;
}

KernelValues residual_by_solvent_kernel(const VarianceTable& variances, const KernelValues& solid_values) {
  KernelValues kept = solid_values;
  kept[at(SolidKernel::Constant)] = kept[at(SolidKernel::MeltingPoint)] = kept[at(SolidKernel::Linear)] = 0;
  return by_solvent_kernel(variances, kept);
}

SolventKernels::SolventKernels(const std::vector<SolventTraits>& solvents, std::size_t fitted_count)
    : coefficients_(solvents.size(), solvents.size()), neighbour_(solvents.size(), solvents.size()) {
  const std::size_t count = solvents.size();
  std::vector<std::array<double, kNeighbourCount>> points(count);
  for (std::size_t s = 0; s < count; ++s) {
    const SolventTraits& traits = solvents[s];
    std::copy(traits.abraham.begin() + 1, traits.abraham.end(), points[s].begin());
    std::copy(traits.hansen_sqrt_mpa.begin(), traits.hansen_sqrt_mpa.end(),
              points[s].begin() + kCoefficientCount);
    points[s].back() = std::log(traits.molar_volume_ml_mol);
    water_.push_back(traits.water ? 1.0 : 0.0);
    hydrocarbon_.push_back(traits.hydrocarbon_share);
  }
  for (std::size_t k = 0; k < kNeighbourCount; ++k) {
    double mean = 0;
    for (std::size_t s = 0; s < fitted_count; ++s) mean += points[s][k];
    mean /= static_cast<double>(fitted_count);
    double variance = 0;
    for (std::size_t s = 0; s < fitted_count; ++s) variance += (points[s][k] - mean) * (points[s][k] - mean);
    const double sd = std::sqrt(variance / static_cast<double>(fitted_count));
    for (auto& point : points) point[k] = sd > 0 ? (point[k] - mean) / sd : 0.0;
  }
  for (std::size_t i = 0; i < count; ++i) {
    for (std::size_t j = 0; j < count; ++j) {
      double product = 0;
      double squares = 0;
      for (std::size_t k = 0; k < kNeighbourCount; ++k) {
        if (k < kCoefficientCount) product += points[i][k] * points[j][k];
        const double difference = (points[i][k] - points[j][k]) / 3.0;
        squares += difference * difference;
      }
      coefficients_(i, j) = product / static_cast<double>(kCoefficientCount);
      neighbour_(i, j) = std::exp(-squares / (2 * kNeighbourLength * kNeighbourLength));
    }
  }
}

KernelValues SolventKernels::values(std::size_t first, std::size_t second) const {
  return {1.0,
          coefficients_(first, second),
          neighbour_(first, second),
          water_[first] * water_[second],
          hydrocarbon_[first] * hydrocarbon_[second],
          first == second ? 1.0 : 0.0};
}

}  // namespace firstcrop
