#include "plan/bench_steps.hpp"

#include <algorithm>
#include <map>

#include "plan/bench_practice.hpp"

namespace firstcrop {
namespace {

std::optional<Quantity> fact_quantity(const JudgedSystem& judged, const char* fact) {
  const Catalogue& catalogue = judged.frame.catalogue();
  const FactReference reference = catalogue.find(fact).value();
  return summary(judged.frame.get(reference), catalogue.info(reference.fact).dimension);
}

Quantity certain(double value, const Dimension& dimension, Origin origin) {
  Quantity out;
  out.value = value;
  out.dimension = dimension;
  out.origin = origin;
  return out;
}

// Builds the steps one by one; each looks only at what it needs.
class StepMaker {
 public:
  StepMaker(const SystemJudge& judge, const BenchPlan& plan, const Course& course, const Course::Plan& way)
      : book_(judge.book()), inquiry_(judge.inquiry()), plan_(plan), course_(course), way_(way) {}

  std::vector<BenchStep> make() {
    weigh();
    dissolve();
    if (way_.uses_charcoal) charcoal();
    if (way_.filters_hot) filter_hot();
    if (plan_.judged.system.is_pair() && !way_.premixed) add_poor();
    cool();
    ice();
    collect();
    wash();
    dry();
    second_crop();
    add("waste", Minutes{5, 10});
    return std::move(steps_);
  }

 private:
  BenchStep& add(const char* name, const std::optional<Minutes>& minutes) {
    steps_.push_back({name, {}, std::nullopt, minutes, {}, {}});
    return steps_.back();
  }
  [[nodiscard]] std::optional<Quantity> fact(const char* name) const { return fact_quantity(plan_.judged, name); }
  [[nodiscard]] bool holds(const char* name) const { return firstcrop::holds(plan_.judged, name, book_); }
  [[nodiscard]] std::string solvent(std::size_t part) const {
    return inquiry_.knowledge->library.solvent(plan_.judged.system.solvents[part]).id;
  }
  void amount(BenchStep& step, const std::string& what, const std::optional<Quantity>& quantity) const {
    if (quantity) step.amounts.push_back({what, *quantity});
  }

  void weigh() {
    const Origin origin = inquiry_.aim.mass_given ? Origin::Given : Origin::Assumed;
    amount(add("weigh", Minutes{3, 10}), "crude", certain(course_.charge_mg(), dimension::kMass, origin));
  }

  void dissolve() {
    BenchStep& step = add("dissolve", dissolving_minutes(course_.charge_mg()));
    const bool is_pair = plan_.judged.system.is_pair();
    amount(step, solvent(0), fact(is_pair ? "plan.good_volume" : "plan.volume"));
    if (is_pair && way_.premixed) amount(step, solvent(1), fact("plan.poor_volume"));
    if (is_pair && !way_.premixed) {
      step.at = certain(way_.good_hot_k, dimension::kTemperature, Origin::Calculated);
    } else {
      step.at = fact("plan.hold_at");
    }
  }

  void charcoal() {
    BenchStep& step = add("charcoal", Minutes{10, 20});
    amount(step, "charcoal", fact("plan.charcoal"));
  }

  void filter_hot() {
    const auto extra = fact("plan.extra_volume");
    BenchStep& step = add("filter-hot", Minutes{5, 20});
    amount(step, "extra", extra);
    step.at = fact("plan.filter_above");
    BenchStep& back = add("boil-back", extra ? std::optional(boiling_off_minutes(extra->value)) : std::nullopt);
    amount(back, "off", extra);
  }

  void add_poor() {
    BenchStep& step = add("add-poor", Minutes{5, 15});
    amount(step, solvent(1), fact("plan.poor_volume"));
    step.at = certain(std::min(way_.good_hot_k, course_.saturation_k()), dimension::kTemperature, Origin::Calculated);
  }

