#pragma once

#include <cstddef>
#include <memory>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "structure/molecule.hpp"

namespace firstcrop::detail {

/// Atoms of one match, as indices into the molecule.
using MatchedAtoms = std::vector<int>;

/// SMARTS patterns that are compiled only when a molecule holds the atoms and bonds they ask for: compiling
/// all group patterns takes longer than everything else that is done with a structure.
class PatternSet {
 public:
  /// Throws Error where a text cannot be SMARTS by its brackets and atoms.
  explicit PatternSet(const std::vector<std::string>& smarts);
  [[nodiscard]] std::size_t size() const;
  /// Compiles every pattern; throws Error naming the first that is not valid SMARTS.
  void compile_all() const;

 private:
  friend class PatternSearch;
  struct Data;
  std::shared_ptr<const Data> data_;
};

/// The patterns of one set tried on one molecule; a pattern that occurs twice is matched once.
class PatternSearch {
 public:
  PatternSearch(const PatternSet& patterns, const Molecule& molecule);
  ~PatternSearch();
  PatternSearch(const PatternSearch&) = delete;
  PatternSearch& operator=(const PatternSearch&) = delete;

  /// A quick look, without compiling: false only where the molecule lacks an atom or a bond of the pattern.
  [[nodiscard]] bool may_match(std::size_t pattern) const;
  /// Whether the pattern occurs. Throws Error where it is not valid SMARTS.
  [[nodiscard]] bool occurs(std::size_t pattern);
  /// Matches with distinct sets of atoms, at most 1000. Throws Error where the pattern is not valid SMARTS.
  [[nodiscard]] std::vector<MatchedAtoms> matches(std::size_t pattern) const;
  [[nodiscard]] std::size_t count(std::size_t pattern) const { return matches(pattern).size(); }

 private:
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace firstcrop::detail
