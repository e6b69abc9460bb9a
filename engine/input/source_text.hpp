#pragma once

#include <cstddef>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/finding.hpp"

namespace firstcrop {

/// Byte positions at which the lines of a text begin.
[[nodiscard]] std::vector<std::size_t> starts_of_lines(std::string_view text);

/// Length of the well-formed UTF-8 sequence at `position`, 0 where it is not one (Unicode Standard, table 3-7).
[[nodiscard]] std::size_t utf8_sequence_length(std::string_view text, std::size_t position);

/// A text with its line starts: turns byte positions of the parser into lines and columns in characters. Only
/// looks at what it is given, which must outlive it.
class SourceText {
 public:
  SourceText(std::string_view path, std::string_view text, std::span<const std::size_t> line_starts)
      : path_(path), text_(text), starts_(line_starts) {}

  /// Without its line end; empty for a number that is none.
  [[nodiscard]] std::string_view line(int number) const;
  [[nodiscard]] int line_count() const { return static_cast<int>(starts_.size()); }
  [[nodiscard]] std::size_t offset_of(int number, std::size_t byte_column) const;
  /// Byte at which the character of a column stands.
  [[nodiscard]] std::size_t offset_of_character(int number, int column) const;
  [[nodiscard]] std::string_view text() const { return text_; }
  [[nodiscard]] Place place(int line_number, int column, int width) const;
  [[nodiscard]] Place place_at_byte(std::size_t position, int width) const;

 private:
  std::string_view path_;
  std::string_view text_;
  std::span<const std::size_t> starts_;
};

}  // namespace firstcrop
