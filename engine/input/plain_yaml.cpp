#include "input/plain_yaml.hpp"

#include <algorithm>
#include <cstddef>
#include <utility>
#include <vector>

namespace firstcrop {
namespace {

constexpr std::size_t kDeepest = 30;
constexpr std::size_t kLongestKey = 500;
constexpr std::size_t kNone = std::string_view::npos;

/// Thrown where the text leaves what this reader understands; never leaves this file.
struct NotPlain {};

class PlainReader {
 public:
  explicit PlainReader(std::string_view text) : text_(text) {
    for (std::size_t start = 0; start < text.size();) {
      const std::size_t end = std::min(text.find('\n', start), text.size());
      std::string_view line = text.substr(start, end - start);
      raw_.push_back(line);
      line = line.substr(0, line.find_last_not_of(' ') + 1);
      if (line.starts_with("---") || line.starts_with("...") || line.starts_with('%')) throw NotPlain();
      lines_.push_back(line);
      start = end + 1;
    }
  }

  YamlNode read() {
    if (!next_line() || indent() != 0) throw NotPlain();
    YamlNode root = block(0);
    if (next_line()) throw NotPlain();
    return root;
  }

 private:
  static bool is_blank_or_end(std::string_view line, std::size_t at) { return at >= line.size() || line[at] == ' '; }
  static bool is_item(std::string_view line, std::size_t at) {
    return line[at] == '-' && is_blank_or_end(line, at + 1);
  }

  [[nodiscard]] std::string_view line() const { return lines_[row_]; }
  [[nodiscard]] std::size_t indent() const { return line().find_first_not_of(' '); }
  /// Moves to the next line, this one included, with more than a comment; false at the end.
  bool next_line() {
    while (row_ < lines_.size()) {
      const std::size_t at = indent();
      if (at != kNone && line()[at] != '#') return true;
      ++row_;
    }
    return false;
  }
  [[nodiscard]] YamlNode node_at(YamlNode::Kind kind, std::size_t row, std::size_t column) const {
    YamlNode out;
    out.kind = kind;
    out.line = static_cast<int>(row) + 1;
    const std::string_view before = lines_[row].substr(0, column);
    // Bytes that go on with a character do not count.
    out.column = 1 + static_cast<int>(std::count_if(before.begin(), before.end(), [](char letter) {
                   return (static_cast<unsigned char>(letter) & 0xC0U) != 0x80U;
                 }));
    return out;
  }
  /// What stands behind a finished value: nothing or a comment.
  void expect_end(std::size_t column) {
    const std::size_t at = line().find_first_not_of(' ', column);
    if (at != kNone && (line()[at] != '#' || at == column)) throw NotPlain();
    ++row_;
  }
  static std::string plain_null_checked(std::string text) {
    if (text.empty() || text == "~" || text == "null" || text == "Null" || text == "NULL") throw NotPlain();
    return text;
  }
  static void check_start(std::string_view line, std::size_t at) {
    constexpr std::string_view kSigns = ",[]{}#&*!|>'\"%@`";
    if (kSigns.find(line[at]) != kNone) throw NotPlain();
    if ((line[at] == '-' || line[at] == '?' || line[at] == ':') && is_blank_or_end(line, at + 1)) throw NotPlain();
  }
  /// Place of the colon that ends the key which begins at `from`; kNone where the line has no key there.
  static std::size_t colon_of(std::string_view line, std::size_t from) {
    for (std::size_t at = line.find(':', from); at != kNone; at = line.find(':', at + 1))
      if (is_blank_or_end(line, at + 1)) return at;
    return kNone;
  }
  void deeper() {
    if (++depth_ > kDeepest) throw NotPlain();
  }

  /// A map, a list or a plain scalar that begins on this line, deeper than `parent`.
  YamlNode block(std::size_t parent_end) {
    const std::size_t at = indent();
    if (is_item(line(), at)) return list(at);
    const std::string_view start = line();
    if (start[at] == '"' || start[at] == '\'' || start[at] == '{' || start[at] == '[') return value(at, parent_end);
    return colon_of(start, at) == kNone ? value(at, parent_end) : map(at);
  }

  YamlNode list(std::size_t column) {
    deeper();
    YamlNode out = node_at(YamlNode::Kind::List, row_, column);
    while (next_line() && indent() == column && is_item(line(), column)) {
      const std::size_t at = line().find_first_not_of(' ', column + 1);
      if (at == kNone || line()[at] == '#' || is_item(line(), at)) throw NotPlain();
      const char first = line()[at];
      const bool is_closed = first == '"' || first == '\'' || first == '{' || first == '[';
      const bool is_map = !is_closed && first != '|' && first != '>' && colon_of(line(), at) != kNone;
      out.items.push_back(is_map ? map(at) : value(at, column + 1));
    }
    if (row_ < lines_.size() && indent() > column) throw NotPlain();
    --depth_;
    return out;
  }

