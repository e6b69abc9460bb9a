#include <cmath>

#include <fmt/format.h>

#include "report/amounts_report.hpp"

namespace firstcrop {
namespace {

constexpr double kMgPerG = 1000;
// Differences below this share of the charge are rounding of the typed numbers.
constexpr double kNegligibleShare = 1e-6;

std::string three_figures(double value) {
  if (value == 0) return "0";
  const double size = std::abs(value);
  const int power = static_cast<int>(std::floor(std::log10(size)));
  const double step = std::pow(10.0, power - 2);
  const double rounded = std::round(value / step) * step;
  const int shown_power = static_cast<int>(std::floor(std::log10(std::abs(rounded)) + 1e-12));
  std::string out = fmt::format("{:.{}f}", rounded, std::max(0, 2 - shown_power));
  if (out.find('.') != std::string::npos) {
    out.erase(out.find_last_not_of('0') + 1);
    if (out.back() == '.') out.pop_back();
  }
  return out;
}

std::string mls(double volume_ml) { return three_figures(volume_ml) + " mL"; }
std::string shares(double share) { return three_figures(share * 100) + " %"; }
std::string concentration(double mg_ml) { return three_figures(mg_ml) + " mg/mL"; }

class Sum {
 public:
  explicit Sum(const AmountsAnswer& answer) : answer_(answer), charge_(answer.charge), balance_(answer.balance) {}

  std::vector<SumLine> lines() {
    product();
    volumes();
    where_the_product_goes();
    impurity();
    second_crop();
    weighed();
    return std::move(lines_);
  }

 private:
  void add(const char* what, std::string value, std::string sum = {}) {
    lines_.push_back({what, std::move(value), std::move(sum)});
  }

  void product() {
    if (balance_.product_mg == charge_.crude_mg) return;
    std::string sum = grams(charge_.crude_mg) + " crude";
    if (charge_.insoluble_mg > 0) sum += fmt::format(" - {} insoluble", grams(charge_.insoluble_mg));
    if (charge_.impurity_mg) sum += fmt::format(" - {} impurity", grams(*charge_.impurity_mg));
    add("product", grams(balance_.product_mg), sum);
  }

  void volumes() {
    if (balance_.minimum_volume_ml) {
      const bool by_product = *balance_.minimum_volume_ml * *charge_.hot_mg_ml <= balance_.product_mg * (1 + 1e-12);
      add("minimum volume", volume(*balance_.minimum_volume_ml),
          by_product ? fmt::format("{} / {} hot", grams(balance_.product_mg), concentration(*charge_.hot_mg_ml))
                     : fmt::format("the impurity needs more: {} / {} hot", grams(charge_.impurity_mg.value_or(0)),
                                   concentration(charge_.impurity_hot_mg_ml.value_or(0))));
    }
    if (charge_.volume_ml) add("volume taken", volume(*charge_.volume_ml));
  }

  [[nodiscard]] std::string volume(double volume_ml) const {
    if (!answer_.density_g_ml) return mls(volume_ml);
    return fmt::format("{} ({})", mls(volume_ml), grams(volume_ml * *answer_.density_g_ml * kMgPerG));
  }

