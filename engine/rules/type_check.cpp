#include "rules/type_check.hpp"

#include <algorithm>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "base/finding.hpp"

namespace firstcrop {
namespace {

std::string with_article(const std::string& words) {
  return (std::string("aeiou").find(words.front()) == std::string::npos ? "a " : "an ") + words;
}

constexpr std::size_t kMostListed = 20;

class Checker {
 public:
  Checker(const Catalogue& catalogue, const NamedTypes& lets, std::vector<TextFault>& faults)
      : catalogue_(catalogue), lets_(lets), faults_(faults) {}

  std::optional<ValueType> check(Expression& e) {
    switch (e.kind) {
      case ExpressionKind::Number:
        return ValueType{FactType::Number, e.unit ? e.unit->dimension : dimension::kNumber};
      case ExpressionKind::Text:
        return ValueType{FactType::Text, {}};
      case ExpressionKind::Flag:
        return ValueType{FactType::Flag, {}};
      case ExpressionKind::Set:
        return ValueType{FactType::Set, {}};
      case ExpressionKind::Fact:
        return fact(e);
      case ExpressionKind::Name:
        return name(e);
      case ExpressionKind::Negate:
      case ExpressionKind::Abs:
        return sign_or_size(e);
      case ExpressionKind::Add:
      case ExpressionKind::Subtract:
      case ExpressionKind::Multiply:
      case ExpressionKind::Divide:
        return arithmetic(e);
      case ExpressionKind::Less:
      case ExpressionKind::LessEqual:
      case ExpressionKind::Greater:
      case ExpressionKind::GreaterEqual:
        return ordering(e);
      case ExpressionKind::Equal:
      case ExpressionKind::NotEqual:
        return equality(e);
      case ExpressionKind::In:
      case ExpressionKind::Meets:
        return membership(e);
      case ExpressionKind::Not:
      case ExpressionKind::And:
      case ExpressionKind::Or:
        return logic(e);
      case ExpressionKind::Min:
      case ExpressionKind::Max:
      case ExpressionKind::First:
        return alike(e);
      case ExpressionKind::Log10:
        return logarithm(e);
      case ExpressionKind::Known:
      case ExpressionKind::Measured:
        return about_a_fact(e);
    }
    return std::nullopt;
  }

 private:
  std::nullopt_t fault(const Expression& e, std::string message, std::string help = {}) {
    faults_.push_back({e.offset, e.width, std::move(message), std::move(help)});
    return std::nullopt;
  }

  std::optional<ValueType> fact(Expression& e) {
    const auto found = catalogue_.find(e.text);
    if (!found) {
      const auto near = catalogue_.nearest(e.text);
      return fault(e, fmt::format("there is no fact `{}`", e.text),
                   near ? fmt::format("did you mean `{}`?", *near) : "`firstcrop rules --facts` lists them");
    }
    e.reference = *found;
    const FactInfo& info = catalogue_.info(found->fact);
    return ValueType{info.type, info.dimension};
  }

  std::optional<ValueType> name(Expression& e) {
    const auto found = lets_.find(e.text);
    if (found != lets_.end()) return found->second;
    std::vector<std::string> names;
    for (const auto& [known, type] : lets_) names.push_back(known);
    const auto near = nearest_name(e.text, names);
    return fault(e, fmt::format("`{}` is neither a fact nor a `let`", e.text.substr(0, 60)),
                 near ? fmt::format("did you mean `{}`?", *near) : help_for(e.text));
  }

  // For a bare word: the facts that end in it, or how facts and texts are written.
  [[nodiscard]] std::string help_for(const std::string& word) const {
    std::vector<std::string> names;
    for (const FactInfo& info : catalogue_.facts()) {
      if (info.name.ends_with("." + word)) names.push_back(fmt::format("`{}`", info.name));
    }
    if (!names.empty()) return fmt::format("name its scope: {}", fmt::join(names, " or "));
    return fmt::format("a fact is written `scope.name`, a text in quotes: `'{}'`", word.substr(0, 60));
  }

  // Checks all operands first, so that every fault in them is told.
  bool check_all(Expression& e, std::vector<ValueType>& types) {
    bool good = true;
    for (Expression& operand : e.operands) {
      const auto type = check(operand);
      if (type) {
        types.push_back(*type);
      } else {
        good = false;
      }
    }
    return good;
  }

  bool must_be_numbers(const Expression& e, const std::vector<ValueType>& types) {
    for (std::size_t i = 0; i < types.size(); ++i) {
      if (types[i].type != FactType::Number) {
        fault(e.operands[i], fmt::format("a number is expected, this is {}", name_of(types[i])));
        return false;
      }
    }
    return true;
  }

  std::optional<ValueType> sign_or_size(Expression& e) {
    std::vector<ValueType> types;
    if (!check_all(e, types) || !must_be_numbers(e, types)) return std::nullopt;
    if (types[0].dimension.is_temperature_point) {
      return fault(e, "a temperature has neither sign nor size", "take the difference of two temperatures");
    }
    return types[0];
  }

