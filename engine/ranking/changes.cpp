#include "ranking/changes.hpp"

#include <algorithm>
#include <array>
#include <bit>
#include <cmath>

#include "systems/system_solubility.hpp"

namespace firstcrop {
namespace {

constexpr std::array<double, 11> kRatios{0.05, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 0.95};
constexpr double kBathStepK = 5;
constexpr double kLimitStepK = 10;
// Heating further than this is a job for another method.
constexpr double kHottestLimitK = 473.15;
constexpr double kLeastSpanK = 20;
constexpr double kTubeMassMg = 50;
constexpr std::array<double, 3> kTubeVolumesMl{0.5, 1, 2};
// What a change costs, so that changes of different kinds can be put in order: a tenth of volume, 10 K and a tube
// count alike.
constexpr double kEffortPerRatio = 10;
constexpr double kEffortPerK = 0.1;
constexpr double kEffortOfTube = 1;

int worth(Verdict verdict) {
  return verdict == Verdict::Sound ? 2 : verdict == Verdict::Doubtful ? 1 : 0;
}

double share_of(std::uint64_t scenarios) {
  return static_cast<double>(std::popcount(scenarios)) / static_cast<double>(kScenarioCount);
}

struct Found {
  Change change;
  double effort = 0;
};

class ChangeSearch {
 public:
  ChangeSearch(const SystemJudge& judge, const JudgedSystem& judged)
      : judge_(judge), judged_(judged), before_(judged.judgement.verdict) {}

  std::vector<Change> run() {
    search_ratio();
    search_bath();
    search_heating_limit();
    // What a rule excludes no tube brings back.
    if (!judged_.judgement.excluded && judged_.judgement.chance) search_tube();
    std::stable_sort(found_.begin(), found_.end(), [](const Found& left, const Found& right) {
      const int left_worth = worth(left.change.verdict);
      const int right_worth = worth(right.change.verdict);
      return left_worth != right_worth ? left_worth > right_worth : left.effort < right.effort;
    });
    std::vector<Change> out;
    for (Found& found : found_) {
      if (out.size() < kMostChanges) out.push_back(std::move(found.change));
    }
    return out;
  }

 private:
  // A better verdict is looked for; of a sound system only a worse one is left.
  [[nodiscard]] bool is_wanted(const Judgement& after) const {
    return before_ == Verdict::Sound ? after.verdict != before_ : worth(after.verdict) > worth(before_);
  }

  static Change change_to(const Judgement& after, const char* fact) {
    return {fact, std::nullopt, std::nullopt, std::nullopt, after.verdict, after.chance, after.score};
  }

  void add(Change change, double effort) { found_.push_back({std::move(change), effort}); }

  [[nodiscard]] std::optional<double> middle_of(const char* fact) const {
    const FactReference reference = judge_.catalogue().find(fact).value();
    const auto quantity =
        summary(judged_.frame.get(reference), judge_.catalogue().info(reference.fact).dimension);
    return quantity ? std::optional(quantity->value) : std::nullopt;
  }

  // Judges the system as `inquiry` has it; nothing where rules and facts form no order, which cannot be here.
  [[nodiscard]] std::optional<JudgedSystem> judge_in(const Inquiry& inquiry) const {
    Findings untold;
    const auto other = SystemJudge::create(judge_.catalogue(), inquiry, judge_.book(), untold);
    if (!other) return std::nullopt;
    return other->judge(judged_.system);
  }

  // The first of the values, nearest first, that gives the verdict looked for.
  void search_aim(const char* fact, double Aim::*member, double from, const std::vector<double>& values) {
    Inquiry changed = judge_.inquiry();
    for (const double value : values) {
      changed.aim.*member = value;
      const auto after = judge_in(changed);
      if (!after || !is_wanted(after->judgement)) continue;
      Change change = change_to(after->judgement, fact);
      change.from = temperature(from);
      change.to = temperature(value);
      add(std::move(change), std::abs(value - from) * kEffortPerK);
      return;
    }
  }

  static Quantity temperature(double value_k) {
    Quantity out;
    out.value = value_k;
    out.dimension = dimension::kTemperature;
    return out;
  }

