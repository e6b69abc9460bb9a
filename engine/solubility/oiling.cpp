#include "solubility/oiling.hpp"

#include <algorithm>
#include <cmath>

#include "solubility/curve.hpp"

namespace firstcrop {
namespace {

// Volume ratio of solute and solvent in the mixing term, in parts of the ratio of molar volumes. Chosen on
// published wet melting points in water.
constexpr double kVolumeRatioPart = 0.87;

constexpr double kWaterDepressionK = 31.0;
constexpr double kRangeBelowK = 50.0;
constexpr double kRangeAboveK = 10.0;
// Eight of ten for the model's own answer. Judged: on the three published aqueous systems it lies within 5 K.
constexpr double kModelRangeK = 10.0;
constexpr double kScoreOfRange = 1.2815515655446004;  // eight of ten lie between -+ this score

// Regular solution of two liquids with a fixed ratio of volumes, in the volume fraction phi of the solute.
class VanLaar {
 public:
  VanLaar(double volume_ratio, double chi) : q_(volume_ratio), chi_(chi) {}

  [[nodiscard]] double mole_fraction(double phi) const { return phi / mixed(phi); }
  [[nodiscard]] double ln_solvent_activity(double phi) const {
    return std::log(q_ * (1.0 - phi) / mixed(phi)) + chi_ * phi * phi;
  }
  [[nodiscard]] double ln_solute_activity(double phi) const {
    return std::log(phi / mixed(phi)) + q_ * chi_ * (1.0 - phi) * (1.0 - phi);
  }
  [[nodiscard]] double ln_solute_activity_slope(double phi) const {
    return q_ / (phi * mixed(phi)) - 2.0 * q_ * chi_ * (1.0 - phi);
  }
  // Above 0 where one liquid is unstable.
  [[nodiscard]] double instability(double phi) const {
    return 2.0 * chi_ * phi * (1.0 - phi) * mixed(phi) - 1.0;
  }
  // Where a liquid is least stable, whatever chi.
  [[nodiscard]] double least_stable() const {
    const double b = 2.0 * q_ - 1.0;
    return q_ / (b + std::sqrt(b * b - 3.0 * q_ * (q_ - 1.0)));
  }

