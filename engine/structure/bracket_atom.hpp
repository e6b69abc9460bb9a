#pragma once

#include <cstddef>
#include <optional>
#include <string_view>

#include "structure/molecule.hpp"

namespace firstcrop::detail {

/// One atom in square brackets.
struct BracketAtom {
  std::size_t width = 0;  ///< characters, brackets included; of no meaning beside a fault
  std::optional<SmilesFault> fault;
};

/// Reads the bracket atom of a SMILES that begins with `[` at `start`: isotope, symbol, chirality, hydrogens,
/// charge and atom number, in this order. Charges from -15 to +15.
[[nodiscard]] BracketAtom read_bracket(std::string_view smiles, std::size_t start);

}  // namespace firstcrop::detail
