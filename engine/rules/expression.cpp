#include "rules/expression.hpp"

#include <algorithm>
#include <array>
#include <utility>

#include <fmt/format.h>

#include "base/finding.hpp"
#include "rules/tokens.hpp"

namespace firstcrop {
namespace {

struct Function {
  std::string_view name;
  ExpressionKind kind;
  bool takes_several;
};

constexpr std::array kFunctions{
    Function{"min", ExpressionKind::Min, true},           Function{"max", ExpressionKind::Max, true},
    Function{"first", ExpressionKind::First, true},       Function{"abs", ExpressionKind::Abs, false},
    Function{"log10", ExpressionKind::Log10, false},      Function{"known", ExpressionKind::Known, false},
    Function{"measured", ExpressionKind::Measured, false}};

struct Sign {
  std::string_view text;
  ExpressionKind kind;
};

constexpr std::array kRelations{Sign{"<", ExpressionKind::Less},    Sign{"<=", ExpressionKind::LessEqual},
                                Sign{">", ExpressionKind::Greater}, Sign{">=", ExpressionKind::GreaterEqual},
                                Sign{"==", ExpressionKind::Equal},  Sign{"!=", ExpressionKind::NotEqual}};
constexpr std::array kSums{Sign{"+", ExpressionKind::Add}, Sign{"-", ExpressionKind::Subtract}};
constexpr std::array kTerms{Sign{"*", ExpressionKind::Multiply}, Sign{"/", ExpressionKind::Divide}};

std::string function_names() {
  std::string out;
  for (const Function& function : kFunctions)
    out += fmt::format("{}`{}`", out.empty() ? "" : ", ", function.name);
  return out;
}

class Parser {
 public:
  Parser(std::vector<Token> tokens, std::vector<TextFault>& faults)
      : tokens_(std::move(tokens)), faults_(faults) {}

  std::optional<Expression> run() {
    if (now().kind == TokenKind::End) {
      fail(now(), "the expression is empty", {});
      return std::nullopt;
    }
    auto out = any_of();
    if (out && now().kind != TokenKind::End) {
      what_follows();
      return std::nullopt;
    }
    return out;
  }

 private:
  using Parsed = std::optional<Expression>;

  // Bounds the recursion, whatever stands in the text.
  class Deeper {
   public:
    explicit Deeper(int& depth) : depth_(++depth) {}
    Deeper(const Deeper&) = delete;
    Deeper& operator=(const Deeper&) = delete;
    ~Deeper() { --depth_; }

   private:
    int& depth_;
  };

  [[nodiscard]] const Token& now() const { return tokens_[at_]; }
  Token take() { return tokens_[at_ + 1 < tokens_.size() ? at_++ : at_]; }
  Parsed fail(const Token& token, std::string message, std::string help) {
    faults_.push_back({token.offset, token.width, std::move(message), std::move(help)});
    return std::nullopt;
  }
  void what_follows() {
    const Token& token = now();
    if (token.is(")")) {
      fail(token, "this bracket was never opened", "delete it, or open it");
    } else if (token.is(";")) {
      fail(token, "`;` stands between arguments only", {});
    } else {
      fail(token, fmt::format("`{}` does not continue the expression", token.text.substr(0, 40)),
           "join conditions by `and` or `or`, numbers by `+ - * /`");
    }
  }
  static Expression node(ExpressionKind kind, std::vector<Expression> operands) {
    Expression out;
    out.kind = kind;
    out.offset = operands.front().offset;
    out.width = operands.back().offset + operands.back().width - out.offset;
    out.operands = std::move(operands);
    return out;
  }
  static Expression node(ExpressionKind kind, Expression left, Expression right) {
    std::vector<Expression> operands;
    operands.push_back(std::move(left));
    operands.push_back(std::move(right));
    return node(kind, std::move(operands));
  }
  static Expression leaf(ExpressionKind kind, const Token& token) {
    Expression out;
    out.kind = kind;
    out.offset = token.offset;
    out.width = token.width;
    out.text = token.text;
    return out;
  }

  Parsed joined(std::string_view word, ExpressionKind kind, Parsed (Parser::*part)()) {
    Parsed left = (this->*part)();
    while (left && now().is(word)) {
      take();
      Parsed right = (this->*part)();
      if (!right) return std::nullopt;
      left = node(kind, std::move(*left), std::move(*right));
    }
    return left;
  }
  Parsed any_of() { return joined("or", ExpressionKind::Or, &Parser::all_of); }
  Parsed all_of() { return joined("and", ExpressionKind::And, &Parser::negation); }

