#include <algorithm>
#include <string>
#include <utility>
#include <vector>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "report/plan_report.hpp"

namespace firstcrop::report {
namespace {

constexpr double kMilligramsBelowMg = 500;
constexpr double kHoursFromMin = 120;

class SheetWriter {
 public:
  SheetWriter(const SystemJudge& judge, const BenchPlan& plan)
      : plan_(plan), names_(judge.names_of(plan.judged.system)), inquiry_(judge.inquiry()), library_(inquiry_.knowledge->library) {}

  Sheet write() const {
    Sheet out;
    out.title = fmt::format("Bench sheet: {} from {}", inquiry_.solute.name, system_name());
    out.head = head();
    out.always = cautions_of(plan_.always);
    for (const BenchStep& step : plan_.steps) out.steps.push_back(sheet_step(step));
    for (const BalanceRow& row : plan_.balance) {
      if (row.mass.value > 0) out.balance.emplace_back(place_name(row.where), balance_words(row.mass));
    }
    for (const Trouble& trouble : plan_.troubles) out.troubles.emplace_back(trouble.seen, trouble.advice.text);
    out.result_line = "Result: crude ______ g   crop ______ g   recovery ____ %   melts ____ to ____ °C   "
                      "colour ________";
    out.foot = "Ranges hold 8 times in 10; minutes, losses and what the cake holds are judged.";
    return out;
  }

 private:
  [[nodiscard]] std::string system_name() const { return spoken_name(plan_.judged.system, library_); }
  [[nodiscard]] Unit mass_unit() const {
    return *find_unit(inquiry_.aim.mass_mg < kMilligramsBelowMg ? "mg" : "g");
  }
  // What is small beside the charge is told in mg.
  [[nodiscard]] std::string shown_mass(const Quantity& mass) const {
    constexpr double kSmallMg = 100;
    const bool in_mg = mass.high.value_or(mass.value) < kSmallMg || mass_unit().symbol == "mg";
    return shown(mass, in_mg ? "mg" : "g");
  }
  [[nodiscard]] std::string balance_words(const Quantity& mass) const {
    Quantity mean = mass;
    mean.low.reset();
    mean.high.reset();
    const std::string middle = shown_mass(mean);
    const std::string range = shown_mass(mass);
    return middle == range ? middle : fmt::format("{} ({})", middle, range);
  }
  // Cautions that say the same of both solvents stand in one line.
  [[nodiscard]] std::vector<SheetCaution> cautions_of(const std::vector<RuleOutcome>& outcomes) const {
    std::vector<SheetCaution> out;
    std::vector<std::string> patterns;
    for (const RuleOutcome& outcome : outcomes) {
      std::string pattern = outcome.text;
      const std::string name = outcome.component ? names_.components[*outcome.component] : std::string();
      const std::size_t at = name.empty() ? std::string::npos : pattern.find(name);
      if (at != std::string::npos) pattern.replace(at, name.size(), "\n");
      const auto same = std::find(patterns.begin(), patterns.end(), pattern);
      if (same == patterns.end()) {
        out.push_back({outcome.level, outcome.text});
        patterns.push_back(pattern);
      } else if (at != std::string::npos) {
        std::string both = pattern;
        both.replace(at, 1, fmt::format("{}", fmt::join(names_.components, ", ")));
        out[static_cast<std::size_t>(same - patterns.begin())].text = both;
      }
    }
    return out;
  }
  [[nodiscard]] std::string shown_amount(const Quantity& quantity) const {
    return quantity.dimension == dimension::kMass ? shown_mass(quantity) : shown(quantity, "mL");
  }

  [[nodiscard]] std::string verdict() const {
    const Judgement& judgement = plan_.judged.judgement;
    std::string out = fmt::format("{} {}", system_name(), name_of(judgement.verdict));
    if (judgement.excluded) {
      out += ", excluded by a rule";
    } else if (judgement.chance) {
      out += fmt::format(", chance {}", percent(*judgement.chance));
    }
    const auto hot = quantity_of(plan_.judged, "system.hot_solubility");
    if (hot) out += fmt::format("; solubility {}", name_of(hot->origin));
    if (judgement.verdict != Verdict::Sound) {
      const std::string reason = main_reason(plan_.judged);
      if (!reason.empty()) out += ": " + reason;
    }
    return out;
  }

