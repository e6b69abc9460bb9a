#pragma once

#include <optional>
#include <vector>

#include "ranking/rank.hpp"
#include "systems/solubility_rows.hpp"

namespace firstcrop {

/// A pair over its composition.
struct PairSolubility {
  System best;  ///< at its most useful ratio, the better solvent first
  RatioWindow window;
  double hot_temperature_k = 0;          ///< of the better solvent alone
  std::optional<Quantity> cloud_volume;  ///< mL of the poorer per mL of the better, from a hot solution at 80 %
  std::vector<SolubilityRow> rows;       ///< by tenths of composition, then temperature
};

/// One curve: solubility against temperature, rising in temperature.
struct SolubilityCurve {
  System system;
  std::vector<SolubilityRow> rows;
};

/// Hot temperature [K] of a system as the rules derive it (fact `system.hot_temperature`), at the middle of what is
/// uncertain.
[[nodiscard]] double hot_temperature_k(const SystemJudge& judge, const System& system);

/// Solubility of the solid in two solvents over their composition at these temperatures [K].
[[nodiscard]] PairSolubility pair_over_composition(const SystemJudge& judge, const System& pair,
                                                   const std::vector<double>& temperatures_k);

/// From the bath (or the freezing point, if that is higher) to the boiling point, or to the melting point of the
/// solid, if that is lower and known.
[[nodiscard]] SolubilityCurve solubility_curve(const Inquiry& inquiry, const System& system);

}  // namespace firstcrop