  std::optional<ValueType> arithmetic(Expression& e) {
    std::vector<ValueType> types;
    if (!check_all(e, types) || !must_be_numbers(e, types)) return std::nullopt;
    const Dimension& left = types[0].dimension;
    const Dimension& right = types[1].dimension;
    std::optional<Dimension> out;
    const char* verb = "";
    switch (e.kind) {
      case ExpressionKind::Add:
        out = sum(left, right);
        verb = "added";
        break;
      case ExpressionKind::Subtract:
        out = difference(left, right);
        verb = "subtracted";
        break;
      case ExpressionKind::Multiply:
        out = product(left, right);
        verb = "multiplied";
        break;
      default:
        out = quotient(left, right);
        verb = "divided";
        break;
    }
    if (out) return ValueType{FactType::Number, *out};
    std::string help;
    const bool has_temperature = left.is_temperature_point || right.is_temperature_point;
    if (has_temperature) {
      help = "differences of temperatures are in K: T - T = K, T + K = T";
    } else {
      help = missing_unit(e, left, right);
    }
    return fault(e,
                 fmt::format("{} and {} cannot be {}", with_article(firstcrop::name_of(left)),
                             with_article(firstcrop::name_of(right)), verb),
                 help);
  }

  // What to write where one side is a bare number and the other has a unit.
  static std::string missing_unit(const Expression& e, const Dimension& left, const Dimension& right) {
    for (std::size_t i = 0; i < 2; ++i) {
      if (e.operands[i].kind != ExpressionKind::Number || e.operands[i].unit) continue;
      if (const auto unit = display_unit(i == 0 ? right : left)) {
        return fmt::format("write the number with its unit: `{:g} {}`", e.operands[i].number, unit->symbol);
      }
    }
    return {};
  }

  bool same_dimension(const Expression& e, const ValueType& left, const ValueType& right) {
    if (left.dimension == right.dimension) return true;
    std::string help = missing_unit(e, left.dimension, right.dimension);
    if (help.empty() && left.dimension.is_temperature_point != right.dimension.is_temperature_point) {
      help = "°C is a temperature, K a difference of temperatures";
    }
    fault(e,
          fmt::format("{} is compared with {}", with_article(firstcrop::name_of(left.dimension)),
                      with_article(firstcrop::name_of(right.dimension))),
          help);
    return false;
  }

  std::optional<ValueType> ordering(Expression& e) {
    std::vector<ValueType> types;
    if (!check_all(e, types) || !must_be_numbers(e, types) || !same_dimension(e, types[0], types[1]))
      return std::nullopt;
    return ValueType{FactType::Flag, {}};
  }

  // A text that its fact can never hold is a slip of the pen.
  bool words_fit(const Expression& fact_side, const Expression& text) {
    if (fact_side.kind != ExpressionKind::Fact) return true;
    const std::vector<std::string>& words = catalogue_.info(fact_side.reference.fact).words;
    if (words.empty() || std::find(words.begin(), words.end(), text.text) != words.end()) return true;
    const auto near = nearest_name(text.text, words);
    fault(text, fmt::format("`{}` is never `'{}'`", fact_side.text, text.text),
          near                          ? fmt::format("did you mean `'{}'`?", *near)
          : words.size() <= kMostListed ? fmt::format("it is one of: {}", fmt::join(words, ", "))
                                        : "nothing in the library is called so");
    return false;
  }

  std::optional<ValueType> equality(Expression& e) {
    std::vector<ValueType> types;
    if (is_unquoted_text(e) || !check_all(e, types)) return std::nullopt;
    const FactType left = types[0].type;
    const FactType right = types[1].type;
    if (left == FactType::Set || right == FactType::Set) {
      return fault(e, "sets are not compared by `==` and `!=`", "write `set meets ('A'; 'B')`");
    }
    if (left == FactType::Flag || right == FactType::Flag) {
      return fault(e, "flags are not compared by `==` and `!=`", "write the flag alone, or `not` before it");
    }
    if (left != right) {
      return fault(e, fmt::format("{} is compared with {}", firstcrop::name_of(types[0]),
                                  firstcrop::name_of(types[1])));
    }
    if (left == FactType::Number && !same_dimension(e, types[0], types[1])) return std::nullopt;
    if (e.operands[1].kind == ExpressionKind::Text && !words_fit(e.operands[0], e.operands[1])) {
      return std::nullopt;
    }
    return ValueType{FactType::Flag, {}};
  }

  // `solute.form == salt`: the commonest slip with texts.
  bool is_unquoted_text(const Expression& e) {
    const Expression& right = e.operands[1];
    if (e.operands[0].kind != ExpressionKind::Fact || right.kind != ExpressionKind::Name) return false;
    const auto left = catalogue_.find(e.operands[0].text);
    const bool is_text = left && catalogue_.info(left->fact).type == FactType::Text;
    if (!is_text || lets_.find(right.text) != lets_.end()) return false;
    fault(right, "a text stands in quotes", fmt::format("write `'{}'`", right.text));
    return true;
  }

