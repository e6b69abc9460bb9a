#include "plan/claim_diagnosis.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include <fmt/format.h>

namespace firstcrop {
namespace {

// Beyond the last figure written, numbers rounded on the way move a result by about this share.
constexpr double kRoundingShare = 0.003;
// A slip is offered as a rough match up to here, where nothing matches better.
constexpr double kRoughShare = 0.1;
constexpr std::size_t kMostSlips = 3;

constexpr std::array<std::pair<ClaimedFigure, std::string_view>, 5> kNames{
    {{ClaimedFigure::Recovery, "recovery"},
     {ClaimedFigure::Volume, "volume"},
     {ClaimedFigure::Crystals, "crystals"},
     {ClaimedFigure::Liquor, "liquor"},
     {ClaimedFigure::Purity, "purity"}}};

bool agrees(const Claim& claim, double value) {
  return std::abs(claim.value - value) <= claim.half_of_last + kRoundingShare * std::abs(value) + 1e-12;
}

bool agrees_exactly(const Claim& claim, double value) {
  return std::abs(claim.value - value) <= claim.half_of_last * (1 + 1e-9) + 1e-12;
}

double with_figures(double value, int figures) {
  if (value == 0 || !std::isfinite(value)) return value;
  const double step = std::pow(10.0, std::floor(std::log10(std::abs(value))) - (figures - 1));
  return std::round(value / step) * step;
}

// Gathers what every usual slip would give for one figure.
class Slips {
 public:
  Slips(ClaimedFigure figure, const ChargeAmounts& charge, const WrittenVolumes& basis)
      : figure_(figure), charge_(charge), basis_(basis), balance_(balance_of(charge)) {}

  std::vector<Slip> all() {
    loss_for_crop();
    foreseen_loss();
    loss_not_scaled();
    exchanged();
    crude_as_pure();
    two_crops();
    forgotten_parts();
    divided_by_purity();
    other_units();
    return std::move(slips_);
  }

 private:
  void add(const char* id, std::string explanation, double value) {
    if (std::isfinite(value)) slips_.push_back({id, std::move(explanation), value, Agreement::Exact});
  }
  void add(const char* id, std::string explanation, std::optional<double> value) {
    if (value) add(id, std::move(explanation), *value);
  }
  [[nodiscard]] bool is(ClaimedFigure figure) const { return figure_ == figure; }
  [[nodiscard]] std::optional<double> with(const ChargeAmounts& other) const {
    return true_value(figure_, balance_of(other));
  }
  // A mass of crystals as the figure that is asked for.
  void add_crystals(const char* id, const std::string& explanation, double crystals_mg) {
    if (is(ClaimedFigure::Crystals)) add(id, explanation, crystals_mg);
    if (!is(ClaimedFigure::Recovery)) return;
    add(id, explanation, crystals_mg / balance_.product_mg);
    // A mass rounded before it is divided.
    slips_.push_back({id, explanation, with_figures(crystals_mg, 2) / balance_.product_mg, Agreement::RoundedOnTheWay});
  }

  void loss_for_crop() {
    const auto crop = charge_.isolated_mg ? charge_.isolated_mg : balance_.product.crystals_mg;
    if (!crop) return;
    const double loss = balance_.product_mg - *crop;
    add_crystals("loss-reported-as-recovery",
                 "this is loss over start: what is lost, not what comes back",
                 loss);
    if (is(ClaimedFigure::Recovery)) {
      slips_.push_back({"loss-reported-as-recovery",
                        "this is loss over start, rounded early: what is lost, not what comes back",
                        with_figures(loss, 1) / balance_.product_mg, Agreement::RoundedOnTheWay});
      add("loss-over-crop", "this is loss over crop. Divide the crop by what was taken", loss / *crop);
      add("start-over-crop", "turned over: what was taken was divided by the crop", balance_.product_mg / *crop);
    }
    if (is(ClaimedFigure::Liquor))
      add("crop-reported-as-loss", "this is the mass of the crystals; the liquor keeps the rest",
          balance_.product.crystals_mg);
    if (is(ClaimedFigure::Purity) && balance_.purity)
      add("impurity-reported-as-purity", "this is the share of the impurity", 1 - *balance_.purity);
  }

  // The same against what the sum foresees, where something else was isolated, and against the limit.
  void foreseen_loss() {
    if (!is(ClaimedFigure::Recovery)) return;
    if (balance_.recovery_limit)
      add("loss-at-the-limit",
          "this is cold over hot solubility, the share that the minimum volume keeps; what can come back at most is 1 less "
          "that",
          1 - *balance_.recovery_limit);
    if (charge_.isolated_mg && balance_.expected_recovery)
      add("loss-reported-as-recovery", "this is the share that the liquor keeps by the sum, not what comes back",
          1 - *balance_.expected_recovery);
  }

