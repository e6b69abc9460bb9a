#include "structure/smiles_scanner.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <utility>

#include "structure/bracket_atom.hpp"
#include "structure/elements.hpp"

namespace firstcrop::detail {
namespace {

constexpr std::size_t kMostOpenBranches = 60;
constexpr std::size_t kMostRings = 40;
constexpr int kMostBonds = 12;

bool is_digit(char character) {
  return character >= '0' && character <= '9';
}
bool is_upper(char character) {
  return character >= 'A' && character <= 'Z';
}
bool is_lower(char character) {
  return character >= 'a' && character <= 'z';
}
bool is_blank(char character) {
  return character == ' ' || character == '\t' || character == '\n' || character == '\r';
}

/// Bytes of the UTF-8 character that begins with `first`.
std::size_t bytes_of_character(unsigned char first) {
  if (first >= 0xF0U) return 4;
  if (first >= 0xE0U) return 3;
  return first >= 0xC0U ? 2 : 1;
}

class Scanner {
 public:
  explicit Scanner(std::string_view text) : text_(text) {}

  std::variant<SmilesOutline, SmilesFault> scan() {
    if (text_.empty()) return SmilesFault{0, 1, "the SMILES is empty"};
    while (!fault_ && at_ < text_.size()) read_symbol();
    if (!fault_) check_end();
    if (fault_) return *fault_;
    return outline_;
  }

 private:
  struct Bond {
    std::size_t position = 0;
    std::size_t width = 1;
    char order = '-';  ///< direction marks count as single; `>` for a dative bond
  };
  struct OpenRing {
    std::size_t position = 0;
    std::size_t width = 1;
    std::size_t atom = 0;
    std::optional<Bond> bond;
  };
  struct OpenBranch {
    std::size_t position = 0;
    std::size_t atom = 0;
  };

  void fail(std::size_t position, std::size_t width, std::string reason) {
    if (!fault_) fault_ = SmilesFault{position, width, std::move(reason)};
  }

  [[nodiscard]] char next(std::size_t ahead = 0) const {
    return at_ + ahead < text_.size() ? text_[at_ + ahead] : '\0';
  }

  void read_symbol() {
    const char character = next();
    if (character == '[') return read_bracket_atom();
    if (is_digit(character) || character == '%') return read_ring_number();
    if (character == '(') return open_branch();
    if (character == ')') return close_branch();
    if (character == '.') return read_dot();
    if (std::string_view("-=#$:/\\<").find(character) != std::string_view::npos) return read_bond();
    if (character == '*' || is_upper(character) || is_lower(character)) return read_plain_atom();
    refuse_character();
  }

  void refuse_character() {
    const char character = next();
    const auto byte = static_cast<unsigned char>(character);
    if (is_blank(character)) return fail(at_, 1, "a blank cannot stand in a SMILES");
    if (character == ']') return fail(at_, 1, "`]` without `[` before it");
    if (character == '>')
      return fail(at_, 1, "a reaction arrow: one structure is wanted here, not a reaction");
    if (character == '~')
      return fail(at_, 1, "`~` (any bond) belongs to search patterns, not to a structure");
    if (byte < 0x20U || byte == 0x7FU) return fail(at_, 1, "an unprintable character");
    if (byte >= 0x80U) {
      return fail(at_, 1,
                  fmt::format("`{}` is no character of SMILES, which is plain ASCII",
                              text_.substr(at_, bytes_of_character(byte))));
    }
    fail(at_, 1, fmt::format("`{}` has no meaning in a SMILES", character));
  }

  void read_plain_atom() {
    const char first = next();
    const char second = next(1);
    if ((first == 'C' && second == 'l') || (first == 'B' && second == 'r')) return add_atom(2);
    if (std::string_view("*BCNOPSFIbcnops").find(first) == std::string_view::npos) return refuse_letter();
    add_atom(1);
  }

