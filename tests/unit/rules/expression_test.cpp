#include "rules/expression.hpp"

#include <string>
#include <utility>
#include <vector>

#include <doctest/doctest.h>

using namespace firstcrop;

namespace {

std::string spelled(const std::string& text) {
  std::vector<TextFault> faults;
  const auto parsed = parse_expression(text, faults);
  if (!parsed)
    return "refused: " + (faults.empty() ? std::string("without a reason") : faults.front().message);
  CHECK(faults.empty());
  return to_text(*parsed);
}

TextFault fault_of(const std::string& text) {
  std::vector<TextFault> faults;
  const auto parsed = parse_expression(text, faults);
  CHECK_FALSE(parsed);
  REQUIRE_MESSAGE(faults.size() == 1, text);
  return faults.front();
}

}  // namespace

TEST_CASE("every sign and word of the language is understood") {
  const std::vector<std::string> expressions{
      "a.b < c.d",
      "a.b <= 5 K",
      "a.b > -5 °C",
      "a.b >= .5",
      "a.b == 'text with blanks'",
      "a.b != 'x'",
      "a.b in ('one'; 'two')",
      "a.b in c.d",
      "a.b meets ('one')",
      "a.b meets c.d",
      "not a.b",
      "a.b and c.d",
      "a.b or c.d and e.f",
      "(a.b or c.d) and e.f",
      "true",
      "not false",
      "a.b + 1 - 2 * 3 / 4",
      "-a.b",
      "min(a.b; 2; 3)",
      "max(a.b; c.d)",
      "abs(a.b - c.d)",
      "log10(a.b / c.d)",
      "first(a.b; c.d; 1)",
      "known(a.b)",
      "measured(a.b)",
      "margin > 3",
  };
  for (const std::string& text : expressions) {
    std::vector<TextFault> faults;
    const auto parsed = parse_expression(text, faults);
    CHECK_MESSAGE(parsed, text);
    // What is written out reads back as the same.
    if (parsed) CHECK_MESSAGE(spelled(to_text(*parsed)) == to_text(*parsed), text);
  }
}

TEST_CASE("every unit may be written in an expression, the longest that fits") {
  for (const Unit& unit : all_units()) {
    std::vector<TextFault> faults;
    const std::string text = "3 " + std::string(unit.symbol);
    const auto parsed = parse_expression(text, faults);
    REQUIRE_MESSAGE(parsed, text);
    REQUIRE_MESSAGE(parsed->unit, text);
    CHECK_MESSAGE(parsed->unit->symbol == unit.symbol, text);
    CHECK(parsed->number == doctest::Approx(unit.to_canonical(3)));
  }
}

TEST_CASE("signs bind as in arithmetic and logic") {
  CHECK(spelled("a.b - c.d - e.f") == "a.b - c.d - e.f");
  CHECK(spelled("a.b - (c.d - e.f)") == "a.b - (c.d - e.f)");
  CHECK(spelled("((a.b)) * (c.d + 1)") == "a.b * (c.d + 1)");
  CHECK(spelled("not a.b and c.d") == "not a.b and c.d");
  CHECK(spelled("not (a.b and c.d)") == "not (a.b and c.d)");
  CHECK(spelled("a.b + 1 < c.d * 2 and e.f") == "a.b + 1 < c.d * 2 and e.f");
}

TEST_CASE("a minus before a number belongs to it, so that -5 °C is a temperature") {
  std::vector<TextFault> faults;
  const auto parsed = parse_expression("-5 °C", faults);
  REQUIRE(parsed);
  CHECK(parsed->kind == ExpressionKind::Number);
  CHECK(parsed->number == doctest::Approx(268.15));
  CHECK(parsed->width == 5);
  const auto difference = parse_expression("a.b -5 °C", faults);
  REQUIRE(difference);
  CHECK(difference->kind == ExpressionKind::Subtract);
}

TEST_CASE("positions count characters, not bytes") {
  std::vector<TextFault> faults;
  const auto parsed = parse_expression("5 °C < a.b", faults);
  REQUIRE(parsed);
  CHECK(parsed->operands[1].offset == 7);
  CHECK(parsed->operands[1].width == 3);
  CHECK(parsed->width == 10);
}

