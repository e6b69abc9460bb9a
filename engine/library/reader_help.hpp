#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <utility>

#include "library/block_table.hpp"
#include "library/library_data.hpp"

namespace firstcrop {

/// The id at a row; a finding with the nearest id where no solvent bears it.
[[nodiscard]] std::optional<SolventId> solvent_at(const BlockTable& table, const TableRow& row,
                                                  std::string_view id, const Library::Data& data);
/// Two ids at a row that must be in alphabetical order.
[[nodiscard]] std::optional<std::pair<SolventId, SolventId>> pair_at(const BlockTable& table,
                                                                     const TableRow& row,
                                                                     std::string_view first,
                                                                     std::string_view second,
                                                                     const Library::Data& data);
/// A finding where a source key at a row is not explained; `keys` parted by blanks or commas. Gives them
/// parted by blanks.
[[nodiscard]] std::string sources_at(const BlockTable& table, const TableRow& row, std::string_view keys,
                                     const Library::Data& data);
/// A number at a row, `-` for none; a finding for anything else.
[[nodiscard]] std::optional<double> number_at(const BlockTable& table, const TableRow& row,
                                              std::string_view text);

/// The value that a word stands for; a finding where it is none of them.
template <typename Value, std::size_t count>
[[nodiscard]] std::optional<Value> word_at(
    const BlockTable& table, const TableRow& row, std::string_view word,
    const std::array<std::pair<std::string_view, Value>, count>& words) {
  std::vector<std::string> known;
  for (const auto& [name, value] : words) {
    if (name == word) return value;
    known.emplace_back(name);
  }
  const auto near = nearest_name(word, known);
  std::string help = "one of:";
  for (const std::string& name : known) help += " " + name;
  table.error(row, word, "`" + std::string(word) + "` is not expected here",
              near ? "did you mean `" + *near + "`?" : help);
  return std::nullopt;
}

}  // namespace firstcrop
