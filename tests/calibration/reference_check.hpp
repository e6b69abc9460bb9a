#pragma once

#include <string>

#include "calibration_table.hpp"
#include "library/library.hpp"

namespace firstcrop {

struct ReferenceCheck {
  bool passed = false;
  std::string text;  ///< largest differences
};

/// Fits the reference configuration and compares with what an implementation of the same equations in another
/// language gave: 20 solids outside the table, and 25 solids of the table left out of the fit. Everything
/// must agree to 0.002 log10. `folder` holds the two tables of figures.
[[nodiscard]] ReferenceCheck check_against_reference(const CalibrationTable& table, const Library& library,
                                                     const std::string& folder);

}  // namespace firstcrop
