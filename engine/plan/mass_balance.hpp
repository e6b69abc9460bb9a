#pragma once

#include <optional>

namespace firstcrop {

/// What is known of one crystallization. Impurity and insoluble matter are parts of the crude. Nothing stands in for
/// what is absent: no reserve, no liquor held by the cake, no inclusion, no loss.
struct ChargeAmounts {
  double crude_mg = 0;                          ///< above 0
  double insoluble_mg = 0;                      ///< 0 or more
  std::optional<double> impurity_mg;            ///< 0 or more
  std::optional<double> hot_mg_ml;              ///< solubility of the product per mL of solvent, above 0
  std::optional<double> cold_mg_ml;             ///< at most the hot one
  std::optional<double> impurity_hot_mg_ml;     ///< absent: it dissolves
  std::optional<double> impurity_cold_mg_ml;    ///< at most the hot one
  std::optional<double> volume_ml;              ///< absent: the minimum volume
  std::optional<double> wash_volume_ml;         ///< cold solvent poured over the cake
  std::optional<double> boil_down_to_ml;        ///< to which the liquor is boiled down for a second crop
  std::optional<double> isolated_mg;            ///< what was weighed in the end

  [[nodiscard]] double product_mg() const { return crude_mg - insoluble_mg - impurity_mg.value_or(0); }
};

/// Where one component goes. Without solubilities only what follows from the rest is known.
struct ComponentBalance {
  std::optional<double> dissolved_mg;    ///< hot
  std::optional<double> undissolved_mg;  ///< hot
  std::optional<double> crystals_mg;     ///< from the solution, after the wash
  std::optional<double> liquor_mg;       ///< dissolved in the cold liquor
  std::optional<double> wash_mg;         ///< taken by the wash, which is thought saturated; nothing without a wash
};

/// What comes from the liquor when it is boiled down and cooled again.
struct SecondCrop {
  double crystals_mg = 0;
  double liquor_mg = 0;
  double both_crops_mg = 0;
  std::optional<double> impurity_crystals_mg;     ///< in the second crop
  std::optional<double> impurity_joins_below_ml;  ///< volume below which the impurity comes with it
  std::optional<double> drops_hot_below_ml;       ///< volume below which product comes down while it boils
};

/// The sum of a crystallization. `product` speaks of the product alone.
struct MassBalance {
  double product_mg = 0;
  std::optional<double> minimum_volume_ml;  ///< max over product and impurity of mass / hot solubility
  std::optional<double> volume_ml;          ///< given, else the minimum
  ComponentBalance product;
  std::optional<ComponentBalance> impurity;
  std::optional<double> expected_recovery;  ///< crystals over product
  std::optional<double> recovery;           ///< isolated over product where it was weighed, else as expected
  std::optional<double> recovery_limit;     ///< 1 - cold / hot, which the minimum volume reaches
  std::optional<double> purity;             ///< product over product and impurity in the crystals
  std::optional<double> volume_to_hold_impurity_ml;  ///< that keeps all of it dissolved cold
  std::optional<SecondCrop> second_crop;
  std::optional<double> unexplained_mg;        ///< crystals foreseen less isolated
  std::optional<double> implied_cold_mg_ml;    ///< cold solubility that would explain what was isolated
  bool dissolves_by_assumption = false;        ///< hot solubility unknown: all is thought to dissolve
};

/// Works out what follows from the amounts. Conservation: product = undissolved + crystals + liquor + wash. What has no
/// solution (a volume below the minimum) is answered with what stays undissolved.
[[nodiscard]] MassBalance balance_of(const ChargeAmounts& charge);

}  // namespace firstcrop