  /// Says which symbol was probably meant by a letter that no atom outside brackets begins with.
  void refuse_letter() {
    const char letter = next();
    const char before = at_ > 0 ? text_[at_ - 1] : '\0';
    if (is_lower(letter) && is_upper(before) && !outline_.atoms.empty()) {
      const std::string symbol = {before, letter};
      if (atomic_number(symbol) != 0) {
        return fail(at_ - 1, 2, fmt::format("`{0}` needs square brackets: `[{0}]`", symbol));
      }
    }
    if (letter == 'L' && before == 'C') return fail(at_ - 1, 2, "chlorine is written `Cl`");
    if (letter == 'R' && before == 'B') return fail(at_ - 1, 2, "bromine is written `Br`");
    if (letter == 'l' && before == 'c') return fail(at_ - 1, 2, "chlorine is written `Cl`");
    if (letter == 'H') return fail(at_, 1, "hydrogen is left out, or stands in square brackets: `[H]`");
    if (letter == 'D' || letter == 'T') {
      return fail(at_, 1,
                  fmt::format("`{}` is no symbol here: write `[{}H]`", letter, letter == 'D' ? 2 : 3));
    }
    if (letter == 'R' || letter == 'X') {
      return fail(at_, 1, fmt::format("`{}` is a place holder: write `*` for an attachment point", letter));
    }
    const std::string pair = {letter, is_lower(next(1)) ? next(1) : ' '};
    if (atomic_number(pair) != 0) {
      return fail(at_, 2, fmt::format("`{0}` needs square brackets: `[{0}]`", pair));
    }
    const std::string_view single = text_.substr(at_, 1);
    if (atomic_number(single) != 0) {
      return fail(at_, 1, fmt::format("`{0}` needs square brackets: `[{0}]`", single));
    }
    fail(at_, 1, fmt::format("`{}` is no element symbol", letter));
  }

  void read_bracket_atom() {
    const BracketAtom atom = read_bracket(text_, at_);
    if (atom.fault) {
      fault_ = atom.fault;
      return;
    }
    add_atom(atom.width);
  }

  void add_atom(std::size_t width) {
    const std::size_t index = outline_.atoms.size();
    outline_.atoms.push_back({at_, width});
    bond_count_.push_back(0);
    if (previous_) {
      if (!join(*previous_, index, at_, width)) return;
    }
    previous_ = index;
    bond_.reset();
    after_dot_ = false;
    branch_is_empty_ = false;
    at_ += width;
  }

  bool join(std::size_t first, std::size_t second, std::size_t position, std::size_t width) {
    bonds_.insert({std::min(first, second), std::max(first, second)});
    for (const std::size_t atom : {first, second}) {
      if (++bond_count_[atom] > kMostBonds) {
        fail(position, width, fmt::format("an atom with more than {} neighbours", kMostBonds));
        return false;
      }
    }
    return true;
  }

  void read_bond() {
    Bond bond{at_, 1, next()};
    const std::string_view pair = text_.substr(at_, 2);
    if (pair == "->" || pair == "<-") bond = {at_, 2, '>'};
    if (pair == "\\\\") bond.width = 2;
    if (bond.order == '/' || bond.order == '\\') bond.order = '-';
    if (bond.order == '<') return refuse_character();
    if (bond_) return fail(at_, bond.width, "a bond follows a bond");
    if (!previous_ || after_dot_) return fail(at_, bond.width, "a bond has no atom before it");
    bond_ = bond;
    at_ += bond.width;
  }

  void read_dot() {
    if (bond_) return fail(bond_->position, bond_->width, "a bond has no atom after it");
    if (branch_is_empty_) return fail(at_, 1, "a branch cannot begin with `.`");
    if (!previous_) return fail(at_, 1, "`.` parts two molecules: one is missing before it");
    previous_.reset();
    after_dot_ = true;
    ++at_;
  }

