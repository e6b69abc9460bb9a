#include "rules/tokens.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <utility>

#include <fmt/format.h>

#include "base/finding.hpp"

namespace firstcrop {
namespace {

constexpr std::array<std::string_view, 7> kReserved{"and", "or", "not", "in", "meets", "true", "false"};
constexpr std::array<std::string_view, 13> kSymbols{"<=", ">=", "==", "!=", "<", ">", "+",
                                                    "-",  "*",  "/",  "(",  ")", ";"};

struct Slip {
  std::string_view written;
  std::string_view message;
  std::string_view help;
};

// Signs of other languages and of mathematics. Longer ones stand before what they begin with.
constexpr std::array kSlips{
    Slip{"&&", "`&&` is not understood here", "write `and`"},
    Slip{"||", "`||` is not understood here", "write `or`"},
    Slip{"<>", "`<>` is not understood here", "write `!=`"},
    Slip{"=<", "`=<` is not understood here", "write `<=`"},
    Slip{"=>", "`=>` is not understood here", "write `>=`"},
    Slip{"**", "there are no powers here", "multiply: `x * x`"},
    Slip{"^", "there are no powers here", "multiply: `x * x`"},
    Slip{"=", "a single `=` is not understood here", "write `==`"},
    Slip{"!", "`!` is not understood here", "write `not`"},
    Slip{"&", "`&` is not understood here", "write `and`"},
    Slip{"|", "`|` is not understood here", "write `or`"},
    Slip{",", "a comma separates nothing here", "separate by `;`"},
    Slip{"{", "braces are not understood here", "a set stands in round brackets: `('A'; 'B')`"},
    Slip{"}", "braces are not understood here", "a set stands in round brackets: `('A'; 'B')`"},
    Slip{"[", "square brackets are not understood here", "a set stands in round brackets: `('A'; 'B')`"},
    Slip{"]", "square brackets are not understood here", "a set stands in round brackets: `('A'; 'B')`"},
    Slip{"\"", "double quotes are not understood here", "a text stands in single quotes: `'A'`"},
    Slip{"\u2264", "`\u2264` is not understood here", "write `<=`"},
    Slip{"\u2265", "`\u2265` is not understood here", "write `>=`"},
    Slip{"\u2260", "`\u2260` is not understood here", "write `!=`"},
    Slip{"\u00D7", "`\u00D7` is not understood here", "write `*`"},
    Slip{"\u00B7", "`\u00B7` is not understood here", "write `*`"},
    Slip{"\u2212", "this is a typeset minus", "write `-`"},
    Slip{"\u2013", "this is a dash", "write `-`"},
    Slip{"\u2018", "this is a typeset quote", "write `'`"},
    Slip{"\u2019", "this is a typeset quote", "write `'`"},
};

bool is_letter(char letter) {
  return (letter >= 'a' && letter <= 'z') || (letter >= 'A' && letter <= 'Z');
}
bool is_digit(char letter) {
  return letter >= '0' && letter <= '9';
}
bool is_word_part(char letter) {
  return is_letter(letter) || is_digit(letter) || letter == '_';
}

class Cutter {
 public:
  Cutter(std::string_view text, std::vector<TextFault>& faults) : text_(text), faults_(faults) {}

  std::optional<std::vector<Token>> run() {
    while (true) {
      while (at_ < text_.size() && (text_[at_] == ' ' || text_[at_] == '\n' || text_[at_] == '\t')) ++at_;
      if (at_ >= text_.size()) break;
      if (!next()) return std::nullopt;
    }
    Token end;
    end.offset = characters_before(text_.size());
    tokens_.push_back(end);
    return std::move(tokens_);
  }

