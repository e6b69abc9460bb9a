#pragma once

#include <cstddef>
#include <functional>
#include <optional>
#include <vector>

#include "calibration_table.hpp"

namespace firstcrop {

/// Median over the sources of one solid in one solvent.
struct SampleCell {
  std::size_t solid = 0;
  std::size_t solvent = 0;
  double level = 0;  ///< log10 mol/L at 298.15 K
  std::optional<double> enthalpy_kj_mol;
};

/// The solids and cells that one fit uses; cells by solid, then by the id of the solvent.
struct Sample {
  std::vector<CalibrationSolid> solids;
  std::vector<SampleCell> cells;
};

/// The curves of all solids that `wanted` accepts; doubtful ones only where asked for. Solids without a cell
/// drop out.
[[nodiscard]] Sample make_sample(const CalibrationTable& table, bool with_doubtful,
                                 const std::function<bool(const CalibrationSolid&)>& wanted);

/// The fold of a solid, 0 to 4: FNV-1a hash of its canonical SMILES without stereo marks, modulo 5, so that
/// stereoisomers stand together.
[[nodiscard]] int fold_of(const CalibrationSolid& solid);
inline constexpr int kFoldCount = 5;

/// The median; of an even number the mean of the middle two. `values` must not be empty.
[[nodiscard]] double median(std::vector<double> values);

}  // namespace firstcrop