  void loss_not_scaled() {
    if (!charge_.cold_mg_ml) return;
    const double loss = *charge_.cold_mg_ml * basis_.cold_ml;
    const std::string written = fmt::format("{:.3g} mL", basis_.cold_ml);
    const std::string text = fmt::format(
        "the cold solubility was taken as the loss, as if there were {} of solvent. The loss is cold solubility times the "
        "volume taken",
        written);
    add_crystals("loss-not-scaled-by-volume", text, balance_.product_mg - loss);
    if (is(ClaimedFigure::Liquor)) add("loss-not-scaled-by-volume", text, loss);
    if (!charge_.hot_mg_ml) return;
    add_crystals("crop-of-the-basis",
                 fmt::format("hot less cold solubility is the crop from {} of solvent, not from the volume taken", written),
                 *charge_.hot_mg_ml * basis_.hot_ml - loss);
    if (is(ClaimedFigure::Volume))
      add("volume-from-difference",
          "the mass was divided by hot less cold solubility. All of it has to dissolve hot: divide by the hot solubility",
          balance_.product_mg / (*charge_.hot_mg_ml - *charge_.cold_mg_ml));
  }

  void exchanged() {
    if (!charge_.hot_mg_ml || !charge_.cold_mg_ml || *charge_.cold_mg_ml <= 0) return;
    const double product = balance_.product_mg;
    const std::string text = "hot and cold solubility were exchanged";
    const double cold_volume = product / *charge_.cold_mg_ml;
    if (is(ClaimedFigure::Volume)) add("hot-and-cold-exchanged", text + ": the solid is dissolved hot", cold_volume);
    const double volume = charge_.volume_ml.value_or(balance_.minimum_volume_ml.value_or(cold_volume));
    if (is(ClaimedFigure::Liquor)) add("hot-and-cold-exchanged", text, volume * *charge_.hot_mg_ml);
    if (is(ClaimedFigure::Recovery))
      add("hot-and-cold-exchanged", text, 1 - *charge_.hot_mg_ml / *charge_.cold_mg_ml);
    add_crystals("hot-and-cold-exchanged", text, product - volume * *charge_.hot_mg_ml);
    add_crystals("hot-and-cold-exchanged", text, product - cold_volume * *charge_.hot_mg_ml);
  }

  void crude_as_pure() {
    if (charge_.crude_mg <= balance_.product_mg) return;
    ChargeAmounts pure = charge_;
    pure.insoluble_mg = 0;
    pure.impurity_mg.reset();
    if (!is(ClaimedFigure::Purity))
      add("crude-taken-as-pure", "the whole crude was taken for product; impurity and insoluble matter do not count",
          with(pure));
    if (is(ClaimedFigure::Recovery)) {
      const auto crop = charge_.isolated_mg ? charge_.isolated_mg : balance_.product.crystals_mg;
      if (crop)
        add("counted-on-crude", "the crop was divided by the crude, which is not all product", *crop / charge_.crude_mg);
    }
    if (is(ClaimedFigure::Purity) && charge_.impurity_mg) {
      const double dissolved = balance_.product_mg + *charge_.impurity_mg;
      add("composition-of-crude",
          "this is the composition of the crude, as if the volume kept nothing dissolved. Take off what the liquor keeps "
          "of each",
          balance_.product_mg / dissolved);
      add("composition-of-crude", "this is the share of the impurity in the crude", *charge_.impurity_mg / dissolved);
    }
    if (!balance_.impurity || !balance_.impurity->crystals_mg || !balance_.product.crystals_mg) return;
    const double both = *balance_.product.crystals_mg + *balance_.impurity->crystals_mg;
    const char* text = "the impurity that crystallizes with it was counted as product";
    if (is(ClaimedFigure::Crystals)) add("impurity-counted-in", text, both);
    if (is(ClaimedFigure::Recovery)) {
      add("impurity-counted-in", text, both / charge_.crude_mg);
      add("impurity-counted-in", text, both / balance_.product_mg);
    }
  }

