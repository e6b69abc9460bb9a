#include "structure/atom_condition.hpp"

#include <algorithm>
#include <cstddef>

#include "structure/elements.hpp"

namespace firstcrop::detail {
namespace {

bool is_digit(char character) {
  return character >= '0' && character <= '9';
}

/// Parts a text at a separator that stands outside round brackets.
std::vector<std::string_view> parted(std::string_view text, char separator) {
  std::vector<std::string_view> parts;
  std::size_t start = 0;
  int depth = 0;
  for (std::size_t at = 0; at < text.size(); ++at) {
    if (text[at] == '(') ++depth;
    if (text[at] == ')') --depth;
    if (text[at] == separator && depth == 0) {
      parts.push_back(text.substr(start, at - start));
      start = at + 1;
    }
  }
  parts.push_back(text.substr(start));
  return parts;
}

/// Reads digits at `at`, which moves past them.
std::optional<int> read_number(std::string_view text, std::size_t& at) {
  if (at >= text.size() || !is_digit(text[at])) return std::nullopt;
  int number = 0;
  while (at < text.size() && is_digit(text[at]) && number < 1000) number = number * 10 + (text[at++] - '0');
  return number;
}

/// Position behind the bracket that closes the one at `at`; npos where none does.
std::size_t past_brackets(std::string_view text, std::size_t at) {
  int depth = 0;
  for (; at < text.size(); ++at) {
    if (text[at] == '(') ++depth;
    if (text[at] == ')' && --depth == 0) return at + 1;
  }
  return std::string_view::npos;
}

int read_charge(std::string_view text, std::size_t& at) {
  const char sign = text[at++];
  int charge = 1;
  if (const std::optional<int> number = read_number(text, at)) {
    charge = *number;
  } else {
    for (; at < text.size() && text[at] == sign; ++at) ++charge;
  }
  return sign == '+' ? charge : -charge;
}

}  // namespace

std::optional<AtomCondition> AtomCondition::parse(std::string_view smarts_atom) {
  AtomCondition condition;
  for (const std::string_view clause : parted(smarts_atom, ';')) {
    Alternatives alternatives;
    for (const std::string_view text : parted(clause, ',')) {
      const std::optional<Conjunction> conjunction = parse_conjunction(text);
      if (!conjunction) return std::nullopt;
      alternatives.push_back(*conjunction);
    }
    condition.clauses_.push_back(std::move(alternatives));
  }
  return condition;
}

std::optional<AtomCondition::Conjunction> AtomCondition::parse_conjunction(std::string_view text) {
  Conjunction literals;
  bool negated = false;
  const auto add = [&](Property property, int value) {
    literals.push_back({property, value, negated});
    negated = false;
  };
  std::size_t at = 0;
  while (at < text.size()) {
    const char character = text[at];
    const std::string_view pair = text.substr(at, 2);
    if (character == '!') {
      negated = !negated;
      ++at;
    } else if (character == '&') {
      ++at;
    } else if (character == '$') {
      at = past_brackets(text, at + 1);
      if (at == std::string_view::npos) return std::nullopt;
      add(Property::Unknown, 0);
    } else if (character == '#') {
      const std::optional<int> number = read_number(text, ++at);
      if (!number) return std::nullopt;
      add(Property::AtomicNumber, *number);
    } else if (character == '+' || character == '-') {
      add(Property::Charge, read_charge(text, at));
    } else if (pair.size() == 2 && atomic_number(pair) != 0) {
      add(Property::Aliphatic, atomic_number(pair));
      at += 2;
    } else if (pair.size() == 2 && aromatic_atomic_number(pair) != 0) {
      add(Property::Aromatic, aromatic_atomic_number(pair));
      at += 2;
    } else if (character == 'X' || character == 'D' ||
               (character == 'H' && (at > 0 || is_digit(pair.back())))) {
      const std::optional<int> number = read_number(text, ++at);
      const Property counted = character == 'X'   ? Property::Connections
                               : character == 'D' ? Property::Degree
                                                  : Property::Hydrogens;
      add(counted, number.value_or(1));
    } else if (character == 'H') {
      // A bare `H` at the start may be the element or a count.
      ++at;
      add(Property::Unknown, 0);
    } else if (atomic_number(text.substr(at, 1)) != 0) {
      add(Property::Aliphatic, atomic_number(text.substr(at++, 1)));
    } else if (aromatic_atomic_number(text.substr(at, 1)) != 0) {
      add(Property::Aromatic, aromatic_atomic_number(text.substr(at++, 1)));
    } else {
      // Ring sizes, valences, isotopes, `*`, `a`, `A`, chirality: a letter or mark with its number.
      ++at;
      read_number(text, at);
      add(Property::Unknown, 0);
    }
  }
  if (literals.empty()) return std::nullopt;
  return literals;
}

bool AtomCondition::may_hold(const Literal& literal, const AtomFacts& atom) {
  bool holds = true;
  switch (literal.property) {
    case Property::Unknown:
      return true;
    case Property::AtomicNumber:
      holds = atom.atomic_number == literal.value;
      break;
    case Property::Aliphatic:
      holds = atom.atomic_number == literal.value && !atom.aromatic;
      break;
    case Property::Aromatic:
      holds = atom.atomic_number == literal.value && atom.aromatic;
      break;
    case Property::Degree:
      holds = atom.degree == literal.value;
      break;
    case Property::Connections:
      holds = atom.connections == literal.value;
      break;
    case Property::Hydrogens:
      holds = atom.hydrogens == literal.value;
      break;
    case Property::Charge:
      holds = atom.charge == literal.value;
      break;
  }
  return holds != literal.negated;
}

bool AtomCondition::may_match(const AtomFacts& atom) const {
  const auto conjunction_may_hold = [&](const Conjunction& conjunction) {
    return std::all_of(conjunction.begin(), conjunction.end(),
                       [&](const Literal& literal) { return may_hold(literal, atom); });
  };
  return std::all_of(clauses_.begin(), clauses_.end(), [&](const Alternatives& alternatives) {
    return std::any_of(alternatives.begin(), alternatives.end(), conjunction_may_hold);
  });
}

}  // namespace firstcrop::detail
