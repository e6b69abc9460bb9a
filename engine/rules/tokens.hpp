#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "rules/expression.hpp"

namespace firstcrop {

enum class TokenKind { Number, Text, Word, Fact, Symbol, End };

/// One word or sign of an expression.
struct Token {
  TokenKind kind = TokenKind::End;
  std::string text;          ///< of a Text without its quotes
  double number = 0;         ///< of a Number, as written
  std::optional<Unit> unit;  ///< of a Number
  int offset = 0;            ///< in characters
  int width = 1;             ///< in characters

  [[nodiscard]] bool is(std::string_view symbol_or_word) const {
    return (kind == TokenKind::Symbol || kind == TokenKind::Word) && text == symbol_or_word;
  }
};

/// Cuts an expression into tokens, the last of which is End. Nothing where a character, a number or a quote
/// is wrong; the first fault is told.
[[nodiscard]] std::optional<std::vector<Token>> cut_into_tokens(std::string_view text,
                                                                std::vector<TextFault>& faults);

/// `and`, `or`, `not`, `in`, `meets`, `true`, `false`: no name for a `let`.
[[nodiscard]] bool is_reserved_word(std::string_view word);

}  // namespace firstcrop