  void two_crops() {
    if (!balance_.second_crop || !balance_.product.crystals_mg) return;
    const SecondCrop& second = *balance_.second_crop;
    add_crystals("sum-of-crops", "both crops were added; the first crop alone is asked for", second.both_crops_mg);
    if (is(ClaimedFigure::Recovery) && balance_.product.liquor_mg && *balance_.product.liquor_mg > 0) {
      const double of_liquor = second.crystals_mg / *balance_.product.liquor_mg;
      add("sum-of-crops",
          "the percentages of the two crops were added, each on a start of its own. Add the masses and divide by what was "
          "taken",
          balance_.expected_recovery.value_or(0) + of_liquor);
    }
    if (is(ClaimedFigure::Crystals))
      add("second-crop-for-first", "this is the second crop", second.crystals_mg);
    if (is(ClaimedFigure::Liquor))
      add("second-crop-for-first", "this is the liquor after the second crop", second.liquor_mg);
  }

  void forgotten_parts() {
    ChargeAmounts other = charge_;
    if (charge_.volume_ml && charge_.hot_mg_ml && !is(ClaimedFigure::Volume)) {
      other.volume_ml.reset();
      other.isolated_mg.reset();
      add("minimum-volume-taken", "this holds for the minimum volume, not for the volume that was taken", with(other));
    }
    if (charge_.wash_volume_ml) {
      other = charge_;
      other.wash_volume_ml.reset();
      add("wash-forgotten", "the loss to the wash was forgotten", with(other));
    }
    if (charge_.isolated_mg && is(ClaimedFigure::Recovery)) {
      add("limit-for-recovery", "this is what can come back at most, not what was isolated", balance_.recovery_limit);
      add("limit-for-recovery", "this is what the sum foresees, not what was isolated", balance_.expected_recovery);
    }
    add_crystals("nothing-stays-dissolved", "the cold solubility was forgotten: the liquor keeps some",
                 balance_.product_mg);
    if (balance_.product.undissolved_mg.value_or(0) > 0 && balance_.product.crystals_mg)
      add_crystals("undissolved-counted-in", "what never dissolved was counted as crystals",
                   *balance_.product.crystals_mg + *balance_.product.undissolved_mg);
  }

  void divided_by_purity() {
    const auto right = true_value(figure_, balance_);
    if (!right || is(ClaimedFigure::Purity)) return;
    const double purity = balance_.product_mg / charge_.crude_mg;
    if (purity < 1) {
      add("divided-by-purity", "divided by the purity of the crude; product is crude times purity", *right / purity);
      if (is(ClaimedFigure::Volume) || is(ClaimedFigure::Crystals) || is(ClaimedFigure::Liquor))
        add("divided-by-purity", "the crude was divided by its purity; product is crude times purity",
            *right / (purity * purity));
    }
    constexpr double kUsual = 0.95;
    add("divided-by-0.95", "the right value divided by 0.95: a share is taken of something by multiplying", *right / kUsual);
    if (!is(ClaimedFigure::Volume)) return;
    for (const double factor : {1.1, 1.2})
      add("reserve-counted-in",
          fmt::format("a reserve of {:.0f} % is counted in; the sum gives the minimum", (factor - 1) * 100), *right * factor);
    add("eleven-for-1.1", "11 times the minimum: a point was lost in 1.1 times", *right * 11);
  }

  void other_units() {
    const auto right = true_value(figure_, balance_);
    if (!right) return;
    for (const double factor : {10.0, 100.0, 1000.0}) {
      const std::string slip = fmt::format("a slip of units by a factor of {:.0f}", factor);
      if (!is(ClaimedFigure::Purity)) {
        add("unit-slip", slip, *right * factor);
        add("unit-slip", slip, *right / factor);
      }
      if (is(ClaimedFigure::Volume) || !charge_.cold_mg_ml || charge_.isolated_mg) continue;
      for (const double side : {factor, 1 / factor}) {
        ChargeAmounts other = charge_;
        // The hot one may not follow: a cold solubility above it simply leaves no crystals.
        other.cold_mg_ml = *charge_.cold_mg_ml * side;
        add("unit-slip", slip + " in the cold solubility", with(other));
        if (charge_.volume_ml) continue;
        other = charge_;
        if (!charge_.hot_mg_ml) continue;
        other.hot_mg_ml = *charge_.hot_mg_ml * side;
        add("unit-slip", slip + " in the volume", with(other));
      }
    }
  }

