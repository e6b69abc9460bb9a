#include "plan/course.hpp"

#include <algorithm>
#include <cmath>

#include "plan/bench_practice.hpp"
#include "systems/system_solubility.hpp"

namespace firstcrop {
namespace {

const NumberColumn* number_of(const JudgedSystem& judged, const char* fact) {
  const auto reference = judged.frame.catalogue().find(fact);
  return reference ? std::get_if<NumberColumn>(&judged.frame.get(*reference).value) : nullptr;
}

// A share that is stated as a range lies anywhere in it; the score spreads it evenly (Abramowitz & Stegun 7.1).
double share_in(const std::optional<WrittenQuantity>& written, double otherwise, double score) {
  if (!written) return otherwise;
  const double place = std::erfc(-score / std::sqrt(2.0)) / 2;
  return written->low + place * (written->high - written->low);
}

// Scores that no solubility of an impurity uses.
constexpr std::size_t kShareScores = 16;
constexpr std::size_t kInsolubleScore = 31;

struct ImpurityColumns {
  Moments hot, room, cold;
};

std::vector<CrudePart> impurities_in(const Inquiry& inquiry, const std::vector<ImpurityColumns>& moments,
                                     std::size_t scenario) {
  std::vector<CrudePart> out;
  for (std::size_t i = 0; i < moments.size(); ++i) {
    const ImpurityPrediction& impurity = inquiry.impurities[i];
    std::optional<WrittenQuantity> written;
    for (const WrittenImpurity& line : inquiry.file.impurities) {
      if (line.name == impurity.name) written = line.share;
    }
    const double share =
        share_in(written, impurity.share, inquiry.scenarios.impurity_score(kShareScores + i)[scenario]);
    const double score = inquiry.scenarios.impurity_score(i)[scenario];
    const auto at = [score](const Moments& moment) { return std::pow(10.0, moment.mean + moment.sd * score); };
    out.push_back({share * inquiry.aim.mass_mg, at(moments[i].hot), at(moments[i].room), at(moments[i].cold)});
  }
  return out;
}

Quantity summary_of(const NumberColumn& column, const Dimension& dimension, Origin origin) {
  Quantity none;
  none.dimension = dimension;
  none.origin = origin;
  return summary(FactValue{column, origin, {}}, dimension).value_or(none);
}

}  // namespace

std::optional<Course> Course::follow(const Inquiry& inquiry, const JudgedSystem& judged, const Plan& plan) {
  const NumberColumn* room = number_of(judged, "system.room_solubility");
  const NumberColumn* cold = number_of(judged, "system.cold_solubility");
  const NumberColumn* saturation = number_of(judged, "system.saturation_temperature");
  const NumberColumn* coldest = number_of(judged, "system.cold_temperature");
  for (const NumberColumn* column : {room, cold, saturation, coldest}) {
    if (column == nullptr || column->known != kAllScenarios) return std::nullopt;
  }
  Course out(inquiry, judged.system);
  const auto& value = judged.frame.get(judged.frame.catalogue().find("system.hot_solubility").value());
  out.origin_ = is_measured(value.origin) ? Origin::Calculated : Origin::Predicted;
  out.charge_mg_ = inquiry.aim.mass_mg;
  // One temperature for the whole sheet: where an oil is foreseen only roughly, the ends of that forecast would blow up
  // every volume. What to do when an oil comes stands on the sheet.
  const double saturation_k = summary_of(*saturation, dimension::kTemperature, Origin::Calculated).value;
  out.saturation_k_ = NumberColumn::of(saturation_k);
  const auto solubility = SystemSolubility::create(inquiry, judged.system);
  if (!solubility) return std::nullopt;
  const NumberColumn hot = solubility->at(out.saturation_k_);
  if (hot.known != kAllScenarios) return std::nullopt;
  out.cold_k_ = *coldest;
  std::vector<ImpurityColumns> impurities;
  for (const ImpurityPrediction& impurity : inquiry.impurities) {
    // Its own working temperatures differ little from scenario to scenario, so their medians serve.
    const auto at = [&](double temperature_k) {
      return impurity_log10_solubility(impurity, judged.system, temperature_k, *inquiry.knowledge);
    };
    const auto warm = at(saturation_k);
    const auto middle = at(inquiry.aim.room_temperature_k);
    const auto chilled = at(coldest->at(0));
    if (!warm || !middle || !chilled) return std::nullopt;
    impurities.push_back({*warm, *middle, *chilled});
  }
  for (std::size_t k = 0; k < kScenarioCount; ++k) {
    CrystallizationRun run;
    run.impurities = impurities_in(inquiry, impurities, k);
    run.insoluble_mg = out.charge_mg_ * share_in(inquiry.file.insoluble, 0,
                                                 inquiry.scenarios.impurity_score(kInsolubleScore)[k]);
    double foreign_mg = run.insoluble_mg;
    for (const CrudePart& impurity : run.impurities) foreign_mg += impurity.mass_mg;
    // Shares that add up to more than the crude leave nothing to work with.
    if (foreign_mg >= out.charge_mg_) return std::nullopt;
    out.product_mg_[k] = out.charge_mg_ - foreign_mg;
    run.product = {out.product_mg_[k], hot.at(k), room->at(k), cold->at(k)};
    run.workable_hot_mg_ml = std::min(hot.at(k), practice::kWorkableMgMl);
    run.volume_ml = plan.volume_ml;
    run.wash_mg_ml = cold->at(k);
    run.filters_hot = plan.filters_hot;
    run.uses_charcoal = plan.uses_charcoal;
    run.in_one_tube = out.charge_mg_ < practice::kTubeChargeMg;
    out.runs_[k] = crystallize(run);
  }
  return out;
}

NumberColumn Course::column(const std::function<double(const Crystallization&)>& number) const {
  ScenarioValues values{};
  for (std::size_t k = 0; k < kScenarioCount; ++k) values[k] = number(runs_[k]);
  return NumberColumn::of(values, known_);
}

Quantity Course::quantity(const Dimension& dimension,
                          const std::function<double(const Crystallization&)>& number) const {
  return summary_of(column(number), dimension, origin_);
}

Quantity Course::mean(const Dimension& dimension,
                      const std::function<double(const Crystallization&)>& number) const {
  Quantity out = quantity(dimension, number);
  out.value = 0;
  for (const Crystallization& run : runs_) out.value += number(run) / static_cast<double>(kScenarioCount);
  return out;
}

NumberColumn Course::crystals_in(const System& system, double volume_share, double hottest_k) const {
  constexpr int kHalvings = 24;
  const auto solubility = SystemSolubility::create(*inquiry_, system);
  if (!solubility) return NumberColumn::of(ScenarioValues{}, 0);
  ScenarioValues low{};
  ScenarioValues high{};
  ScenarioValues dissolved{};
  for (std::size_t k = 0; k < kScenarioCount; ++k) {
    low[k] = cold_k_.at(k);
    high[k] = std::max(std::min(saturation_k_.at(k), hottest_k), low[k]);
    const Crystallization& run = runs_[k];
    dissolved[k] = (run.liquor_product_mg + run.deposit_mg) / (run.volume_ml * volume_share);
  }
  const NumberColumn coldest = solubility->at(NumberColumn::of(low));
  std::uint64_t known = 0;
  for (std::size_t k = 0; k < kScenarioCount; ++k) {
    if (dissolved[k] > coldest.at(k)) known |= std::uint64_t{1} << k;
  }
  for (int i = 0; i < kHalvings; ++i) {
    ScenarioValues middle{};
    for (std::size_t k = 0; k < kScenarioCount; ++k) middle[k] = (low[k] + high[k]) / 2;
    const NumberColumn held = solubility->at(NumberColumn::of(middle));
    for (std::size_t k = 0; k < kScenarioCount; ++k) (held.at(k) < dissolved[k] ? low : high)[k] = middle[k];
  }
  return NumberColumn::of(high, known);
}

NumberColumn Course::crystals_from() const {
  return crystals_in(system_, 1, saturation_k());
}

NumberColumn Course::crystals_in_funnel(double extra_share, bool premixed, double good_hot_k) const {
  const double more = 1 + extra_share;
  if (!system_.is_pair() || premixed) return crystals_in(system_, more, saturation_k());
  return crystals_in(System{{system_.solvents[0]}, 1}, more * system_.first_fraction, good_hot_k);
}

bool Course::good_dissolves_alone() const {
  const auto solubility = SystemSolubility::create(*inquiry_, System{{system_.solvents[0]}, 1});
  if (!solubility) return false;
  const NumberColumn held = solubility->at(saturation_k_);
  std::size_t enough = 0;
  for (std::size_t k = 0; k < kScenarioCount; ++k) {
    if (held.at(k) * system_.first_fraction * runs_[k].volume_ml >= product_mg_[k]) ++enough;
  }
  return 2 * enough >= kScenarioCount;
}

NumberColumn Course::volume_at(const NumberColumn& temperature_k) const {
  const auto solubility = SystemSolubility::create(*inquiry_, system_);
  ScenarioValues out{};
  if (!solubility) return NumberColumn::of(out, 0);
  const NumberColumn held = solubility->at(temperature_k);
  for (std::size_t k = 0; k < kScenarioCount; ++k) out[k] = product_mg_[k] / std::max(held.at(k), 1e-9);
  return NumberColumn::of(out, held.known);
}

}  // namespace firstcrop