  void where_the_product_goes() {
    const ComponentBalance& product = balance_.product;
    if (product.undissolved_mg && *product.undissolved_mg > kNegligibleShare * balance_.product_mg) {
      add("dissolves hot", grams(*product.dissolved_mg),
          fmt::format("{} x {}", mls(*balance_.volume_ml), concentration(*charge_.hot_mg_ml)));
      add("stays undissolved", grams(*product.undissolved_mg),
          fmt::format("{} - {}", grams(balance_.product_mg), grams(*product.dissolved_mg)));
    }
    if (product.liquor_mg) {
      const double held = *balance_.volume_ml * *charge_.cold_mg_ml;
      const std::string sum = fmt::format("{} x {} cold", mls(*balance_.volume_ml), concentration(*charge_.cold_mg_ml));
      add("liquor keeps", grams(*product.liquor_mg),
          held > *product.dissolved_mg * (1 + 1e-9) ? fmt::format("all: {} would hold {}", sum, grams(held)) : sum);
    }
    if (product.wash_mg)
      add("wash takes, at most", grams(*product.wash_mg),
          fmt::format("{} x {} cold", mls(*charge_.wash_volume_ml), concentration(*charge_.cold_mg_ml)));
    if (product.crystals_mg) {
      std::string sum = fmt::format("{} - {}", grams(*product.dissolved_mg), grams(*product.liquor_mg));
      if (product.wash_mg) sum += fmt::format(" - {}", grams(*product.wash_mg));
      add("crystals", grams(*product.crystals_mg), sum);
    }
    if (balance_.expected_recovery)
      add(charge_.isolated_mg ? "recovery foreseen" : "recovery", shares(*balance_.expected_recovery),
          fmt::format("{} / {}", grams(*product.crystals_mg), grams(balance_.product_mg)));
    if (balance_.recovery_limit)
      add("recovery limit", shares(*balance_.recovery_limit),
          fmt::format("1 - {} / {}", concentration(*charge_.cold_mg_ml), concentration(*charge_.hot_mg_ml)));
  }

  void impurity() {
    if (!balance_.impurity) return;
    const ComponentBalance& impurity = *balance_.impurity;
    if (impurity.undissolved_mg && *impurity.undissolved_mg > kNegligibleShare * *charge_.impurity_mg)
      add("impurity undissolved hot", grams(*impurity.undissolved_mg),
          fmt::format("{} - {} x {}", grams(*charge_.impurity_mg), mls(*balance_.volume_ml),
                      concentration(*charge_.impurity_hot_mg_ml)));
    if (impurity.liquor_mg) add("impurity in the liquor", grams(*impurity.liquor_mg));
    if (impurity.crystals_mg)
      add("impurity in the crystals", grams(*impurity.crystals_mg),
          *impurity.crystals_mg + impurity.wash_mg.value_or(0) <= 0
              ? std::string("the liquor holds all of it")
              : fmt::format("{} - {} x {} cold{}", grams(*impurity.dissolved_mg), mls(*balance_.volume_ml),
                      concentration(*charge_.impurity_cold_mg_ml),
                      impurity.wash_mg ? fmt::format(" - {} to the wash", grams(*impurity.wash_mg)) : ""));
    if (balance_.volume_to_hold_impurity_ml)
      add("volume that holds it cold", volume(*balance_.volume_to_hold_impurity_ml),
          fmt::format("{} / {} cold", grams(*charge_.impurity_mg), concentration(*charge_.impurity_cold_mg_ml)));
    if (balance_.purity)
      add("purity of the crystals", shares(*balance_.purity),
          fmt::format("{0} / ({0} + {1})", grams(*balance_.product.crystals_mg), grams(*impurity.crystals_mg)));
  }

  void second_crop() {
    if (!balance_.second_crop) return;
    const SecondCrop& second = *balance_.second_crop;
    add("second crop", grams(second.crystals_mg),
        fmt::format("{} - {} x {} cold", grams(*balance_.product.liquor_mg), mls(*charge_.boil_down_to_ml),
                    concentration(*charge_.cold_mg_ml)));
    add("both crops", grams(second.both_crops_mg),
        fmt::format("{} of the product", shares(second.both_crops_mg / balance_.product_mg)));
    if (second.impurity_crystals_mg)
      add("impurity in the second", grams(*second.impurity_crystals_mg));
  }

