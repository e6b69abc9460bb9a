#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "library/library.hpp"

namespace firstcrop {

/// One solvent, or two with a composition by volume as measured before mixing.
struct System {
  std::vector<SolventId> solvents;  ///< one or two; of a judged pair the good one first
  double first_fraction = 1;        ///< volume fraction of the first, strictly between 0 and 1 in a pair

  [[nodiscard]] bool is_pair() const { return solvents.size() == 2; }
  friend bool operator==(const System&, const System&) = default;
};

/// The name of a solvent inside a sentence: its full name, or its id where the name holds a comma or says how it is
/// measured, which would garble the sentence.
[[nodiscard]] const std::string& name_in_sentence(const Solvent& solvent);

/// `ethanol`, or `ethanol+water@60:40`.
[[nodiscard]] std::string name_of(const System& system, const Library& library);
/// `ethanol+water` without the ratio.
[[nodiscard]] std::string name_without_ratio(const System& system, const Library& library);

/// What a person typed as a system.
struct WrittenSystem {
  System system;
  bool ratio_stated = false;  ///< a pair without ratio takes its best composition
  std::string remark;         ///< a caveat about a name
};

struct SystemAnswer {
  std::optional<WrittenSystem> system;
  std::string message;  ///< where there is no system: what is wrong
  std::string help;
};

/// Reads `ethanol`, `ethanol+water`, `ethanol+water@60:40`; names are ids, full names, CAS numbers or
/// aliases.
[[nodiscard]] SystemAnswer parse_system(std::string_view text, const Library& library);

/// Looks up one solvent name; message and help as in parse_system.
struct SolventAnswer {
  std::optional<SolventId> solvent;
  std::string message;
  std::string help;
  std::string remark;
};
[[nodiscard]] SolventAnswer parse_solvent(std::string_view text, const Library& library);

}  // namespace firstcrop
