#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/finding.hpp"
#include "rules/rule_book.hpp"

namespace firstcrop {

/// Reads every `*.yaml` of a folder of rules and the additions of a user into one rule book. Findings of all
/// files are told together; nothing is returned where any is an error. Throws Error where the folder or a
/// file cannot be read. `catalogue` must outlive the book.
[[nodiscard]] std::optional<RuleBook> load_rule_book(const std::string& folder,
                                                     const std::vector<std::string>& additions,
                                                     const Catalogue& catalogue, Findings& findings);

}  // namespace firstcrop
