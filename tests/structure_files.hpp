#pragma once

#include <fstream>
#include <sstream>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

#include "structure/descriptors.hpp"
#include "structure/groups.hpp"

namespace firstcrop {

/// Reads the tables of solvents/groups.yaml and solvents/descriptor-increments.yaml without the library, so
/// that the structure room is tested alone.
namespace structure_files {

inline std::string trimmed(std::string_view text) {
  const std::size_t first = text.find_first_not_of(' ');
  if (first == std::string_view::npos) return {};
  return std::string(text.substr(first, text.find_last_not_of(' ') - first + 1));
}

inline std::vector<std::string> parted(std::string_view text, char separator) {
  std::vector<std::string> parts;
  std::size_t start = 0;
  while (start <= text.size()) {
    const std::size_t end = std::min(text.find(separator, start), text.size());
    const std::string part = trimmed(text.substr(start, end - start));
    if (!part.empty() || separator == '|') parts.push_back(part);
    start = end + 1;
  }
  return parts;
}

/// The rows of the block `key: |`, each parted into its cells.
inline std::vector<std::vector<std::string>> block(const std::string& file_name, const std::string& key) {
  std::ifstream file(std::string(FIRSTCROP_SOURCE_DIR) + "/solvents/" + file_name);
  if (!file) throw std::runtime_error("cannot read " + file_name);
  std::vector<std::vector<std::string>> rows;
  bool inside = false;
  for (std::string line; std::getline(file, line);) {
    if (inside && (line.empty() || line[0] != ' ')) inside = false;
    if (inside) rows.push_back(parted(line, '|'));
    if (line == key + ": |") inside = true;
  }
  if (rows.empty()) throw std::runtime_error("no block " + key + " in " + file_name);
  return rows;
}

inline std::vector<PatternPiece> pieces() {
  std::vector<PatternPiece> result;
  for (const auto& row : block("groups.yaml", "pieces"))
    result.push_back({row.at(0), parted(row.at(1), ' ')});
  return result;
}

inline std::vector<GroupDefinition> definitions() {
  std::vector<GroupDefinition> result;
  for (const auto& row : block("groups.yaml", "rows")) {
    if (row.size() != 8) throw std::runtime_error("uneven row of group " + row.at(0));
    result.push_back({row[0], row[1], parted(row[2], ' '), parted(row[3], ';'), parted(row[4], ';'),
                      row[6] == "yes", parted(row[5], ';'), row[7]});
  }
  return result;
}

inline GroupCatalogue catalogue() {
  return GroupCatalogue(definitions(), pieces());
}

inline std::vector<AdditiveFragment> fragments() {
  std::vector<AdditiveFragment> result;
  for (const auto& row : block("descriptor-increments.yaml", "rows")) {
    if (row.size() != 10) throw std::runtime_error("uneven row of fragment " + row.at(0));
    AdditiveFragment fragment{row[0], row[2], {}, row[1] == "base"};
    for (std::size_t column = 0; column < 5; ++column)
      fragment.increments[column] = std::stod(row[5 + column]);
    result.push_back(fragment);
  }
  return result;
}

inline Molecule molecule(std::string_view smiles) {
  const auto parsed = parse_smiles(smiles);
  if (const auto* fault = std::get_if<SmilesFault>(&parsed)) {
    throw std::runtime_error("the test's own SMILES " + std::string(smiles) + " is wrong: " + fault->reason);
  }
  return std::get<Molecule>(parsed);
}

}  // namespace structure_files
}  // namespace firstcrop
