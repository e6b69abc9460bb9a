#pragma once

#include <optional>
#include <string>
#include <vector>

#include "ranking/system_judge.hpp"

namespace firstcrop {

/// A test tube that nobody has filled yet, with one of the things that may be seen in it.
struct ImaginedTube {
  double mass_mg = 50;
  double volume_ml = 1;
  SeenDissolved cold = SeenDissolved::Part;
  std::optional<SeenDissolved> hot;
  std::optional<SeenOnCooling> cooled;
  double probability = 0;  ///< of seeing this, by the scenarios of the system as it is known now
};

/// One thing made otherwise, and the verdict that it leads to.
struct Change {
  std::string fact;  ///< as `rules --facts` names it; of a tube the look that tells most
  std::optional<Quantity> from;
  std::optional<Quantity> to;
  std::optional<ImaginedTube> tube;  ///< where a tube brings the change; `from` and `to` are absent then
  Verdict verdict = Verdict::Doubtful;
  std::optional<double> chance;
  std::optional<double> score;
};

inline constexpr std::size_t kMostChanges = 3;
/// The coldest bath that the search tries, that of ice and salt [K].
inline constexpr double kColdestBathK = 253.15;

/// The nearest changes that give another verdict, found by judging the changed system again and not by rules of
/// thumb: another ratio of the pair, a colder bath (a warmer one for a sound system), a higher or lower heating
/// limit, one tube of 50 mg. What makes it better stands first, then what costs least to change; kMostChanges at
/// most. Empty where nothing of it changes the verdict.
[[nodiscard]] std::vector<Change> find_changes(const SystemJudge& judge, const JudgedSystem& judged);

/// The kinds of answer that a verdict can be.
enum class Standing {
  SpokenFor,     ///< sound or doubtful: rules speak for it, more or less
  Excluded,      ///< a rule excludes it
  NotSpokenFor,  ///< no rule excludes it, yet it has hardly a chance: no rule speaks for it
  Unknown        ///< a value is missing, so that it cannot be told
};

struct StandingAnswer {
  Standing standing = Standing::SpokenFor;
  std::string rule;                  ///< that excludes, or that costs most; empty where none was named
  std::vector<std::string> missing;  ///< facts, where it is unknown
  std::vector<std::string> reasons;  ///< why each of them is missing, empty where nobody said
};

/// What kind of answer an explained verdict is.
[[nodiscard]] StandingAnswer standing_of(const SystemJudge& judge, const JudgedSystem& judged);

}  // namespace firstcrop
