#include "plan/crop_judgement.hpp"

#include <algorithm>
#include <cmath>

#include "facts/scenarios.hpp"
#include "plan/melting_depression.hpp"

namespace firstcrop {
namespace {

constexpr double kScoreOf80Percent = 1.2816;
// Two readings differ by so much (L9 of the heuristics); what melts higher still is not this solid, or badly read.
constexpr double kAbovePureK = 1;
// Wider than impurity of a few per cent alone: the clear point of wet or very impure crystals obeys no law.
constexpr double kWidestRangeK = 3;

Quantity share(double value, std::optional<double> low, std::optional<double> high, Origin origin) {
  Quantity out;
  out.value = value;
  out.low = low;
  out.high = high;
  out.dimension = dimension::kNumber;
  out.origin = origin;
  return out;
}

Quantity estimated(const PurityEstimate& estimate) {
  return share(estimate.purity, estimate.low, estimate.high, Origin::Predicted);
}

// Impurity and insoluble matter as the file states them; nothing where a share is missing or nothing is stated.
std::optional<Quantity> stated_share_of_product(const SoluteFile& file) {
  if (!file.insoluble && file.impurities.empty()) return std::nullopt;
  double low = 1;
  double high = 1;
  const auto take_off = [&](const WrittenQuantity& part) {
    low -= part.high;
    high -= part.low;
  };
  if (file.insoluble) take_off(*file.insoluble);
  for (const WrittenImpurity& impurity : file.impurities) {
    if (!impurity.share) return std::nullopt;
    take_off(*impurity.share);
  }
  if (low <= 0) return std::nullopt;
  if (low == high) return share(low, std::nullopt, std::nullopt, Origin::Given);
  return share((low + high) / 2, low, high, Origin::Given);
}

// Relative half widths of independent factors add as squares.
Quantity product_over(const Quantity& crop_purity, const Quantity& crude_purity, double mass_ratio) {
  const double middle = mass_ratio * crop_purity.value / crude_purity.value;
  const auto relative = [](double end, double value) { return value > 0 ? std::abs(end / value - 1) : 0.0; };
  const double down = std::hypot(relative(crop_purity.low.value_or(crop_purity.value), crop_purity.value),
                                 relative(crude_purity.value, crude_purity.high.value_or(crude_purity.value)));
  const double up = std::hypot(relative(crop_purity.high.value_or(crop_purity.value), crop_purity.value),
                               relative(crude_purity.value, crude_purity.low.value_or(crude_purity.value)));
  return share(middle, middle * std::max(0.0, 1 - down), middle * (1 + up), Origin::Predicted);
}

FactValue fact_of(const Quantity& quantity, const char* source) {
  FactValue out;
  out.origin = quantity.origin;
  out.source = source;
  if (!quantity.low || !quantity.high) {
    out.value = NumberColumn::of(quantity.value);
    return out;
  }
  // Scores of their own: what the crop shows has nothing to do with the errors of the solubility model.
  static const ScenarioValues scores = Scenarios(1, 1).extra(0);
  ScenarioValues values{};
  for (std::size_t k = 0; k < kScenarioCount; ++k) {
    const double half = scores[k] < 0 ? quantity.value - *quantity.low : *quantity.high - quantity.value;
    values[k] = std::max(0.0, quantity.value + scores[k] / kScoreOf80Percent * half);
  }
  out.value = NumberColumn::of(values);
  return out;
}

void add_crop_facts(const CropJudgement& judgement, FactFrame& frame) {
  const Catalogue& catalogue = frame.catalogue();
  const auto set = [&](const char* name, FactValue value) { frame.set(catalogue.find(name).value(), std::move(value)); };
  const auto measured = [](double value) { return FactValue{NumberColumn::of(value), Origin::Measured, "melting range"}; };
  set("crop.recovery", fact_of(judgement.recovery, "balance"));
  if (judgement.recovery_of_pure) set("crop.recovery_of_pure", fact_of(*judgement.recovery_of_pure, "balance and melting range"));
  if (judgement.purity) set("crop.purity", fact_of(*judgement.purity, "melting-point depression"));
  if (const auto& range = judgement.crop.melting_range_k; range && range->is_range())
    set("crop.melting_range", measured(range->high - range->low));
  if (judgement.depression_k) set("crop.melting_depression", measured(*judgement.depression_k));
  if (judgement.gain_k) set("crop.melting_gain", measured(*judgement.gain_k));
}

bool speaks_of_crop(const RuleOutcome& outcome) {
  const bool speaks = outcome.kind == RuleKind::Caution || outcome.kind == RuleKind::Advice;
  return speaks && outcome.outcome == Outcome::Fires &&
         std::any_of(outcome.facts.begin(), outcome.facts.end(),
                     [](const UsedFact& fact) { return fact.name.starts_with("crop."); });
}

// Facts of the solid alone, where no system was named.
FactFrame frame_without_system(const SystemJudge& judge) {
  FactFrame out(judge.catalogue(), 1);
  out.set(judge.catalogue().find("solute.form").value(), {judge.inquiry().solute.form, Origin::Given, {}});
  return out;
}

// What the cold liquor does not keep, by mass balance; at least nothing.
std::optional<FactValue> limit_at_volume(const JudgedSystem& judged, const CropJudgement& judgement) {
  const FactReference cold = judged.frame.catalogue().find("system.cold_solubility").value();
  const auto* cold_mg_ml = std::get_if<NumberColumn>(&judged.frame.get(cold).value);
  if (!judgement.crop.volume_ml || cold_mg_ml == nullptr) return std::nullopt;
  const double product_mg = judgement.crop.crude_mg * (judgement.pure_share ? judgement.pure_share->value : 1.0);
  ScenarioValues out{};
  for (std::size_t k = 0; k < kScenarioCount; ++k) {
    out[k] = std::max(1 - *judgement.crop.volume_ml * cold_mg_ml->at(k) / product_mg, 0.0);
  }
  return FactValue{NumberColumn::of(out, cold_mg_ml->known), Origin::Calculated, {}};
}

void add_next(const SystemJudge& judge, CropJudgement& out) {
  std::vector<RuleOutcome> outcomes;
  if (out.crop.system) {
    JudgedSystem judged = judge.judge(*out.crop.system);
    const FactReference limit = judge.catalogue().find("system.recovery_limit").value();
    if (const auto at_volume = limit_at_volume(judged, out)) judged.frame.set(limit, *at_volume);
    out.limit = summary(judged.frame.get(limit), dimension::kNumber);
    add_crop_facts(out, judged.frame);
    judge.explain(judged);
    outcomes = std::move(judged.judgement.outcomes);
  } else {
    FactFrame frame = frame_without_system(judge);
    add_crop_facts(out, frame);
    outcomes = explain(judge.book(), frame, {judge.inquiry().solute.name, "the solvent", {"the solvent"}});
  }
  for (RuleOutcome& outcome : outcomes) {
    if (speaks_of_crop(outcome)) out.next.push_back(std::move(outcome));
  }
  const auto gravity = [](const RuleOutcome& outcome) {
    return outcome.kind == RuleKind::Caution ? 1 + static_cast<int>(outcome.level) : 0;
  };
  std::stable_sort(out.next.begin(), out.next.end(), [&gravity](const RuleOutcome& left, const RuleOutcome& right) {
    return gravity(left) > gravity(right);
  });
}

void add_purity(const Inquiry& inquiry, CropJudgement& out) {
  if (!out.crop.melting_range_k) {
    out.missing.emplace_back("purity: the melting range of the crop (`--melts`)");
    return;
  }
  const double clear_k = out.crop.melting_range_k->high;
  if (inquiry.file.crude_melting_range) out.gain_k = clear_k - inquiry.file.crude_melting_range->high;
  if (inquiry.melting_point_sd_k > 0) {
    out.missing.emplace_back("purity: the melting point of the pure solid (`melting_point` in the solute file)");
    return;
  }
  const PurityEstimate estimate = purity_by_melting(clear_k, inquiry.melting_point_k);
  out.depression_k = estimate.depression_k;
  if (estimate.depression_k < -kAbovePureK) {
    out.missing.emplace_back("purity: it melts above the pure solid, so its melting point does not tell");
  } else if (clear_k - out.crop.melting_range_k->low > kWidestRangeK) {
    out.missing.emplace_back("purity: so wide a melting range does not tell");
  } else {
    out.purity = estimated(estimate);
  }
}

void add_recovery_of_pure(const Inquiry& inquiry, CropJudgement& out) {
  out.pure_share = stated_share_of_product(inquiry.file);
  if (!out.pure_share && inquiry.file.crude_melting_range && inquiry.melting_point_sd_k == 0)
    out.pure_share = estimated(purity_by_melting(inquiry.file.crude_melting_range->high, inquiry.melting_point_k));
  if (!out.pure_share)
    out.missing.emplace_back("recovery of pure: how pure the crude is (`impurities` with shares, or `crude_melting_range`)");
  if (out.pure_share && out.purity && out.pure_share->value > 0)
    out.recovery_of_pure = product_over(*out.purity, *out.pure_share, out.crop.crop_mg / out.crop.crude_mg);
  if (out.pure_share && !out.purity) out.missing.emplace_back("recovery of pure: the purity of the crop");
}

}  // namespace

CropJudgement judge_crop(const SystemJudge& judge, const WeighedCrop& crop) {
  CropJudgement out;
  out.crop = crop;
  out.recovery = share(crop.crop_mg / crop.crude_mg, std::nullopt, std::nullopt, Origin::Measured);
  add_purity(judge.inquiry(), out);
  add_recovery_of_pure(judge.inquiry(), out);
  add_next(judge, out);
  if (!crop.system) out.missing.emplace_back("limit: the solvent that it came from (`--system`)");
  return out;
}

}  // namespace firstcrop
