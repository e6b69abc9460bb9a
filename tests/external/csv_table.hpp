#pragma once

#include <cstddef>
#include <fstream>
#include <map>
#include <sstream>
#include <stdexcept>
#include <string>
#include <vector>

namespace firstcrop {

/// One row of a test table: column name to text. A cell that holds commas stands in double quotes.
using CsvRow = std::map<std::string, std::string>;

/// Reads tests/external/data/<name>; lines that begin with # are comments, the first other line names the
/// columns.
inline std::vector<CsvRow> read_csv_table(const std::string& name) {
  std::ifstream file(std::string(FIRSTCROP_SOURCE_DIR) + "/tests/external/data/" + name);
  if (!file) throw std::runtime_error("cannot read the test table " + name);
  const auto cells = [](const std::string& line) {
    std::vector<std::string> result(1);
    bool quoted = false;
    for (const char c : line) {
      if (c == '"')
        quoted = !quoted;
      else if (c == ',' && !quoted)
        result.emplace_back();
      else
        result.back() += c;
    }
    return result;
  };
  std::vector<std::string> columns;
  std::vector<CsvRow> rows;
  for (std::string line; std::getline(file, line);) {
    if (line.empty() || line[0] == '#') continue;
    const auto row = cells(line);
    if (columns.empty()) {
      columns = row;
      continue;
    }
    if (row.size() != columns.size()) throw std::runtime_error("uneven row in the test table " + name);
    CsvRow named;
    for (std::size_t i = 0; i < row.size(); ++i) named[columns[i]] = row[i];
    rows.push_back(std::move(named));
  }
  if (rows.empty()) throw std::runtime_error("no rows in the test table " + name);
  return rows;
}

inline double number(const CsvRow& row, const std::string& column) {
  return std::stod(row.at(column));
}

}  // namespace firstcrop
