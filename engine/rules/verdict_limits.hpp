#pragma once

#include "base/finding.hpp"
#include "rules/expression.hpp"

namespace firstcrop {

/// The limits between sound, doubtful and unfit. They stand in a rule file under `verdict:`
///
///     verdict:
///       chance: {of: system.works}            # the flag whose probability is the chance
///       sound: {score: 0.6, judged: 0.7, weak_grade: 0.3, heavy_weight: 1.5}   # `chance: 0.5` may be added
///       doubtful: {exclusion: 0.1}            # an exclusion this probable, or unknown: at most doubtful
///       unfit: {exclusion: 0.9, chance: 0.1}  # an exclusion this probable; a chance below
///       caution: {probability: 0.1}           # a caution or advice this probable is given
///       words: {high: 0.75, low: 0.4}         # a grade from `high` on is high, below `low` is low
///
/// All numbers are shares from 0 to 1, except `heavy_weight`, a weight as rules carry it. Sound needs at
/// least `score`, at least the share `judged` of the weights, no grade below `weak_grade` in a rule of at
/// least `heavy_weight`, no exclusion as probable as `doubtful`, no caution that says `at_most: doubtful`,
/// and at least `chance` where that is given.
struct VerdictLimits {
  FactReference chance_of;
  double sound_score = 0;
  double sound_judged = 0;
  double sound_weak_grade = 0;
  double sound_heavy_weight = 0;
  double sound_chance = 0;
  double doubtful_exclusion = 0;
  double unfit_exclusion = 0;
  double unfit_chance = 0;
  double caution_probability = 0;
  double high_grade = 0;
  double low_grade = 0;
  Place place;
};

}  // namespace firstcrop
