#pragma once

#include <stdexcept>
#include <string>

#include "ranking/rule_files.hpp"
#include "systems/fact_list.hpp"

namespace firstcrop::fixture {

/// The facts that rules can ask about.
inline const Catalogue& catalogue() {
  static const Catalogue facts = make_catalogue();
  return facts;
}

/// The rules that the project ships.
inline const RuleBook& book() {
  static const RuleBook rules = [] {
    Findings findings;
    auto loaded = load_rule_book(std::string(FIRSTCROP_SOURCE_DIR) + "/rules", {}, catalogue(), findings);
    if (!loaded) throw std::runtime_error(to_text(findings.sorted().front()));
    return std::move(*loaded);
  }();
  return rules;
}

}  // namespace firstcrop::fixture
