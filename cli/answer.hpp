#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "base/finding.hpp"
#include "options.hpp"
#include "ranking/system_judge.hpp"
#include "report/words.hpp"

namespace firstcrop::cli {

enum ExitCode : int { kAnswered = 0, kNothingSuitable = 1, kBadInput = 2, kFault = 3 };

/// What a command has to say: printed by main, standard output only where the exit code is 0 or 1 (`check`
/// excepted).
struct Answer {
  int exit_code = kAnswered;
  std::string text;
  std::vector<Finding> findings;
  bool print_on_bad_input = false;  ///< `check` prints its findings on standard output
};

/// Everything that judging needs, loaded once for one run; members refer to each other, so it does not move.
struct Bench {
  Catalogue catalogue;
  std::optional<KnowledgeBase> knowledge;
  std::optional<RuleBook> book;
  std::optional<Inquiry> inquiry;
  std::optional<SystemJudge> judge;
};

/// Loads library, rules and solute file (without one: a solid of which nothing is known) and works out the
/// inquiry. `judge` is absent where anything was
/// wrong.
[[nodiscard]] std::unique_ptr<Bench> make_bench(const Options& options, Findings& findings);

/// Answer for a run that ended in findings.
[[nodiscard]] Answer bad_input(const Findings& findings);

/// Colour on a terminal unless NO_COLOR is set (no-color.org).
[[nodiscard]] Style terminal_style();
/// SHA-256 over all files of rules and solvents, for --json.
[[nodiscard]] std::string data_fingerprint(const std::string& data_folder);

}  // namespace firstcrop::cli
