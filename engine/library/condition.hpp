#pragma once

#include <string>
#include <vector>

namespace firstcrop {

enum class ConditionKind { Residue, Solid, Procedure, Step, Equipment, Bottle };
enum class ConditionDefault { No, Yes, Unknown };

/// What rows of incompatibilities may depend on besides the groups of the solid.
struct Condition {
  std::string token;
  ConditionKind kind = ConditionKind::Residue;
  std::string word;  ///< what `contains` of a solute file may hold; empty where it is stated otherwise
  ConditionDefault when_unstated = ConditionDefault::No;
  std::vector<std::string> sets;    ///< groups and conditions that the word makes present
  std::vector<std::string> set_by;  ///< groups of the solid that bring the condition with them
  std::string meaning;
  std::string stated_as;  ///< how a solute file says it
  std::string effect;
};

}  // namespace firstcrop
