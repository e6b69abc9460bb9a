#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace firstcrop {

inline constexpr std::size_t kPageWidth = 100;

/// Number of terminal columns of a UTF-8 text: one a character.
[[nodiscard]] std::size_t display_width(std::string_view text);
/// Text filled up with blanks to a width; longer text is left as it is.
[[nodiscard]] std::string padded(std::string_view text, std::size_t width, bool to_the_right = false);
/// Breaks a text at blanks into lines of at most `width` columns; following lines begin with `indent` blanks.
[[nodiscard]] std::string wrapped(std::string_view text, std::size_t first_indent, std::size_t indent,
                                  std::size_t width = kPageWidth);

/// A head filled up to `indent` columns, and a text wrapped behind it.
[[nodiscard]] std::string indented(std::string_view head, std::string_view text, std::size_t indent);

/// Aligned columns parted by two blanks.
class Table {
 public:
  struct Column {
    std::string title;
    bool to_the_right = false;
  };
  explicit Table(std::vector<Column> columns) : columns_(std::move(columns)) {}
  void add(std::vector<std::string> cells) { rows_.push_back({std::move(cells), {}}); }
  /// A line of text under the last row, indented and wrapped.
  void remark(std::string text) { rows_.back().remarks.push_back(std::move(text)); }
  [[nodiscard]] std::string to_text(std::size_t remark_indent = 6) const;

 private:
  struct Row {
    std::vector<std::string> cells;
    std::vector<std::string> remarks;
  };
  std::vector<Column> columns_;
  std::vector<Row> rows_;
};

}  // namespace firstcrop
