#include "report/table.hpp"

#include <algorithm>

namespace firstcrop {

std::size_t display_width(std::string_view text) {
  return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), [](char byte) {
    return (static_cast<unsigned char>(byte) & 0xC0U) != 0x80U;
  }));
}

std::string padded(std::string_view text, std::size_t width, bool to_the_right) {
  const std::size_t own = display_width(text);
  const std::string blanks(width > own ? width - own : 0, ' ');
  return to_the_right ? blanks + std::string(text) : std::string(text) + blanks;
}

std::string wrapped(std::string_view text, std::size_t first_indent, std::size_t indent, std::size_t width) {
  std::string out(first_indent, ' ');
  std::size_t column = first_indent;
  bool line_is_empty = true;
  for (std::size_t start = 0; start < text.size();) {
    start = std::min(text.find_first_not_of(" \n", start), text.size());
    const std::size_t end = std::min(text.find_first_of(" \n", start), text.size());
    const std::string_view word = text.substr(start, end - start);
    start = end;
    if (word.empty()) continue;
    const std::size_t length = display_width(word);
    if (!line_is_empty && column + 1 + length > width) {
      out += '\n';
      out.append(indent, ' ');
      column = indent;
      line_is_empty = true;
    }
    if (!line_is_empty) {
      out += ' ';
      ++column;
    }
    out += word;
    column += length;
    line_is_empty = false;
  }
  out += '\n';
  return out;
}

std::string indented(std::string_view head, std::string_view text, std::size_t indent) {
  const std::size_t width = std::max(display_width(head), indent);
  return padded(head, width) + wrapped(text, width, indent).substr(width);
}

namespace {
// Columns of text that a wrapped last column must have at least.
constexpr std::size_t kLeastLastColumn = 14;
}  // namespace

std::string Table::to_text(std::size_t remark_indent) const {
  std::vector<std::size_t> widths;
  for (const Column& column : columns_) widths.push_back(display_width(column.title));
  for (const Row& row : rows_) {
    for (std::size_t i = 0; i < row.cells.size() && i < widths.size(); ++i) {
      widths[i] = std::max(widths[i], display_width(row.cells[i]));
    }
  }
  const auto line = [this, &widths](const std::vector<std::string>& cells) {
    std::string out;
    for (std::size_t i = 0; i < cells.size() && i < widths.size(); ++i) {
      if (i > 0) out += "  ";
      out += padded(cells[i], widths[i], columns_[i].to_the_right);
    }
    out.erase(out.find_last_not_of(' ') + 1);
    // A long last cell goes on under itself; where hardly any room is left the line stays as it is.
    if (display_width(out) <= kPageWidth || cells.empty()) return out + "\n";
    const std::size_t last = std::min(cells.size(), widths.size()) - 1;
    std::size_t indent = 0;
    for (std::size_t i = 0; i < last; ++i) indent += widths[i] + 2;
    if (columns_[last].to_the_right || indent + kLeastLastColumn > kPageWidth) return out + "\n";
    std::string head = out.substr(0, out.size() - cells[last].size());
    return indented(head, cells[last], indent);
  };
  std::vector<std::string> titles;
  for (const Column& column : columns_) titles.push_back(column.title);
  const bool has_titles =
      std::any_of(titles.begin(), titles.end(), [](const std::string& title) { return !title.empty(); });
  std::string out = has_titles ? line(titles) : std::string();
  for (const Row& row : rows_) {
    out += line(row.cells);
    for (const std::string& remark : row.remarks) out += wrapped(remark, remark_indent, remark_indent);
  }
  return out;
}

}  // namespace firstcrop
