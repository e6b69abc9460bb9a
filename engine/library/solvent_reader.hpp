#pragma once

#include <optional>
#include <string>
#include <vector>

#include "library/sourced_scalar.hpp"

namespace firstcrop {

/// A record with the node of its id, for messages about duplicates; the node lives as long as its document.
struct ReadSolvent {
  Solvent solvent;
  const YamlNode* id = nullptr;
};

/// Reads all records of a file `firstcrop solvents 1`. Records with faults are left out; the findings say
/// why.
[[nodiscard]] std::vector<ReadSolvent> read_solvents(const YamlDocument& document, const RecordPolicy& policy,
                                                     Findings& findings);

/// The safety part of a record.
void read_safety(RecordReader& reader, Solvent& solvent);

}  // namespace firstcrop
