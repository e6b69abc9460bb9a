#pragma once

namespace firstcrop {

/// From and to, in minutes.
struct Minutes {
  double low = 0;
  double high = 0;
};

/// In ice and water, from room temperature: longer for more than a usual flask holds [mL]. Judged.
[[nodiscard]] Minutes ice_minutes(double volume_ml);

/// Cooling on an insulating layer to room temperature, from a volume [mL] and how far it must cool [K].
[[nodiscard]] Minutes cooling_minutes(double volume_ml, double span_k);
/// Until crystals are dry, by the boiling point of the least volatile solvent [K], the share of water and whether
/// the solid bears warmth.
[[nodiscard]] Minutes drying_minutes(double boiling_point_k, double water_fraction, bool bears_warmth);
/// Dissolving in portions, by the charge [mg].
[[nodiscard]] Minutes dissolving_minutes(double charge_mg);
/// Taking solvent off at the boil [mL].
[[nodiscard]] Minutes boiling_off_minutes(double volume_ml);

}  // namespace firstcrop
