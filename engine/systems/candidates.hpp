#pragma once

#include <utility>
#include <vector>

#include "systems/inquiry.hpp"

namespace firstcrop {

/// Pairs of a shelf worth a look: edges of the miscibility graph at room temperature, that is, all pairs with
/// a fair chance of being one liquid. Rules decide about the rest.
[[nodiscard]] std::vector<std::pair<SolventId, SolventId>> candidate_pairs(const Shelf& shelf,
                                                                           const Inquiry& inquiry);

}  // namespace firstcrop
