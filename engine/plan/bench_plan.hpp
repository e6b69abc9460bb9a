#pragma once

#include <optional>
#include <string>
#include <vector>

#include "plan/bench_minutes.hpp"
#include "plan/course.hpp"
#include "plan/vessel.hpp"
#include "ranking/rank.hpp"

namespace firstcrop {

/// An amount on the sheet, and what it is an amount of (`crude`, a solvent, `gain`, `lost`).
struct BenchAmount {
  std::string what;
  Quantity quantity;  ///< [mg] or [mL]
};

/// One thing to do, in the order of the work.
struct BenchStep {
  std::string name;  ///< weigh, dissolve, add-poor, charcoal, filter-hot, boil-back, cool, ice, collect, wash, dry,
                     ///< second-crop, waste
  std::vector<BenchAmount> amounts;
  std::optional<Quantity> at;  ///< [K]
  std::optional<Minutes> minutes;
  std::vector<RuleOutcome> sentences;  ///< advice
  std::vector<RuleOutcome> cautions;   ///< gravest first
};

/// Where a part of the charge ends up; the means add up to the charge.
struct BalanceRow {
  std::string where;  ///< crop, liquor, wash, filter, transfers
  Quantity mass;      ///< [mg] mean and 80 % range
};

/// What to do when something was seen that should not be.
struct Trouble {
  std::string seen;
  RuleOutcome advice;
};

/// A bench sheet for one solid and one system.
struct BenchPlan {
  JudgedSystem judged;
  /// Why there is no sheet: the reaction, the two liquids, the missing span, or what is not known. Empty: there is one.
  std::string refused_because;
  std::string refused_by;  ///< id of the rule, empty where it is no rule

  Vessel vessel;
  std::optional<Vessel> larger_vessel;  ///< to have ready, where the solid may take more than the vessel holds
  Quantity volume;          ///< [mL] as the solution is cooled
  Quantity minimum_volume;  ///< [mL]
  Quantity crop;            ///< [mg]
  Quantity recovery;        ///< crop over charge
  Quantity recovery_limit;  ///< of the product
  std::optional<Quantity> purity;         ///< product in the crop; nothing where no impurity has a structure
  Quantity carried_share;                 ///< of what stays dissolved: what comes along with the crop
  std::optional<Quantity> crystals_from;  ///< [K]; nothing where nothing separates
  std::vector<BenchStep> steps;
  std::vector<BalanceRow> balance;
  std::vector<Trouble> troubles;
  std::vector<RuleOutcome> always;  ///< what holds for the whole run, gravest first
  Minutes bench_minutes;            ///< of all steps but drying and a second crop
  Minutes drying_minutes;
};

/// Works out the sheet for a judged system (a pair with the better solvent first, at its ratio). `volume_ml`: the
/// solvent in all, where it was asked for; at least 0.
[[nodiscard]] BenchPlan make_bench_plan(const SystemJudge& judge, const System& system,
                                        const std::optional<double>& volume_ml);

}  // namespace firstcrop
