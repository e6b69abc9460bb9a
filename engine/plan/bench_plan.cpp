#include "plan/bench_plan.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "plan/bench_practice.hpp"
#include "plan/bench_steps.hpp"
#include "plan/plan_facts.hpp"
#include "quantity/quantity.hpp"
#include "ranking/solubility_study.hpp"

namespace firstcrop {
namespace {

// A ban or a class of toxicity leaves the chemistry as it is; these do not.
bool forbids_a_sheet(const RuleOutcome& outcome) {
  if (outcome.outcome != Outcome::Fires) return false;
  const bool is_danger = outcome.kind == RuleKind::Caution && outcome.level == CautionLevel::Danger;
  if (is_danger) {
    return std::any_of(outcome.facts.begin(), outcome.facts.end(), [](const UsedFact& fact) {
      return fact.name == "solute.energetic" && fact.shown == "yes";
    });
  }
  if (outcome.kind != RuleKind::Exclude) return false;
  return std::any_of(outcome.facts.begin(), outcome.facts.end(), [](const UsedFact& fact) {
    return fact.name == "pair.two_phases_hot" || fact.name == "pair.two_phases_cold" ||
           fact.name == "pair.reaction" || fact.name == "system.published_outcome" ||
           fact.name.ends_with(".reaction") || fact.name == "system.hot_temperature";
  });
}

const RuleOutcome* forbidding_rule(const JudgedSystem& judged) {
  for (const RuleOutcome& outcome : judged.judgement.outcomes) {
    if (forbids_a_sheet(outcome)) return &outcome;
  }
  return nullptr;
}

std::optional<Quantity> purity_of(const Inquiry& inquiry, const Course& course) {
  const bool all_named = !inquiry.impurities.empty() && inquiry.impurities.size() == inquiry.file.impurities.size();
  if (!all_named) return std::nullopt;
  return course.quantity(dimension::kNumber, [](const Crystallization& run) {
    return run.in_crop_mg > 0 ? run.crop_product_mg / run.in_crop_mg : 1.0;
  });
}

void fill_numbers(BenchPlan& plan, const Inquiry& inquiry, const Course& course) {
  using Run = const Crystallization&;
  const double charge = course.charge_mg();
  plan.volume = course.quantity(dimension::kVolume, [](Run run) { return run.volume_ml; });
  plan.minimum_volume = course.quantity(dimension::kVolume, [](Run run) { return run.minimum_volume_ml; });
  plan.crop = course.quantity(dimension::kMass, [](Run run) { return run.in_crop_mg; });
  plan.recovery = course.quantity(dimension::kNumber, [charge](Run run) { return run.in_crop_mg / charge; });
  plan.recovery_limit = course.quantity(dimension::kNumber, [](Run run) { return run.recovery_limit; });
  plan.carried_share = course.quantity(dimension::kNumber, [](Run run) { return run.carried_share; });
  plan.purity = purity_of(inquiry, course);
  plan.crystals_from =
      summary(FactValue{course.crystals_from(), course.origin(), {}}, dimension::kTemperature);
  const auto row = [&](const char* where, double Crystallization::*mass) {
    plan.balance.push_back({where, course.mean(dimension::kMass, [mass](Run run) { return run.*mass; })});
  };
  row("crop", &Crystallization::in_crop_mg);
  row("liquor", &Crystallization::in_liquor_mg);
  row("wash", &Crystallization::in_wash_mg);
  row("filter", &Crystallization::on_filter_mg);
  row("transfers", &Crystallization::in_transfers_mg);
}

// Why the volume is none to work with, or nothing. A person who types one knows better than the prediction.
std::string volume_refused(const BenchPlan& plan, const Course& course, const std::optional<double>& volume_ml) {
  const Quantity& least = plan.minimum_volume;
  if (least.value > practice::kMostSolventMlMg * course.charge_mg()) {
    return fmt::format("one gram needs {:.0f} mL or more hot: unworkable, perhaps the poor half of a pair",
                       practice::kMostSolventMlMg * 1000);
  }
  const bool is_wide = least.low && least.high && *least.high > practice::kWidestVolume * *least.low;
  if (volume_ml || !is_wide) return {};
  return fmt::format("it may take anything from {} to dissolve hot: first make a tube (`firstcrop trials` says which), "
                     "or give a volume of your own (`--volume`)",
                     show_range(*least.low, *least.high, *find_unit("mL")));
}

void add_up_minutes(BenchPlan& plan) {
  for (const BenchStep& step : plan.steps) {
    if (!step.minutes) continue;
    Minutes& sum = step.name == "dry" ? plan.drying_minutes : plan.bench_minutes;
    sum.low += step.minutes->low;
    sum.high += step.minutes->high;
  }
}

}  // namespace

BenchPlan make_bench_plan(const SystemJudge& judge, const System& system, const std::optional<double>& volume_ml) {
  const Inquiry& inquiry = judge.inquiry();
  BenchPlan plan{judge.judge(system), {}, {}, {}, {}, {}, {}, {}, {}, {}, {}, {}, {}, {}, {}, {}, {}, {}, {}};
  judge.explain(plan.judged);
  if (const RuleOutcome* rule = forbidding_rule(plan.judged)) {
    plan.refused_because = rule->text;
    plan.refused_by = rule->rule.text;
    return plan;
  }
  Course::Plan way{volume_ml, holds(plan.judged, "plan.filters_hot", judge.book()),
                   holds(plan.judged, "plan.uses_charcoal", judge.book())};
  if (system.is_pair()) way.good_hot_k = hot_temperature_k(judge, System{{system.solvents[0]}, 1});
  const auto course = Course::follow(inquiry, plan.judged, way);
  if (!course) {
    plan.refused_because = "its solubility is not known well enough to plan with";
    return plan;
  }
  way.premixed = system.is_pair() && !course->good_dissolves_alone();
  set_plan_facts(plan.judged, *course, way);
  judge.explain(plan.judged);
  fill_numbers(plan, inquiry, *course);
  plan.refused_because = volume_refused(plan, *course, volume_ml);
  if (!plan.refused_because.empty()) return plan;
  const double extra = way.filters_hot ? practice::kFilterExtraShare : 0.0;
  const double most = std::min(plan.minimum_volume.high.value_or(plan.minimum_volume.value),
                               practice::kFlaskForMiddle * plan.minimum_volume.value);
  plan.vessel = choose_vessel(volume_ml.value_or(most) * (1 + extra), course->charge_mg());
  const Vessel largest =
      choose_vessel(volume_ml.value_or(plan.minimum_volume.high.value_or(most)) * (1 + extra), course->charge_mg());
  if (largest.nominal_ml * largest.count > plan.vessel.nominal_ml * plan.vessel.count) plan.larger_vessel = largest;
  plan.steps = make_steps(judge, plan, *course, way);
  place_outcomes(plan);
  add_up_minutes(plan);
  return plan;
}

}  // namespace firstcrop