  /// A map whose keys stand at `column`; the first of them may stand behind the dash of a list.
  YamlNode map(std::size_t column) {
    deeper();
    YamlNode out = node_at(YamlNode::Kind::Map, row_, column);
    for (bool is_first = true; is_first || (next_line() && indent() == column); is_first = false) {
      const std::size_t colon = colon_of(line(), column);
      if (colon == kNone || colon - column > kLongestKey) throw NotPlain();
      check_start(line(), column);
      YamlNode key = node_at(YamlNode::Kind::Scalar, row_, column);
      const std::string_view written = line().substr(column, colon - column);
      key.text = plain_null_checked(std::string(written.substr(0, written.find_last_not_of(' ') + 1)));
      if (key.text.find(" #") != kNone) throw NotPlain();
      add(out, std::move(key), value_of_key(colon + 1, column));
    }
    if (row_ < lines_.size() && indent() > column) throw NotPlain();
    --depth_;
    return out;
  }
  static void add(YamlNode& map, YamlNode key, YamlNode value) {
    for (const YamlEntry& entry : map.entries)
      if (entry.first.text == key.text) throw NotPlain();
    map.entries.push_back({std::move(key), std::move(value)});
  }
  YamlNode value_of_key(std::size_t from, std::size_t column) {
    const std::size_t at = line().find_first_not_of(' ', from);
    if (at != kNone && line()[at] != '#') return value(at, column + 1);
    ++row_;
    if (!next_line()) throw NotPlain();
    if (indent() == column && is_item(line(), column)) return list(column);
    if (indent() <= column) throw NotPlain();
    return block(column + 1);
  }

  /// A value that begins at `at`; its further lines are indented by `least_indent` at least.
  YamlNode value(std::size_t at, std::size_t least_indent) {
    switch (line()[at]) {
      case '|':
      case '>':
        return literal(at, least_indent);
      case '"':
      case '\'': {
        YamlNode out = quoted(at);
        expect_end(at);
        return out;
      }
      case '{':
      case '[': {
        YamlNode out = flow(at);
        expect_end(at);
        return out;
      }
      default:
        return plain(at, least_indent);
    }
  }

  YamlNode plain(std::size_t at, std::size_t least_indent) {
    check_start(line(), at);
    YamlNode out = node_at(YamlNode::Kind::Scalar, row_, at);
    const auto part = [this](std::size_t from) {
      const std::string_view rest = line().substr(from);
      if (colon_of(rest, 0) != kNone) throw NotPlain();
      return rest;
    };
    std::string_view first = part(at);
    const std::size_t comment = first.find(" #");
    first = first.substr(0, comment);
    out.text = std::string(first.substr(0, first.find_last_not_of(' ') + 1));
    ++row_;
    while (row_ < lines_.size()) {
      const std::size_t from = indent();
      if (from == kNone) {
        // A blank line would become a line break inside the scalar if it went on.
        if (next_line() && indent() >= least_indent) throw NotPlain();
        break;
      }
      if (from < least_indent) break;
      if (comment != kNone || line()[from] == '#' || is_item(line(), from) || line().find(" #") != kNone)
        throw NotPlain();
      out.text += ' ';
      out.text += part(from);
      ++row_;
    }
    out.text = plain_null_checked(std::move(out.text));
    return out;
  }

  /// Quotes without escapes, perhaps over several lines; `at` moves behind them.
  YamlNode quoted(std::size_t& at) {
    const char quote = line()[at];
    YamlNode out = node_at(YamlNode::Kind::Scalar, row_, at);
    out.quoted = true;
    std::size_t end = line().find(quote, ++at);
    while (end == kNone) {
      if (at == line().size()) throw NotPlain();
      out.text += line().substr(at);
      out.text += ' ';
      // A blank line would be a line break.
      if (++row_ >= lines_.size() || indent() == kNone || indent() == 0) throw NotPlain();
      at = indent();
      end = line().find(quote, at);
    }
    if (quote == '\'' && end + 1 < line().size() && line()[end + 1] == '\'') throw NotPlain();
    out.text += line().substr(at, end - at);
    if (quote == '"' && out.text.find('\\') != kNone) throw NotPlain();
    at = end + 1;
    return out;
  }

