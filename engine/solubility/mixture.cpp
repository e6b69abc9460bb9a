#include "solubility/mixture.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <utility>

namespace firstcrop {
namespace {

bool first_is_better(const MixtureEnds& ends) {
  return ends.first_log10_mole_fraction >= ends.second_log10_mole_fraction;
}

// The same mixture with the better solvent named first.
MixtureEnds better_first(MixtureEnds ends) {
  if (!first_is_better(ends)) {
    std::swap(ends.first_log10_mole_fraction, ends.second_log10_mole_fraction);
    std::swap(ends.first_molar_volume_ml_mol, ends.second_molar_volume_ml_mol);
  }
  return ends;
}

// Halves the interval between a place where `above` is false and one where it is true.
template <class Predicate>
double boundary(double where_false, double where_true, Predicate above) {
  constexpr int kHalvings = 50;
  for (int i = 0; i < kHalvings; ++i) {
    const double middle = 0.5 * (where_false + where_true);
    (above(middle) ? where_true : where_false) = middle;
  }
  return 0.5 * (where_false + where_true);
}

}  // namespace

double share_of_better(double better_volume_fraction) {
  const double weighted = kBetterSolventWeight * better_volume_fraction;
  return weighted / (weighted + 1.0 - better_volume_fraction);
}

double contrast(const MixtureEnds& ends) {
  return std::abs(ends.first_log10_mole_fraction - ends.second_log10_mole_fraction);
}

double mixed_log10_mole_fraction(const MixtureEnds& ends, double first_fraction) {
  const bool first = first_is_better(ends);
  const double poorer = first ? ends.second_log10_mole_fraction : ends.first_log10_mole_fraction;
  return poorer + share_of_better(first ? first_fraction : 1.0 - first_fraction) * contrast(ends);
}

double mixed_molar_volume_ml_mol(double first_molar_volume_ml_mol, double second_molar_volume_ml_mol,
                                 double first_fraction) {
  return 1.0 /
         (first_fraction / first_molar_volume_ml_mol + (1.0 - first_fraction) / second_molar_volume_ml_mol);
}

double mixed_per_solvent_mg_ml(const MixtureEnds& ends, double first_fraction) {
  const double x = std::pow(10.0, mixed_log10_mole_fraction(ends, first_fraction));
  if (!(x < 1.0)) return std::numeric_limits<double>::infinity();
  const double volume = mixed_molar_volume_ml_mol(ends.first_molar_volume_ml_mol,
                                                  ends.second_molar_volume_ml_mol, first_fraction);
  return x / (1.0 - x) * 1000.0 * ends.solute_molar_mass_g_mol / volume;
}

double mixing_rule_sd(double contrast, double fraction) {
  return 0.14 * (1.0 + std::min(contrast, 4.0)) * std::sqrt(std::max(4.0 * fraction * (1.0 - fraction), 0.0));
}

double mixed_sd(const MixtureEnds& ends, double first_fraction, double first_sd, double second_sd,
                double correlation) {
  const bool first = first_is_better(ends);
  const double phi = share_of_better(first ? first_fraction : 1.0 - first_fraction);
  const double better = phi * (first ? first_sd : second_sd);
  const double poorer = (1.0 - phi) * (first ? second_sd : first_sd);
  const double rule = mixing_rule_sd(contrast(ends), first_fraction);
  return std::sqrt(
      std::max(rule * rule + better * better + poorer * poorer + 2.0 * correlation * better * poorer, 0.0));
}

std::optional<double> better_fraction_for(const MixtureEnds& ends, double mg_per_ml) {
  const MixtureEnds ordered = better_first(ends);
  const auto holds = [&](double fraction) { return mixed_per_solvent_mg_ml(ordered, fraction) >= mg_per_ml; };
  if (holds(0.0)) return 0.0;
  // Per mL the mixture may hold more than the better solvent alone, so the crossing is looked for from below.
  constexpr int kSteps = 64;
  for (int i = 1; i <= kSteps; ++i) {
    const double fraction = static_cast<double>(i) / kSteps;
    if (holds(fraction)) return boundary(fraction - 1.0 / kSteps, fraction, holds);
  }
  return std::nullopt;
}

std::optional<double> cloud_volume_ratio(const MixtureEnds& ends, double saturation) {
  const MixtureEnds ordered = better_first(ends);
  const double charge = saturation * mixed_per_solvent_mg_ml(ordered, 1.0);
  if (!(saturation > 0 && saturation <= 1) || !std::isfinite(charge)) return std::nullopt;
  const auto clouds = [&](double ratio) {
    const double better = 1.0 / (1.0 + ratio);
    return mixed_per_solvent_mg_ml(ordered, better) < charge * better;
  };
  // Far enough diluted everything is clear again, so the crossing is looked for from the concentrated side.
  constexpr double kFirstRatio = 1e-3;
  constexpr double kLastRatio = 1e3;
  constexpr double kFactor = 1.2;
  double clear = 0.0;
  for (double ratio = kFirstRatio; ratio <= kLastRatio; ratio *= kFactor) {
    if (clouds(ratio)) return boundary(clear, ratio, clouds);
    clear = ratio;
  }
  return std::nullopt;
}

double contrast_that_clouds_at_once() {
  return kBetterSolventWeight / std::numbers::ln10;
}

}  // namespace firstcrop
