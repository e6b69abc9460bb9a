#pragma once

#include <vector>

#include "base/finding.hpp"
#include "solubility/curve.hpp"
#include "solubility/prior.hpp"
#include "systems/inquiry.hpp"

namespace firstcrop {

/// What the model needs to know of a solid or an impurity.
[[nodiscard]] SoluteInput model_input(const Solute& solute);

/// The same for the solid of an inquiry, after `look_up_solid`: a solid of our tables as they draw it, its
/// melting point from there where the file has none. A solid that they do not have is judged as unknown, so
/// that the model does not take a stereoisomer for it.
[[nodiscard]] SoluteInput model_input(const Inquiry& inquiry, bool as_unknown);

/// Looks the solid of the inquiry's file up in our tables and fills `known` or `known_parent`. Warns where the
/// melting point of the file is more than 8 K from the published one.
void look_up_solid(Inquiry& inquiry, Findings& findings);

/// Median slope of the measured curves in each solvent, where temperatures were enough for one.
[[nodiscard]] std::vector<MeasuredEnthalpy> measured_enthalpies(const Inquiry& inquiry);

}  // namespace firstcrop
