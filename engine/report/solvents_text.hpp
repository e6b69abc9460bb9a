#pragma once

#include <string>

#include "library/library.hpp"
#include "report/words.hpp"

namespace firstcrop {

/// The whole library as a table.
[[nodiscard]] std::string solvents_text(const Library& library, const Style& style);
/// One record with the source of every value.
[[nodiscard]] std::string solvent_text(const Library& library, SolventId id, const Style& style);
[[nodiscard]] std::string solvents_json(const Library& library, std::optional<SolventId> only,
                                        const std::string& version, const std::string& data_fingerprint);

}  // namespace firstcrop
