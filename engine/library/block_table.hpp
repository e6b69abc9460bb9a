#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "input/fields.hpp"

namespace firstcrop {

/// One row of a table that stands as a block text. Lines that begin with `|` went on with the row, lines that
/// begin with `+` with its text.
struct TableRow {
  std::string body;
  std::string text;
  std::size_t byte_offset = 0;  ///< of the first line of the row in the block text
};

/// A table under a key of a map, with findings at the rows. `columns_key` must say exactly what is expected.
class BlockTable {
 public:
  /// Marks both keys as known. Without `columns_key` (empty) no heading is asked for.
  BlockTable(Fields& fields, std::string_view rows_key, std::string_view columns_key = {},
             std::string_view expected_columns = {});

  [[nodiscard]] const std::vector<TableRow>& rows() const { return rows_; }
  /// A finding at a row; the caret stands under `part` where the first line of the row holds it.
  void error(const TableRow& row, std::string_view part, std::string message, std::string help = {}) const;
  [[nodiscard]] Place place_of(const TableRow& row, std::string_view part = {}) const;

  /// The cells between bars, trimmed; nothing, with a finding, where there are not `count`.
  [[nodiscard]] std::optional<std::vector<std::string>> cells(const TableRow& row, std::size_t count) const;
  /// The first `count` words; what stands behind them is joined with the text. Nothing, with a finding, where
  /// there are fewer.
  struct Words {
    std::vector<std::string> words;
    std::string rest;
  };
  [[nodiscard]] std::optional<Words> words(const TableRow& row, std::size_t count) const;
  /// What stands before the first `: ` and what behind it, `;` parting the names.
  struct NamedList {
    std::string head;
    std::vector<std::string> names;
  };
  [[nodiscard]] std::optional<NamedList> named_list(const TableRow& row) const;

 private:
  Fields& fields_;
  const YamlNode* node_;
  std::vector<TableRow> rows_;
};

/// Without blanks at both ends.
[[nodiscard]] std::string_view trimmed_text(std::string_view text);
/// Parts between separators, trimmed, empty ones kept.
[[nodiscard]] std::vector<std::string> split_text(std::string_view text, std::string_view separator);
/// Words between blanks.
[[nodiscard]] std::vector<std::string> split_words(std::string_view text);
/// A decimal number that uses up the whole text; nothing for `inf`, `nan` and the like.
[[nodiscard]] std::optional<double> read_number(std::string_view text);

}  // namespace firstcrop
