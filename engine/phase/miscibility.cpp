#include "phase/miscibility.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>

namespace firstcrop {

namespace {

constexpr double kStep = 0.1;
constexpr double kFirst = -15;
constexpr int kPoints = 301;
constexpr double kMiddle = 0.135;  ///< margin at which two liquids are as likely as one
constexpr int kStride = 5;  ///< of the first look, in steps
constexpr int kCoarsePoints = (kPoints - 1) / kStride + 1;

double grid_point(int index) {
  return kFirst + kStep * index;
}

double logistic(double z) {
  return 1 / (1 + std::exp(-z));
}

/// Least central-difference derivative of the log ratio over the grid points `from` to `to`.
double least_slope(const BinaryActivity& pair, int from, int to) {
  const int low = std::max(from - 1, 0);
  const int high = std::min(to + 1, kPoints - 1);
  std::array<double, 2 * kStride + 3> ratios{};
  for (int i = low; i <= high; ++i) ratios[static_cast<std::size_t>(i - low)] = pair.log_ratio(grid_point(i));
  double least = 0;
  for (int i = from; i <= to; ++i) {
    const int before = std::max(i - 1, 0);
    const int after = std::min(i + 1, kPoints - 1);
    const double slope =
        (ratios[static_cast<std::size_t>(after - low)] - ratios[static_cast<std::size_t>(before - low)]) /
        (kStep * (after - before));
    if (i == from || slope < least) least = slope;
  }
  return least;
}

struct RecordWeight {
  double trust;  ///< share of the record, the rest goes to the model
};

RecordWeight record_weight(Confidence confidence) {
  return confidence == Confidence::Low ? RecordWeight{0.80} : RecordWeight{0.97};
}

double class_chance(Confidence confidence) {
  switch (confidence) {
    case Confidence::High:
      return 0.95;
    case Confidence::Medium:
      return 0.88;
    case Confidence::Low:
      break;
  }
  return 0.70;
}

constexpr double kRecordTemperatureK = 298.15;
constexpr double kRecordReachK = 15;

/// Carries two liquids seen at 25 °C to another temperature: the margin at which a pair really splits is
/// uncertain, and what was seen at 25 °C cuts one side of it off.
double carried_from_two(double split_25c, double split) {
  return std::max(0.0, split_25c - split) / split_25c;
}

/// The same of one liquid. A calculation that the record proves wrong by far is moved to the edge of parting,
/// and none makes a pair part on warming: hardly any does between 25 °C and its boil.
double carried_from_one(double margin_25c, double margin, double temperature_k) {
  const double at_25c = std::min(margin_25c, kMiddle);
  const double split_25c = chance_of_two_liquids(at_25c);
  const double split = temperature_k > kRecordTemperatureK
                           ? split_25c
                           : std::max(split_25c, chance_of_two_liquids(at_25c + margin - margin_25c));
  return (1 - split) / (1 - split_25c);
}

/// Chance that what was seen to part at 25 °C is one liquid where it is hot and nothing is calculated: judged.
double chance_when_hot(MiscibilityClass miscibility) {
  return miscibility == MiscibilityClass::Partial ? 0.3 : 0.05;
}

}  // namespace

double miscibility_margin(const BinaryActivity& pair) {
  // The curvature is smooth in t (its features are about one unit wide), so that every low place of the grid
  // stands out when looked at in steps of half a unit by the closed form, which needs no logarithms.
  std::array<double, kCoarsePoints> coarse{};
  double least = 1;
  for (int i = 0; i < kCoarsePoints; ++i) {
    const auto at = static_cast<std::size_t>(i);
    coarse[at] = pair.stability(grid_point(i * kStride));
    least = std::min(least, coarse[at]);
  }
  const double near_least = least + 0.2 * std::abs(1 - least) + 1e-4;
  double least_stability = least + 1;
  for (int i = 0; i < kCoarsePoints; ++i) {
    const auto at = static_cast<std::size_t>(i);
    const bool lower_than_before = i == 0 || coarse[at] <= coarse[at - 1];
    const bool lower_than_after = i == kCoarsePoints - 1 || coarse[at] <= coarse[at + 1];
    if (!lower_than_before || !lower_than_after || coarse[at] > near_least) continue;
    const int middle = i * kStride;
    least_stability = std::min(least_stability, 1 + least_slope(pair, std::max(middle - kStride, 0),
                                                                std::min(middle + kStride, kPoints - 1)));
  }
  constexpr double kLeastDepth = 1e-4;
  return std::log(std::max(1 - least_stability, kLeastDepth));
}

double chance_of_two_liquids(double margin) {
  constexpr double kWidth = 0.064;
  return logistic((margin - kMiddle) / kWidth);
}

std::optional<OneLiquid> one_liquid(const MiscibilityRecord* record, std::optional<double> margin_25c,
                                    std::optional<double> margin, double temperature_k) {
  if (record != nullptr && record->upper_critical_temperature_k) {
    const double width_k = record->upper_critical_from_memory ? 6 : 2;
    return OneLiquid{logistic((temperature_k - *record->upper_critical_temperature_k) / width_k),
                     PhaseBasis::CriticalTemperature};
  }
  if (record != nullptr && record->evidence == PairEvidence::Published) {
    const bool two_liquids = record->miscibility != MiscibilityClass::Miscible;
    const double trust = record_weight(record->confidence).trust;
    if (!margin || !margin_25c) {
      if (two_liquids && temperature_k > kRecordTemperatureK + kRecordReachK)
        return OneLiquid{chance_when_hot(record->miscibility), PhaseBasis::Record};
      const double even_share = (1 - trust) / 2;
      return OneLiquid{two_liquids ? even_share : 1 - even_share, PhaseBasis::Record};
    }
    const double split = chance_of_two_liquids(*margin);
    const double carried = two_liquids ? carried_from_two(chance_of_two_liquids(*margin_25c), split)
                                       : carried_from_one(*margin_25c, *margin, temperature_k);
    return OneLiquid{trust * carried + (1 - trust) * (1 - split), PhaseBasis::RecordAndModel};
  }
  if (margin)
    return OneLiquid{std::clamp(1 - chance_of_two_liquids(*margin), 0.02, 0.995), PhaseBasis::Model};
  if (record == nullptr) return std::nullopt;
  const double agreed = class_chance(record->confidence);
  return OneLiquid{record->miscibility == MiscibilityClass::Miscible ? agreed : 1 - agreed,
                   PhaseBasis::Class};
}

double chance_of_one_liquid_at(double chance_everywhere, const MutualSolubility& limits,
                               double first_weight_percent) {
  constexpr double kSpread = 0.14;
  double dissolved = 0;
  const auto consider = [&](std::optional<double> limit, double weight_percent) {
    if (limit && *limit > 0)
      dissolved = std::max(dissolved, logistic((std::log10(*limit) - std::log10(weight_percent)) / kSpread));
  };
  consider(limits.first_in_second_weight_percent, first_weight_percent);
  consider(limits.second_in_first_weight_percent, 100 - first_weight_percent);
  return chance_everywhere + (1 - chance_everywhere) * dissolved;
}

}  // namespace firstcrop
