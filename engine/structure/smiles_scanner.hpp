#pragma once

#include <cstddef>
#include <string_view>
#include <variant>
#include <vector>

#include "structure/molecule.hpp"

namespace firstcrop::detail {

/// Where an atom stands in a SMILES: brackets included.
struct AtomPlace {
  std::size_t position = 0;
  std::size_t width = 1;
};

/// What the grammar alone tells of a SMILES: its atoms in the order of the text.
struct SmilesOutline {
  std::vector<AtomPlace> atoms;
};

/// Longest SMILES that is read, in characters.
inline constexpr std::size_t kLongestSmiles = 500;

/// Reads a SMILES by its grammar (Weininger 1988, and the OpenSMILES text of 2016), without chemistry:
/// brackets, branches, ring bonds, symbols, and limits that keep the later steps fast. The first fault from
/// the left is returned; a branch or ring left open is a fault where it opens.
[[nodiscard]] std::variant<SmilesOutline, SmilesFault> scan_smiles(std::string_view smiles);

}  // namespace firstcrop::detail
