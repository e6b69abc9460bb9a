#include "library/block_table.hpp"

#include <charconv>
#include <cmath>

#include <fmt/format.h>

namespace firstcrop {
namespace {

constexpr std::string_view kBlanks = " \t\r\n";

std::vector<TableRow> rows_of(std::string_view text) {
  std::vector<TableRow> rows;
  for (std::size_t start = 0; start < text.size();) {
    std::size_t end = text.find('\n', start);
    if (end == std::string_view::npos) end = text.size();
    const std::string_view line = trimmed_text(text.substr(start, end - start));
    if (!line.empty()) {
      const bool goes_on = !rows.empty() && (line.starts_with("+ ") || line.starts_with('|'));
      if (!goes_on) {
        rows.push_back({std::string(line), {}, start});
      } else if (line.starts_with('|')) {
        if (!rows.back().body.ends_with('|')) rows.back().body += ' ';
        rows.back().body += line;
      } else {
        if (!rows.back().text.empty()) rows.back().text += ' ';
        rows.back().text += trimmed_text(line.substr(1));
      }
    }
    start = end + 1;
  }
  return rows;
}

}  // namespace

std::string_view trimmed_text(std::string_view text) {
  const std::size_t first = text.find_first_not_of(kBlanks);
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(kBlanks) - first + 1);
}

std::vector<std::string> split_text(std::string_view text, std::string_view separator) {
  std::vector<std::string> parts;
  if (trimmed_text(text).empty()) return parts;
  for (std::size_t start = 0;;) {
    const std::size_t end = text.find(separator, start);
    parts.emplace_back(trimmed_text(text.substr(start, end - start)));
    if (end == std::string_view::npos) return parts;
    start = end + separator.size();
  }
}

std::vector<std::string> split_words(std::string_view text) {
  std::vector<std::string> words;
  for (std::size_t start = text.find_first_not_of(kBlanks); start != std::string_view::npos;) {
    const std::size_t end = text.find_first_of(kBlanks, start);
    words.emplace_back(text.substr(start, end - start));
    start = end == std::string_view::npos ? end : text.find_first_not_of(kBlanks, end);
  }
  return words;
}

std::optional<double> read_number(std::string_view text) {
  if (text.starts_with('+')) text.remove_prefix(1);
  const std::string_view digits = text.starts_with('-') ? text.substr(1) : text;
  if (digits.empty() || (digits.front() != '.' && (digits.front() < '0' || digits.front() > '9'))) return {};
  double value = 0;
  const auto [end, fault] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (fault != std::errc{} || end != text.data() + text.size() || !std::isfinite(value)) return {};
  return value;
}

BlockTable::BlockTable(Fields& fields, std::string_view rows_key, std::string_view columns_key,
                       std::string_view expected_columns)
    : fields_(fields),
      node_(fields.required_node(rows_key, fmt::format("write `{}: |` and the rows below it", rows_key))) {
  if (!columns_key.empty()) {
    const auto columns =
        fields.required_text(columns_key, fmt::format("write `{}: {}`", columns_key, expected_columns));
    if (columns && *columns != expected_columns) {
      fields.error(*fields.node(columns_key), "these are not the columns expected here",
                   fmt::format("write `{}: {}`", columns_key, expected_columns));
      node_ = nullptr;
    }
  }
  if (node_ == nullptr) return;
  if (!node_->is_scalar()) {
    fields.error(*node_, fmt::format("`{}` must be a block text", rows_key),
                 fmt::format("write `{}: |` and the rows below it", rows_key));
    node_ = nullptr;
    return;
  }
  rows_ = rows_of(node_->text);
}

Place BlockTable::place_of(const TableRow& row, std::string_view part) const {
  const std::string_view text = node_->text;
  const std::size_t end = std::min(text.find('\n', row.byte_offset), text.size());
  const std::string_view line = text.substr(row.byte_offset, end - row.byte_offset);
  const std::size_t within = part.empty() ? std::string_view::npos : line.find(part);
  const bool found = within != std::string_view::npos;
  const std::size_t at = row.byte_offset + (found ? within : line.find_first_not_of(' '));
  return fields_.document().place_within(*node_, character_count(text.substr(0, at)),
                                         character_count(found ? part : trimmed_text(line)));
}

void BlockTable::error(const TableRow& row, std::string_view part, std::string message,
                       std::string help) const {
  fields_.findings().error(place_of(row, part), std::move(message), std::move(help));
}

std::optional<std::vector<std::string>> BlockTable::cells(const TableRow& row, std::size_t count) const {
  std::vector<std::string> out = split_text(row.body, "|");
  if (out.size() == count) return out;
  error(row, {}, fmt::format("this row has {} columns, not {}", out.size(), count),
        "part the columns by ` | `, empty ones too");
  return std::nullopt;
}

std::optional<BlockTable::Words> BlockTable::words(const TableRow& row, std::size_t count) const {
  Words out;
  std::string_view left = trimmed_text(row.body);
  while (out.words.size() < count && !left.empty()) {
    const std::size_t end = std::min(left.find_first_of(kBlanks), left.size());
    out.words.emplace_back(left.substr(0, end));
    left = trimmed_text(left.substr(end));
  }
  if (out.words.size() < count) {
    error(row, {}, fmt::format("this row has {} columns, at least {} are needed", out.words.size(), count),
          "part the columns by blanks, and write `-` for what is not known");
    return std::nullopt;
  }
  out.rest = std::string(left);
  if (!row.text.empty()) {
    if (!out.rest.empty()) out.rest += ' ';
    out.rest += row.text;
  }
  return out;
}

std::optional<BlockTable::NamedList> BlockTable::named_list(const TableRow& row) const {
  std::string whole = row.body;
  if (!row.text.empty()) whole += ' ' + row.text;
  const std::size_t colon = whole.find(": ");
  if (colon == std::string::npos) {
    error(row, {}, "a colon and a blank must part the head of this row from its names",
          "write `head: name; name`");
    return std::nullopt;
  }
  NamedList out{std::string(trimmed_text(std::string_view(whole).substr(0, colon))), {}};
  for (std::string& name : split_text(std::string_view(whole).substr(colon + 2), ";")) {
    if (!name.empty()) out.names.push_back(std::move(name));
  }
  return out;
}

}  // namespace firstcrop
