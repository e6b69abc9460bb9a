#pragma once

#include <cstddef>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "structure/molecule.hpp"

namespace firstcrop {

/// One functional group as the group file defines it.
struct GroupDefinition {
  std::string token;                ///< `carboxylic-acid`
  std::string name;                 ///< for people
  std::vector<std::string> smarts;  ///< any match counts; empty for groups that only people can state
  std::vector<std::string> also_known_as;
  std::vector<std::string> parents;  ///< what holds for the parent holds for the child
  bool shown = true;
  std::vector<std::string>
      model_groups;  ///< what the token stands for among `model_group_names` and the rings
  std::string note;
};

/// A text that many patterns share: `{name}` in a pattern stands for each of the alternatives in turn.
struct PatternPiece {
  std::string name;
  std::vector<std::string> alternatives;
};

/// All functional groups that rules and incompatibilities speak of.
class GroupCatalogue {
 public:
  /// Throws Error where a piece or a parent is unknown, or where brackets and atoms of a pattern do not fit
  /// (faults of our own data). Patterns are compiled when the first molecule needs them; `check_patterns`
  /// compiles all.
  explicit GroupCatalogue(std::vector<GroupDefinition> definitions,
                          const std::vector<PatternPiece>& pieces = {});

  /// In the order of the file; patterns with their pieces filled in.
  [[nodiscard]] const std::vector<GroupDefinition>& definitions() const;
  /// Definition by token, by another name, or by the name for people (case folded; blanks and hyphens are the
  /// same); null if unknown.
  [[nodiscard]] const GroupDefinition* find(std::string_view name) const;
  /// Tokens found in a structure, in the order of the catalogue. Throws Error where a pattern is not valid
  /// SMARTS.
  [[nodiscard]] std::vector<std::string> perceive(const Molecule& molecule) const;
  /// Tokens with all their parents added (for groups that a person typed), in the order of the catalogue;
  /// tokens that the catalogue does not know are left out.
  [[nodiscard]] std::vector<std::string> with_parents(const std::vector<std::string>& tokens) const;
  /// Those of the tokens that no other one implies and that are shown to people.
  [[nodiscard]] std::vector<std::string> most_specific(const std::vector<std::string>& tokens) const;
  /// The features of `group_features(Molecule)` for a solid of which only groups are known: presences of the
  /// model groups that the tokens and their parents stand for, then the least numbers of aromatic and of
  /// other rings.
  [[nodiscard]] std::vector<double> group_features(const std::vector<std::string>& tokens) const;
  /// Compiles every pattern; throws Error naming the first that is not valid SMARTS.
  void check_patterns() const;

 private:
  struct Data;
  std::shared_ptr<const Data> data_;
};

}  // namespace firstcrop
