#pragma once

#include <optional>
#include <string>
#include <vector>

#include "library/library.hpp"
#include "solute/solute.hpp"
#include "systems/aim.hpp"

namespace firstcrop {

/// The worst known reaction of a solvent with the solid, or of two solvents with each other.
struct Reaction {
  std::optional<ReactionSeverity> severity;  ///< nothing: none known
  std::string text;
  std::string source;
  std::string row;  ///< id of the row of the table
};

/// What the solid and its crude bring with them: groups, residues, and the conditions of the run.
struct ReactionSetting {
  std::vector<std::string> groups;   ///< of the solid, with what residues make present
  std::vector<std::string> yes;      ///< conditions that hold
  std::vector<std::string> unknown;  ///< conditions nobody stated
  bool groups_known = false;
};

[[nodiscard]] ReactionSetting make_reaction_setting(const Solute& solute,
                                                    const std::vector<std::string>& contains, bool moist,
                                                    const Aim& aim, const Library& library);

/// Whether silence of the table means anything: nobody looked up a person's own solvent that names no class.
[[nodiscard]] bool was_looked_up(const Solvent& solvent);

/// Gravest row between a solvent and the solid. A row with a condition that nobody stated is a caution.
[[nodiscard]] Reaction reaction_with_solid(SolventId solvent, const ReactionSetting& setting, const Aim& aim,
                                           const Library& library);
/// Gravest row between two solvents.
[[nodiscard]] Reaction reaction_between(SolventId first, SolventId second, const ReactionSetting& setting,
                                        const Aim& aim, const Library& library);

}  // namespace firstcrop