  void cool() {
    const auto from = fact("plan.crystals_from");
    const double hot = fact("plan.hold_at").value_or(Quantity{}).value;
    BenchStep& step =
        add("cool", cooling_minutes(plan_.volume.value, hot - inquiry_.aim.room_temperature_k));
    if (inquiry_.aim.want == "large-crystals") step.minutes = Minutes{720, 2880};
    amount(step, "crystals", course_.quantity(dimension::kMass, [](const Crystallization& run) {
      return run.room_deposit_mg;
    }));
    step.at = from;
  }

  void ice() {
    const auto cold = fact("system.cold_temperature");
    const bool colder = cold && cold->value < inquiry_.aim.room_temperature_k - practice::kIceSpanK;
    if (!colder || inquiry_.aim.want == "large-crystals") return;
    BenchStep& step = add("ice", ice_minutes(plan_.volume.value));
    amount(step, "more", course_.quantity(dimension::kMass, [](const Crystallization& run) {
      return std::max(run.deposit_mg - run.undissolved_mg - run.room_deposit_mg, 0.0);
    }));
    step.at = cold;
  }

  void collect() {
    BenchStep& step = add("collect", course_.charge_mg() < practice::kTubeChargeMg ? Minutes{5, 15} : Minutes{5, 20});
    step.at = fact("system.cold_temperature");
  }

  void wash() {
    BenchStep& step = add("wash", Minutes{2, 10});
    const auto& system = plan_.judged.system;
    amount(step, system.is_pair() ? "the same mixture" : solvent(0), fact("plan.wash_volume"));
    amount(step, "lost", course_.quantity(dimension::kMass, [](const Crystallization& run) {
      return run.wash_loss_mg;
    }));
  }

  void dry() {
    double boiling_k = 0;
    for (const SolventId id : plan_.judged.system.solvents) {
      boiling_k = std::max(boiling_k, inquiry_.knowledge->library.solvent(id).boiling_point_k->value);
    }
    const double water = fact("system.water_fraction").value_or(Quantity{}).value;
    const auto below = fact("plan.dry_below");
    const bool bears_warmth = below && below->low.value_or(below->value) > inquiry_.aim.room_temperature_k + 15;
    BenchStep& step = add("dry", drying_minutes(boiling_k, water, bears_warmth));
    if (!below || holds("plan.keeps_moist") || holds("solute.may_sublime")) return;
    const double highest = std::max(below->low.value_or(below->value), inquiry_.aim.room_temperature_k);
    step.at = certain(highest, dimension::kTemperature, Origin::Calculated);
  }

  void second_crop() {
    const auto gain = fact("plan.second_crop");
    if (!gain || holds("plan.keeps_moist") || gain->high.value_or(gain->value) < practice::kSecondCropShare) return;
    BenchStep& step = add("second-crop", std::nullopt);
    amount(step, "liquor", fact("plan.second_volume"));
    amount(step, "gain", course_.quantity(dimension::kMass, [](const Crystallization& run) {
      return run.second_crop_mg;
    }));
  }

