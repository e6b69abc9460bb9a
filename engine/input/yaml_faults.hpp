#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

#include "base/finding.hpp"
#include "input/source_text.hpp"

namespace firstcrop {

/// A finding for a text in which the YAML parser gave up at byte `position` with `message`. It goes back to
/// where the fault was made, which may be lines before: a quote or a bracket that was never closed, or a
/// SMILES that begins with `[` and has no quotes.
[[nodiscard]] Finding explain_yaml_fault(const SourceText& source, std::size_t position,
                                         std::string_view message);

/// A finding where the first sign of the text is one that nothing can begin with, such as a comma.
[[nodiscard]] std::optional<Finding> fault_of_first_sign(const SourceText& source);

}  // namespace firstcrop
