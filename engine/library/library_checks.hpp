#pragma once

#include "base/finding.hpp"
#include "library/library.hpp"

namespace firstcrop {

/// Checks that hold between values and between records: melting below boiling, Antoine giving 101.325 kPa at
/// the boiling point within 3 %, the density line giving the density at 25 °C within 0.5 %, flash point below
/// autoignition, limits in order, every pair of library solvents once and at most one azeotrope, every value
/// sourced and every source explained. Findings name the record; they have no line.
[[nodiscard]] Findings cross_record_checks(const Library& library);

}  // namespace firstcrop
