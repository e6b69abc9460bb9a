#include "solubility/melting_point.hpp"

#include <Eigen/Cholesky>
#include <Eigen/Core>
#include <cmath>
#include <cstddef>

#include "base/error.hpp"
#include "solubility/kernels.hpp"

namespace firstcrop {
namespace {

constexpr double kLength = 1.5;

}  // namespace

double MeltingPointProcess::covariance(std::span<const double> first, std::span<const double> second) const {
  double product = 0;
  double squares = 0;
  for (std::size_t i = 0; i < first.size(); ++i) {
    const double difference = first[i] - second[i];
    squares += difference * difference;
    product += first[i] * second[i];
  }
  const auto count = static_cast<double>(first.size());
  return constant + linear * product / count + similarity * std::exp(-std::sqrt(squares / count) / kLength);
}

double MeltingPointProcess::estimate_k(std::span<const double> solid, std::span<const double> features,
                                       std::span<const double> alpha) const {
  double sum = 0;
  for (std::size_t i = 0; i < alpha.size(); ++i) {
    if (alpha[i] == 0) continue;
    sum += alpha[i] * covariance(solid, features.subspan(i * solid.size(), solid.size()));
  }
  return melting_point_k_of(sum);
}

std::vector<double> MeltingPointProcess::alpha(
    std::span<const double> features, const std::vector<std::optional<double>>& melting_point_k) const {
  const std::size_t width = features.size() / melting_point_k.size();
  std::vector<std::size_t> known;
  for (std::size_t i = 0; i < melting_point_k.size(); ++i) {
    if (melting_point_k[i]) known.push_back(i);
  }
  const auto size = static_cast<Eigen::Index>(known.size());
  Eigen::MatrixXd between(size, size);
  Eigen::VectorXd scaled(size);
  for (Eigen::Index i = 0; i < size; ++i) {
    const std::size_t first = known[static_cast<std::size_t>(i)];
    scaled(i) = scaled_melting_point(*melting_point_k[first]);
    for (Eigen::Index j = 0; j <= i; ++j) {
      between(i, j) = covariance(features.subspan(first * width, width),
                                 features.subspan(known[static_cast<std::size_t>(j)] * width, width));
    }
    between(i, i) += noise_variance;
  }
  const Eigen::LLT<Eigen::MatrixXd> factor(between);
  if (factor.info() != Eigen::Success) {
    throw Error("the covariance of the melting points is not positive definite");
  }
  const Eigen::VectorXd solution = factor.solve(scaled);
  std::vector<double> out(melting_point_k.size(), 0.0);
  for (Eigen::Index i = 0; i < size; ++i) out[known[static_cast<std::size_t>(i)]] = solution(i);
  return out;
}

}  // namespace firstcrop
