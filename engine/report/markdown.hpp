#pragma once

#include <string>
#include <string_view>

namespace firstcrop::report {

/// Text without the signs that Markdown would take for marks: `*`, `_`, `<`, `[` and backticks.
[[nodiscard]] std::string plain(std::string_view text);
/// The same for a cell of a table, where a bar would end it.
[[nodiscard]] std::string cell(std::string_view text);
/// Code in a cell of a table.
[[nodiscard]] std::string code_cell(std::string_view text);

}  // namespace firstcrop::report
