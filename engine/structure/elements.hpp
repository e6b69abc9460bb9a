#pragma once

#include <string_view>

namespace firstcrop::detail {

/// Atomic number of an element symbol as written (`Cl`, not `CL`); 0 where there is none.
[[nodiscard]] int atomic_number(std::string_view symbol);

/// Symbols that may be written in lower case for an aromatic atom: b c n o p s, and as se si te in brackets.
[[nodiscard]] int aromatic_atomic_number(std::string_view symbol);

/// Elements that are neither metals nor metalloids.
[[nodiscard]] bool is_nonmetal(int atomic_number);

/// B, Si, Ge, As, Sb, Te, Po, At: between metals and nonmetals (common practice, no source).
[[nodiscard]] bool is_metalloid(int atomic_number);

[[nodiscard]] inline bool is_metal(int atomic_number) {
  return atomic_number > 0 && !is_nonmetal(atomic_number) && !is_metalloid(atomic_number);
}

/// Groups 1 and 2 of the periodic table without hydrogen: metals whose bonds to other elements are ionic.
[[nodiscard]] bool is_alkali_or_alkaline_earth(int atomic_number);

}  // namespace firstcrop::detail
