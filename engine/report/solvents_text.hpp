#pragma once

#include <string>

#include "systems/knowledge_base.hpp"
#include "report/words.hpp"

namespace firstcrop {

/// The whole library as a table.
[[nodiscard]] std::string solvents_text(const Library& library, const Style& style);
/// One record with the source of every value.
[[nodiscard]] std::string solvent_text(const KnowledgeBase& knowledge, SolventId id, const Style& style);
[[nodiscard]] std::string solvents_json(const KnowledgeBase& knowledge, std::optional<SolventId> only,
                                        const std::string& version, const std::string& data_fingerprint);

}  // namespace firstcrop
