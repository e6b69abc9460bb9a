#include "solubility/model_data.hpp"

#include <algorithm>
#include <utility>

namespace firstcrop {
namespace {

constexpr double kLargestFeature = 4.0;

}  // namespace

std::vector<double> FeatureFit::standardised(std::span<const double> raw) const {
  std::vector<double> out(feature_count());
  for (std::size_t i = 0; i < out.size(); ++i) {
    out[i] = std::clamp((raw[i] - feature_mean[i]) / feature_sd[i], -kLargestFeature, kLargestFeature);
  }
  return out;
}

double FeatureFit::estimated_melting_point_k(std::span<const double> standardised_features) const {
  if (melting_point_process) {
    return melting_point_process->estimate_k(standardised_features, features, melting_point_alpha);
  }
  double sum = melting_point_terms[0];
  for (std::size_t i = 0; i < standardised_features.size(); ++i) {
    sum += melting_point_terms[i + 1] * standardised_features[i];
  }
  return sum;
}

void FeatureFit::standardise_solids() {
  features.clear();
  if (feature_count() == 0) return;
  features.reserve(raw_features.size());
  for (std::size_t start = 0; start < raw_features.size(); start += feature_count()) {
    const auto point = standardised(std::span(raw_features).subspan(start, feature_count()));
    features.insert(features.end(), point.begin(), point.end());
  }
}

void FeatureFit::place_solids(const std::vector<LibrarySolid>& solids) {
  standardise_solids();
  t.clear();
  t.reserve(solids.size());
  for (std::size_t i = 0; i < solids.size(); ++i) {
    const auto estimate_k = [&] {
      return melting_point_process ? melting_point_estimate_k[i] : estimated_melting_point_k(features_of(i));
    };
    t.push_back(scaled_melting_point(solids[i].melting_point_k ? *solids[i].melting_point_k : estimate_k()));
  }
}

SolidPoint FeatureFit::solid(std::size_t index, const std::vector<LibrarySolid>& solids) const {
  return {features_of(index), t[index], !solids[index].melting_point_k.has_value()};
}

std::vector<double> FeatureFit::base_line(std::span<const double> raw,
                                          const std::vector<SolventTraits>& solvents) const {
  std::vector<double> out(solvents.size(), mean);
  if (partition_weight == 0) return out;
  // log10 K = c + e E + s S + a A + b B + l L, with the first five features E S A B L.
  const auto log10_partition = [&](const SolventTraits& solvent) {
    double sum = solvent.abraham[0];
    for (std::size_t i = 0; i < 5; ++i) sum += solvent.abraham[i + 1] * raw[i];
    return sum;
  };
  double core = 0;
  for (const std::size_t s : core_solvents) core += log10_partition(solvents[s]);
  core /= static_cast<double>(core_solvents.size());
  for (std::size_t s = 0; s < solvents.size(); ++s) {
    out[s] += partition_weight * (log10_partition(solvents[s]) - core);
  }
  return out;
}

}  // namespace firstcrop
