#pragma once

#include <algorithm>
#include <limits>
#include <optional>

namespace firstcrop {

/// Enthalpy of fusion [kJ/mol] from the melting point by Walden's rule, 56.5 J/(mol K) (Walden 1908). Fails
/// for flexible chains.
[[nodiscard]] double fusion_enthalpy_by_walden_kj_mol(double melting_point_k);

/// Enthalpy of fusion [kJ/mol] from melting point, rotational symmetry number (1 or more) and number of
/// flexible torsions (0 or more): Tm (50 - R ln sigma + 7.40 torsions) J/mol (Dannenfelser & Yalkowsky 1996).
[[nodiscard]] double fusion_enthalpy_estimate_kj_mol(double melting_point_k, double symmetry_number,
                                                     double flexible_torsions);

/// The solid, as far as a second liquid depends on it.
struct OilingSolute {
  double melting_point_k = 0;
  double fusion_enthalpy_kj_mol = 0;  ///< measured, or one of the estimates above
  double molar_volume_ml_mol = 0;     ///< of the melt
};

/// One solvent, or a mixture taken as one, with one known solubility.
struct OilingSolvent {
  double molar_volume_ml_mol = 0;
  double mole_fraction = 0;          ///< solubility of the solid, above 0 and below 1
  double temperature_k = 298.15;     ///< at which it holds, below the melting point
  double water_volume_fraction = 0;  ///< 0 to 1
};

/// Solid, dilute solution and solute-rich liquid together.
struct OilingGap {
  double wet_melting_point_k = 0;
  double dilute_mole_fraction = 0;
  double rich_mole_fraction = 0;
  double chi = 0;  ///< van Laar constant, held the same at all temperatures
};

/// The second liquid that a van Laar mixture (van Laar 1910) of fixed volume ratio foresees from one
/// solubility; nothing if it foresees none, or if the input is out of its range.
[[nodiscard]] std::optional<OilingGap> find_oiling_gap(const OilingSolute& solute,
                                                       const OilingSolvent& solvent);

/// A number with unlike spreads to both sides of its median: centre + spread * score, the spread chosen by
/// the sign of the standard normal score, never above `highest`.
struct SplitNormal {
  double centre = 0;
  double sd_below = 0;
  double sd_above = 0;
  double highest = std::numeric_limits<double>::infinity();

  [[nodiscard]] double at(double normal_score) const {
    return std::min(centre + (normal_score < 0 ? sd_below : sd_above) * normal_score, highest);
  }
};

enum class WetMeltingOrigin { WaterRule, AqueousRule, Model };

struct WetMeltingPoint {
  SplitNormal temperature_k;
  WetMeltingOrigin origin = WetMeltingOrigin::Model;
  std::optional<OilingGap> gap;  ///< what the model found, where it was asked
};

/// Temperature above which undissolved or separating solute is a liquid: rough foresight.
///
/// Water: 31 K below the melting point, if the model finds a gap at all. An aqueous mixture: 31 K times its
/// water fraction by volume. Else: the model. Nothing: no second liquid is foreseen. Eight of ten lie between
/// 50 K below and 10 K above the centre with water (in aqueous mixtures both times the water fraction),
/// within 10 K of it with the model; never above the melting point.
[[nodiscard]] std::optional<WetMeltingPoint> wet_melting_point(const OilingSolute& solute,
                                                               const OilingSolvent& solvent);

/// Volume of solvent [mL] from which on cooling the solid comes before the oil: mass over solubility at the
/// wet melting point [mg, mg/mL]. Nothing for a solubility that is not positive.
[[nodiscard]] std::optional<double> volume_against_oiling_ml(double mass_mg,
                                                             double solubility_at_wet_melting_mg_ml);

}  // namespace firstcrop
