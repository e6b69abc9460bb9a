#pragma once

#include <vector>

#include "facts/fact_graph.hpp"
#include "systems/inquiry.hpp"

namespace firstcrop {

/// How exactly facts are worked out.
enum class Precision {
  Scenarios,  ///< in all 64 scenarios, with phases and boiling points of mixtures
  Central     ///< at the means only and without mixture thermodynamics: for choosing a ratio
};

/// The arithmetic producers of facts for the systems of one inquiry, for the fact graph. Both arguments must
/// outlive them. Frames must come from FrameMaker.
[[nodiscard]] std::vector<Producer> make_providers(const Catalogue& catalogue, const Inquiry& inquiry,
                                                   Precision precision);

}  // namespace firstcrop