  Parsed negation() {
    if (!now().is("not")) return test();
    const Deeper deeper(depth_);
    if (depth_ > kDeepestExpression) return too_deep();
    const Token sign = take();
    Parsed operand = negation();
    if (!operand) return std::nullopt;
    return with_sign(ExpressionKind::Not, sign, std::move(*operand));
  }
  static Expression with_sign(ExpressionKind kind, const Token& sign, Expression operand) {
    const int end = operand.offset + operand.width;
    std::vector<Expression> operands;
    operands.push_back(std::move(operand));
    Expression out = node(kind, std::move(operands));
    out.offset = sign.offset;
    out.width = end - sign.offset;
    return out;
  }
  Parsed too_deep() {
    return fail(now(),
                fmt::format("more than {} brackets and signs stand within one another", kDeepestExpression),
                "split the expression with `let`");
  }

  template <std::size_t n>
  [[nodiscard]] const Sign* sign_among(const std::array<Sign, n>& signs) const {
    const auto found =
        std::find_if(signs.begin(), signs.end(), [this](const Sign& sign) { return now().is(sign.text); });
    return found == signs.end() ? nullptr : &*found;
  }

  Parsed test() {
    Parsed left = sum();
    if (!left) return std::nullopt;
    const bool is_membership = now().is("in") || now().is("meets");
    const Sign* relation = sign_among(kRelations);
    if (!is_membership && relation == nullptr) return left;
    if (left->kind == ExpressionKind::Text) {
      Token at;
      at.offset = left->offset;
      at.width = left->width;
      return fail(at, "a text never comes first", fmt::format("write it behind: `fact == '{}'`", left->text));
    }
    if (is_membership) {
      const Token word = take();
      Parsed right = members(word);
      if (!right) return std::nullopt;
      left = node(word.is("in") ? ExpressionKind::In : ExpressionKind::Meets, std::move(*left),
                  std::move(*right));
    } else {
      take();
      Parsed right = sum();
      if (!right) return std::nullopt;
      left = node(relation->kind, std::move(*left), std::move(*right));
    }
    if (sign_among(kRelations) != nullptr || now().is("in") || now().is("meets")) {
      const std::string middle = to_text(left->operands.back());
      const std::string help =
          left->is_comparison() ? fmt::format("write `{} and {} {} ...`", to_text(*left), middle, now().text)
                                : "join two tests by `and`";
      return fail(now(), "comparisons do not chain", help);
    }
    return left;
  }

  Parsed members(const Token& word) {
    if (now().kind == TokenKind::Fact) return leaf(ExpressionKind::Fact, take());
    if (now().kind == TokenKind::Text) {
      return fail(now(), fmt::format("behind `{}` a set stands in brackets", word.text),
                  fmt::format("write `('{}')`", now().text));
    }
    if (!now().is("(")) {
      return fail(now(), fmt::format("behind `{}` stands a set or a fact", word.text),
                  "write a set like `('A'; 'B')`");
    }
    const Token open = take();
    std::vector<Expression> words;
    while (true) {
      if (now().kind != TokenKind::Text) {
        return fail(now(), "a set holds texts in quotes, separated by `;`",
                    now().kind == TokenKind::Word ? fmt::format("write `'{}'`", now().text)
                                                  : "write a set like `('A'; 'B')`");
      }
      words.push_back(leaf(ExpressionKind::Text, take()));
      if (now().is(")")) break;
      if (!now().is(";")) {
        return fail(now(),
                    now().kind == TokenKind::End ? "the set is never closed"
                                                 : "a set holds texts in quotes, separated by `;`",
                    now().kind == TokenKind::End ? "close it with `)`" : "write a set like `('A'; 'B')`");
      }
      take();
    }
    const Token close = take();
    Expression out = node(ExpressionKind::Set, std::move(words));
    out.offset = open.offset;
    out.width = close.offset + close.width - open.offset;
    return out;
  }

  template <std::size_t n>
  Parsed chain(const std::array<Sign, n>& signs, Parsed (Parser::*part)()) {
    Parsed left = (this->*part)();
    while (left) {
      const Sign* sign = sign_among(signs);
      if (sign == nullptr) break;
      take();
      Parsed right = (this->*part)();
      if (!right) return std::nullopt;
      left = node(sign->kind, std::move(*left), std::move(*right));
    }
    return left;
  }
  Parsed sum() { return chain(kSums, &Parser::term); }
  Parsed term() { return chain(kTerms, &Parser::sign); }

  Parsed sign() {
    if (!now().is("-")) return atom();
    const Token minus = take();
    // A minus before a number belongs to it, for -5 °C is a temperature and the negative of one is nothing.
    if (now().kind == TokenKind::Number) {
      Expression out = number(take(), -1);
      out.width += out.offset - minus.offset;
      out.offset = minus.offset;
      return out;
    }
    Parsed operand = atom();
    if (!operand) return std::nullopt;
    return with_sign(ExpressionKind::Negate, minus, std::move(*operand));
  }
  static Expression number(const Token& token, double sign) {
    Expression out = leaf(ExpressionKind::Number, token);
    out.text.clear();
    out.unit = token.unit;
    out.number = token.unit ? token.unit->to_canonical(sign * token.number) : sign * token.number;
    return out;
  }