  void open_branch() {
    if (bond_) return fail(bond_->position, bond_->width, "a bond belongs into the branch, behind `(`");
    if (branch_is_empty_) return fail(at_, 1, "a branch begins with an atom, not with another branch");
    if (!previous_) return fail(at_, 1, "a branch has no atom before it");
    if (branches_.size() == kMostOpenBranches) return fail(at_, 1, "the branches are nested too deeply");
    branches_.push_back({at_, *previous_});
    branch_is_empty_ = true;
    ++at_;
  }

  void close_branch() {
    if (branches_.empty()) return fail(at_, 1, "`)` without `(` before it");
    if (bond_) return fail(bond_->position, bond_->width, "a bond has no atom after it");
    if (branch_is_empty_)
      return fail(branches_.back().position, at_ + 1 - branches_.back().position, "the branch is empty");
    if (after_dot_) return fail(at_ - 1, 1, "`.` parts two molecules: one is missing after it");
    previous_ = branches_.back().atom;
    branches_.pop_back();
    ++at_;
  }

  void read_ring_number() {
    const std::size_t start = at_;
    std::size_t width = 1;
    int number = next() - '0';
    if (next() == '%') {
      if (!is_digit(next(1)) || !is_digit(next(2)) || next(1) == '0') {
        return fail(start, 1, "`%` is followed by a ring number of two digits, 10 to 99");
      }
      number = (next(1) - '0') * 10 + (next(2) - '0');
      width = 3;
    }
    if (!previous_ || branch_is_empty_) return fail(start, width, "a ring number has no atom before it");
    const auto open = rings_.find(number);
    if (open == rings_.end()) {
      rings_[number] = {start, width, *previous_, bond_};
    } else {
      close_ring(open->second, start, width);
      rings_.erase(open);
    }
    bond_.reset();
    at_ += width;
  }

  void close_ring(const OpenRing& open, std::size_t position, std::size_t width) {
    const std::size_t here = *previous_;
    if (open.atom == here) return fail(position, width, "a ring cannot close on the atom where it opens");
    if (bonds_.count({std::min(open.atom, here), std::max(open.atom, here)}) != 0) {
      return fail(position, width, "this ring number joins two atoms that are already neighbours");
    }
    if (open.bond && bond_ && open.bond->order != bond_->order) {
      return fail(bond_->position, bond_->width, "the two ends of this ring bond name different bonds");
    }
    if (++ring_count_ > kMostRings)
      return fail(position, width, fmt::format("more than {} rings", kMostRings));
    join(open.atom, here, position, width);
  }

  void check_end() {
    if (bond_) return fail(bond_->position, bond_->width, "a bond has no atom after it");
    std::optional<SmilesFault> open;
    if (!branches_.empty()) {
      open = SmilesFault{branches_.front().position, 1, "`(` is never closed by `)`"};
    }
    for (const auto& [number, ring] : rings_) {
      if (!open || ring.position < open->position) {
        open = SmilesFault{ring.position, ring.width, fmt::format("ring {} is never closed", number)};
      }
    }
    if (open) {
      fault_ = open;
      return;
    }
    if (after_dot_) fail(text_.size() - 1, 1, "`.` parts two molecules: one is missing after it");
  }

  std::string_view text_;
  std::size_t at_ = 0;
  SmilesOutline outline_;
  std::optional<SmilesFault> fault_;
  std::optional<std::size_t> previous_;  ///< atom that the next bond starts from
  std::optional<Bond> bond_;             ///< written, its far atom not yet read
  bool after_dot_ = false;
  bool branch_is_empty_ = false;
  std::vector<OpenBranch> branches_;
  std::map<int, OpenRing> rings_;
  std::set<std::pair<std::size_t, std::size_t>> bonds_;
  std::vector<int> bond_count_;
  std::size_t ring_count_ = 0;
};

}  // namespace

std::variant<SmilesOutline, SmilesFault> scan_smiles(std::string_view smiles) {
  if (smiles.size() > kLongestSmiles) {
    return SmilesFault{kLongestSmiles, 1, fmt::format("longer than {} characters", kLongestSmiles)};
  }
  return Scanner(smiles).scan();
}

}  // namespace firstcrop::detail
