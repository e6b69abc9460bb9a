#include "input/yaml_faults.hpp"

#include <algorithm>
#include <vector>

#include <fmt/format.h>

namespace firstcrop {
namespace {

constexpr std::size_t kNowhere = std::string_view::npos;

struct Words {
  std::string message;
  std::string help;
};

// A quoted text: places of its two quotes; `close` is nowhere if the second is missing.
struct Quoted {
  std::size_t open = 0;
  std::size_t close = kNowhere;
};

bool is_blank(char letter) {
  return letter == ' ' || letter == '\n' || letter == '\r' || letter == '\t';
}

std::size_t closing_quote(std::string_view text, std::size_t open) {
  const char quote = text[open];
  for (std::size_t i = open + 1; i < text.size(); ++i) {
    if (quote == '"' && text[i] == '\\') {
      ++i;
    } else if (text[i] == quote) {
      if (quote == '"' || i + 1 >= text.size() || text[i + 1] != quote) return i;
      ++i;
    }
  }
  return kNowhere;
}

// Follows quotes and brackets of a YAML text as far as a place, which a parser that gave up there does not
// tell.
class Outline {
 public:
  Outline(std::string_view text, std::size_t until) : text_(text), until_(std::min(until, text.size())) {
    while (at_ < until_) step();
  }
  [[nodiscard]] const std::vector<std::size_t>& open_brackets() const { return brackets_; }
  [[nodiscard]] const std::optional<Quoted>& last_quoted() const { return quoted_; }

 private:
  [[nodiscard]] bool blank_at(std::size_t i) const { return i >= text_.size() || is_blank(text_[i]); }

  void step() {
    const char letter = text_[at_];
    const bool in_flow = !brackets_.empty();
    const bool begins = value_may_begin_;
    if (letter == '#' && (at_ == 0 || is_blank(text_[at_ - 1]))) {
      at_ = std::min(text_.find('\n', at_), text_.size());
    } else if (is_blank(letter)) {
      if (letter == '\n') value_may_begin_ = true;
      ++at_;
    } else if (begins && (letter == '"' || letter == '\'')) {
      quoted_ = Quoted{at_, closing_quote(text_, at_)};
      at_ = quoted_->close == kNowhere ? text_.size() : quoted_->close + 1;
      value_may_begin_ = false;
    } else if (begins && !in_flow && (letter == '|' || letter == '>')) {
      pass_block();
    } else {
      value_may_begin_ = step_over_sign(letter, begins, in_flow);
      ++at_;
    }
  }

  // True if a value may begin behind this sign.
  bool step_over_sign(char letter, bool begins, bool in_flow) {
    if ((letter == '[' || letter == '{') && (begins || in_flow)) {
      brackets_.push_back(at_);
      return true;
    }
    if ((letter == ']' || letter == '}') && in_flow) {
      const bool fits = (text_[brackets_.back()] == '[') == (letter == ']');
      if (fits) brackets_.pop_back();
      // Behind a bracket that does not fit nothing can be said; the open one is the fault.
      if (!fits) until_ = at_;
      return false;
    }
    if (letter == ',') return in_flow;
    if (letter == ':') return blank_at(at_ + 1);
    return letter == '-' && begins && blank_at(at_ + 1);
  }

  // A block text goes on as long as its lines stand further right than the one that begins it.
  void pass_block() {
    const std::size_t indent = indent_of(text_.rfind('\n', at_) == kNowhere ? 0 : text_.rfind('\n', at_) + 1);
    at_ = text_.find('\n', at_);
    while (at_ < text_.size()) {
      const std::size_t next = at_ + 1;
      const std::size_t end = std::min(text_.find('\n', next), text_.size());
      const bool is_empty = text_.find_first_not_of(" \r", next) >= end;
      if (!is_empty && indent_of(next) <= indent) break;
      at_ = end;
    }
    at_ = std::min(at_, text_.size());
    value_may_begin_ = true;
  }
  [[nodiscard]] std::size_t indent_of(std::size_t line_start) const {
    return std::min(text_.find_first_not_of(' ', line_start), text_.size()) - line_start;
  }

