#pragma once

#include <optional>
#include <vector>

namespace firstcrop {

/// One compound in the crude: its mass [mg] and what one mL of solvent holds of it [mg/mL].
struct CrudePart {
  double mass_mg = 0;
  double hot_mg_ml = 0;   ///< at the saturation temperature
  double room_mg_ml = 0;  ///< at room temperature
  double cold_mg_ml = 0;  ///< at the temperature of collecting
};

/// One run in one truth about the solubilities. All masses at least 0, all solubilities above 0.
struct CrystallizationRun {
  CrudePart product;
  std::vector<CrudePart> impurities;
  double insoluble_mg = 0;
  double workable_hot_mg_ml = 0;    ///< no more is dissolved than this: of a syrup less than it could hold
  std::optional<double> volume_ml;  ///< solvent taken; nothing: as much as just dissolves the product
  double wash_mg_ml = 0;            ///< solubility of the product in the cold wash
  bool filters_hot = false;
  bool uses_charcoal = false;
  bool in_one_tube = false;
};

/// Where everything goes. The five places add up to the charge.
struct Crystallization {
  double minimum_volume_ml = 0;
  double volume_ml = 0;       ///< at which it is cooled
  double undissolved_mg = 0;  ///< product that the hot volume does not hold
  double room_deposit_mg = 0;
  double deposit_mg = 0;  ///< product that separates until it is collected
  double wash_volume_ml = 0;
  double wash_loss_mg = 0;  ///< product
  double crop_product_mg = 0;
  double crop_foreign_mg = 0;     ///< impurities and insoluble matter in the dry crop
  double carried_share = 0;       ///< of what stays dissolved: share that comes along with the crop
  double liquor_product_mg = 0;   ///< in the liquor
  double supersaturation = 0;     ///< what is dissolved before cooling over what the cold solvent holds
  double recovery_limit = 0;      ///< of the product, before all losses on the way
  double second_volume_ml = 0;    ///< to which the liquor is boiled down
  double second_crop_mg = 0;      ///< product
  double impurity_joins_ml = 0;   ///< volume of the liquor below which an impurity crystallizes too; 0: never
  double in_crop_mg = 0;
  double in_liquor_mg = 0;
  double in_wash_mg = 0;
  double on_filter_mg = 0;  ///< insoluble and undissolved matter, what paper and charcoal keep
  double in_transfers_mg = 0;
};

/// Follows a run from the crude to the dry crop. Mass balance: what separates is the mass less volume times cold
/// solubility, never less than nothing; liquor that the cake holds is diluted by the wash as if the two mixed; the
/// wash is saturated by what it washes, so its loss is an upper bound.
[[nodiscard]] Crystallization crystallize(const CrystallizationRun& run);

}  // namespace firstcrop
