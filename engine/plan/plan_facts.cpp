#include "plan/plan_facts.hpp"

#include <algorithm>

#include "plan/bench_practice.hpp"

namespace firstcrop {
namespace {

class FrameWriter {
 public:
  FrameWriter(FactFrame& frame, Origin origin) : frame_(&frame), origin_(origin) {}
  void number(const char* fact, NumberColumn column) const {
    if (column.known == 0) return;
    frame_->set(reference(fact), FactValue{std::move(column), origin_, {}});
  }
  void flag(const char* fact, bool value) const {
    frame_->set(reference(fact), FactValue{FlagColumn::of(value), Origin::Given, {}});
  }

 private:
  [[nodiscard]] FactReference reference(const char* fact) const { return frame_->catalogue().find(fact).value(); }
  FactFrame* frame_;
  Origin origin_;
};

// A share of what the charge weighs, or of something else that is never nothing.
double share(double part, double whole) {
  return whole > 0 ? part / whole : 0.0;
}

const NumberColumn* number_of(const FactFrame& frame, const char* fact) {
  return std::get_if<NumberColumn>(&frame.get(frame.catalogue().find(fact).value()).value);
}

}  // namespace

void set_plan_facts(JudgedSystem& judged, const Course& course, const Course::Plan& plan) {
  const FrameWriter write(judged.frame, course.origin());
  const double charge = course.charge_mg();
  const auto volume = [&plan](const Crystallization& run) { return plan.volume_ml.value_or(run.minimum_volume_ml); };
  write.flag("plan.volume_typed", plan.volume_ml.has_value());
  write.number("plan.volume",
               plan.volume_ml ? NumberColumn::of(*plan.volume_ml) : course.column(volume));
  write.number("plan.minimum_volume", course.column([](const Crystallization& run) { return run.minimum_volume_ml; }));
  if (judged.system.is_pair()) {
    const double good = judged.system.first_fraction;
    write.flag("plan.premixed", plan.premixed);
    write.number("plan.good_volume", course.column([&](const Crystallization& run) { return good * volume(run); }));
    write.number("plan.poor_volume",
                 course.column([&](const Crystallization& run) { return (1 - good) * volume(run); }));
  }
  // A pair that is not mixed beforehand is filtered in the good solvent.
  const bool in_good_alone = judged.system.is_pair() && !plan.premixed;
  const double filtered_share = in_good_alone ? judged.system.first_fraction : 1.0;
  write.number("plan.extra_volume", course.column([&](const Crystallization& run) {
    return practice::kFilterExtraShare * filtered_share * volume(run);
  }));
  write.number("plan.hold_at", NumberColumn::of(course.saturation_k()));
  write.number("plan.charcoal", NumberColumn::of(practice::kCharcoalShare * charge));
  write.number("plan.crystals_from", course.crystals_from());
  write.number("plan.filter_above", course.crystals_in_funnel(practice::kFilterExtraShare, plan.premixed, plan.good_hot_k));
  write.number("plan.wash_volume", course.column([](const Crystallization& run) { return run.wash_volume_ml; }));
  write.number("plan.second_volume", course.column([](const Crystallization& run) { return run.second_volume_ml; }));
  write.number("plan.impurity_joins", course.column([](const Crystallization& run) { return run.impurity_joins_ml; }));
  write.number("plan.supersaturation", course.column([](const Crystallization& run) { return run.supersaturation; }));
  write.number("plan.expected_recovery",
               course.column([charge](const Crystallization& run) { return share(run.in_crop_mg, charge); }));
  write.number("plan.ice_gain", course.column([charge](const Crystallization& run) {
    return share(std::max(run.deposit_mg - run.undissolved_mg - run.room_deposit_mg, 0.0), charge);
  }));
  write.number("plan.second_crop",
               course.column([charge](const Crystallization& run) { return share(run.second_crop_mg, charge); }));
  ScenarioValues liquor{};
  ScenarioValues wash{};
  for (std::size_t k = 0; k < kScenarioCount; ++k) {
    liquor[k] = share(course.runs()[k].liquor_product_mg, course.product_mg(k));
    wash[k] = share(course.runs()[k].wash_loss_mg, course.product_mg(k));
  }
  write.number("plan.liquor_share", NumberColumn::of(liquor));
  write.number("plan.wash_loss", NumberColumn::of(wash));
  if (const NumberColumn* wet = number_of(judged.frame, "system.wet_melting_point")) {
    write.number("plan.oil_free_volume", course.volume_at(*wet));
  }
}

}  // namespace firstcrop
