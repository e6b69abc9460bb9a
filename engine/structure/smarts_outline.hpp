#pragma once

#include <cstddef>
#include <optional>
#include <string_view>
#include <vector>

namespace firstcrop::detail {

/// Two neighbouring atoms of a pattern and the bond between them.
struct PatternLink {
  std::size_t first = 0;
  std::size_t second = 0;
  char bond =
      '~';  ///< `1` single or aromatic (nothing written), `-`, `=`, `#`, `:`; `~` for any and for all else
};

/// Atoms and bonds of a SMARTS outside its recursive parts. The views point into the text that was read.
struct SmartsOutline {
  std::vector<std::string_view> atoms;  ///< bare symbol, or what stands inside the square brackets
  std::vector<PatternLink> links;
};

/// Nothing where brackets do not fit or no atom is found; no full check of the language.
[[nodiscard]] std::optional<SmartsOutline> outline_smarts(std::string_view smarts);

}  // namespace firstcrop::detail