  void search_ratio() {
    if (!judged_.system.is_pair()) return;
    const double from = judged_.system.first_fraction;
    std::vector<double> ratios(kRatios.begin(), kRatios.end());
    std::stable_sort(ratios.begin(), ratios.end(), [from](double left, double right) {
      return std::abs(left - from) < std::abs(right - from);
    });
    for (const double ratio : ratios) {
      if (std::abs(ratio - from) < 1e-9) continue;
      const JudgedSystem after = judge_.judge(System{judged_.system.solvents, ratio});
      if (!is_wanted(after.judgement)) continue;
      Change change = change_to(after.judgement, "system.good_fraction");
      change.from = Quantity{};
      change.from->value = from;
      change.to = Quantity{};
      change.to->value = ratio;
      add(std::move(change), std::abs(ratio - from) * kEffortPerRatio);
      return;
    }
  }

  void search_bath() {
    const Aim& aim = judge_.inquiry().aim;
    const auto cold = middle_of("system.cold_temperature");
    std::vector<double> values;
    if (before_ == Verdict::Sound) {
      // Whatever is gained, this much may be given up.
      for (double bath = aim.bath_temperature_k + kBathStepK; bath < aim.room_temperature_k + 0.5; bath += kBathStepK)
        values.push_back(bath);
    } else if (cold && *cold < aim.bath_temperature_k + 0.5) {
      // Where the solvent would freeze a colder bath brings nothing.
      for (double bath = aim.bath_temperature_k - kBathStepK; bath > kColdestBathK - 0.5; bath -= kBathStepK)
        values.push_back(bath);
    }
    search_aim("aim.bath_temperature", &Aim::bath_temperature_k, aim.bath_temperature_k, values);
  }

  void search_heating_limit() {
    const Aim& aim = judge_.inquiry().aim;
    const auto hot = middle_of("system.hot_temperature");
    const auto cold = middle_of("system.cold_temperature");
    const auto boiling = middle_of("system.boiling_point");
    if (!hot || !cold || !boiling) return;
    const bool is_limited = aim.heating_limit_k < *hot + 0.5;
    if (before_ != Verdict::Sound && is_limited) {
      std::vector<double> higher;
      for (double limit = aim.heating_limit_k + kLimitStepK;
           limit <= std::min(*boiling + kLimitStepK, kHottestLimitK); limit += kLimitStepK)
        higher.push_back(limit);
      search_aim("aim.heating_limit", &Aim::heating_limit_k, aim.heating_limit_k, higher);
    }
    std::vector<double> lower;
    const double first = std::ceil((*hot - 273.15) / kLimitStepK - 1) * kLimitStepK + 273.15;
    for (double limit = first; limit > *cold + kLeastSpanK; limit -= kLimitStepK) lower.push_back(limit);
    search_aim("aim.heating_limit", &Aim::heating_limit_k, aim.heating_limit_k, lower);
  }

  // --- tubes

  // In which scenarios all of a tube dissolves at room temperature and hot, and nothing stays in ice.
  struct TubeScenarios {
    std::uint64_t cold_all = 0;
    std::uint64_t hot_all = 0;
  };

  [[nodiscard]] TubeScenarios scenarios_of_tube(const SystemSolubility& solubility, double volume_ml,
                                                double boiling_k) const {
    const double charge = kTubeMassMg / volume_ml;
    const NumberColumn room = solubility.at(NumberColumn::of(judge_.inquiry().aim.room_temperature_k));
    const NumberColumn hot = solubility.at(NumberColumn::of(boiling_k));
    TubeScenarios out;
    for (std::size_t k = 0; k < kScenarioCount; ++k) {
      const std::uint64_t bit = std::uint64_t{1} << k;
      if (room.at(k) >= charge) out.cold_all |= bit;
      if (hot.at(k) >= charge) out.hot_all |= bit;
    }
    return out;
  }

  void try_tube(ImaginedTube tube, const char* fact) {
    const Inquiry& inquiry = judge_.inquiry();
    Trial trial;
    trial.tube = "imagined";
    trial.system.text = name_of(judged_.system, inquiry.knowledge->library);
    trial.mass = amount(tube.mass_mg, "mg");
    trial.volume = amount(tube.volume_ml, "mL");
    trial.cold = tube.cold;
    trial.hot = tube.hot;
    trial.cooled = tube.cooled;
    const Inquiry taught = with_tubes(inquiry, {trial});
    const auto after = judge_in(taught);
    // A tube may speak either way, so both are worth telling.
    if (!after || after->judgement.verdict == before_) return;
    Change change = change_to(after->judgement, fact);
    change.tube = tube;
    // What is unlikely to be seen is further away.
    add(std::move(change), kEffortOfTube / std::max(tube.probability, 0.05));
  }

