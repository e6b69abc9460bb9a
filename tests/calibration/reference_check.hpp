#pragma once

#include <string>

#include "calibration_table.hpp"
#include "configuration.hpp"
#include "library/library.hpp"

namespace firstcrop {

struct ReferenceCheck {
  bool passed = false;
  std::string text;  ///< largest differences
};

/// Fits the configuration, the shipped or the `reference` one, and compares with what an implementation of
/// the same equations in another language gave: 20 solids outside the table, and at least 25 solids of the
/// table left out of the fit. Everything must agree to 0.002 log10. `folder` holds the tables of figures.
[[nodiscard]] ReferenceCheck check_against_reference(const CalibrationTable& table, const Library& library,
                                                     const Configuration& configuration, bool reference,
                                                     const std::string& folder);

}  // namespace firstcrop
