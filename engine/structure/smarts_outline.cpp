#include "structure/smarts_outline.hpp"

#include <map>

namespace firstcrop::detail {
namespace {

bool is_digit(char character) {
  return character >= '0' && character <= '9';
}

class Reader {
 public:
  explicit Reader(std::string_view smarts) : text_(smarts) {}

  std::optional<SmartsOutline> read() {
    while (at_ < text_.size()) {
      if (!read_symbol()) return std::nullopt;
    }
    if (outline_.atoms.empty() || !branches_.empty()) return std::nullopt;
    return outline_;
  }

 private:
  bool read_symbol() {
    constexpr std::string_view kBareAtoms = "BCNOPSFIbcnops*aA";
    const char character = text_[at_];
    if (character == '[') return read_bracket();
    const std::string_view pair = text_.substr(at_, 2);
    if (pair == "Cl" || pair == "Br") {
      add_atom(pair);
      at_ += 2;
    } else if (kBareAtoms.find(character) != std::string_view::npos) {
      add_atom(text_.substr(at_++, 1));
    } else if (character == '(') {
      branches_.push_back(previous_);
      ++at_;
    } else if (character == ')') {
      if (branches_.empty()) return false;
      previous_ = branches_.back();
      branches_.pop_back();
      ++at_;
    } else if (is_digit(character) || character == '%') {
      read_ring_number();
    } else {
      if (character == '.') {
        previous_.reset();
      } else {
        // A bond of several symbols (`=,:` or `!@`) is not judged.
        bond_ = bond_ == '1' && std::string_view("-=#:").find(character) != std::string_view::npos ? character
                                                                                                   : '~';
      }
      ++at_;
    }
    return true;
  }

  bool read_bracket() {
    int depth = 0;
    for (std::size_t end = at_; end < text_.size(); ++end) {
      if (text_[end] == '[') ++depth;
      if (text_[end] == ']' && --depth == 0) {
        add_atom(text_.substr(at_ + 1, end - at_ - 1));
        at_ = end + 1;
        return true;
      }
    }
    return false;
  }

  void add_atom(std::string_view atom) {
    const std::size_t index = outline_.atoms.size();
    outline_.atoms.push_back(atom);
    if (previous_) outline_.links.push_back({*previous_, index, bond_});
    previous_ = index;
    bond_ = '1';
  }

  void read_ring_number() {
    const std::size_t digits = text_[at_] == '%' ? 3 : 1;
    const std::string_view number = text_.substr(at_, digits);
    at_ += digits;
    bond_ = '1';
    if (!previous_) return;
    const auto open = rings_.find(number);
    if (open == rings_.end()) {
      rings_.emplace(number, *previous_);
    } else {
      outline_.links.push_back({open->second, *previous_, '~'});
      rings_.erase(open);
    }
  }

  std::string_view text_;
  std::size_t at_ = 0;
  SmartsOutline outline_;
  std::optional<std::size_t> previous_;
  char bond_ = '1';
  std::vector<std::optional<std::size_t>> branches_;
  std::map<std::string_view, std::size_t> rings_;
};

}  // namespace

std::optional<SmartsOutline> outline_smarts(std::string_view smarts) {
  return Reader(smarts).read();
}

}  // namespace firstcrop::detail
