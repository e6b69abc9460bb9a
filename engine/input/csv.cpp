#include "input/csv.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>

#include "base/error.hpp"
#include "input/yaml_reader.hpp"

namespace firstcrop {
namespace {

std::vector<std::string> split_line(std::string_view line) {
  std::vector<std::string> cells(1);
  bool quoted = false;
  for (std::size_t i = 0; i < line.size(); ++i) {
    const char character = line[i];
    if (quoted && character == '"' && i + 1 < line.size() && line[i + 1] == '"') {
      cells.back() += '"';
      ++i;
    } else if (character == '"') {
      quoted = !quoted;
    } else if (character == ',' && !quoted) {
      cells.emplace_back();
    } else {
      cells.back() += character;
    }
  }
  return cells;
}

}  // namespace

std::size_t CsvTable::column(std::string_view name) const {
  const auto found = std::find(columns.begin(), columns.end(), name);
  if (found == columns.end()) throw Error(fmt::format("{}: no column `{}`", path, name));
  return static_cast<std::size_t>(found - columns.begin());
}

CsvTable read_csv(const std::string& path) {
  const std::string text = read_file(path);
  CsvTable table;
  table.path = path;
  int number = 0;
  for (std::size_t start = 0; start < text.size();) {
    const std::size_t end = std::min(text.find('\n', start), text.size());
    const std::string_view line = std::string_view(text).substr(start, end - start);
    start = end + 1;
    ++number;
    if (line.empty() || line.starts_with('#')) continue;
    std::vector<std::string> cells = split_line(line);
    if (table.columns.empty()) {
      table.columns = std::move(cells);
      continue;
    }
    if (cells.size() != table.columns.size()) {
      throw Error(
          fmt::format("{}:{}: {} cells under {} columns", path, number, cells.size(), table.columns.size()));
    }
    table.rows.push_back(std::move(cells));
    table.lines.push_back(number);
  }
  return table;
}

std::optional<double> csv_number(const std::string& cell) {
  if (cell.empty()) return std::nullopt;
  double value = 0;
  const auto [end, error] = std::from_chars(cell.data(), cell.data() + cell.size(), value);
  if (error != std::errc() || end != cell.data() + cell.size()) {
    throw Error(fmt::format("`{}` is no number", cell));
  }
  return value;
}

double required_csv_number(const std::string& cell) {
  const std::optional<double> value = csv_number(cell);
  if (!value) throw Error("a number is missing");
  return *value;
}

}  // namespace firstcrop
