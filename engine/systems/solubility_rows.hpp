#pragma once

#include <optional>
#include <string>
#include <vector>

#include "quantity/quantity.hpp"
#include "solubility/curve.hpp"
#include "systems/inquiry.hpp"
#include "systems/system.hpp"

namespace firstcrop {

/// Solubility of the solid of an inquiry in one system at one temperature.
struct SolubilityRow {
  System system;
  double temperature_k = 0;
  std::optional<Quantity> solubility;  ///< [mg/mL of solvent], 80 % range with laboratory scatter
  std::optional<Moments> log10_molar;  ///< [log10 mol per litre of solution], without laboratory scatter
  /// Why the number holds only with a grain of salt (above the boiling point, solvent frozen, solid molten), or
  /// why there is none; empty: nothing to say.
  std::string remark;
};

/// Nothing is left out: a row without numbers says why.
[[nodiscard]] SolubilityRow solubility_at(const Inquiry& inquiry, const System& system, double temperature_k);

/// mL of the poorer solvent per mL of the better one at which a hot solution, saturated to four fifths in the
/// better one, begins to cloud: a little under saturation, so that the poor one can be added at all. `pair` has the better solvent first. The range holds 80 %;
/// half of measured cloud points lie within a factor of two of the rule. Nothing where the model does not know
/// a solvent, or where the mixture stays clear in most scenarios.
[[nodiscard]] std::optional<Quantity> cloud_volume(const Inquiry& inquiry, const System& pair,
                                                   double temperature_k);

/// How far a solid is from those that the model was fitted on: similarity to the nearest one, 0 to 1. Nothing
/// without structure and groups.
[[nodiscard]] std::optional<double> reach(const Inquiry& inquiry);

/// Below this similarity no fitted solid is like it: the model falls back on what holds for solids at large.
inline constexpr double kFarFromAllSolids = 0.45;

}  // namespace firstcrop
