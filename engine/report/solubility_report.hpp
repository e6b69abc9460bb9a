#pragma once

#include <optional>
#include <string>
#include <vector>

#include "ranking/solubility_study.hpp"
#include "report/words.hpp"

namespace firstcrop {

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

/// Curves with their bands against temperature, logarithmic upward, labelled beside their ends: an SVG 1.1
/// picture 900 x 600. Measured systems have full lines, predicted ones dashed lines; colours are those of Okabe
/// and Ito, which colour-blind people tell apart. At most eight curves.
[[nodiscard]] std::string solubility_plot(const Inquiry& inquiry, const std::vector<SolubilityCurve>& curves);

}  // namespace firstcrop