  const RuleBook& book_;
  const Inquiry& inquiry_;
  const BenchPlan& plan_;
  const Course& course_;
  const Course::Plan& way_;
  std::vector<BenchStep> steps_;
};

// The step of the sheet at which a step of the rules is met; the first that the sheet has.
const std::vector<std::string>& places_of(const std::string& step) {
  static const std::map<std::string, std::vector<std::string>> kPlaces{
      {"dissolving", {"weigh"}},
      {"heating", {"dissolve"}},
      {"mixing", {"add-poor", "dissolve"}},
      {"charcoal", {"charcoal", "dissolve"}},
      {"filtration", {"filter-hot", "collect"}},
      {"cooling", {"cool"}},
      {"collecting", {"collect"}},
      {"washing", {"wash"}},
      {"drying", {"dry"}},
      {"evaporation", {"second-crop", "boil-back", "waste"}},
      {"storage", {"dry"}},
      {"waste", {"waste"}}};
  static const std::vector<std::string> kNowhere;
  const auto found = kPlaces.find(step);
  return found != kPlaces.end() ? found->second : kNowhere;
}

const char* seen_of(const std::string& step) {
  static const std::map<std::string, const char*> kSeen{{"if-no-crystals", "nothing crystallizes"},
                                                        {"if-oil", "an oil comes"},
                                                        {"if-clogged", "the funnel clogs"},
                                                        {"if-coloured", "the colour stays"},
                                                        {"if-low-recovery", "little comes back"}};
  const auto found = kSeen.find(step);
  return found != kSeen.end() ? found->second : nullptr;
}

BenchStep* step_for(BenchPlan& plan, const RuleOutcome& outcome) {
  for (const std::string& name : places_of(outcome.step)) {
    const auto found = std::find_if(plan.steps.begin(), plan.steps.end(),
                                    [&name](const BenchStep& step) { return step.name == name; });
    if (found != plan.steps.end()) return &*found;
  }
  return nullptr;
}

bool says_the_same(const std::vector<RuleOutcome>& outcomes, const RuleOutcome& outcome) {
  return std::any_of(outcomes.begin(), outcomes.end(),
                     [&outcome](const RuleOutcome& other) { return other.text == outcome.text; });
}

// One cure for what is seen: where the scenarios leave two open, the likelier one.
void add_trouble(std::vector<Trouble>& troubles, const Trouble& trouble) {
  const auto same = std::find_if(troubles.begin(), troubles.end(),
                                 [&](const Trouble& other) { return other.seen == trouble.seen; });
  if (same == troubles.end()) {
    troubles.push_back(trouble);
  } else if (trouble.advice.probability.value_or(0) > same->advice.probability.value_or(0)) {
    *same = trouble;
  }
}

void gravest_first(std::vector<RuleOutcome>& outcomes) {
  std::stable_sort(outcomes.begin(), outcomes.end(), [](const RuleOutcome& left, const RuleOutcome& right) {
    return static_cast<int>(left.level) > static_cast<int>(right.level);
  });
}

}  // namespace

bool holds(const JudgedSystem& judged, const char* fact, const RuleBook& book) {
  const auto* flag =
      std::get_if<FlagColumn>(&judged.frame.get(judged.frame.catalogue().find(fact).value()).value);
  return flag != nullptr && flag->probability().value_or(0) >= book.limits().caution_probability;
}

std::vector<BenchStep> make_steps(const SystemJudge& judge, const BenchPlan& plan, const Course& course,
                                  const Course::Plan& way) {
  return StepMaker(judge, plan, course, way).make();
}

void place_outcomes(BenchPlan& plan) {
  for (const RuleOutcome& outcome : plan.judged.judgement.outcomes) {
    const bool speaks = (outcome.kind == RuleKind::Caution || outcome.kind == RuleKind::Advice) &&
                        outcome.outcome == Outcome::Fires && !outcome.text.empty();
    if (!speaks) continue;
    if (const char* seen = seen_of(outcome.step)) {
      add_trouble(plan.troubles, {seen, outcome});
      continue;
    }
    BenchStep* step = step_for(plan, outcome);
    std::vector<RuleOutcome>& place = step == nullptr                        ? plan.always
                                      : outcome.kind == RuleKind::Advice ? step->sentences
                                                                         : step->cautions;
    if (!says_the_same(place, outcome)) place.push_back(outcome);
  }
  gravest_first(plan.always);
  for (BenchStep& step : plan.steps) gravest_first(step.cautions);
  static const std::vector<std::string> kOrder{"nothing crystallizes", "an oil comes", "the funnel clogs",
                                               "the colour stays", "little comes back"};
  std::stable_sort(plan.troubles.begin(), plan.troubles.end(), [](const Trouble& left, const Trouble& right) {
    return std::find(kOrder.begin(), kOrder.end(), left.seen) < std::find(kOrder.begin(), kOrder.end(), right.seen);
  });
}

}  // namespace firstcrop
