#pragma once

#include <compare>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace firstcrop {

enum class Severity { Error, Warning, Note };

/// A stretch of one line in something a person wrote. Lines and columns count from 1, columns in characters.
/// Line 0 means the whole file or argument.
struct Place {
  std::string path;
  int line = 0;
  int column = 0;
  int width = 1;
  std::string excerpt;  ///< the source line itself, so that a finding can be shown without the file

  friend bool operator==(const Place&, const Place&) = default;
};

/// One message about what a person wrote: what was expected, where, and what to write instead.
struct Finding {
  Severity severity = Severity::Error;
  Place place;
  std::string message;
  std::string help;                 ///< the concrete fix; empty where none can be named
  std::string note;                 ///< says what stands at `note_place`
  std::optional<Place> note_place;  ///< second place, for duplicates and conflicts

  friend bool operator==(const Finding&, const Finding&) = default;
};

/// All findings of one run. Collected by everything that reads what people wrote, shown together at the end.
class Findings {
 public:
  void add(Finding finding) { items_.push_back(std::move(finding)); }
  void error(Place place, std::string message, std::string help = {});
  void warning(Place place, std::string message, std::string help = {});
  void append(const Findings& other);

  [[nodiscard]] bool has_errors() const;
  [[nodiscard]] bool empty() const { return items_.empty(); }
  [[nodiscard]] std::size_t size() const { return items_.size(); }
  /// By path, line, column, then message; exact repetitions are dropped.
  [[nodiscard]] std::vector<Finding> sorted() const;

 private:
  std::vector<Finding> items_;
};

/// `path:line:col: error: message`, the source line, a caret under the fault, `note:` and `help:` lines.
[[nodiscard]] std::string to_text(const Finding& finding);

/// The candidate nearest to `word` within an edit distance that a slip of the pen explains (one third of the
/// length, at most 3; Damerau 1964 distance, case folded); nothing if none is near or `word` is empty.
[[nodiscard]] std::optional<std::string> nearest_name(std::string_view word,
                                                      const std::vector<std::string>& candidates);

/// Number of characters (code points) in valid UTF-8 text.
[[nodiscard]] int character_count(std::string_view utf8_text);

}  // namespace firstcrop
