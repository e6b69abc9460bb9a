#include "input/source_text.hpp"

#include <algorithm>

namespace firstcrop {
namespace {

constexpr std::size_t kLongestExcerpt = 120;

}  // namespace

std::vector<std::size_t> starts_of_lines(std::string_view text) {
  std::vector<std::size_t> starts{0};
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text[i] == '\n') starts.push_back(i + 1);
  }
  return starts;
}

std::size_t utf8_sequence_length(std::string_view text, std::size_t position) {
  const auto byte = [&text](std::size_t i) -> unsigned {
    return i < text.size() ? static_cast<unsigned char>(text[i]) : 0U;
  };
  const auto is_tail = [&byte](std::size_t i) { return (byte(i) & 0xC0U) == 0x80U; };
  const unsigned first = byte(position);
  if (first < 0x80U) return 1;
  if (first >= 0xC2U && first <= 0xDFU) return is_tail(position + 1) ? 2 : 0;
  if (first >= 0xE0U && first <= 0xEFU) {
    const unsigned second = byte(position + 1);
    const unsigned low = first == 0xE0U ? 0xA0U : 0x80U;
    const unsigned high = first == 0xEDU ? 0x9FU : 0xBFU;
    return second >= low && second <= high && is_tail(position + 2) ? 3 : 0;
  }
  if (first >= 0xF0U && first <= 0xF4U) {
    const unsigned second = byte(position + 1);
    const unsigned low = first == 0xF0U ? 0x90U : 0x80U;
    const unsigned high = first == 0xF4U ? 0x8FU : 0xBFU;
    return second >= low && second <= high && is_tail(position + 2) && is_tail(position + 3) ? 4 : 0;
  }
  return 0;
}

std::string_view SourceText::line(int number) const {
  if (number < 1 || static_cast<std::size_t>(number) > starts_.size()) return {};
  const std::size_t from = starts_[static_cast<std::size_t>(number) - 1];
  std::size_t to = static_cast<std::size_t>(number) < starts_.size()
                       ? starts_[static_cast<std::size_t>(number)] - 1
                       : text_.size();
  if (to > from && text_[to - 1] == '\r') --to;
  return text_.substr(from, to - from);
}

std::size_t SourceText::offset_of(int number, std::size_t byte_column) const {
  if (number < 1 || static_cast<std::size_t>(number) > starts_.size()) return text_.size();
  return std::min(starts_[static_cast<std::size_t>(number) - 1] + byte_column, text_.size());
}

std::size_t SourceText::offset_of_character(int number, int column) const {
  const std::string_view whole = line(number);
  std::size_t byte = 0;
  for (int passed = 1; byte < whole.size() && passed < column; ++passed) {
    byte += std::max<std::size_t>(utf8_sequence_length(whole, byte), 1);
  }
  return offset_of(number, byte);
}

Place SourceText::place(int line_number, int column, int width) const {
  Place out{std::string(path_), line_number, column, std::max(width, 1), {}};
  const std::string_view whole = line(line_number);
  if (whole.size() <= kLongestExcerpt) {
    out.excerpt = std::string(whole);
  } else if (static_cast<std::size_t>(column) < kLongestExcerpt - 20) {
    std::size_t cut = kLongestExcerpt;
    while (cut > 0 && (static_cast<unsigned char>(whole[cut]) & 0xC0U) == 0x80U) --cut;
    out.excerpt = std::string(whole.substr(0, cut)) + " ...";
    out.width = std::min(out.width, static_cast<int>(kLongestExcerpt) - column);
  }
  return out;
}

Place SourceText::place_at_byte(std::size_t position, int width) const {
  const auto next = std::upper_bound(starts_.begin(), starts_.end(), position);
  const auto number = static_cast<int>(next - starts_.begin());
  const std::size_t from = starts_[static_cast<std::size_t>(number) - 1];
  return place(number, character_count(text_.substr(from, position - from)) + 1, width);
}

}  // namespace firstcrop
