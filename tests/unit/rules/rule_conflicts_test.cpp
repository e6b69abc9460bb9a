#include "rules/rule_conflicts.hpp"

#include <string>

#include "small_book.hpp"

namespace firstcrop {
namespace {

// A grade over one number, with a case on each side.
std::string grade(const std::string& id, const std::string& points, const std::string& cold_word,
                  const std::string& hot_word) {
  return "- id: " + id + "\n  weight: 1\n  grade: {of: system.boiling_point, points: " + points +
         "}\n  say: {high: h, middle: m, low: l}\n  source: s\n  cases:\n  - {system.boiling_point: 40 °C, expect: " +
         cold_word + "}\n  - {system.boiling_point: 120 °C, expect: " + hot_word + "}\n";
}

std::string exclude(const std::string& id, const std::string& when, const std::string& cases) {
  return "- id: " + id + "\n  exclude: {when: \"" + when + "\", because: b}\n  source: s\n  cases:\n" + cases;
}

const std::string kRising = "[[40 °C, 0.1], [120 °C, 1]]";
const std::string kFalling = "[[40 °C, 1], [120 °C, 0.1]]";
const std::string kBanned = "  - {solvent.banned: true, expect: fires}\n  - {solvent.banned: false, expect: silent}\n";

// What is told of added rules beside a base: `severity message` a line.
std::string told(const std::string& base, const std::string& added) {
  Findings findings;
  std::vector<RuleFile> files;
  files.push_back(small::load(small::file_of(base), findings, "base.yaml"));
  std::vector<RuleFile> additions;
  additions.push_back(small::load(small::file_of(added, false), findings, "mine.yaml"));
  REQUIRE_MESSAGE(findings.empty(), small::all_text(findings));
  (void)RuleBook::build(small::catalogue(), std::move(files), std::move(additions), findings);
  std::string out;
  for (const Finding& finding : findings.sorted()) {
    out += (finding.severity == Severity::Warning ? "warning " : finding.severity == Severity::Note ? "note " : "error ") +
           finding.message + "\n";
  }
  return out;
}

}  // namespace

TEST_CASE("a rule that says the contrary of another is told, and where the other stands") {
  CHECK(told(grade("low-boiler", kFalling, "high", "low"), grade("high-boiler", kRising, "low", "high")) ==
        "warning `high-boiler` says the contrary of `low-boiler`, and both are in force\n");
}

TEST_CASE("a rule that says again what another says is told") {
  CHECK(told(grade("first", kRising, "low", "high"), grade("second", kRising, "low", "high")) ==
        "warning `second` says again what `first` says\n");
  CHECK(told(exclude("first", "solvent.banned", kBanned), exclude("second", "solvent.banned", kBanned)) ==
        "warning `second` says again what `first` says\n");
}

TEST_CASE("a rule that replaces one of its id is a note, and a warning where it turns it around or changes its kind") {
  const std::string base = grade("boils", kRising, "low", "high");
  CHECK(told(base, grade("boils", "[[40 °C, 0.2], [120 °C, 0.9]]", "low", "high")) ==
        "note `boils` replaces the rule of that id\n");
  CHECK(told(base, grade("boils", kFalling, "high", "low")) ==
        "warning `boils` says the contrary of the rule that it replaces\n");
  CHECK(told(base, exclude("boils", "solvent.banned", kBanned)) == "warning `boils` was `grade` and becomes `exclude`\n");
}

TEST_CASE("rules that look at other facts, or at the same ones otherwise, stand beside each other in silence") {
  const std::string base = grade("boils", kRising, "low", "high");
  CHECK(told(base, exclude("mine", "solvent.banned", kBanned)).empty());
  // Half of the way: not the contrary, and not the same.
  CHECK(told(base, grade("mild", "[[40 °C, 0.5], [120 °C, 1]]", "middle", "high")).empty());
}

TEST_CASE("two additions are held against each other, one that is replaced is not") {
  const std::string base = grade("boils", kRising, "low", "high");
  CHECK(told(base, grade("boils", kFalling, "high", "low") + grade("mine", kFalling, "high", "low")) ==
        "warning `boils` says again what `mine` says\n"
        "warning `boils` says the contrary of the rule that it replaces\n");
}

}  // namespace firstcrop
