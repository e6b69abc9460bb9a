#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "library/library.hpp"
#include "phase/unifac_parameters.hpp"
#include "solubility/model_file.hpp"

namespace firstcrop {

/// Traits of a solvent for which the solubility model lacks some: a weighted mean over the solvents of the model that
/// are most like it in what its record holds.
struct BorrowedTraits {
  SolventTraits traits;  ///< with the spread that borrowing adds
  std::vector<std::pair<SolventId, double>> lenders;  ///< the largest weight first; weights sum to 1
  std::vector<std::string> compared;  ///< properties that decided, in words
  std::vector<std::string> helpful;   ///< keys that would tell more and are not in the record
};

/// Nothing where the record says nothing of what the solvent dissolves (structure, classes, polarity, Hansen or Abraham
/// parameters, log P, permittivity, dipole), or where the model knows no solvent to lend. The solvent itself (by id) and `left_out` never lend.
[[nodiscard]] std::optional<BorrowedTraits> borrow_traits(const Solvent& solvent, const Library& library,
                                                          const UnifacParameters& parameters,
                                                          const SolubilityModel& model,
                                                          std::optional<SolventId> left_out = std::nullopt);

}  // namespace firstcrop
