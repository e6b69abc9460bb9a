#pragma once

#include <optional>
#include <string>
#include <vector>

#include "report/words.hpp"
#include "systems/solubility_rows.hpp"

namespace firstcrop {

/// A pair over its composition.
struct PairSolubility {
  System best;  ///< at its most useful ratio, the better solvent first
  RatioWindow window;
  double hot_temperature_k = 0;
  std::optional<Quantity> cloud_volume;  ///< mL of the poorer per mL of the better, from a hot solution at 80 %
  std::vector<SolubilityRow> rows;       ///< by composition, then temperature
};

/// What `solubility` has to say.
struct SolubilityAnswer {
  std::vector<double> temperatures_k;
  std::vector<SolubilityRow> rows;  ///< systems in their order, each at every temperature
  std::vector<PairSolubility> pairs;
};

[[nodiscard]] std::string solubility_text(const Inquiry& inquiry, const SolubilityAnswer& answer,
                                          const Style& style);
[[nodiscard]] std::string solubility_json(const Inquiry& inquiry, const SolubilityAnswer& answer,
                                          const std::string& version, const std::string& data_fingerprint,
                                          const std::vector<Finding>& findings);

/// One curve of the plot: solubility against temperature, rising in temperature.
struct SolubilityCurve {
  System system;
  std::vector<SolubilityRow> rows;
};

/// Curves with their bands against temperature, logarithmic upward, labelled beside their ends: an SVG 1.1
/// picture 900 x 600. Measured systems have full lines, predicted ones dashed lines; colours are those of Okabe
/// and Ito, which colour-blind people tell apart. At most eight curves.
[[nodiscard]] std::string solubility_plot(const Inquiry& inquiry, const std::vector<SolubilityCurve>& curves);

}  // namespace firstcrop
