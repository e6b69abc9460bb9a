#include "phase/liquid_stability.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <vector>

namespace firstcrop {

namespace {

enum class TrialEnd { Above, Below, NotConverged };

/// Follows one trial phase by successive substitution to the stationary point of its distance from the
/// tangent plane. Below: the plane is pierced, so that the trial phase would separate.
TrialEnd follow_trial(const ActivityAtTemperature& model, std::span<const double> feed_potential,
                      std::span<const double> feed, std::vector<double> trial) {
  const std::size_t count = feed.size();
  std::vector<double> ln_gamma(count);
  constexpr int kMostSteps = 2000;
  constexpr double kTolerance = 1e-10;
  constexpr double kTrivial = 1e-5;
  constexpr double kPierced = 1e-8;
  for (int step = 0; step < kMostSteps; ++step) {
    double total = 0;
    model.ln_gamma(trial, ln_gamma);
    double change = 0;
    std::vector<double> amounts(count);
    for (std::size_t i = 0; i < count; ++i) {
      amounts[i] = std::exp(feed_potential[i] - ln_gamma[i]);
      total += amounts[i];
    }
    double distance_to_feed = 0;
    for (std::size_t i = 0; i < count; ++i) {
      const double next = amounts[i] / total;
      change = std::max(change, std::abs(next - trial[i]));
      distance_to_feed = std::max(distance_to_feed, std::abs(next - feed[i]));
      trial[i] = next;
    }
    // ln(total) is the depth below the plane; it only grows from step to step, so a clear piercing ends the
    // search.
    if (total > 1 + 1e-4 && distance_to_feed > 1e-2) return TrialEnd::Below;
    if (distance_to_feed < kTrivial) return TrialEnd::Above;
    if (change < kTolerance) return total > 1 + kPierced ? TrialEnd::Below : TrialEnd::Above;
  }
  return TrialEnd::NotConverged;
}

}  // namespace

Stability liquid_stability(const ActivityAtTemperature& model, std::span<const double> mole_fractions) {
  const std::size_t count = mole_fractions.size();
  std::vector<double> potential = model.ln_gamma(mole_fractions);
  for (std::size_t i = 0; i < count; ++i) potential[i] += std::log(mole_fractions[i]);
  constexpr double kNearlyPure = 0.998;
  bool all_converged = true;
  for (std::size_t start = 0; start < count; ++start) {
    std::vector<double> trial(count,
                              (1 - kNearlyPure) / static_cast<double>(std::max<std::size_t>(count - 1, 1)));
    trial[start] = kNearlyPure;
    switch (follow_trial(model, potential, mole_fractions, std::move(trial))) {
      case TrialEnd::Below:
        return Stability::Splits;
      case TrialEnd::NotConverged:
        all_converged = false;
        break;
      case TrialEnd::Above:
        break;
    }
  }
  return all_converged ? Stability::OneLiquid : Stability::NotConverged;
}

BridgeAnswer least_bridging_share(const ActivityAtTemperature& model,
                                  const std::array<double, 3>& size_per_mole, double first_share) {
  const auto stability_at = [&](double third_share) {
    const std::array<double, 3> shares{first_share * (1 - third_share), (1 - first_share) * (1 - third_share),
                                       third_share};
    std::array<double, 3> moles{};
    double total = 0;
    for (std::size_t i = 0; i < shares.size(); ++i) {
      moles[i] = shares[i] / size_per_mole[i];
      total += moles[i];
    }
    for (double& amount : moles) amount /= total;
    return liquid_stability(model, moles);
  };
  constexpr double kMost = 0.95;
  constexpr double kLeast = 0.001;
  constexpr double kStep = 0.05;
  double one_liquid = kMost;
  double splits = 0;
  for (double share = kMost;; share = std::max(share - kStep, kLeast)) {
    const Stability found = stability_at(share);
    if (found == Stability::NotConverged) return {};
    if (found == Stability::Splits) {
      if (share == kMost) return {Stability::Splits, 0};
      splits = share;
      break;
    }
    one_liquid = share;
    if (share == kLeast) return {Stability::OneLiquid, 0};
  }
  constexpr double kTolerance = 0.0005;
  while (one_liquid - splits > kTolerance) {
    const double middle = (one_liquid + splits) / 2;
    const Stability found = stability_at(middle);
    if (found == Stability::NotConverged) return {};
    (found == Stability::OneLiquid ? one_liquid : splits) = middle;
  }
  return {Stability::OneLiquid, one_liquid};
}

}  // namespace firstcrop
