#include <array>

#include <fmt/format.h>

#include "rules/expression.hpp"

namespace firstcrop {
namespace {

// How strongly a sign binds; operands that bind less stand in brackets.
int strength(const Expression& expression) {
  switch (expression.kind) {
    case ExpressionKind::Or:
      return 1;
    case ExpressionKind::And:
      return 2;
    case ExpressionKind::Not:
      return 3;
    case ExpressionKind::Less:
    case ExpressionKind::LessEqual:
    case ExpressionKind::Greater:
    case ExpressionKind::GreaterEqual:
    case ExpressionKind::Equal:
    case ExpressionKind::NotEqual:
    case ExpressionKind::In:
    case ExpressionKind::Meets:
      return 4;
    case ExpressionKind::Add:
    case ExpressionKind::Subtract:
      return 5;
    case ExpressionKind::Multiply:
    case ExpressionKind::Divide:
      return 6;
    case ExpressionKind::Negate:
      return 7;
    default:
      return 8;
  }
}

std::string_view sign_of(ExpressionKind kind) {
  switch (kind) {
    case ExpressionKind::Or:
      return "or";
    case ExpressionKind::And:
      return "and";
    case ExpressionKind::Less:
      return "<";
    case ExpressionKind::LessEqual:
      return "<=";
    case ExpressionKind::Greater:
      return ">";
    case ExpressionKind::GreaterEqual:
      return ">=";
    case ExpressionKind::Equal:
      return "==";
    case ExpressionKind::NotEqual:
      return "!=";
    case ExpressionKind::In:
      return "in";
    case ExpressionKind::Meets:
      return "meets";
    case ExpressionKind::Add:
      return "+";
    case ExpressionKind::Subtract:
      return "-";
    case ExpressionKind::Multiply:
      return "*";
    case ExpressionKind::Divide:
      return "/";
    case ExpressionKind::Min:
      return "min";
    case ExpressionKind::Max:
      return "max";
    case ExpressionKind::Abs:
      return "abs";
    case ExpressionKind::Log10:
      return "log10";
    case ExpressionKind::First:
      return "first";
    case ExpressionKind::Known:
      return "known";
    case ExpressionKind::Measured:
      return "measured";
    default:
      return {};
  }
}

std::string in_brackets_below(const Expression& expression, int least) {
  const std::string text = to_text(expression);
  return strength(expression) < least ? fmt::format("({})", text) : text;
}

std::string listed(const std::vector<Expression>& expressions) {
  std::string out = "(";
  for (const Expression& expression : expressions) {
    if (out.size() > 1) out += "; ";
    out += to_text(expression);
  }
  return out + ")";
}

}  // namespace

std::string to_text(const Expression& expression) {
  const auto& operands = expression.operands;
  switch (expression.kind) {
    case ExpressionKind::Number:
      if (!expression.unit) return fmt::format("{}", expression.number);
      return fmt::format("{:.10g} {}", expression.unit->from_canonical(expression.number),
                         expression.unit->symbol);
    case ExpressionKind::Text:
      return fmt::format("'{}'", expression.text);
    case ExpressionKind::Flag:
      return expression.flag ? "true" : "false";
    case ExpressionKind::Fact:
    case ExpressionKind::Name:
      return expression.text;
    case ExpressionKind::Set:
      return listed(operands);
    case ExpressionKind::Negate:
      return fmt::format("-{}", in_brackets_below(operands[0], 8));
    case ExpressionKind::Not:
      return fmt::format("not {}", in_brackets_below(operands[0], 3));
    case ExpressionKind::Min:
    case ExpressionKind::Max:
    case ExpressionKind::Abs:
    case ExpressionKind::Log10:
    case ExpressionKind::First:
    case ExpressionKind::Known:
    case ExpressionKind::Measured:
      return std::string(sign_of(expression.kind)) + listed(operands);
    default:
      break;
  }
  const int own = strength(expression);
  const bool is_test = own == 4;
  return fmt::format("{} {} {}", in_brackets_below(operands[0], is_test ? own + 1 : own),
                     sign_of(expression.kind), in_brackets_below(operands[1], own + 1));
}

}  // namespace firstcrop
