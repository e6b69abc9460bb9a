#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "ranking/rank.hpp"
#include "trials/tube_value.hpp"

namespace firstcrop {

/// What to do next.
enum class TrialAdvice {
  Try,      ///< a tube that is worth its while
  Confirm,  ///< no tube promises a better choice, and the choice was never seen in one
  Stop,     ///< no tube is worth much, and the choice was seen in one
  Pair,     ///< no single solvent is likely to work: a pair first
  Nothing,  ///< no solvent may be tried
  Refused   ///< the solid is not to be heated
};
/// `try`, `confirm`, `stop`, `pair`, `nothing`, `refused`.
[[nodiscard]] std::string_view name_of(TrialAdvice advice);

/// A solvent that may be tried.
struct TrialSolvent {
  JudgedSystem judged;  ///< explained
  Bottle bottle;
  double boiling_k = 0;
  Expectation expected;
  bool tubed = false;  ///< stands alone in a tube of the file

  [[nodiscard]] SolventId id() const { return judged.system.solvents.front(); }
  /// Heated to the boil; else the bath is held lower.
  [[nodiscard]] bool is_hot_at_boil() const { return bottle.hot_k > boiling_k - 1.5; }
  /// Looked at as cold as ice makes it; else warmer, since the solvent freezes or there is no ice.
  [[nodiscard]] bool is_cooled_in_ice() const { return bottle.cold_k < 281.15; }
};

/// What may be seen, told together where it leads to the same.
enum class TubeSight { ColdAll, HotThenCrystals, HotStaysClear, HotPart, HotNothing };
inline constexpr std::array<TubeSight, 5> kSights{TubeSight::HotThenCrystals, TubeSight::ColdAll,
                                                  TubeSight::HotStaysClear, TubeSight::HotPart,
                                                  TubeSight::HotNothing};

/// One outcome of a tube and what follows.
struct TubeOutcome {
  TubeSight sight = TubeSight::HotPart;
  double chance = 0;
  std::size_t choice = 0;  ///< index into the solvents that may be tried: the choice after it
  double usefulness = 0;   ///< expected of that choice
  double own = 0;          ///< expected of the solvent in the tube
  std::vector<std::string> advice;  ///< what the rules say of such a tube
};

/// Solvent added to a tube of the file instead of weighing again.
struct TopUp {
  std::string tube;
  double volume_ml = 0;
};

struct ProposedTube {
  std::size_t solvent = 0;  ///< index into the solvents that may be tried
  TubeSize size;
  double gain = 0;  ///< promised by the draws, as usefulness
  std::optional<TopUp> top_up;
  std::vector<TubeOutcome> outcomes;  ///< by chance, those above 1 %
  std::vector<RuleOutcome> cautions;  ///< cautions and advice for handling this tube

  /// What to print: half of what is promised came true on solids that the model had not seen.
  [[nodiscard]] double worth() const { return gain / 2; }
};

/// A pair to try where no single solvent is likely to work.
struct ProposedPair {
  JudgedSystem judged;  ///< at its best ratio, explained; the good solvent first
  TubeSize in_good;     ///< solid, and good solvent to begin with
  double hot_k = 0;     ///< of the good solvent
  std::optional<Quantity> cloud_ml;  ///< poor solvent until the cloud
  double chance = 0;  ///< that the good one dissolves at least 50 mg/mL at room temperature, 16 times the poor one
  std::vector<RuleOutcome> cautions;
};

struct LeftOut {
  System system;
  std::string rule;
  std::string text;
};

/// What trials to make, before any is learned from.
struct TrialPlan {
  TrialAdvice advice = TrialAdvice::Nothing;
  std::string refusal;                 ///< of a solid that is not to be heated
  std::vector<TrialSolvent> solvents;  ///< that may be tried, best first
  std::vector<ProposedTube> tubes;     ///< best first, one a solvent
  std::optional<ProposedPair> pair;
  double best_gain = 0;      ///< of any tube
  double best_or_close = 0;  ///< chance that no solvent beats the choice by more than 0.05
  double any_works = 0;      ///< chance that some single solvent works
  std::vector<LeftOut> left_out;
  std::vector<NotJudgedSystem> not_judged;

  [[nodiscard]] const TrialSolvent& choice() const { return solvents.front(); }
};

/// Solid for one tube [mg]: a twentieth of the crude where its mass is known, between 10 and 50 mg; else 50 mg. Tubes should
/// not eat the crude.
[[nodiscard]] double usual_tube_mass_mg(const Aim& aim);

struct TrialOptions {
  double mass_mg = 50;    ///< of one tube
  std::size_t tubes = 3;  ///< how many are told
};

/// Below this gain a tube is not worth it.
inline constexpr double kStopBelow = 0.02;
/// Usefulness that counts as no difference.
inline constexpr double kCloseUsefulness = 0.05;

/// Works out what to try. A solvent that a rule excludes is never proposed.
[[nodiscard]] TrialPlan plan_trials(const SystemJudge& judge, const TrialOptions& options);

/// The solvents of the shelf that no rule excludes, with their working temperatures, in the order of the library.
[[nodiscard]] std::vector<TrialSolvent> solvents_to_try(const SystemJudge& judge, std::vector<LeftOut>& left_out,
                                                        std::vector<NotJudgedSystem>& not_judged);

/// The sentences of those rules that ask what was seen in a tube; the frame must hold the facts of a trial.
[[nodiscard]] std::vector<std::string> what_rules_say_of_outcome(const JudgedSystem& explained);

/// State of the solvents that may be tried, in their order; the bottles point into it.
[[nodiscard]] SolubilityState state_of(const SolubilityState& whole, const KnowledgeBase& knowledge,
                                       const std::vector<TrialSolvent>& solvents);

}  // namespace firstcrop
