#pragma once

#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "structure/molecule.hpp"

namespace firstcrop {

/// A subgroup of modified UNIFAC (Dortmund) as it is found in structures.
struct SubgroupPattern {
  int number = 0;      ///< as in the published tables
  int main_group = 0;  ///< as in the published tables
  std::string_view name;
  std::string_view smarts;
  bool whole = false;  ///< is the molecule itself
};

/// Those that assign_subgroups() knows. Between covers that differ only in where a functional group takes its carbon
/// from, the lower number is preferred (CH3CO before CH2CO), as in the published assignments.
[[nodiscard]] const std::vector<SubgroupPattern>& subgroup_patterns();

/// Subgroups of a molecule, or why there are none.
struct SubgroupAssignment {
  std::map<int, double> counts;  ///< empty where there is no assignment
  std::string reason;            ///< why there is none; empty where there is one
};

/// Covers every atom by exactly one subgroup with as few subgroups as possible. No assignment where atoms are left
/// over or where covers by different main groups are equally short.
[[nodiscard]] SubgroupAssignment assign_subgroups(const Molecule& molecule);

}  // namespace firstcrop