  ClaimedFigure figure_;
  const ChargeAmounts& charge_;
  const WrittenVolumes& basis_;
  MassBalance balance_;
  std::vector<Slip> slips_;
};

// Nothing recovered, or everything, follows from many slips and explains none.
bool explains_nothing(const Slip& slip, ClaimedFigure figure) {
  const bool is_share = figure == ClaimedFigure::Recovery || figure == ClaimedFigure::Purity;
  return slip.value == 0 || (is_share && slip.id == "unit-slip" && slip.value >= 1);
}

std::vector<Slip> matching(std::vector<Slip> slips, const Claim& claim, double right) {
  const auto distance = [&claim](const Slip& slip) { return std::abs(slip.value - claim.value); };
  // The nearest explains best; of equally near ones the more usual, which was gathered first.
  const auto steps_away = [&](const Slip& slip) {
    constexpr double kParts = 1000;
    return claim.half_of_last > 0 ? std::round(distance(slip) / claim.half_of_last * kParts) : distance(slip);
  };
  std::stable_sort(slips.begin(), slips.end(),
                   [&](const Slip& one, const Slip& other) { return steps_away(one) < steps_away(other); });
  std::vector<Slip> out;
  const auto seen = [&out](const Slip& slip) {
    return std::any_of(out.begin(), out.end(), [&slip](const Slip& other) { return other.id == slip.id; });
  };
  const auto take = [&](Agreement agreement, std::size_t most, auto fits) {
    for (const Slip& slip : slips) {
      if (out.size() >= most || seen(slip) || explains_nothing(slip, claim.figure) || !fits(slip)) continue;
      out.push_back(slip);
      out.back().agreement = std::max(slip.agreement, agreement);
    }
  };
  take(Agreement::Exact, kMostSlips,
       [&](const Slip& slip) { return slip.agreement == Agreement::Exact && agrees_exactly(claim, slip.value); });
  if (out.empty())
    take(Agreement::RoundedOnTheWay, kMostSlips, [&](const Slip& slip) { return agrees(claim, slip.value); });
  const double limit = std::min(kRoughShare * std::abs(claim.value), std::abs(claim.value - right));
  if (out.empty()) take(Agreement::Roughly, 1, [&](const Slip& slip) { return distance(slip) < limit; });
  return out;
}

void find_what_it_fits(const ChargeAmounts& charge, const MassBalance& balance, ClaimDiagnosis& out) {
  const Claim& claim = out.claim;
  if (claim.figure == ClaimedFigure::Volume && charge.hot_mg_ml) out.mass_it_fits_mg = claim.value * *charge.hot_mg_ml;
  if (!charge.cold_mg_ml || *charge.cold_mg_ml <= 0 || charge.isolated_mg) return;
  std::optional<double> loss;
  if (claim.figure == ClaimedFigure::Recovery) loss = balance.product_mg * (1 - claim.value);
  if (claim.figure == ClaimedFigure::Crystals) loss = balance.product_mg - claim.value;
  if (claim.figure == ClaimedFigure::Liquor) loss = claim.value;
  if (loss && *loss > 0 && *loss < balance.product_mg) out.volume_it_fits_ml = *loss / *charge.cold_mg_ml;
}

}  // namespace

std::string_view name_of(ClaimedFigure figure) {
  for (const auto& [known, name] : kNames) {
    if (known == figure) return name;
  }
  return {};
}

std::optional<ClaimedFigure> claimed_figure_of(std::string_view word) {
  for (const auto& [figure, name] : kNames) {
    if (name == word) return figure;
  }
  return std::nullopt;
}

std::optional<double> true_value(ClaimedFigure figure, const MassBalance& balance) {
  switch (figure) {
    case ClaimedFigure::Recovery:
      return balance.recovery;
    case ClaimedFigure::Volume:
      return balance.minimum_volume_ml;
    case ClaimedFigure::Crystals:
      return balance.product.crystals_mg;
    case ClaimedFigure::Liquor:
      return balance.product.liquor_mg;
    case ClaimedFigure::Purity:
      break;
  }
  return balance.purity;
}

std::optional<ClaimDiagnosis> diagnose(const Claim& claim, const ChargeAmounts& charge, const WrittenVolumes& basis) {
  const MassBalance balance = balance_of(charge);
  const auto right = true_value(claim.figure, balance);
  if (!right) return std::nullopt;
  ClaimDiagnosis out;
  out.claim = claim;
  out.right = *right;
  if (claim.figure == ClaimedFigure::Recovery && charge.isolated_mg) {
    out.right_is_isolated = true;
    if (balance.recovery_limit && *right > *balance.recovery_limit * (1 + 1e-9)) out.above_limit = balance.recovery_limit;
  }
  if (agrees_exactly(claim, *right)) {
    out.verdict = ClaimVerdict::Right;
  } else if (agrees(claim, *right)) {
    out.verdict = ClaimVerdict::RightRounded;
  }
  if (out.verdict != ClaimVerdict::Wrong) return out;
  out.slips = matching(Slips(claim.figure, charge, basis).all(), claim, *right);
  find_what_it_fits(charge, balance, out);
  return out;
}

}  // namespace firstcrop
