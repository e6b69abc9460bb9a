#pragma once

#include <functional>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "rules/expression.hpp"

namespace firstcrop {

/// Type of an expression, and the dimension of a number.
struct ValueType {
  FactType type = FactType::Number;
  Dimension dimension;

  friend bool operator==(const ValueType&, const ValueType&) = default;
};

/// "a temperature", "a flag", "a text", "a set" for messages.
[[nodiscard]] std::string name_of(const ValueType& type);

/// The `let` names that may be used, with their types; nothing for one that is itself wrong (it was reported
/// where it stands).
using NamedTypes = std::map<std::string, std::optional<ValueType>, std::less<>>;

/// Finds the facts and `let` names of an expression, fills in their references, and checks types and
/// dimensions: T - T = K, T plus or minus K = T, comparisons of equal dimensions, texts and sets only against
/// words that their facts can take. Every fault is told; nothing is returned then.
[[nodiscard]] std::optional<ValueType> check_types(Expression& expression, const Catalogue& catalogue,
                                                   const NamedTypes& lets, std::vector<TextFault>& faults);

/// Every fact of a checked expression, each once, in order of appearance.
[[nodiscard]] std::vector<FactReference> facts_of(const Expression& expression);
/// Every `let` name of an expression, each once.
[[nodiscard]] std::vector<std::string> names_in(const Expression& expression);

}  // namespace firstcrop
