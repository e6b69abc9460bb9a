#pragma once

#include <optional>

#include "library/pair_record.hpp"
#include "phase/binary_activity.hpp"

namespace firstcrop {

/// u = ln(1 - Gmin), where Gmin is the least value over the composition of x1 x2 d2(g/RT)/dx1^2, the
/// curvature of the free energy of mixing relative to an ideal mixture. Above 0 the calculated mixture
/// splits; the more, the surer. The derivative is the central difference over t = ln(x1/x2) from -15 to 15 in
/// steps of 0.1, because the chances below were fitted to that; 1 - Gmin is held above 1e-4.
[[nodiscard]] double miscibility_margin(const BinaryActivity& pair);

/// Chance that a pair with this margin has two liquids at some composition: a logistic curve fitted to
/// published miscibilities, middle at 0.135, width 0.064.
[[nodiscard]] double chance_of_two_liquids(double margin);

/// What a statement about a pair at a temperature rests on.
enum class PhaseBasis {
  CriticalTemperature,  ///< published or remembered upper critical solution temperature
  RecordAndModel,       ///< published at 25 °C, carried to the temperature by the model
  Record,               ///< published at 25 °C, no model for this pair
  Model,                ///< calculated
  Class                 ///< like pairs of the same classes
};

/// Chance that two solvents are one liquid in every proportion at some temperature.
struct OneLiquid {
  double chance = 0;
  PhaseBasis basis = PhaseBasis::Class;
};

/// Combines the record of a pair (null where there is none) with the calculated margins at 25 °C and at the
/// temperature [K] (nothing where the pair cannot be calculated). Nothing where neither is known.
[[nodiscard]] std::optional<OneLiquid> one_liquid(const MiscibilityRecord* record,
                                                  std::optional<double> margin_25c,
                                                  std::optional<double> margin, double temperature_k);

/// How much of one solvent the other takes up before a second liquid appears, in weight percent of the
/// mixture.
struct MutualSolubility {
  std::optional<double> first_in_second_weight_percent;
  std::optional<double> second_in_first_weight_percent;
};

/// Chance of one liquid at a composition: below either solubility limit the pair is one liquid even where it
/// splits at other compositions; how far below decides, on a logarithmic scale. `chance_everywhere` is the
/// chance over all compositions, `first_weight_percent` strictly between 0 and 100.
[[nodiscard]] double chance_of_one_liquid_at(double chance_everywhere, const MutualSolubility& limits,
                                             double first_weight_percent);

}  // namespace firstcrop
