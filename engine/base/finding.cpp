#include "base/finding.hpp"

#include <algorithm>
#include <cctype>
#include <tuple>

#include <fmt/format.h>

namespace firstcrop {
namespace {

std::string_view word_for(Severity severity) {
  switch (severity) {
    case Severity::Error:
      return "error";
    case Severity::Warning:
      return "warning";
    case Severity::Note:
      break;
  }
  return "note";
}

std::string location(const Place& place) {
  if (place.line == 0) return place.path;
  return fmt::format("{}:{}:{}", place.path, place.line, place.column);
}

std::string excerpt_with_caret(const Place& place) {
  if (place.line == 0 || place.excerpt.empty()) return {};
  const std::string number = fmt::format("{:>5}", place.line);
  std::string caret_indent;
  int column = 1;
  for (const char byte : place.excerpt) {
    if ((static_cast<unsigned char>(byte) & 0xC0U) == 0x80U) continue;
    if (column >= place.column) break;
    caret_indent += byte == '\t' ? '\t' : ' ';
    ++column;
  }
  return fmt::format("{} | {}\n{} | {}{}\n", number, place.excerpt, std::string(number.size(), ' '),
                     caret_indent, std::string(static_cast<std::size_t>(std::max(place.width, 1)), '^'));
}

std::string folded(std::string_view word) {
  std::string out(word);
  std::transform(out.begin(), out.end(), out.begin(), [](char letter) {
    return letter == '_' ? '-' : static_cast<char>(std::tolower(static_cast<unsigned char>(letter)));
  });
  return out;
}

// Damerau's distance restricted to adjacent swaps, which is what slips of the pen are.
std::size_t edit_distance(const std::string& left, const std::string& right) {
  std::vector<std::vector<std::size_t>> cost(left.size() + 1, std::vector<std::size_t>(right.size() + 1));
  for (std::size_t i = 0; i <= left.size(); ++i) cost[i][0] = i;
  for (std::size_t j = 0; j <= right.size(); ++j) cost[0][j] = j;
  for (std::size_t i = 1; i <= left.size(); ++i) {
    for (std::size_t j = 1; j <= right.size(); ++j) {
      const std::size_t change = left[i - 1] == right[j - 1] ? 0 : 1;
      cost[i][j] = std::min({cost[i - 1][j] + 1, cost[i][j - 1] + 1, cost[i - 1][j - 1] + change});
      if (i > 1 && j > 1 && left[i - 1] == right[j - 2] && left[i - 2] == right[j - 1]) {
        cost[i][j] = std::min(cost[i][j], cost[i - 2][j - 2] + 1);
      }
    }
  }
  return cost[left.size()][right.size()];
}

}  // namespace

void Findings::error(Place place, std::string message, std::string help) {
  add(Finding{Severity::Error, std::move(place), std::move(message), std::move(help), {}, std::nullopt});
}

void Findings::warning(Place place, std::string message, std::string help) {
  add(Finding{Severity::Warning, std::move(place), std::move(message), std::move(help), {}, std::nullopt});
}

void Findings::append(const Findings& other) {
  items_.insert(items_.end(), other.items_.begin(), other.items_.end());
}

bool Findings::has_errors() const {
  return std::any_of(items_.begin(), items_.end(),
                     [](const Finding& finding) { return finding.severity == Severity::Error; });
}

std::vector<Finding> Findings::sorted() const {
  std::vector<Finding> out = items_;
  const auto key = [](const Finding& finding) {
    return std::tie(finding.place.path, finding.place.line, finding.place.column, finding.message);
  };
  std::stable_sort(out.begin(), out.end(),
                   [&key](const Finding& left, const Finding& right) { return key(left) < key(right); });
  out.erase(std::unique(out.begin(), out.end()), out.end());
  return out;
}

std::string to_text(const Finding& finding) {
  std::string out =
      fmt::format("{}: {}: {}\n", location(finding.place), word_for(finding.severity), finding.message);
  out += excerpt_with_caret(finding.place);
  if (!finding.note.empty()) {
    if (finding.note_place) {
      out += fmt::format("{}: note: {}\n", location(*finding.note_place), finding.note);
      out += excerpt_with_caret(*finding.note_place);
    } else {
      out += fmt::format("note: {}\n", finding.note);
    }
  }
  if (!finding.help.empty()) out += fmt::format("help: {}\n", finding.help);
  return out;
}

std::optional<std::string> nearest_name(std::string_view word, const std::vector<std::string>& candidates) {
  const std::string wanted = folded(word.substr(0, 80));
  const std::size_t allowed = std::min<std::size_t>(3, std::max<std::size_t>(1, wanted.size() / 3));
  std::size_t best = allowed + 1;
  std::optional<std::string> out;
  if (wanted.empty()) return out;
  for (const std::string& candidate : candidates) {
    const std::string name = folded(candidate);
    const std::size_t longer = std::max(name.size(), wanted.size());
    const std::size_t shorter = std::min(name.size(), wanted.size());
    if (longer - shorter > allowed) continue;
    const std::size_t distance = edit_distance(wanted, name);
    if (distance < best && distance < longer) {
      best = distance;
      out = candidate;
    }
  }
  return out;
}

int character_count(std::string_view utf8_text) {
  return static_cast<int>(std::count_if(utf8_text.begin(), utf8_text.end(), [](char byte) {
    return (static_cast<unsigned char>(byte) & 0xC0U) != 0x80U;
  }));
}

}  // namespace firstcrop
