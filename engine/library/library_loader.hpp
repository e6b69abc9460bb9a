#pragma once

#include <optional>
#include <string>

#include "base/finding.hpp"
#include "library/library.hpp"
#include "library/sourced_scalar.hpp"

namespace firstcrop {

/// A library, absent where an error was found, and all that was found.
struct LoadedLibrary {
  std::optional<Library> library;
  Findings findings;
};

/// Reads the folder `solvents/`. Throws Error where the folder or one of its files cannot be read; everything
/// wrong inside the files is a finding: unknown keys, missing units, wrong dimensions, duplicate or unknown
/// ids, values without a source, pairs that are missing or stand twice.
[[nodiscard]] LoadedLibrary load_library(const std::string& folder);

/// The library with the records of a person's own solvent file added. Compulsory are id, name and boiling
/// point; all else that is left out is unknown, and sources may be any text. `path` is for the findings.
/// `subgroups` are the names that `groups` of a record may hold.
[[nodiscard]] LoadedLibrary add_solvents(const Library& library, const std::string& path, std::string text,
                                         const SubgroupNames& subgroups = {});

}  // namespace firstcrop