  [[nodiscard]] std::string expectation() const {
    std::string out = fmt::format("{} back ({} of the charge, limit {})", shown_mass(plan_.crop),
                                  shown(plan_.recovery, "%"), shown(plan_.recovery_limit, "%"));
    if (plan_.purity && plan_.purity->low.value_or(plan_.purity->value) >= 0.999) {
      out += "; purity over 99.9 %";
    } else if (plan_.purity) {
      out += fmt::format("; purity {}", shown_purity(*plan_.purity));
    } else {
      out += "; purity not told: no impurity is named with its structure";
    }
    return out + fmt::format("; {} of the dissolved impurities stay with it", shown(plan_.carried_share, "%"));
  }

  // Above 99 % the last digit is the one that counts.
  static std::string shown_purity(const Quantity& purity) {
    const auto digits = [](double share) { return fmt::format("{:.1f}", std::min(share * 100, 99.9)); };
    if (!purity.low || !purity.high) return digits(purity.value) + " %";
    const std::string low = digits(*purity.low);
    const std::string high = digits(*purity.high);
    return low == high ? low + " %" : fmt::format("{}-{} %", low, high);
  }

  static std::string shown_minutes(const Minutes& minutes) {
    if (minutes.high >= kHoursFromMin) {
      return fmt::format("{:.1f}-{:.1f} h", minutes.low / 60, minutes.high / 60);
    }
    return fmt::format("{:.0f}-{:.0f} min", minutes.low, minutes.high);
  }

  [[nodiscard]] std::vector<std::pair<std::string, std::string>> head() const {
    const std::string want = inquiry_.aim.want == "large-crystals" ? "large crystals" : inquiry_.aim.want;
    return {{"Verdict", verdict()},
            {"Expect", expectation()},
            {"Take", fmt::format("{}, at most two thirds full{}; {}", plan_.vessel.name,
                                 plan_.larger_vessel ? ", and a " + plan_.larger_vessel->name + " should it take more" : "",
                                 plan_.vessel.collector)},
            {"Time", fmt::format("{} at the bench, {} for drying; for {}", shown_minutes(plan_.bench_minutes),
                                 shown_minutes(plan_.drying_minutes), want)}};
  }

  [[nodiscard]] std::string amount_text(const BenchAmount& amount) const {
    const std::string quantity = shown_amount(amount.quantity);
    if (amount.what == "gain" || amount.what == "more" || amount.what == "crystals") {
      return fmt::format("brings {}", quantity);
    }
    if (amount.what == "lost") return fmt::format("costs {}", quantity);
    if (amount.what == "extra") return fmt::format("{} extra", quantity);
    if (amount.what == "off") return fmt::format("{} off again", quantity);
    if (amount.what == "liquor") return fmt::format("liquor to {}", quantity);
    return fmt::format("{} {}", quantity, amount.what);
  }

  [[nodiscard]] std::string at_text(const BenchStep& step) const {
    if (!step.at) return {};
    const std::string shown_at = shown(step.at, "°C");
    if (step.name == "dry") return "at most " + shown_at;
    if (step.name == "filter-hot") return "above " + shown(upper_end(*step.at), "°C");
    if (step.name == "cool") return "crystals near " + shown_at;
    return shown_at;
  }
  static Quantity upper_end(Quantity quantity) {
    quantity.value = quantity.high.value_or(quantity.value);
    quantity.low.reset();
    quantity.high.reset();
    return quantity;
  }

  [[nodiscard]] SheetStep sheet_step(const BenchStep& step) const {
    SheetStep out;
    out.title = step.name;
    std::replace(out.title.begin(), out.title.end(), '-', ' ');
    std::vector<std::string> amounts;
    for (const BenchAmount& amount : step.amounts) amounts.push_back(amount_text(amount));
    out.amounts = fmt::format("{}", fmt::join(amounts, ", "));
    out.at = at_text(step);
    if (step.minutes) out.minutes = shown_minutes(*step.minutes);
    for (const RuleOutcome& outcome : step.sentences) out.sentences.push_back(outcome.text);
    out.cautions = cautions_of(step.cautions);
    return out;
  }

  static std::string place_name(const std::string& where) {
    if (where == "liquor") return "in the liquor";
    if (where == "wash") return "in the wash";
    if (where == "filter") return "on the hot filter";
    return where == "transfers" ? "on glass and paper" : where;
  }

  const BenchPlan& plan_;
  Names names_;
  const Inquiry& inquiry_;
  const Library& library_;
};

}  // namespace

Sheet sheet_of(const SystemJudge& judge, const BenchPlan& plan) {
  return SheetWriter(judge, plan).write();
}

}  // namespace firstcrop::report