  std::string_view text_;
  std::size_t until_;
  std::size_t at_ = 0;
  bool value_may_begin_ = true;
  std::vector<std::size_t> brackets_;
  std::optional<Quoted> quoted_;
};

Finding finding_at(const SourceText& source, std::size_t position, int width, Words words) {
  Finding out;
  out.place = source.place_at_byte(position, width);
  out.message = std::move(words.message);
  out.help = std::move(words.help);
  return out;
}

// A SMILES that begins with `[` reads as a list when it is not quoted.
std::optional<Finding> unquoted_smiles(const SourceText& source, std::size_t position) {
  const std::string_view text = source.text();
  const std::size_t newline = position == 0 ? kNowhere : text.rfind('\n', position - 1);
  const std::size_t start = newline == kNowhere ? 0 : newline + 1;
  const std::string_view line = text.substr(start, std::min(text.find('\n', start), text.size()) - start);
  const std::size_t key = line.find("smiles:");
  if (key == kNowhere) return std::nullopt;
  const std::size_t value = line.find_first_not_of(' ', key + 7);
  if (value == kNowhere || line[value] != '[') return std::nullopt;
  const std::string_view smiles =
      line.substr(value, std::min(line.find_first_of(" ,}\r", value), line.size()) - value);
  return finding_at(source, start + value, character_count(smiles),
                    {"a SMILES that begins with `[` must be quoted",
                     fmt::format("write `smiles: \"{}\"`", smiles.substr(0, 80))});
}

std::optional<Finding> misplaced_quote(const SourceText& source, const Outline& outline,
                                       std::size_t position) {
  const auto& quoted = outline.last_quoted();
  if (!quoted) return std::nullopt;
  const std::string_view text = source.text();
  const char quote = text[quoted->open];
  const std::string_view inside = text.substr(quoted->open, quoted->close - quoted->open);
  const bool ends_here = quoted->close == kNowhere || quoted->close >= position ||
                         text.find_first_not_of(" \t", quoted->close + 1) >= position;
  if (!ends_here) return std::nullopt;
  if (inside.find('\n') != kNowhere) {
    return finding_at(source, quoted->open, 1,
                      {"this quote is not closed on its line", fmt::format("close it with `{}`", quote)});
  }
  if (position < text.size() && std::string_view("]},").find(text[position]) != kNowhere) return std::nullopt;
  return finding_at(
      source, quoted->close, 1,
      {"text stands behind the closing quote",
       quote == '"' ? "write a quote inside double quotes as `\\\"`, or put single quotes around the text"
                    : "write an apostrophe inside single quotes twice, or put double quotes around the text"});
}

std::optional<Finding> open_bracket(const SourceText& source, const Outline& outline, std::size_t position) {
  const std::string_view text = source.text();
  const std::size_t before = position == 0 ? kNowhere : text.find_last_not_of(" \t", position - 1);
  if (before != kNowhere && (text[before] == ']' || text[before] == '}') && position < text.size() &&
      !is_blank(text[position]) && text[position] != ']' && text[position] != '}') {
    return finding_at(source, before, 1,
                      {fmt::format("text stands behind this `{}`", text[before]),
                       "quote the whole value, or part values by a comma"});
  }
  if (outline.open_brackets().empty()) return std::nullopt;
  const std::size_t open = outline.open_brackets().back();
  return finding_at(source, open, 1,
                    {fmt::format("this `{}` is never closed", text[open]),
                     fmt::format("close it with `{}`", text[open] == '{' ? '}' : ']')});
}

Words in_plain_words(std::string_view message) {
  const auto has = [message](std::string_view part) { return message.find(part) != kNowhere; };
  if (has("illegal map value")) {
    return {"a `: ` stands where no key can be", "quote a text that holds `: `"};
  }
  if (has("end of map")) {
    return {"this map is not closed, or a line is indented unlike its neighbours",
            "close `{` with `}`; indent keys of one map alike"};
  }
  if (has("end of sequence")) {
    return {"this list is not closed, or a line is indented unlike its neighbours",
            "close `[` with `]`; a SMILES that begins with `[` must be quoted"};
  }
  if (has("unknown escape character") || has("bad character found while scanning hex number")) {
    return {"this backslash is not understood between double quotes", "use single quotes"};
  }
  if (has("illegal EOF")) return {"the file ends inside a value", "close the quote, list or map"};
  if (has("block entry")) {
    return {"a `- ` stands where no list can be", "start the list on a line of its own"};
  }
  if (has("unknown token") || has("cannot start any token") || has("scanning a simple key")) {
    return {"this sign cannot begin a value", "quote the text"};
  }
  if (has("anchor") || has("alias")) return {"an anchor or alias is not understood here", "quote the text"};
  if (has("unbalanced") || has("flow end"))
    return {"a closing bracket without its opening one", "quote the text"};
  return {"the text cannot be read as YAML here", "check indentation, colons and quotes around this place"};
}

}  // namespace

Finding explain_yaml_fault(const SourceText& source, std::size_t position, std::string_view message) {
  const Outline outline(source.text(), position);
  const bool lacks_end = message.find("end of") != kNowhere || message.find("EOF") != kNowhere ||
                         message.find("flow end") != kNowhere;
  if (auto found = unquoted_smiles(source, position)) return *found;
  if (!outline.open_brackets().empty()) {
    if (auto found = unquoted_smiles(source, outline.open_brackets().back() + 1)) return *found;
  }
  if (lacks_end) {
    if (auto found = misplaced_quote(source, outline, position)) return *found;
    if (auto found = open_bracket(source, outline, position)) return *found;
  }
  return finding_at(source, position, 1, in_plain_words(message));
}

std::optional<Finding> fault_of_first_sign(const SourceText& source) {
  const std::string_view text = source.text();
  std::size_t first = 0;
  while (first < text.size() && (is_blank(text[first]) || text[first] == '#')) {
    first = text[first] == '#' ? std::min(text.find('\n', first), text.size()) : first + 1;
  }
  if (first >= text.size()) return std::nullopt;
  const char sign = text[first];
  const bool stands_alone = first + 1 >= text.size() || is_blank(text[first + 1]);
  const bool is_odd = std::string_view(",]}%@`").find(sign) != kNowhere ||
                      (stands_alone && (sign == ':' || sign == '?' || sign == '&' || sign == '*'));
  if (!is_odd) return std::nullopt;
  return finding_at(source, first, 1,
                    {fmt::format("no file begins with `{}`", sign), "begin the file with `format: ...`"});
}

}  // namespace firstcrop
