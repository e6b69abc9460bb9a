#include "phase/boiling_down.hpp"

#include <algorithm>
#include <array>
#include <numeric>

namespace firstcrop {
namespace {

// Share of the moles in the flask that each step boils off.
constexpr double kStep = 0.004;
// Relative difference of volumes that counts as none.
constexpr double kVolumeTolerance = 1e-9;

// The line on which two layers boil together is the same for every ratio, and dear.
BubblePoint boils(const BoilingLiquid& liquid, const std::optional<ThreePhaseLine>& line,
                  const std::vector<double>& fractions, double pressure_kpa) {
  if (fractions.size() != 2) return liquid.bubble_point(fractions, pressure_kpa);
  if (!line || !line->layers.holds(fractions[0]))
    return liquid.bubble_point(std::array{fractions[0], 1 - fractions[0]}, pressure_kpa);
  return {BoilingStatus::Calculated, line->temperature_k, {line->vapour_fraction, 1 - line->vapour_fraction}, true};
}

std::vector<double> normalised(std::vector<double> amounts) {
  const double sum = std::accumulate(amounts.begin(), amounts.end(), 0.0);
  for (double& amount : amounts) amount /= sum;
  return amounts;
}

}  // namespace

BoilingDown boil_down(const PhaseModel& model, std::span<const SolventId> solvents,
                      std::span<const double> volume_fractions, double pressure_kpa,
                      std::span<const double> shares) {
  const auto start = model.composition(solvents, volume_fractions);
  if (!start) return {};
  const auto liquid = model.boiling_liquid(start->components);
  if (!liquid) return {};
  const auto line = liquid->three_phase_line(pressure_kpa);
  BoilingDown out{start->components, {}};
  std::vector<double> moles = start->mole_fractions;
  std::vector<double> molar_volumes;
  for (const SolventId component : start->components) {
    molar_volumes.push_back(model.library().solvent(component).molar_volume_ml_mol->value);
  }
  const auto volume = [&] {
    return std::inner_product(moles.begin(), moles.end(), molar_volumes.begin(), 0.0);
  };
  const double whole = volume();
  for (const double share : shares) {
    const double end = (1 - share) * whole;
    while (volume() > end * (1 + kVolumeTolerance)) {
      const BubblePoint point = boils(*liquid, line, normalised(moles), pressure_kpa);
      if (!point.temperature_k || point.status != BoilingStatus::Calculated) return {};
      const double total = std::accumulate(moles.begin(), moles.end(), 0.0);
      double condensed = 0;  // volume of one mole of vapour
      for (std::size_t i = 0; i < moles.size(); ++i) condensed += point.vapour_fractions[i] * molar_volumes[i];
      // The last step of a share ends on it.
      const double amount = std::min(kStep * total, (volume() - end) / condensed);
      for (std::size_t i = 0; i < moles.size(); ++i) {
        moles[i] = std::max(moles[i] - amount * point.vapour_fractions[i], 0.0);
      }
    }
    const BubblePoint point = boils(*liquid, line, normalised(moles), pressure_kpa);
    if (!point.temperature_k) return {};
    std::vector<double> volumes;
    for (std::size_t i = 0; i < moles.size(); ++i) volumes.push_back(moles[i] * molar_volumes[i]);
    out.points.push_back({share, normalised(std::move(volumes)), *point.temperature_k});
  }
  return out;
}

}  // namespace firstcrop
