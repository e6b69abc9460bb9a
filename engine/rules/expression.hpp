#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "facts/catalogue.hpp"

namespace firstcrop {

/// Something wrong inside one expression or sentence. Offset and width count characters from its start.
struct TextFault {
  int offset = 0;
  int width = 1;
  std::string message;
  std::string help;

  friend bool operator==(const TextFault&, const TextFault&) = default;
};

enum class ExpressionKind {
  Number,
  Text,
  Flag,
  Fact,
  Name,
  Set,
  Negate,
  Add,
  Subtract,
  Multiply,
  Divide,
  Less,
  LessEqual,
  Greater,
  GreaterEqual,
  Equal,
  NotEqual,
  In,
  Meets,
  Not,
  And,
  Or,
  Min,
  Max,
  Abs,
  Log10,
  First,
  Known,
  Measured
};

/// One node of a parsed expression.
struct Expression {
  ExpressionKind kind = ExpressionKind::Number;
  int offset = 0;                    ///< of its first character
  int width = 1;                     ///< in characters, its parts included
  double number = 0;                 ///< of Number, canonical
  std::optional<Unit> unit;          ///< of Number, if one was written
  bool flag = false;                 ///< of Flag
  std::string text;                  ///< of Text; name as written of Fact and Name
  FactReference reference;           ///< of Fact, filled in by check_types
  std::vector<Expression> operands;  ///< texts of a Set; arguments of a call

  [[nodiscard]] bool is_comparison() const {
    return kind >= ExpressionKind::Less && kind <= ExpressionKind::NotEqual;
  }
};

inline constexpr int kLongestExpression = 2000;  ///< characters
inline constexpr int kDeepestExpression = 40;    ///< brackets and operators within one another

/// Reads one expression of a rule. Every way of being wrong is a fault with the concrete fix where one can be
/// named; nothing is returned then. Hostile text is refused, never followed: length and depth are limited.
[[nodiscard]] std::optional<Expression> parse_expression(std::string_view text,
                                                         std::vector<TextFault>& faults);

/// The expression written out in one way, so that two spellings of one condition compare equal.
[[nodiscard]] std::string to_text(const Expression& expression);

}  // namespace firstcrop
