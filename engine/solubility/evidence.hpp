#pragma once

namespace firstcrop {

/// A Gaussian over one number.
struct Belief {
  double mean = 0;
  double variance = 0;
};

/// What is believed after one piece of evidence.
struct Judged {
  Belief belief;
  double noise_variance = 0;  ///< of a value: after surprise
  double weight = 1;          ///< 0 to 1, see ObservationReport::weight
  double surprise = 0;        ///< in standard deviations, see ObservationReport::surprise
};

/// A measured value with Gaussian noise. Beyond 2 sd of surprise z the noise variance grows by (z^2/4 - 1)
/// times the whole variance, which puts the value at 2 sd. `variance` and `noise_variance` above 0.
[[nodiscard]] Judged judge_value(Belief before, double value, double noise_variance);

/// The number plus Gaussian noise lies between `low` and `high` (either may be infinite), or, by
/// `error_chance`, nothing is known: first two moments of the mixture of a truncated normal and the unchanged
/// one.
[[nodiscard]] Judged judge_interval(Belief before, double low, double high, double noise_variance,
                                    double error_chance);

}  // namespace firstcrop
