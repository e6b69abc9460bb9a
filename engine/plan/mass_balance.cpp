#include "plan/mass_balance.hpp"

#include <algorithm>

namespace firstcrop {
namespace {

struct Component {
  double mass_mg = 0;
  std::optional<double> hot_mg_ml;
  std::optional<double> cold_mg_ml;
};

ComponentBalance where_it_goes(const Component& component, std::optional<double> volume_ml,
                               std::optional<double> wash_volume_ml) {
  ComponentBalance out;
  if (!volume_ml) return out;
  const double held_hot = component.hot_mg_ml ? *volume_ml * *component.hot_mg_ml : component.mass_mg;
  out.dissolved_mg = std::min(component.mass_mg, held_hot);
  out.undissolved_mg = component.mass_mg - *out.dissolved_mg;
  if (!component.cold_mg_ml) return out;
  out.liquor_mg = std::min(*out.dissolved_mg, *volume_ml * *component.cold_mg_ml);
  out.crystals_mg = *out.dissolved_mg - *out.liquor_mg;
  if (wash_volume_ml) {
    out.wash_mg = std::min(*out.crystals_mg, *wash_volume_ml * *component.cold_mg_ml);
    out.crystals_mg = *out.crystals_mg - *out.wash_mg;
  }
  return out;
}

std::optional<double> minimum_volume(const Component& product, const std::optional<Component>& impurity) {
  if (!product.hot_mg_ml) return std::nullopt;
  double out = product.mass_mg / *product.hot_mg_ml;
  if (impurity && impurity->hot_mg_ml) out = std::max(out, impurity->mass_mg / *impurity->hot_mg_ml);
  return out;
}

std::optional<SecondCrop> second_crop(const ChargeAmounts& charge, const MassBalance& balance) {
  if (!charge.boil_down_to_ml || !charge.cold_mg_ml || !balance.product.liquor_mg) return std::nullopt;
  const double liquor = *balance.product.liquor_mg;
  SecondCrop out;
  out.liquor_mg = std::min(liquor, *charge.boil_down_to_ml * *charge.cold_mg_ml);
  out.crystals_mg = liquor - out.liquor_mg;
  out.both_crops_mg = out.crystals_mg + balance.product.crystals_mg.value_or(0);
  if (charge.hot_mg_ml) out.drops_hot_below_ml = liquor / *charge.hot_mg_ml;
  if (balance.impurity && balance.impurity->liquor_mg && charge.impurity_cold_mg_ml) {
    const double held = *charge.boil_down_to_ml * *charge.impurity_cold_mg_ml;
    out.impurity_crystals_mg = std::max(0.0, *balance.impurity->liquor_mg - held);
    if (*charge.impurity_cold_mg_ml > 0)
      out.impurity_joins_below_ml = *balance.impurity->liquor_mg / *charge.impurity_cold_mg_ml;
  }
  return out;
}

void judge_isolated(const ChargeAmounts& charge, MassBalance& out) {
  if (!charge.isolated_mg) return;
  out.recovery = *charge.isolated_mg / out.product_mg;
  if (out.product.crystals_mg) out.unexplained_mg = *out.product.crystals_mg - *charge.isolated_mg;
  const double lost = out.product_mg - *charge.isolated_mg;
  if (out.volume_ml && lost >= 0) out.implied_cold_mg_ml = lost / *out.volume_ml;
}

}  // namespace

MassBalance balance_of(const ChargeAmounts& charge) {
  MassBalance out;
  out.product_mg = charge.product_mg();
  const Component product{out.product_mg, charge.hot_mg_ml, charge.cold_mg_ml};
  std::optional<Component> impurity;
  if (charge.impurity_mg) impurity = {*charge.impurity_mg, charge.impurity_hot_mg_ml, charge.impurity_cold_mg_ml};
  out.minimum_volume_ml = minimum_volume(product, impurity);
  out.volume_ml = charge.volume_ml ? charge.volume_ml : out.minimum_volume_ml;
  out.dissolves_by_assumption = out.volume_ml && !charge.hot_mg_ml;
  out.product = where_it_goes(product, out.volume_ml, charge.wash_volume_ml);
  if (impurity) out.impurity = where_it_goes(*impurity, out.volume_ml, charge.wash_volume_ml);
  if (charge.hot_mg_ml && charge.cold_mg_ml) out.recovery_limit = 1 - *charge.cold_mg_ml / *charge.hot_mg_ml;
  if (out.product.crystals_mg) out.expected_recovery = *out.product.crystals_mg / out.product_mg;
  out.recovery = out.expected_recovery;
  if (out.impurity && out.impurity->crystals_mg && out.product.crystals_mg) {
    const double all = *out.product.crystals_mg + *out.impurity->crystals_mg;
    if (all > 0) out.purity = *out.product.crystals_mg / all;
  }
  if (impurity && impurity->cold_mg_ml && *impurity->cold_mg_ml > 0)
    out.volume_to_hold_impurity_ml = impurity->mass_mg / *impurity->cold_mg_ml;
  out.second_crop = second_crop(charge, out);
  judge_isolated(charge, out);
  return out;
}

}  // namespace firstcrop