  Parsed atom() {
    const Deeper deeper(depth_);
    if (depth_ > kDeepestExpression) return too_deep();
    const Token& token = now();
    switch (token.kind) {
      case TokenKind::Number:
        return number(take(), 1);
      case TokenKind::Text:
        return leaf(ExpressionKind::Text, take());
      case TokenKind::Fact:
        return leaf(ExpressionKind::Fact, take());
      case TokenKind::Word:
        return word();
      case TokenKind::End:
        return fail(token, "the expression ends too early", "a value must follow here");
      case TokenKind::Symbol:
        break;
    }
    if (!token.is("(")) {
      return fail(token, fmt::format("a value is expected here, not `{}`", token.text),
                  token.is("+") ? "delete the `+`" : std::string());
    }
    const Token open = take();
    Parsed inner = any_of();
    if (!inner) return std::nullopt;
    if (now().is(";") && inner->kind == ExpressionKind::Text) {
      return fail(open, "a set stands only behind `in` and `meets`", "write `fact in ('A'; 'B')`");
    }
    const Token close = now();
    if (!closed(open)) return std::nullopt;
    inner->offset = open.offset;
    inner->width = close.offset + close.width - open.offset;
    return inner;
  }
  bool closed(const Token& open) {
    if (now().is(")")) {
      take();
      return true;
    }
    if (now().kind == TokenKind::End) {
      fail(open, "this bracket is never closed", "close it with `)`");
    } else {
      what_follows();
    }
    return false;
  }

  Parsed word() {
    const Token name = take();
    if (name.text == "true" || name.text == "false") {
      Expression out = leaf(ExpressionKind::Flag, name);
      out.flag = name.text == "true";
      return out;
    }
    if (is_reserved_word(name.text)) {
      return fail(name, fmt::format("a value is expected here, not `{}`", name.text),
                  name.is("not") ? "put brackets around `not ...`" : std::string());
    }
    const auto function =
        std::find_if(kFunctions.begin(), kFunctions.end(),
                     [&name](const Function& candidate) { return candidate.name == name.text; });
    if (!now().is("(")) {
      if (function == kFunctions.end()) return leaf(ExpressionKind::Name, name);
      return fail(name, fmt::format("`{}` needs its argument in brackets", name.text),
                  fmt::format("write `{}(...)`", name.text));
    }
    if (function == kFunctions.end()) return unknown_function(name);
    const Token open = take();
    std::vector<Expression> arguments;
    do {
      if (!arguments.empty()) take();
      Parsed argument = any_of();
      if (!argument) return std::nullopt;
      arguments.push_back(std::move(*argument));
    } while (now().is(";"));
    const Token close = now();
    if (!closed(open)) return std::nullopt;
    if (function->takes_several && arguments.size() < 2) {
      return fail(name, fmt::format("`{}` needs at least two arguments", name.text), "separate them by `;`");
    }
    if (!function->takes_several && arguments.size() > 1) {
      return fail(name, fmt::format("`{}` takes one argument, not {}", name.text, arguments.size()), {});
    }
    Expression out = node(function->kind, std::move(arguments));
    out.text = name.text;
    out.offset = name.offset;
    out.width = close.offset + close.width - name.offset;
    return out;
  }
  Parsed unknown_function(const Token& name) {
    std::vector<std::string> names;
    names.reserve(kFunctions.size());
    for (const Function& function : kFunctions) names.emplace_back(function.name);
    const auto near = nearest_name(name.text, names);
    if (name.text == "log" || name.text == "ln" || name.text == "lg") {
      return fail(name, fmt::format("there is no function `{}`", name.text), "write `log10(...)`");
    }
    return fail(name, fmt::format("there is no function `{}`", name.text.substr(0, 40)),
                near ? fmt::format("did you mean `{}`?", *near)
                     : fmt::format("known functions: {}", function_names()));
  }

  std::vector<Token> tokens_;
  std::vector<TextFault>& faults_;
  std::size_t at_ = 0;
  int depth_ = 0;
};

}  // namespace

std::optional<Expression> parse_expression(std::string_view text, std::vector<TextFault>& faults) {
  if (character_count(text) > kLongestExpression) {
    faults.push_back({0, 1, fmt::format("the expression is longer than {} characters", kLongestExpression),
                      "split it with `let`"});
    return std::nullopt;
  }
  auto tokens = cut_into_tokens(text, faults);
  if (!tokens) return std::nullopt;
  return Parser(std::move(*tokens), faults).run();
}

}  // namespace firstcrop