  std::optional<ValueType> membership(Expression& e) {
    std::vector<ValueType> types;
    if (!check_all(e, types)) return std::nullopt;
    const bool is_in = e.kind == ExpressionKind::In;
    if (types[0].type != (is_in ? FactType::Text : FactType::Set)) {
      return fault(e.operands[0],
                   fmt::format("{} stands before `{}`, this is {}", is_in ? "a text" : "a set",
                               is_in ? "in" : "meets", firstcrop::name_of(types[0])),
                   is_in ? "two sets are compared by `meets`" : "a text is looked up by `in`");
    }
    if (types[1].type != FactType::Set) {
      return fault(e.operands[1],
                   fmt::format("a set is expected here, this is {}", firstcrop::name_of(types[1])),
                   "write e.g. `('A'; 'B')`");
    }
    if (e.operands[1].kind == ExpressionKind::Set) {
      bool good = true;
      for (const Expression& member : e.operands[1].operands) good = words_fit(e.operands[0], member) && good;
      if (!good) return std::nullopt;
    }
    return ValueType{FactType::Flag, {}};
  }

  std::optional<ValueType> logic(Expression& e) {
    std::vector<ValueType> types;
    if (!check_all(e, types)) return std::nullopt;
    bool good = true;
    for (std::size_t i = 0; i < types.size(); ++i) {
      if (types[i].type == FactType::Flag) continue;
      fault(e.operands[i], fmt::format("a condition is expected, this is {}", firstcrop::name_of(types[i])),
            types[i].type == FactType::Number ? "compare the number with something" : "");
      good = false;
    }
    if (!good) return std::nullopt;
    return ValueType{FactType::Flag, {}};
  }

  std::optional<ValueType> alike(Expression& e) {
    std::vector<ValueType> types;
    if (!check_all(e, types)) return std::nullopt;
    if (e.kind != ExpressionKind::First && !must_be_numbers(e, types)) return std::nullopt;
    for (std::size_t i = 1; i < types.size(); ++i) {
      if (types[i] == types[0]) continue;
      return fault(e.operands[i], fmt::format("the values of `{}` must be alike: {} stands beside {}", e.text,
                                              firstcrop::name_of(types[i]), firstcrop::name_of(types[0])));
    }
    return types[0];
  }

  std::optional<ValueType> logarithm(Expression& e) {
    std::vector<ValueType> types;
    if (!check_all(e, types) || !must_be_numbers(e, types)) return std::nullopt;
    if (types[0].dimension != dimension::kNumber) {
      return fault(e, fmt::format("a logarithm of {}", with_article(firstcrop::name_of(types[0].dimension))),
                   "divide by a quantity of the same kind first");
    }
    return types[0];
  }

  std::optional<ValueType> about_a_fact(Expression& e) {
    if (e.kind == ExpressionKind::Measured && e.operands[0].kind != ExpressionKind::Fact) {
      return fault(e.operands[0], "`measured` asks about one fact",
                   "write `measured(system.hot_solubility)`");
    }
    if (!check(e.operands[0])) return std::nullopt;
    return ValueType{FactType::Flag, {}};
  }

  const Catalogue& catalogue_;
  const NamedTypes& lets_;
  std::vector<TextFault>& faults_;
};

void collect_facts(const Expression& e, std::vector<FactReference>& out) {
  if (e.kind == ExpressionKind::Fact && std::find(out.begin(), out.end(), e.reference) == out.end())
    out.push_back(e.reference);
  for (const Expression& operand : e.operands) collect_facts(operand, out);
}

void collect_names(const Expression& e, std::vector<std::string>& out) {
  if (e.kind == ExpressionKind::Name && std::find(out.begin(), out.end(), e.text) == out.end())
    out.push_back(e.text);
  for (const Expression& operand : e.operands) collect_names(operand, out);
}

}  // namespace

std::string name_of(const ValueType& type) {
  switch (type.type) {
    case FactType::Number:
      return with_article(name_of(type.dimension));
    case FactType::Flag:
      return "a flag";
    case FactType::Text:
      return "a text";
    case FactType::Set:
      break;
  }
  return "a set";
}

std::optional<ValueType> check_types(Expression& expression, const Catalogue& catalogue,
                                     const NamedTypes& lets, std::vector<TextFault>& faults) {
  return Checker(catalogue, lets, faults).check(expression);
}

std::vector<FactReference> facts_of(const Expression& expression) {
  std::vector<FactReference> out;
  collect_facts(expression, out);
  return out;
}

std::vector<std::string> names_in(const Expression& expression) {
  std::vector<std::string> out;
  collect_names(expression, out);
  return out;
}

}  // namespace firstcrop