 private:
  [[nodiscard]] int characters_before(std::size_t byte) {
    // Positions only ever move forward, so that counting stays linear.
    if (byte < counted_bytes_) return character_count(text_.substr(0, byte));
    counted_characters_ += character_count(text_.substr(counted_bytes_, byte - counted_bytes_));
    counted_bytes_ = byte;
    return counted_characters_;
  }
  bool fail(std::size_t from, std::size_t to, std::string message, std::string help) {
    faults_.push_back({characters_before(from), std::max(character_count(text_.substr(from, to - from)), 1),
                       std::move(message), std::move(help)});
    return false;
  }
  void keep(TokenKind kind, std::size_t from, std::string text) {
    Token token;
    token.kind = kind;
    token.text = std::move(text);
    token.offset = characters_before(from);
    token.width = character_count(text_.substr(from, at_ - from));
    tokens_.push_back(std::move(token));
  }
  [[nodiscard]] std::size_t end_of_word(std::size_t from) const {
    while (from < text_.size() && is_word_part(text_[from])) ++from;
    return from;
  }

  bool next() {
    const char first = text_[at_];
    const bool is_point = first == '.' && at_ + 1 < text_.size() && is_digit(text_[at_ + 1]);
    if (is_digit(first) || is_point) return number();
    if (is_letter(first)) return word();
    if (first == '\'') return quoted();
    const std::string_view rest = text_.substr(at_);
    const auto symbol = std::find_if(kSymbols.begin(), kSymbols.end(), [rest](std::string_view candidate) {
      return rest.starts_with(candidate);
    });
    const auto slip = std::find_if(kSlips.begin(), kSlips.end(), [rest](const Slip& candidate) {
      return rest.starts_with(candidate.written);
    });
    const bool slip_is_longer =
        slip != kSlips.end() && (symbol == kSymbols.end() || slip->written.size() > symbol->size());
    if (slip_is_longer) {
      return fail(at_, at_ + slip->written.size(), std::string(slip->message), std::string(slip->help));
    }
    if (symbol != kSymbols.end()) {
      const std::size_t from = at_;
      at_ += symbol->size();
      keep(TokenKind::Symbol, from, std::string(*symbol));
      return true;
    }
    std::size_t end = at_ + 1;
    while (end < text_.size() && (static_cast<unsigned char>(text_[end]) & 0xC0U) == 0x80U) ++end;
    if (first == '.') return fail(at_, end, "a point without digits stands here", "write `0.5` or `.5`");
    return fail(at_, end, fmt::format("`{}` is not understood here", text_.substr(at_, end - at_)), {});
  }

