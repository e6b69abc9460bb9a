#pragma once

#include <optional>
#include <span>
#include <vector>

namespace firstcrop {

/// Numbers of the Gaussian process that foretells a melting point from the features of a solid: t =
/// (melting point - 400 K)/100 K has mean 0 and the covariance constant + linear x.x'/n + similarity
/// exp(-|x - x'|/(1.5 sqrt n)) over the n standardised features, each of the same weight (Rasmussen &
/// Williams, Gaussian Processes for Machine Learning, MIT Press 2006, ch. 2).
struct MeltingPointProcess {
  double constant = 0;
  double linear = 0;
  double similarity = 0;
  double noise_variance = 0;

  [[nodiscard]] double covariance(std::span<const double> first, std::span<const double> second) const;
  /// Melting point [K] of a solid from the features and alpha of others, one solid after the other in
  /// `features`; those of alpha 0 are passed over.
  [[nodiscard]] double estimate_k(std::span<const double> solid, std::span<const double> features,
                                  std::span<const double> alpha) const;
  /// Inverse covariance times t for the solids whose melting point [K] is given, 0 for the others. Throws
  /// Error where the covariance is not positive definite.
  [[nodiscard]] std::vector<double> alpha(std::span<const double> features,
                                          const std::vector<std::optional<double>>& melting_point_k) const;
};

}  // namespace firstcrop