  void weighed() {
    if (!charge_.isolated_mg) return;
    add("isolated", grams(*charge_.isolated_mg));
    add("recovery", shares(*balance_.recovery),
        fmt::format("{} / {}", grams(*charge_.isolated_mg), grams(balance_.product_mg)));
    if (balance_.product_mg != charge_.crude_mg)
      add("of the crude", shares(*charge_.isolated_mg / charge_.crude_mg),
          fmt::format("{} / {}", grams(*charge_.isolated_mg), grams(charge_.crude_mg)));
    if (balance_.unexplained_mg && *balance_.unexplained_mg > kNegligibleShare * balance_.product_mg)
      add("lost beyond the liquor", grams(*balance_.unexplained_mg),
          fmt::format("{} - {}", grams(*balance_.product.crystals_mg), grams(*charge_.isolated_mg)));
    if (balance_.implied_cold_mg_ml && balance_.unexplained_mg.value_or(1) > 0)
      add("if all is in the liquor", concentration(*balance_.implied_cold_mg_ml),
          "cold solubility that alone would explain the loss");
  }

  const AmountsAnswer& answer_;
  const ChargeAmounts& charge_;
  const MassBalance& balance_;
  std::vector<SumLine> lines_;
};

void remark_on_volume(const AmountsAnswer& answer, std::vector<AmountsRemark>& out) {
  const MassBalance& balance = answer.balance;
  if (answer.charge.volume_ml && balance.minimum_volume_ml &&
      *answer.charge.volume_ml < *balance.minimum_volume_ml * (1 - 1e-9)) {
    const double left = balance.product.undissolved_mg.value_or(0);
    out.push_back({"volume", "below-minimum",
                   fmt::format("{} is below the minimum volume of {}: {} of the {} stays undissolved hot",
                               mls(*answer.charge.volume_ml), mls(*balance.minimum_volume_ml),
                               grams(left > 0 ? left : balance.impurity->undissolved_mg.value_or(0)),
                               left > 0 ? "product" : "impurity")});
  }
  if (balance.product.crystals_mg && *balance.product.crystals_mg <= kNegligibleShare * balance.product_mg &&
      balance.product.wash_mg.value_or(0) <= 0) {
    const double crystallizes_below = *balance.product.dissolved_mg / *answer.charge.cold_mg_ml;
    out.push_back({"crystals", "none",
                   fmt::format("no crystals: cold, {} of solvent hold more than there is. Boil it down to less than {}{}",
                               mls(*balance.volume_ml), mls(crystallizes_below),
                               balance.minimum_volume_ml
                                   ? fmt::format(", best to {}", mls(*balance.minimum_volume_ml))
                                   : std::string())});
  }
}

void remark_on_isolated(const AmountsAnswer& answer, std::vector<AmountsRemark>& out) {
  const MassBalance& balance = answer.balance;
  if (!answer.charge.isolated_mg) return;
  const double isolated = *answer.charge.isolated_mg;
  const char* const why = "not dry, impure, cooled further, or wrongly weighed";
  if (isolated > answer.charge.crude_mg * (1 + 1e-9)) {
    out.push_back({"isolated", "above-crude",
                   fmt::format("{} isolated is more than the {} of crude: {}", grams(isolated),
                               grams(answer.charge.crude_mg), why)});
  } else if (balance.recovery_limit && isolated > *balance.recovery_limit * balance.product_mg * (1 + 1e-9)) {
    out.push_back({"isolated", "above-limit",
                   fmt::format("{} isolated is above the limit of {} ({}): {}", grams(isolated),
                               grams(*balance.recovery_limit * balance.product_mg), shares(*balance.recovery_limit), why)});
  } else if (balance.product.crystals_mg && isolated > *balance.product.crystals_mg * (1 + 1e-9)) {
    out.push_back({"isolated", "above-foreseen",
                   fmt::format("{} isolated is more than the {} that {} of solvent leave: {}, or solvent boiled off",
                               grams(isolated), grams(*balance.product.crystals_mg), mls(*balance.volume_ml), why)});
  }
}

void remark_on_second_crop(const AmountsAnswer& answer, std::vector<AmountsRemark>& out) {
  if (!answer.balance.second_crop) return;
  const SecondCrop& second = *answer.balance.second_crop;
  const double volume = *answer.charge.boil_down_to_ml;
  if (second.impurity_joins_below_ml && volume < *second.impurity_joins_below_ml)
    out.push_back({"boil-down-to", "impurity-joins",
                   fmt::format("below {} the impurity crystallizes with the second crop",
                               mls(*second.impurity_joins_below_ml))});
  if (second.drops_hot_below_ml && volume < *second.drops_hot_below_ml)
    out.push_back({"boil-down-to", "drops-hot",
                   fmt::format("below {} product comes down while it still boils", mls(*second.drops_hot_below_ml))});
}

}  // namespace

std::string grams(double mass_mg) {
  if (mass_mg != 0 && std::abs(mass_mg) < 100) return three_figures(mass_mg) + " mg";
  return three_figures(mass_mg / kMgPerG) + " g";
}

std::string shown_claim(ClaimedFigure figure, double value) {
  switch (figure) {
    case ClaimedFigure::Volume:
      return mls(value);
    case ClaimedFigure::Crystals:
    case ClaimedFigure::Liquor:
      return grams(value);
    case ClaimedFigure::Recovery:
    case ClaimedFigure::Purity:
      break;
  }
  return shares(value);
}

std::vector<SumLine> sum_of(const AmountsAnswer& answer) { return Sum(answer).lines(); }

std::vector<AmountsRemark> remarks_on(const AmountsAnswer& answer) {
  std::vector<AmountsRemark> out;
  remark_on_volume(answer, out);
  remark_on_isolated(answer, out);
  remark_on_second_crop(answer, out);
  if (answer.balance.dissolves_by_assumption)
    out.push_back({"hot", "assumed", "no hot solubility was typed: all is taken to dissolve"});
  if (answer.balance.impurity && !answer.charge.impurity_hot_mg_ml)
    out.push_back({"impurity-hot", "assumed", "no hot solubility of the impurity was typed: it is taken to dissolve"});
  return out;
}

std::string sentence_on(const ClaimDiagnosis& diagnosis) {
  const ClaimedFigure figure = diagnosis.claim.figure;
  const std::string name(name_of(figure));
  const std::string claimed = fmt::format("{} {}", name, shown_claim(figure, diagnosis.claim.value));
  const std::string right = shown_claim(figure, diagnosis.right);
  if (diagnosis.verdict == ClaimVerdict::Right) return claimed + " is right";
  if (diagnosis.verdict == ClaimVerdict::RightRounded)
    return fmt::format("{} is right but for rounding on the way; exactly {}", claimed, right);
  std::string basis = diagnosis.right_is_isolated ? ", isolated over product" : "";
  if (diagnosis.above_limit)
    basis += fmt::format(", which itself is above the {} that are possible", shown_claim(figure, *diagnosis.above_limit));
  std::string out = fmt::format("{} is wrong; right is {}{}.", claimed, right, basis);
  for (const Slip& slip : diagnosis.slips) {
    const std::string degree =
        slip.agreement == Agreement::Exact             ? fmt::format("gives {}", shown_claim(figure, slip.value))
        : slip.agreement == Agreement::RoundedOnTheWay ? fmt::format("gives {} with rounding on the way",
                                                                     shown_claim(figure, slip.value))
                                                       : fmt::format("comes near: {}", shown_claim(figure, slip.value));
    out += fmt::format(" {} {} ({}).", &slip == &diagnosis.slips.front() ? "Usual slip:" : "Or:", slip.explanation, degree);
  }
  if (!diagnosis.slips.empty()) return out;
  out += " No usual slip gives it.";
  if (diagnosis.mass_it_fits_mg)
    out += fmt::format(" It fits {} of product: was a figure misread?", grams(*diagnosis.mass_it_fits_mg));
  if (diagnosis.volume_it_fits_ml) out += fmt::format(" It fits {} of solvent.", mls(*diagnosis.volume_it_fits_ml));
  return out;
}

}  // namespace firstcrop
