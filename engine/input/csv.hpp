#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace firstcrop {

/// A table of text cells: comma-separated, quotes where a cell holds commas, lines that start with `#` passed
/// over.
struct CsvTable {
  std::string path;
  std::vector<std::string> columns;
  std::vector<std::vector<std::string>> rows;
  std::vector<int> lines;  ///< of each row in the file, from 1

  /// Position of a column; throws Error where there is none of that name.
  [[nodiscard]] std::size_t column(std::string_view name) const;
};

/// Reads a table. Throws Error where the file cannot be read, or a row has more or fewer cells than the head.
[[nodiscard]] CsvTable read_csv(const std::string& path);

/// The number in a cell; nothing where the cell is empty; throws Error where it holds anything else.
[[nodiscard]] std::optional<double> csv_number(const std::string& cell);
/// As above, and throws Error where the cell is empty.
[[nodiscard]] double required_csv_number(const std::string& cell);

}  // namespace firstcrop
