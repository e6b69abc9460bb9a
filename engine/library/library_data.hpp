#pragma once

#include <algorithm>
#include <functional>
#include <map>
#include <memory>
#include <string>
#include <string_view>
#include <unordered_map>
#include <utility>
#include <vector>

#include "base/finding.hpp"
#include "library/library.hpp"

namespace firstcrop {

/// Place of an unordered pair of different solvents in a triangular list.
[[nodiscard]] constexpr std::size_t pair_index(SolventId a, SolventId b) {
  const std::size_t high = std::max(a.index, b.index);
  return high * (high - 1) / 2 + std::min(a.index, b.index);
}

/// A name as it is compared: lower case, hyphens and underscores as blanks, single blanks.
[[nodiscard]] std::string folded_name(std::string_view name);

/// Hashes texts of any kind alike, so that ids are found by views.
struct TextHash {
  using is_transparent = void;
  std::size_t operator()(std::string_view text) const { return std::hash<std::string_view>{}(text); }
};

/// What a library holds; filled by the readers, then shared and never changed.
struct Library::Data {
  static constexpr std::size_t kNoRecord = static_cast<std::size_t>(-1);

  std::vector<Solvent> solvents;  ///< those of the folder sorted by id, users' own behind them
  std::unordered_map<std::string, SolventId, TextHash, std::equal_to<>> id_index;
  std::map<std::string, std::string, std::less<>> sources;

  std::vector<MiscibilityRecord> miscibilities;
  std::vector<std::size_t> miscibility_of_pair;  ///< by pair_index: place in miscibilities, or kNoRecord
  std::vector<AzeotropeRecord> azeotropes;
  std::map<std::size_t, std::size_t> azeotrope_of_pair;
  std::vector<Incompatibility> incompatibilities;
  std::vector<Condition> conditions;

  std::vector<Shelf> shelves;
  std::string default_shelf;
  std::map<std::string, NameAnswer, std::less<>> aliases;  ///< folded names that the names file adds
  std::map<std::string, NameAnswer, std::less<>> names;    ///< all folded names
  double unlisted_habit = 0;
  std::vector<Habit> habits;
  std::map<std::size_t, Habit> pair_habits;

  std::shared_ptr<const GroupCatalogue> groups;
  std::shared_ptr<const DescriptorScheme> scheme;

  [[nodiscard]] std::optional<SolventId> find(std::string_view id) const {
    const auto found = id_index.find(id);
    return found == id_index.end() ? std::nullopt : std::optional(found->second);
  }
};

/// Fills `names` from ids, full names, CAS numbers and aliases. A name that two solvents claim asks which.
void index_names(Library::Data& data);

/// Solvents that a party means (`class:NAME`, ids, `!id`, `any`); unknown words are handed to `unknown`.
[[nodiscard]] std::vector<SolventId> solvents_of_party(const Library::Data& data,
                                                       const std::vector<std::string>& party,
                                                       std::vector<std::string>& unknown);

}  // namespace firstcrop