 private:
  [[nodiscard]] double mixed(double phi) const { return phi + q_ * (1.0 - phi); }
  double q_;
  double chi_;
};

// Root of a function between `low`, where it is negative, and `high`, where it is positive: Newton's steps,
// halving where they would leave the bracket.
template <class Function>
double root_between(double low, double high, double start, Function function) {
  constexpr int kSteps = 100;
  double x = start;
  for (int i = 0; i < kSteps; ++i) {
    const auto [value, slope] = function(x);
    (value < 0 ? low : high) = x;
    double next = x - value / slope;
    if (!(next > low && next < high)) next = 0.5 * (low + high);
    if (std::abs(next - x) <= 1e-13 * (1e-3 + std::abs(next))) return next;
    x = next;
  }
  return x;
}

struct Coexistence {
  double dilute_phi = 0;
  double rich_phi = 0;
  double ln_solute_activity = 0;
};

struct ValueAndSlope {
  double value = 0;
  double slope = 0;
};

// The two liquids with equal activities of both components, which is where the common tangent of the free
// energy touches: the longest edge of its lower convex hull.
std::optional<Coexistence> coexistence(const VanLaar& liquid) {
  const double middle = liquid.least_stable();
  if (!(liquid.instability(middle) > 1e-9)) return std::nullopt;
  double dilute_edge = 0.0;
  double rich_edge = 1.0;
  for (double inside = middle, i = 0; i < 60; ++i) {
    const double half = 0.5 * (dilute_edge + inside);
    (liquid.instability(half) > 0 ? inside : dilute_edge) = half;
  }
  for (double inside = middle, i = 0; i < 60; ++i) {
    const double half = 0.5 * (rich_edge + inside);
    (liquid.instability(half) > 0 ? inside : rich_edge) = half;
  }
  const double low = liquid.ln_solute_activity(rich_edge);
  const double high = std::min(0.0, liquid.ln_solute_activity(dilute_edge));
  double dilute = 0.5 * dilute_edge;
  double rich = 0.5 * (1.0 + rich_edge);
  const auto phi_at = [&](double from, double to, double start, double activity) {
    return root_between(from, to, start, [&](double phi) {
      return ValueAndSlope{liquid.ln_solute_activity(phi) - activity, liquid.ln_solute_activity_slope(phi)};
    });
  };
  const double activity = root_between(low, high, 0.5 * (low + high), [&](double a) {
    dilute = phi_at(0.0, dilute_edge, dilute, a);
    rich = phi_at(rich_edge, 1.0, rich, a);
    const double x_dilute = liquid.mole_fraction(dilute);
    const double x_rich = liquid.mole_fraction(rich);
    return ValueAndSlope{liquid.ln_solvent_activity(dilute) - liquid.ln_solvent_activity(rich),
                         x_rich / (1.0 - x_rich) - x_dilute / (1.0 - x_dilute)};
  });
  return Coexistence{dilute, rich, activity};
}

SplitNormal range_around(double centre_k, double melting_point_k, double scale) {
  return {centre_k, scale * kRangeBelowK / kScoreOfRange, scale * kRangeAboveK / kScoreOfRange,
          melting_point_k};
}

}  // namespace

double fusion_enthalpy_by_walden_kj_mol(double melting_point_k) {
  return 0.0565 * melting_point_k;
}

double fusion_enthalpy_estimate_kj_mol(double melting_point_k, double symmetry_number,
                                       double flexible_torsions) {
  const double entropy_j_mol_k =
      50.0 - 1000.0 * kGasConstantKjMolK * std::log(symmetry_number) + 7.40 * flexible_torsions;
  return entropy_j_mol_k * melting_point_k / 1000.0;
}

std::optional<OilingGap> find_oiling_gap(const OilingSolute& solute, const OilingSolvent& solvent) {
  const bool in_range = solute.melting_point_k > solvent.temperature_k && solvent.temperature_k > 0 &&
                        solute.fusion_enthalpy_kj_mol > 0 && solute.molar_volume_ml_mol > 0 &&
                        solvent.molar_volume_ml_mol > 0 && solvent.mole_fraction > 0 &&
                        solvent.mole_fraction < 1;
  if (!in_range) return std::nullopt;
  const double per_kelvin = solute.fusion_enthalpy_kj_mol / kGasConstantKjMolK;
  const double ln_solid = -per_kelvin * (1.0 / solvent.temperature_k - 1.0 / solute.melting_point_k);
  const double q = std::max(kVolumeRatioPart * solute.molar_volume_ml_mol / solvent.molar_volume_ml_mol, 1.0);
  const double x = solvent.mole_fraction;
  const double solvent_share = (1.0 - x) / (q * x + 1.0 - x);
  const double chi = (ln_solid - std::log(x)) / (q * solvent_share * solvent_share);
  if (!(chi > 0)) return std::nullopt;

  const VanLaar liquid(q, chi);
  const auto pair = coexistence(liquid);
  if (!pair) return std::nullopt;
  OilingGap gap;
  gap.chi = chi;
  gap.dilute_mole_fraction = liquid.mole_fraction(pair->dilute_phi);
  gap.rich_mole_fraction = liquid.mole_fraction(pair->rich_phi);
  gap.wet_melting_point_k = 1.0 / (1.0 / solute.melting_point_k - pair->ln_solute_activity / per_kelvin);
  return gap;
}

std::optional<WetMeltingPoint> wet_melting_point(const OilingSolute& solute, const OilingSolvent& solvent) {
  constexpr double kAllWater = 0.999;
  constexpr double kNoWater = 0.001;
  const double melting = solute.melting_point_k;
  const double water = solvent.water_volume_fraction;
  WetMeltingPoint found;
  if (water > kNoWater && water < kAllWater) {
    found.origin = WetMeltingOrigin::AqueousRule;
    found.temperature_k = range_around(melting - kWaterDepressionK * water, melting, water);
    return found;
  }
  found.gap = find_oiling_gap(solute, solvent);
  if (!found.gap) return std::nullopt;
  if (water >= kAllWater) {
    found.origin = WetMeltingOrigin::WaterRule;
    found.temperature_k = range_around(melting - kWaterDepressionK, melting, 1.0);
  } else {
    found.origin = WetMeltingOrigin::Model;
    const double sd_k = kModelRangeK / kScoreOfRange;
    found.temperature_k = {found.gap->wet_melting_point_k, sd_k, sd_k, melting};
  }
  return found;
}

std::optional<double> volume_against_oiling_ml(double mass_mg, double solubility_at_wet_melting_mg_ml) {
  if (!(solubility_at_wet_melting_mg_ml > 0)) return std::nullopt;
  return mass_mg / solubility_at_wet_melting_mg_ml;
}

}  // namespace firstcrop