  /// A text by `|` or `>`, perhaps with `-`, which drops the last line end.
  YamlNode literal(std::size_t at, std::size_t least_indent) {
    const std::string_view header = line().substr(at);
    const bool is_folded = header.front() == '>';
    const bool is_stripped = header.size() == 2 && header[1] == '-';
    if ((header.size() != 1 && !is_stripped) || text_.back() != '\n') throw NotPlain();
    YamlNode out = node_at(YamlNode::Kind::Scalar, row_, at);
    out.quoted = true;
    ++row_;
    if (row_ >= lines_.size() || indent() == kNone || indent() < least_indent) throw NotPlain();
    const std::size_t margin = indent();
    std::size_t blank = 0;
    for (; row_ < lines_.size(); ++row_) {
      const std::size_t from = indent();
      if (from == kNone) {
        if (raw_[row_].size() > margin) throw NotPlain();
        ++blank;
        continue;
      }
      if (from < margin) break;
      // Paragraphs, deeper lines and blanks at their ends have rules of their own.
      if (is_folded && (blank > 0 || from > margin || raw_[row_].size() != line().size())) throw NotPlain();
      if (!out.text.empty()) out.text += is_folded ? ' ' : '\n';
      out.text.append(blank, '\n');
      blank = 0;
      out.text += raw_[row_].substr(margin);
    }
    if (!is_stripped) out.text += '\n';
    return out;
  }

  /// Moves to the next sign of a flow map or list, over line ends.
  void skip_in_flow(std::size_t& at) {
    at = line().find_first_not_of(' ', at);
    while (at == kNone) {
      if (++row_ >= lines_.size()) throw NotPlain();
      at = indent();
    }
    if (line()[at] == '#') throw NotPlain();
  }
  /// `at` stands on the opening bracket and moves behind the closing one, perhaps lines below.
  YamlNode flow(std::size_t& at) {
    deeper();
    const bool is_map = line()[at] == '{';
    const char closing = is_map ? '}' : ']';
    YamlNode out = node_at(is_map ? YamlNode::Kind::Map : YamlNode::Kind::List, row_, at);
    ++at;
    skip_in_flow(at);
    bool is_open = line()[at] != closing;
    if (!is_open) ++at;
    while (is_open) {
      if (is_map) {
        YamlNode key = flow_scalar(at, true);
        ++at;
        skip_in_flow(at);
        add(out, std::move(key), flow_value(at));
      } else {
        out.items.push_back(flow_value(at));
      }
      skip_in_flow(at);
      const char sign = line()[at];
      if (sign != ',' && sign != closing) throw NotPlain();
      ++at;
      is_open = sign != closing;
      if (is_open) skip_in_flow(at);
    }
    --depth_;
    return out;
  }
  YamlNode flow_value(std::size_t& at) {
    const char first = line()[at];
    if (first == '{' || first == '[') return flow(at);
    if (first != '"' && first != '\'') return flow_scalar(at, false);
    YamlNode out = quoted(at);
    if (at < line().size() && line()[at] == ':') throw NotPlain();
    return out;
  }
  /// A plain scalar, which may go on over lines; a key ends on its line, and `at` is left on its colon.
  YamlNode flow_scalar(std::size_t& at, bool is_key) {
    check_start(line(), at);
    if (line()[at] == '?' || line()[at] == ':') throw NotPlain();
    YamlNode out = node_at(YamlNode::Kind::Scalar, row_, at);
    while (true) {
      const std::size_t from = at;
      char sign = '\0';
      for (; at < line().size(); ++at) {
        const char letter = line()[at];
        const bool ends_key = letter == ':' && (is_blank_or_end(line(), at + 1) || line()[at + 1] == ',' ||
                                                line()[at + 1] == ']' || line()[at + 1] == '}');
        const bool ends = ends_key || letter == ',' || letter == '?' || letter == '[' || letter == ']' ||
                          letter == '{' || letter == '}';
        if (letter == '#' && at > from && line()[at - 1] == ' ') throw NotPlain();
        if (!ends) continue;
        sign = letter;
        break;
      }
      const std::string_view part = line().substr(from, at - from);
      out.text += part.substr(0, part.find_last_not_of(' ') + 1);
      if (is_key != (sign == ':')) throw NotPlain();
      if (sign == '?' || sign == '[' || sign == '{') throw NotPlain();
      if (sign != '\0') break;
      // The line ends within the scalar, or just behind it.
      if (++row_ >= lines_.size()) throw NotPlain();
      at = indent();
      if (at == kNone || line()[at] == '#') throw NotPlain();
      if (line()[at] == ',' || line()[at] == ']' || line()[at] == '}') break;
      out.text += ' ';
    }
    out.text = plain_null_checked(std::move(out.text));
    if (is_key && out.text.size() > kLongestKey) throw NotPlain();
    return out;
  }

  std::string_view text_;
  std::vector<std::string_view> raw_;    ///< lines as they stand
  std::vector<std::string_view> lines_;  ///< without blanks at their ends
  std::size_t row_ = 0;
  std::size_t depth_ = 0;
};

}  // namespace

std::optional<YamlNode> read_plain_yaml(std::string_view text) {
  if (text.empty() || text.find_first_of("\t\r") != kNone) return std::nullopt;
  try {
    return PlainReader(text).read();
  } catch (const NotPlain&) {
    return std::nullopt;
  }
}

}  // namespace firstcrop
