#include "structure/bracket_atom.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <string>
#include <utility>

#include "structure/elements.hpp"

namespace firstcrop::detail {
namespace {

constexpr int kLargestCharge = 15;

bool is_digit(char character) {
  return character >= '0' && character <= '9';
}
bool is_upper(char character) {
  return character >= 'A' && character <= 'Z';
}
bool is_lower(char character) {
  return character >= 'a' && character <= 'z';
}

class Reader {
 public:
  Reader(std::string_view text, std::size_t start) : text_(text), at_(start) {}

  BracketAtom read() {
    const std::size_t start = at_;
    read_parts();
    return {at_ - start, fault_};
  }

 private:
  void fail(std::size_t position, std::size_t width, std::string reason) {
    if (!fault_) fault_ = SmilesFault{position, width, std::move(reason)};
  }

  [[nodiscard]] char next(std::size_t ahead = 0) const {
    return at_ + ahead < text_.size() ? text_[at_ + ahead] : '\0';
  }

  void read_parts() {
    const std::size_t start = at_;
    const std::size_t end = text_.find_first_of("[]", start + 1);
    if (end == std::string_view::npos || text_[end] == '[') {
      return fail(start, 1, "`[` is never closed by `]`");
    }
    ++at_;
    const std::size_t isotope = at_;
    while (is_digit(next())) ++at_;
    if (at_ - isotope > 3) return fail(isotope, at_ - isotope, "no isotope has a mass number that large");
    read_symbol(end);
    if (!fault_) read_chirality();
    if (!fault_ && next() == 'H') {
      ++at_;
      if (is_digit(next())) ++at_;
    }
    if (!fault_) read_charge();
    if (!fault_ && next() == ':') {
      const std::size_t colon = at_++;
      while (is_digit(next())) ++at_;
      if (at_ == colon + 1 || at_ - colon > 6) {
        return fail(colon, at_ - colon, "`:` in brackets wants an atom number of at most five digits");
      }
    }
    if (fault_) return;
    if (at_ != end) return refuse_rest(end);
    ++at_;
  }

  void read_symbol(std::size_t end) {
    if (at_ == end) return fail(at_ - 1, 2, "an element symbol is missing in the brackets");
    if (next() == '*') {
      ++at_;
      return;
    }
    const std::string_view pair = text_.substr(at_, std::min<std::size_t>(2, end - at_));
    const std::string_view single = text_.substr(at_, 1);
    if (pair.size() == 2 && (atomic_number(pair) != 0 || aromatic_atomic_number(pair) != 0)) {
      at_ += 2;
      return;
    }
    // `[Xx]` must not pass as X with a strange rest.
    const bool one_letter = pair.size() < 2 || !is_lower(pair[1]);
    if (one_letter && (atomic_number(single) != 0 || aromatic_atomic_number(single) != 0)) {
      ++at_;
      return;
    }
    if (!is_upper(next()) && !is_lower(next())) {
      return fail(at_, 1, fmt::format("an element symbol was expected in the brackets before `{}`", next()));
    }
    std::size_t length = 1;
    while (is_lower(next(length))) ++length;
    fail(at_, length, fmt::format("`{}` is no element symbol", text_.substr(at_, length)));
  }

  void read_chirality() {
    if (next() != '@') return;
    const std::size_t start = at_++;
    if (next() == '@') {
      ++at_;
      return;
    }
    struct Shape {
      std::string_view name;
      int most;
    };
    constexpr std::array<Shape, 5> kShapes = {{{"TH", 2}, {"AL", 2}, {"SP", 3}, {"TB", 20}, {"OH", 30}}};
    for (const Shape& shape : kShapes) {
      if (text_.substr(at_, 2) != shape.name || !is_digit(next(2))) continue;
      at_ += 2;
      int number = 0;
      while (is_digit(next()) && number < 100) number = number * 10 + (text_[at_++] - '0');
      if (number < 1 || number > shape.most) {
        fail(start, at_ - start, fmt::format("`@{}` counts from 1 to {}", shape.name, shape.most));
      }
      return;
    }
  }

  void read_charge() {
    const char sign = next();
    if (sign != '+' && sign != '-') return;
    const std::size_t start = at_++;
    if (next() == sign) {
      ++at_;
      if (next() == sign) fail(start, 3, fmt::format("write a charge of three and more as `{}3`", sign));
      return;
    }
    int charge = 0;
    while (is_digit(next()) && charge <= kLargestCharge) charge = charge * 10 + (text_[at_++] - '0');
    if (charge > kLargestCharge) {
      fail(start, at_ - start, fmt::format("no atom bears a charge beyond {}{}", sign, kLargestCharge));
    }
  }

  void refuse_rest(std::size_t end) {
    const std::string_view rest = text_.substr(at_, end - at_);
    const std::size_t sign = rest.find_first_of("+-");
    const bool digits_first = sign != std::string_view::npos && sign > 0 && sign + 1 == rest.size() &&
                              std::all_of(rest.begin(), rest.end() - 1, is_digit);
    if (digits_first) {
      return fail(at_, rest.size(),
                  fmt::format("the sign of a charge stands before its number: `{}{}`", rest[sign],
                              rest.substr(0, sign)));
    }
    if (is_upper(rest[0]) || is_lower(rest[0])) {
      return fail(at_, rest.size(), fmt::format("one atom only in brackets: `{}` is too much", rest));
    }
    fail(at_, rest.size(),
         fmt::format(
             "`{}` is out of place: isotope, symbol, chirality, hydrogens, charge is the order in brackets",
             rest));
  }

  std::string_view text_;
  std::size_t at_ = 0;
  std::optional<SmilesFault> fault_;
};

}  // namespace

BracketAtom read_bracket(std::string_view smiles, std::size_t start) {
  return Reader(smiles, start).read();
}

}  // namespace firstcrop::detail
