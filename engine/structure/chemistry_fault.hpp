#pragma once

#include <string_view>

#include "structure/molecule.hpp"
#include "structure/smiles_scanner.hpp"

namespace firstcrop::detail {

/// Finds out why a SMILES of good grammar is impossible chemistry: an atom with too many bonds, a lower-case
/// atom outside a ring, an aromatic ring without a pattern of alternating double bonds. The first such atom
/// from the left.
[[nodiscard]] SmilesFault chemistry_fault(std::string_view smiles, const SmilesOutline& outline);

}  // namespace firstcrop::detail