  bool number() {
    const std::size_t from = at_;
    std::size_t end = at_;
    while (end < text_.size() && is_digit(text_[end])) ++end;
    if (end < text_.size() && text_[end] == '.') {
      const std::size_t digits = ++end;
      while (end < text_.size() && is_digit(text_[end])) ++end;
      if (end == digits) return fail(from, end, "digits must follow the point of a number", {});
    }
    double value = 0;
    const auto [stop, status] =
        std::from_chars(text_.data() + from, text_.data() + end, value, std::chars_format::fixed);
    if (status != std::errc{} || !std::isfinite(value)) {
      return fail(from, end, "the number is too large or too small", {});
    }
    std::optional<Unit> unit;
    std::size_t unit_at = end;
    while (unit_at < text_.size() && (text_[unit_at] == ' ' || text_[unit_at] == '\n')) ++unit_at;
    if (unit_at < text_.size() && begins_unit(unit_at)) {
      unit = leading_unit(text_.substr(unit_at));
      if (unit) {
        end = unit_at + unit->symbol.size();
      } else if (!is_reserved_word(text_.substr(unit_at, end_of_word(unit_at) - unit_at))) {
        return wrong_unit(from, unit_at);
      }
    }
    at_ = end;
    keep(TokenKind::Number, from, std::string(text_.substr(from, end - from)));
    tokens_.back().number = value;
    tokens_.back().unit = unit;
    return true;
  }
  [[nodiscard]] bool begins_unit(std::size_t position) const {
    const char first = text_[position];
    return is_letter(first) || first == '%' || text_.substr(position).starts_with("\u00B0") ||
           text_.substr(position).starts_with("\u00B5") || text_.substr(position).starts_with("\u03BC") ||
           text_.substr(position).starts_with("\u00BA");
  }
  bool wrong_unit(std::size_t from, std::size_t unit_at) {
    std::size_t end = unit_at;
    while (end < text_.size() && std::string_view(" \n();<>=!+*").find(text_[end]) == std::string_view::npos)
      ++end;
    const std::string_view written = text_.substr(unit_at, end - unit_at);
    const std::string number(text_.substr(from, text_.find_first_not_of("0123456789.", from) - from));
    const bool is_exponent =
        (written.front() == 'e' || written.front() == 'E') && unit_at == from + number.size();
    if (is_exponent) {
      return fail(unit_at, end, "numbers have no exponent here", "write the number out: `0.001`");
    }
    std::string word(written);
    std::transform(word.begin(), word.end(), word.begin(), [](char letter) {
      return letter >= 'A' && letter <= 'Z' ? static_cast<char>(letter + 32) : letter;
    });
    if (word == "c" || word == "degc" || word == "\u00BAc" || word == "deg" || word == "celsius") {
      return fail(unit_at, end, fmt::format("`{}` is not a unit", written),
                  fmt::format("write `{} \u00B0C`", number));
    }
    if (word == "f" || word == "\u00B0f" || word == "degf") {
      return fail(unit_at, end, "temperatures are in \u00B0C, not in Fahrenheit", "convert it to \u00B0C");
    }
    std::vector<std::string> symbols;
    for (const Unit& unit : all_units()) symbols.emplace_back(unit.symbol);
    const auto near = nearest_name(written, symbols);
    return fail(unit_at, end, fmt::format("`{}` is not a unit", written.substr(0, 40)),
                near ? fmt::format("did you mean `{}`?", *near) : std::string());
  }

  bool word() {
    const std::size_t from = at_;
    std::size_t end = end_of_word(from);
    TokenKind kind = TokenKind::Word;
    if (end < text_.size() && text_[end] == '.') {
      const std::size_t second = end + 1;
      end = end_of_word(second);
      if (end == second || !is_letter(text_[second])) {
        return fail(from, end, "a fact is two words with a point between them",
                    "write it like `solute.melting_point`");
      }
      if (end < text_.size() && text_[end] == '.') {
        return fail(from, end_of_word(end + 1), "a fact has one point, not two",
                    "write it like `solute.melting_point`");
      }
      kind = TokenKind::Fact;
    }
    const std::string_view written = text_.substr(from, end - from);
    if (written == "AND" || written == "OR" || written == "NOT" || written == "And" || written == "Or" ||
        written == "Not") {
      std::string small(written);
      for (char& letter : small) letter = letter < 'a' ? static_cast<char>(letter + 32) : letter;
      return fail(from, end, fmt::format("`{}` is written small here", written),
                  fmt::format("write `{}`", small));
    }
    at_ = end;
    keep(kind, from, std::string(written));
    return true;
  }

  bool quoted() {
    const std::size_t from = at_;
    const std::size_t end = text_.find('\'', from + 1);
    if (end == std::string_view::npos)
      return fail(from, from + 1, "this quote is never closed", "close it with `'`");
    if (end == from + 1) return fail(from, end + 1, "the text is empty", {});
    at_ = end + 1;
    keep(TokenKind::Text, from, std::string(text_.substr(from + 1, end - from - 1)));
    return true;
  }

  std::string_view text_;
  std::vector<TextFault>& faults_;
  std::vector<Token> tokens_;
  std::size_t at_ = 0;
  std::size_t counted_bytes_ = 0;
  int counted_characters_ = 0;
};

}  // namespace

bool is_reserved_word(std::string_view word) {
  return std::find(kReserved.begin(), kReserved.end(), word) != kReserved.end();
}

std::optional<std::vector<Token>> cut_into_tokens(std::string_view text, std::vector<TextFault>& faults) {
  return Cutter(text, faults).run();
}

}  // namespace firstcrop
