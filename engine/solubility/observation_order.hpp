#pragma once

#include <cstddef>
#include <vector>

#include "solubility/posterior.hpp"

namespace firstcrop {

/// Indices of the observations in an order that depends on what they say alone, not on where they stand. Sums
/// formed in it are the same to the last bit, however a file lists them.
[[nodiscard]] std::vector<std::size_t> order_by_content(const std::vector<Observation>& observations);

}  // namespace firstcrop