  static WrittenQuantity amount(double canonical, const char* unit) {
    return {canonical, canonical, find_unit(unit).value()};
  }

  // That an oil which a tube of the file showed stays away.
  [[nodiscard]] double chance_without_oil() const {
    const FactValue& value = judged_.frame.get(judge_.catalogue().find("system.after_oil").value());
    const auto* column = std::get_if<NumberColumn>(&value.value);
    if (column == nullptr) return 1;
    double sum = 0;
    for (std::size_t k = 0; k < kScenarioCount; ++k) sum += column->at(k);
    return sum / static_cast<double>(kScenarioCount);
  }

  void search_tube() {
    const auto solubility = SystemSolubility::create(judge_.inquiry(), judged_.system);
    const auto boiling = middle_of("system.boiling_point");
    if (!solubility || !boiling) return;
    // The tube in which crystals are likeliest; where none is to be hoped for, the weakest one.
    double best_volume = kTubeVolumesMl.back();
    double best_chance = 0;
    TubeScenarios seen;
    for (const double volume : kTubeVolumesMl) {
      const TubeScenarios own = scenarios_of_tube(*solubility, volume, *boiling);
      const double chance = share_of(own.hot_all & ~own.cold_all);
      if (chance > best_chance) {
        best_chance = chance;
        best_volume = volume;
      }
    }
    seen = scenarios_of_tube(*solubility, best_volume, *boiling);
    ImaginedTube tube;
    tube.mass_mg = kTubeMassMg;
    tube.volume_ml = best_volume;
    if (best_chance > 0) {
      tube.hot = SeenDissolved::All;
      tube.cooled = SeenOnCooling::Crystals;
      tube.probability = best_chance * chance_without_oil();
      try_tube(tube, "trial.cooled");
    }
    if (const double chance = share_of(~seen.hot_all & ~seen.cold_all); chance > 0) {
      tube.hot = SeenDissolved::Part;
      tube.cooled.reset();
      tube.probability = chance;
      try_tube(tube, "trial.hot");
    }
    if (const double chance = share_of(seen.cold_all); chance > 0) {
      tube.cold = SeenDissolved::All;
      tube.hot.reset();
      tube.cooled.reset();
      tube.probability = chance;
      try_tube(tube, "trial.cold");
    }
  }

  const SystemJudge& judge_;
  const JudgedSystem& judged_;
  Verdict before_;
  std::vector<Found> found_;
};

std::string reason_for(const JudgedSystem& judged, const std::string& fact) {
  const auto reference = judged.frame.catalogue().find(fact);
  if (!reference) return {};
  const auto* unknown = std::get_if<Unknown>(&judged.frame.get(*reference).value);
  return unknown != nullptr ? unknown->reason : std::string();
}

}  // namespace

std::vector<Change> find_changes(const SystemJudge& judge, const JudgedSystem& judged) {
  return ChangeSearch(judge, judged).run();
}

StandingAnswer standing_of(const SystemJudge& judge, const JudgedSystem& judged) {
  const Judgement& judgement = judged.judgement;
  StandingAnswer out;
  if (judgement.deciding_rule) out.rule = judge.book().rules()[*judgement.deciding_rule].id.text;
  if (judgement.excluded) {
    out.standing = Standing::Excluded;
    return out;
  }
  const auto is_open = [&judgement, &judge](const RuleOutcome& outcome) {
    if (outcome.missing.empty()) return false;
    // Without a chance every open rule is to blame, else the one that decides.
    if (!judgement.chance) return judge.book().bears_on_chance(outcome.rule_index);
    return judgement.deciding_rule == outcome.rule_index;
  };
  for (const RuleOutcome& outcome : judgement.outcomes) {
    if (!is_open(outcome)) continue;
    for (const std::string& fact : outcome.missing) {
      if (std::find(out.missing.begin(), out.missing.end(), fact) != out.missing.end()) continue;
      out.missing.push_back(fact);
      out.reasons.push_back(reason_for(judged, fact));
    }
  }
  const bool decides_unknown = judgement.verdict != Verdict::Sound && !out.missing.empty();
  if (!judgement.chance || decides_unknown) {
    out.standing = Standing::Unknown;
  } else if (judgement.verdict == Verdict::Unfit) {
    out.standing = Standing::NotSpokenFor;
  }
  return out;
}

}  // namespace firstcrop
