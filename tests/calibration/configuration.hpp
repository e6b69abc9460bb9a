#pragma once

#include <string>
#include <utility>
#include <vector>

namespace firstcrop {

/// The free choices of a fit.
struct Configuration {
  double partition_weight = 0;       ///< of log10 K(gas to solvent) in the mean of mode structure
  bool with_doubtful = false;        ///< keep the curves that an audit distrusts
  std::string structure_variances;   ///< mode in variances.csv that mode structure takes
  bool weighted_similarity = false;  ///< weights of similarity-weights.csv; else all 1
  bool melting_point_process =
      false;  ///< mode structure foretells melting points by the process; else by ridge
  /// Name and melting point [K] of solids that have another one in the table.
  std::vector<std::pair<std::string, double>> other_melting_points;
};

/// What the project ships.
[[nodiscard]] inline Configuration shipped_configuration() {
  return {0.45, false, "structure", true, true, {}};
}
/// What the figures of the reference implementation were made with, and the melting points of its time.
[[nodiscard]] inline Configuration reference_configuration() {
  return {0.7,   true,  "structure-reference",
          false, false, {{"4-nitrobenzoic acid", 414.45}, {"dexibuprofen", 348.15}}};
}

}  // namespace firstcrop
