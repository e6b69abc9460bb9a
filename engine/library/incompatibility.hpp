#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "library/solvent.hpp"

namespace firstcrop {

/// How grave a reaction is, in rising order. Dangerous and reacts exclude a solvent.
enum class ReactionSeverity { Caution, Degrades, Reacts, Dangerous };

/// `caution`, `degrades`, `reacts`, `dangerous`.
[[nodiscard]] std::string_view name_of(ReactionSeverity severity);

/// One row: what happens between a solvent (or two) and a functional group of the solid.
struct Incompatibility {
  std::string id;
  bool between_solvents = false;
  std::vector<std::string> party_a;  ///< as written: solvent ids, `class:NAME`, `!id` (left out), `any`
  std::vector<std::string>
      party_b;  ///< groups of the solid, any of them, none for every solid; or solvents as party_a
  std::vector<SolventId> solvents;         ///< what party_a comes to, ascending
  std::vector<SolventId> second_solvents;  ///< what party_b comes to, between solvents
  std::vector<std::string> conditions;  ///< all must hold, e.g. `acid-traces` (alternatives joined by ` or `)
  std::vector<std::string> exceptions;  ///< groups of the solid, any of which silences the row
  ReactionSeverity severity = ReactionSeverity::Caution;
  std::string text;
  std::string source;  ///< keys parted by blanks

  /// A solvent of the first party.
  [[nodiscard]] bool concerns(SolventId solvent) const;
  /// Between solvents: one is of each party, in either order.
  [[nodiscard]] bool concerns(SolventId one, SolventId other) const;
};

}  // namespace firstcrop
