#include "base/finding.hpp"

#include <doctest/doctest.h>

namespace firstcrop {
namespace {

Place at(std::string path, int line, int column) {
  return Place{std::move(path), line, column, 1, {}};
}

}  // namespace

TEST_CASE("a finding shows place, line, caret and help") {
  Findings findings;
  findings.error(Place{"jar.yaml", 5, 16, 2, "melting_point: 73"}, "a temperature needs its unit",
                 "write `73 °C`");
  CHECK(to_text(findings.sorted().front()) ==
        "jar.yaml:5:16: error: a temperature needs its unit\n"
        "    5 | melting_point: 73\n"
        "      |                ^^\n"
        "help: write `73 °C`\n");
}

TEST_CASE("columns count characters, so the caret stands right behind letters of two bytes") {
  const Finding finding{Severity::Error, Place{"a", 1, 4, 1, "°µä x"}, "here", {}, {}, std::nullopt};
  CHECK(to_text(finding) == "a:1:4: error: here\n    1 | °µä x\n      |    ^\n");
}

TEST_CASE("a tab before the fault is repeated under the line, so the caret stays below it") {
  const Finding finding{Severity::Error, Place{"a", 1, 2, 1, "\tx"}, "here", {}, {}, std::nullopt};
  CHECK(to_text(finding) == "a:1:2: error: here\n    1 | \tx\n      | \t^\n");
}

TEST_CASE("a finding about a whole file has neither line nor caret") {
  const Finding finding{Severity::Error, Place{"a.yaml", 0, 0, 1, {}}, "the file is empty", {}, {},
                        std::nullopt};
  CHECK(to_text(finding) == "a.yaml: error: the file is empty\n");
}

TEST_CASE("a place without its line shows no caret") {
  const Finding finding{Severity::Warning, at("a", 7, 3), "odd", {}, {}, std::nullopt};
  CHECK(to_text(finding) == "a:7:3: warning: odd\n");
}

TEST_CASE("a note shows its own place between the finding and the help") {
  Finding finding{Severity::Error, at("b", 9, 1),          "stands twice",
                  "keep one",      "it stands here first", at("a", 2, 1)};
  CHECK(to_text(finding) ==
        "b:9:1: error: stands twice\na:2:1: note: it stands here first\nhelp: keep one\n");
  finding.note_place.reset();
  CHECK(to_text(finding) == "b:9:1: error: stands twice\nnote: it stands here first\nhelp: keep one\n");
}

TEST_CASE("findings are told by path, line, column and message, whatever order they came in") {
  Findings findings;
  findings.error(at("b", 1, 1), "one");
  findings.error(at("a", 10, 1), "two");
  findings.error(at("a", 9, 5), "three");
  findings.error(at("a", 9, 2), "five");
  findings.error(at("a", 9, 2), "four");
  std::vector<std::string> messages;
  for (const Finding& finding : findings.sorted()) messages.push_back(finding.message);
  CHECK(messages == std::vector<std::string>{"five", "four", "three", "two", "one"});
}

TEST_CASE("the same finding made twice is told once") {
  Findings findings;
  findings.error(at("a", 1, 1), "once");
  findings.error(at("a", 1, 1), "once");
  CHECK(findings.size() == 2);
  CHECK(findings.sorted().size() == 1);
}

TEST_CASE("warnings alone are no errors") {
  Findings findings;
  CHECK(findings.empty());
  findings.warning(at("a", 1, 1), "odd");
  CHECK_FALSE(findings.has_errors());
  Findings others;
  others.error(at("a", 2, 1), "wrong");
  findings.append(others);
  CHECK(findings.has_errors());
  CHECK(findings.size() == 2);
}

TEST_CASE("the nearest name is found through a slip of the pen") {
  const std::vector<std::string> names{"melting_point", "molar_mass", "form"};
  CHECK(nearest_name("meltingpoint", names) == "melting_point");
  CHECK(nearest_name("melting-point", names) == "melting_point");
  CHECK(nearest_name("Molar_Mass", names) == "molar_mass");
  CHECK(nearest_name("from", names) == "form");
}

TEST_CASE("nothing is suggested where nothing is near") {
  const std::vector<std::string> names{"melting_point", "form"};
  CHECK_FALSE(nearest_name("supplier", names));
  CHECK_FALSE(nearest_name("", names));
  CHECK_FALSE(nearest_name("form", {}));
}

TEST_CASE("a word of one letter is not turned into another letter") {
  CHECK_FALSE(nearest_name("x", {"y"}));
}

TEST_CASE("of two near names the nearer one is suggested") {
  CHECK(nearest_name("toluen", {"toluidine", "toluene"}) == "toluene");
}

TEST_CASE("characters are counted, not bytes") {
  CHECK(character_count("") == 0);
  CHECK(character_count("°C") == 2);
  CHECK(character_count("\xF0\x9F\xA7\xAA!") == 2);
}

}  // namespace firstcrop
