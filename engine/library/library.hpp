#pragma once

#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "library/condition.hpp"
#include "library/incompatibility.hpp"
#include "library/pair_record.hpp"
#include "library/solvent.hpp"
#include "structure/descriptors.hpp"
#include "structure/groups.hpp"

namespace firstcrop {

/// What a typed solvent name turned out to mean.
struct NameAnswer {
  std::optional<SolventId> solvent;
  std::vector<std::string> choices;    ///< ids to ask about, where the name is ambiguous
  std::string remark;                  ///< caveat, or why it is no solvent here
  std::optional<std::string> nearest;  ///< where the name is unknown
};

/// Solvents that somebody has at hand.
struct Shelf {
  std::string name;
  std::vector<SolventId> solvents;
  std::vector<std::string> reasons;  ///< one a solvent; empty for `all`
  std::string about;
  std::string source;
};

/// How usual a solvent or a pair is as a first choice: a judgement of habit.
struct Habit {
  double usual = 0;           ///< 0 to 1
  int published_working = 0;  ///< published working recrystallizations that were counted
};

/// All facts of the folder `solvents/` (and of users' solvent files): records, pairs, incompatibilities,
/// shelves.
class Library {
 public:
  struct Data;
  explicit Library(std::shared_ptr<const Data> data);
  /// What the readers of this room filled; incomplete elsewhere.
  [[nodiscard]] const Data& data() const;

  [[nodiscard]] const std::vector<Solvent>& solvents() const;
  [[nodiscard]] const Solvent& solvent(SolventId id) const;
  [[nodiscard]] std::optional<SolventId> find_id(std::string_view id) const;
  /// Ids, full names, CAS numbers, aliases; without regard to case, hyphens and blanks are the same.
  [[nodiscard]] NameAnswer find(std::string_view typed_name) const;

  /// common, teaching, green, period, all
  [[nodiscard]] std::optional<Shelf> shelf(std::string_view name) const;
  [[nodiscard]] std::vector<std::string> shelf_names() const;
  [[nodiscard]] const std::string& default_shelf_name() const;

  /// Record of an unordered pair (every pair of library solvents has one; pairs with users' solvents may
  /// not).
  [[nodiscard]] const MiscibilityRecord* miscibility(SolventId a, SolventId b) const;
  /// All records, each pair once.
  [[nodiscard]] const std::vector<MiscibilityRecord>& miscibilities() const;
  [[nodiscard]] const AzeotropeRecord* azeotrope(SolventId a, SolventId b) const;
  [[nodiscard]] const std::vector<AzeotropeRecord>& azeotropes() const;
  [[nodiscard]] const std::vector<Incompatibility>& incompatibilities() const;
  [[nodiscard]] const std::vector<Condition>& conditions() const;
  /// Null if unknown.
  [[nodiscard]] const Condition* condition(std::string_view token) const;
  /// Names of all classes that solvents bear, sorted.
  [[nodiscard]] std::vector<std::string> class_names() const;
  /// Words that `contains` of a solute file may hold.
  [[nodiscard]] std::vector<std::string> residue_words() const;

  /// How usual a pair is as a choice, 0.05 where not listed.
  [[nodiscard]] double usual(SolventId a, SolventId b) const;
  [[nodiscard]] Habit habit(SolventId solvent) const;
  [[nodiscard]] Habit habit(SolventId a, SolventId b) const;

  /// Explanation of source keys (parted by blanks, each perhaps with `:place`), joined by `; `; the text
  /// itself where no key is explained.
  [[nodiscard]] std::string source_text(std::string_view keys) const;

  /// Functional groups of solids.
  [[nodiscard]] const GroupCatalogue& groups() const;
  /// Additive scheme for solute descriptors.
  [[nodiscard]] const DescriptorScheme& descriptor_scheme() const;

 private:
  std::shared_ptr<const Data> data_;
};

}  // namespace firstcrop