TEST_CASE("every way of writing it wrong has its message and help") {
  struct Slip {
    std::string text;
    std::string message;
    std::string help;
    int offset;
  };
  const std::vector<Slip> slips{
      {"", "the expression is empty", "", 0},
      {"a.b < c.d < e.f", "comparisons do not chain", "write `a.b < c.d and c.d < ...`", 10},
      {"a.b in ('x') == 1", "comparisons do not chain", "join two tests by `and`", 13},
      {"min(a.b, 2)", "a comma separates nothing here", "separate by `;`", 7},
      {"a.b = 'x'", "a single `=` is not understood here", "write `==`", 4},
      {"a.b && c.d", "`&&` is not understood here", "write `and`", 4},
      {"a.b || c.d", "`||` is not understood here", "write `or`", 4},
      {"!a.b", "`!` is not understood here", "write `not`", 0},
      {"a.b <> 1", "`<>` is not understood here", "write `!=`", 4},
      {"a.b => 1", "`=>` is not understood here", "write `>=`", 4},
      {"a.b =< 1", "`=<` is not understood here", "write `<=`", 4},
      {"a.b ≤ 1", "`≤` is not understood here", "write `<=`", 4},
      {"a.b − 1", "this is a typeset minus", "write `-`", 4},
      {"a.b ** 2", "there are no powers here", "multiply: `x * x`", 4},
      {"a.b ^ 2", "there are no powers here", "multiply: `x * x`", 4},
      {"a.b == \"x\"", "double quotes are not understood here", "a text stands in single quotes: `'A'`", 7},
      {"a.b in {'x'}", "braces are not understood here", "a set stands in round brackets: `('A'; 'B')`", 7},
      {"a.b in ['x']", "square brackets are not understood here",
       "a set stands in round brackets: `('A'; 'B')`", 7},
      {"a.b == 'x", "this quote is never closed", "close it with `'`", 7},
      {"a.b == ''", "the text is empty", "", 7},
      {"a.b # c", "`#` is not understood here", "", 4},
      {"'x' == a.b", "a text never comes first", "write it behind: `fact == 'x'`", 0},
      {"a.b in 'x'", "behind `in` a set stands in brackets", "write `('x')`", 7},
      {"a.b in 5", "behind `in` stands a set or a fact", "write a set like `('A'; 'B')`", 7},
      {"a.b in (x)", "a set holds texts in quotes, separated by `;`", "write `'x'`", 8},
      {"a.b in ()", "a set holds texts in quotes, separated by `;`", "write a set like `('A'; 'B')`", 8},
      {"a.b in ('x' 'y')", "a set holds texts in quotes, separated by `;`", "write a set like `('A'; 'B')`",
       12},
      {"a.b in ('x'", "the set is never closed", "close it with `)`", 11},
      {"('x'; 'y')", "a set stands only behind `in` and `meets`", "write `fact in ('A'; 'B')`", 0},
      {"(a.b + 1", "this bracket is never closed", "close it with `)`", 0},
      {"min(a.b; 1", "this bracket is never closed", "close it with `)`", 3},
      {"a.b + 1)", "this bracket was never opened", "delete it, or open it", 7},
      {"a.b; c.d", "`;` stands between arguments only", "", 3},
      {"a.b c.d", "`c.d` does not continue the expression",
       "join conditions by `and` or `or`, numbers by `+ - * /`", 4},
      {"a.b +", "the expression ends too early", "a value must follow here", 5},
      {"a.b + + 1", "a value is expected here, not `+`", "delete the `+`", 6},
      {"a.b < and", "a value is expected here, not `and`", "", 6},
      {"a.b < not c.d", "a value is expected here, not `not`", "put brackets around `not ...`", 6},
      {"a.b AND c.d", "`AND` is written small here", "write `and`", 4},
      {"log(a.b)", "there is no function `log`", "write `log10(...)`", 0},
      {"maxx(a.b; 1)", "there is no function `maxx`", "did you mean `max`?", 0},
      {"squareroot(a.b)", "there is no function `squareroot`",
       "known functions: `min`, `max`, `first`, `abs`, `log10`, `known`, `measured`", 0},
      {"min + 1", "`min` needs its argument in brackets", "write `min(...)`", 0},
      {"min(a.b)", "`min` needs at least two arguments", "separate them by `;`", 0},
      {"abs(a.b; c.d)", "`abs` takes one argument, not 2", "", 0},
      {"a. < 1", "a fact is two words with a point between them", "write it like `solute.melting_point`", 0},
      {"a.b.c < 1", "a fact has one point, not two", "write it like `solute.melting_point`", 0},
      {"a.b < .", "a point without digits stands here", "write `0.5` or `.5`", 6},
      {"a.b < 5. and c.d", "digits must follow the point of a number", "", 6},
      {"a.b < 1e-3", "numbers have no exponent here", "write the number out: `0.001`", 7},
      {"a.b < 5 C", "`C` is not a unit", "write `5 °C`", 8},
      {"a.b < 5 F", "temperatures are in °C, not in Fahrenheit", "convert it to °C", 8},
      {"a.b < 5 ml", "`ml` is not a unit", "did you mean `mL`?", 8},
      {"a.b < 5 furlongs", "`furlongs` is not a unit", "", 8},
  };
  for (const Slip& slip : slips) {
    CAPTURE(slip.text);
    const TextFault fault = fault_of(slip.text);
    CHECK(fault.message == slip.message);
    CHECK(fault.help == slip.help);
    CHECK(fault.offset == slip.offset);
    CHECK(fault.width >= 1);
  }
}

TEST_CASE("hostile text is refused and never followed") {
  CHECK(fault_of(std::string(2001, 'a')).message == "the expression is longer than 2000 characters");
  CHECK(fault_of(std::string(600, '(') + "1" + std::string(600, ')')).message ==
        "more than 40 brackets and signs stand within one another");
  std::string nots;
  for (int i = 0; i < 300; ++i) nots += "not ";
  CHECK(fault_of(nots + "a.b").message == "more than 40 brackets and signs stand within one another");
  CHECK(fault_of(std::string(1900, '9')).message == "the number is too large or too small");
  CHECK(fault_of(std::string(1500, '-') + "1").message == "a value is expected here, not `-`");
  std::string calls;
  for (int i = 0; i < 300; ++i) calls += "abs(";
  CHECK(fault_of(calls).message == "more than 40 brackets and signs stand within one another");
}

TEST_CASE("a long sum is no nest") {
  std::string text = "a.b";
  for (int i = 0; i < 300; ++i) text += " + 1";
  std::vector<TextFault> faults;
  CHECK(parse_expression(text, faults));
}

TEST_CASE("any bytes end in a tree or a fault") {
  std::uint32_t state = 12345;
  const std::string letters = "ab.() ;'<>=!+-*/0159 K°C%andornotinmeets\t\n\\\"{}[]";
  for (int round = 0; round < 3000; ++round) {
    std::string text;
    for (int i = 0; i < 40; ++i) {
      state = state * 1664525U + 1013904223U;
      text += letters[(state >> 16U) % letters.size()];
    }
    std::vector<TextFault> faults;
    const auto parsed = parse_expression(text, faults);
    CHECK(parsed.has_value() == faults.empty());
  }
}
