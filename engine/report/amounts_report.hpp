#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/finding.hpp"
#include "plan/claim_diagnosis.hpp"
#include "report/words.hpp"

namespace firstcrop {

/// Everything that `amounts` has to tell.
struct AmountsAnswer {
  ChargeAmounts charge;
  WrittenVolumes basis;
  std::optional<double> density_g_ml;  ///< of the solvent
  MassBalance balance;
  std::vector<ClaimDiagnosis> claims;
};

[[nodiscard]] std::string amounts_text(const AmountsAnswer& answer, const Style& style);
[[nodiscard]] std::string amounts_json(const AmountsAnswer& answer, const std::string& version,
                                       const std::vector<Finding>& findings);

/// One line of the sum: what, its value, and how it comes about.
struct SumLine {
  std::string what;
  std::string value;
  std::string sum;
};
/// The sum step by step, as far as the amounts go.
[[nodiscard]] std::vector<SumLine> sum_of(const AmountsAnswer& answer);

/// What cannot be, or should be known, about amounts that were typed.
struct AmountsRemark {
  std::string about;    ///< `volume`, `isolated`, ...
  std::string verdict;  ///< `below-minimum`, `above-limit`, ...
  std::string text;
};
[[nodiscard]] std::vector<AmountsRemark> remarks_on(const AmountsAnswer& answer);

/// The sentence about a claim: right, or wrong with the slip that gives it.
[[nodiscard]] std::string sentence_on(const ClaimDiagnosis& diagnosis);
/// `9.2 g`, with three figures, mg below 0.1 g.
[[nodiscard]] std::string grams(double mass_mg);
/// The value of a figure for people.
[[nodiscard]] std::string shown_claim(ClaimedFigure figure, double value);

}  // namespace firstcrop
