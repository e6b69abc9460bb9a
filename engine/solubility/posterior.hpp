#pragma once

#include <cstddef>
#include <limits>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "solubility/state.hpp"

namespace firstcrop {

/// Error of the mixing rule for one pair of solvents: all observations of the pair share it, each with its
/// own size.
struct MixtureError {
  std::size_t first = 0;  ///< solvents of the pair, in any order
  std::size_t second = 0;
  double sd = 0;  ///< size at the composition of this observation [log10]
};

/// Something seen or measured about log10 S [mol per litre of solution] at one temperature: a value, or an
/// interval. It speaks of offset + sum of weight (level + enthalpy tau(T)) over the named solvents.
struct Observation {
  std::vector<std::pair<std::size_t, double>>
      weights;  ///< solvent and its weight; one of weight 1 for a single
  double offset = 0;
  double temperature_k = 298.15;
  std::optional<double> value;  ///< a measured number; nothing: the interval speaks
  double low = -std::numeric_limits<double>::infinity();
  double high = std::numeric_limits<double>::infinity();
  double noise_sd = 0.08;      ///< of the reading or of the measurement, above 0 [log10]
  double error_chance = 0.03;  ///< chance that an interval is wrong altogether, above 0 and below 1
  /// Measured elsewhere: it knows nothing of the scatter of the own laboratory, its own is in `noise_sd`.
  bool other_laboratory = false;
  std::optional<MixtureError> mixture_error;
  std::string label;  ///< what to call it when it contradicts others
  int place = 0;      ///< line in the file it comes from, handed back in the report
};

/// What became of one observation.
struct ObservationReport {
  std::string label;
  int place = 0;
  double predicted_mean = 0;  ///< expected from the model and all other observations [log10 mol/L]
  double predicted_sd = 0;    ///< of a reading there, noise included [log10]
  double model_mean = 0;      ///< expected from the model alone [log10 mol/L]
  double model_sd = 0;
  /// How far it lies from `predicted_mean` in units of `predicted_sd`; of an interval the nearest edge, 0 if
  /// inside.
  double surprise = 0;
  /// How far it was believed, 0 to 1: of a value the share of its weight that is left, of an interval the
  /// chance that it is right.
  double weight = 1;
  /// With |surprise| above 2: the observation (index into the reports) without which the surprise shrinks
  /// most; nothing if it contradicts the model rather than another observation.
  std::optional<std::size_t> contradicts;
};

/// What the observations of a pair taught about the error of the mixing rule there, in units of its spread
/// (mean 0 and sd 1 before any).
struct MixtureTerm {
  std::size_t first = 0;
  std::size_t second = 0;
  double mean = 0;
  double sd = 1;
};

struct Posterior {
  SolubilityState state;                   ///< as the own laboratory would find it
  SolubilityState without_scatter;         ///< the same without the scatter of the own laboratory
  std::vector<ObservationReport> reports;  ///< in the order of the observations
  std::vector<MixtureTerm> mixture_terms;  ///< one per observed pair, in the order of their solvents
  bool converged = false;                  ///< false: the states are those before the observations
};

/// Takes in all observations at once; their order has no influence.
///
/// A value is a Gaussian observation. One that lies more than 2 sd from what the model and all other
/// observations expect gets its variance enlarged until it lies at 2 sd. An interval is the moments of a
/// truncated normal, mixed with the chance that it is wrong, by expectation propagation (Minka 2001) to
/// 1e-10, in rare contradictions to 0.01; a surprising one may widen. `state` is one that initial_state (and
/// with_measured_enthalpies) made: its scatter is taken as not yet observed. Throws Error for an observation
/// without weights, with a solvent the state does not have, or with `noise_sd` or `error_chance` out of
/// range.
[[nodiscard]] Posterior update(const SolubilityState& state, const std::vector<Observation>& observations);

}  // namespace firstcrop
