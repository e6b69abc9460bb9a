#include "plan/crystallization.hpp"

#include <algorithm>

#include "plan/bench_practice.hpp"

namespace firstcrop {
namespace {

// What is in the flask while it is hot, after dirt and losses.
struct HotSolution {
  double product_mg = 0;
  std::vector<double> impurities_mg;
  double carried_solid_mg = 0;     // neither dissolved nor filtered off, product apart
  double carried_product_mg = 0;   // undissolved product that nobody filtered off
};

HotSolution dissolve(const CrystallizationRun& run, Crystallization& out) {
  HotSolution hot;
  const double hot_mg_ml = std::min(run.product.hot_mg_ml, run.workable_hot_mg_ml);
  out.minimum_volume_ml = run.product.mass_mg / hot_mg_ml;
  out.volume_ml = run.volume_ml.value_or(out.minimum_volume_ml);
  hot.product_mg = std::min(run.product.mass_mg, out.volume_ml * run.product.hot_mg_ml);
  out.undissolved_mg = run.product.mass_mg - hot.product_mg;
  double solid_mg = run.insoluble_mg;
  for (const CrudePart& impurity : run.impurities) {
    hot.impurities_mg.push_back(std::min(impurity.mass_mg, out.volume_ml * impurity.hot_mg_ml));
    solid_mg += impurity.mass_mg - hot.impurities_mg.back();
  }
  if (run.filters_hot) {
    out.on_filter_mg += solid_mg + out.undissolved_mg;
  } else {
    hot.carried_solid_mg = solid_mg;
    hot.carried_product_mg = out.undissolved_mg;
  }
  return hot;
}

void clear(const CrystallizationRun& run, HotSolution& hot, Crystallization& out) {
  if (run.uses_charcoal) {
    double crude_mg = run.product.mass_mg + run.insoluble_mg;
    for (const CrudePart& impurity : run.impurities) crude_mg += impurity.mass_mg;
    const double taken = std::min(hot.product_mg, practice::kCharcoalShare * practice::kCharcoalHolds * crude_mg);
    hot.product_mg -= taken;
    out.on_filter_mg += taken;
  }
  if (!run.filters_hot) return;
  const auto leave_on_paper = [&out](double& mass_mg) {
    out.on_filter_mg += practice::kFilterHeldShare * mass_mg;
    mass_mg *= 1 - practice::kFilterHeldShare;
  };
  leave_on_paper(hot.product_mg);
  for (double& impurity_mg : hot.impurities_mg) leave_on_paper(impurity_mg);
  // Its solvent stays on the paper as well, so the solution does not change.
  out.volume_ml *= 1 - practice::kFilterHeldShare;
}

void boil_down(const CrystallizationRun& run, const HotSolution& hot, Crystallization& out) {
  const double liquor_ml = out.volume_ml;
  for (std::size_t i = 0; i < run.impurities.size(); ++i) {
    const double dissolved = std::min(hot.impurities_mg[i], liquor_ml * run.impurities[i].cold_mg_ml);
    out.impurity_joins_ml = std::max(out.impurity_joins_ml, dissolved / run.impurities[i].cold_mg_ml);
  }
  // Below this the product would drop out hot.
  const double holds_hot_ml = out.liquor_product_mg / run.product.hot_mg_ml;
  const double wanted = std::max(practice::kSecondCropVolumeShare * liquor_ml, holds_hot_ml);
  out.second_volume_ml = std::min(std::max(wanted, out.impurity_joins_ml), liquor_ml);
  // What is left of two equal volumes is rounding, not product.
  const bool smaller = out.second_volume_ml < liquor_ml * (1 - 1e-9);
  out.second_crop_mg =
      smaller ? std::max(out.liquor_product_mg - out.second_volume_ml * run.product.cold_mg_ml, 0.0) : 0.0;
}

}  // namespace

Crystallization crystallize(const CrystallizationRun& run) {
  Crystallization out;
  HotSolution hot = dissolve(run, out);
  const double kept = out.volume_ml * run.product.cold_mg_ml;
  if (run.product.mass_mg > 0) out.recovery_limit = std::max(1 - kept / run.product.mass_mg, 0.0);
  clear(run, hot, out);

  const double volume = out.volume_ml;
  out.supersaturation = hot.product_mg / (volume * run.product.cold_mg_ml);
  out.room_deposit_mg = std::max(hot.product_mg - volume * run.product.room_mg_ml, 0.0);
  const double separated = std::max(hot.product_mg - volume * run.product.cold_mg_ml, 0.0);
  out.deposit_mg = separated + hot.carried_product_mg;
  out.liquor_product_mg = hot.product_mg - separated;

  const double held_ml = std::min(practice::kHeldLiquorMlMg * out.deposit_mg, volume / 2);
  out.wash_volume_ml = std::min(practice::kWashMlMg * out.deposit_mg, practice::kLargestWashShare * volume);
  out.wash_loss_mg = std::min(out.wash_volume_ml * run.wash_mg_ml, out.deposit_mg);
  const double stays = held_ml > 0 ? held_ml / (held_ml + out.wash_volume_ml) : 0.0;
  const double shut_in_ml = std::min(practice::kIncludedLiquorMlMg * out.deposit_mg, volume / 2);
  out.carried_share = (held_ml * stays + shut_in_ml) / volume;

  double cake_product = out.deposit_mg - out.wash_loss_mg;
  double cake_foreign = hot.carried_solid_mg;
  out.in_wash_mg = out.wash_loss_mg;
  out.in_liquor_mg = out.liquor_product_mg;
  for (std::size_t i = 0; i < run.impurities.size(); ++i) {
    const double dissolved = std::min(hot.impurities_mg[i], volume * run.impurities[i].cold_mg_ml);
    const double per_ml = dissolved / volume;
    const double washed = per_ml * held_ml * (1 - stays);
    const double carried = out.carried_share * dissolved;
    cake_foreign += hot.impurities_mg[i] - dissolved + carried;
    out.in_wash_mg += washed;
    out.in_liquor_mg += dissolved - carried - washed;
  }
  const double cake = cake_product + cake_foreign;
  const double lost = std::min(
      practice::kTransferShare * cake + (run.in_one_tube ? practice::kTransferInTubeMg : practice::kTransferMg), cake);
  const double brought_home = cake > 0 ? 1 - lost / cake : 0.0;
  out.in_transfers_mg = lost;
  out.crop_product_mg = cake_product * brought_home;
  out.crop_foreign_mg = cake_foreign * brought_home;
  out.in_crop_mg = out.crop_product_mg + out.crop_foreign_mg;
  boil_down(run, hot, out);
  return out;
}

}  // namespace firstcrop
