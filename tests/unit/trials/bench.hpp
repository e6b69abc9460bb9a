#pragma once

#include <optional>
#include <string>

#include "knowledge_fixture.hpp"
#include "ranking/rule_files.hpp"
#include "ranking/system_judge.hpp"
#include "systems/fact_list.hpp"

namespace firstcrop::fixture {

/// A judge with all that it refers to.
struct TrialBench {
  Catalogue catalogue = make_catalogue();
  Findings findings;
  std::optional<RuleBook> book =
      load_rule_book(std::string(FIRSTCROP_SOURCE_DIR) + "/rules", {}, catalogue, findings);
  Inquiry inquiry;
  std::optional<SystemJudge> judge;

  explicit TrialBench(const std::string& lines, const AimOptions& options = {}, bool as_unknown = true)
      : inquiry(fixture::inquiry(solute(lines), options, as_unknown)),
        judge(SystemJudge::create(catalogue, inquiry, *book, findings)) {}
};

inline AimOptions on_shelf(const std::string& names) {
  AimOptions out;
  out.shelf = names;
  return out;
}

}  // namespace firstcrop::fixture
