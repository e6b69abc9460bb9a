#include "rules/expression.hpp"

#include <doctest/doctest.h>

#include "rules/program.hpp"
#include "rules_fixture.hpp"

using namespace firstcrop;
using namespace firstcrop::test;

namespace {

// Truth of a condition on a frame: 1 true, 0 false, -1 unknown; -2 where it was refused.
int truth_of(const std::string& text, const FactFrame& frame) {
  std::vector<TextFault> faults;
  auto parsed = parse_expression(text, faults);
  if (!parsed) return -2;
  const auto type = check_types(*parsed, catalogue(), {}, faults);
  if (!type) return -2;
  const CheckedLets lets;
  const Program program = compile(*parsed, *type, lets);
  Workspace workspace;
  const Value& value = program.run(frame, 0, workspace);
  if (value.known != kAllScenarios) return -1;
  return value.truth == kAllScenarios ? 1 : 0;
}

std::vector<TextFault> faults_of(const std::string& text) {
  std::vector<TextFault> faults;
  auto parsed = parse_expression(text, faults);
  if (parsed) static_cast<void>(check_types(*parsed, catalogue(), {}, faults));
  return faults;
}

FactFrame usual_frame() {
  FactFrame frame(catalogue(), 1);
  set(frame, "system.temperature", number(350));
  set(frame, "system.limit", number(300));
  set(frame, "system.content", number(20));
  set(frame, "system.size", number(4));
  set(frame, "system.red", flag(true));
  set(frame, "system.kind", {std::string("hard"), Origin::Given, {}});
  set(frame, "system.marks", {std::vector<std::string>{"a", "b"}, Origin::Given, {}});
  return frame;
}

}  // namespace

TEST_CASE(
    "three-valued logic follows Kleene (1938): a known side may decide what an unknown one leaves open") {
  const FactFrame frame = usual_frame();
  CHECK(truth_of("system.red or system.blue", frame) == 1);
  CHECK(truth_of("system.red and system.blue", frame) == -1);
  CHECK(truth_of("not system.red and system.blue", frame) == 0);
  CHECK(truth_of("not system.blue", frame) == -1);
  CHECK(truth_of("known(system.blue)", frame) == 0);
  CHECK(truth_of("measured(system.red)", frame) == 1);
}

TEST_CASE("temperatures and their differences keep apart") {
  const FactFrame frame = usual_frame();
  CHECK(truth_of("system.temperature - system.limit == 50 K", frame) == 1);
  CHECK(truth_of("system.limit + 50 K >= system.temperature", frame) == 1);
  CHECK(truth_of("system.limit > -5 °C", frame) == 1);
  CHECK(truth_of("system.temperature + system.limit > 5 °C", frame) == -2);
  CHECK(truth_of("system.temperature > 5 K", frame) == -2);
  CHECK(truth_of("system.temperature * 2 > 5 °C", frame) == -2);
}

TEST_CASE("arithmetic is strict, and what cannot be computed is unknown") {
  const FactFrame frame = usual_frame();
  CHECK(truth_of("system.size / (system.size - 4) > 1", frame) == -1);
  CHECK(truth_of("log10(system.size - 5) > 1", frame) == -1);
  CHECK(truth_of("min(system.size; 3) == 3", frame) == 1);
  CHECK(truth_of("first(system.share; system.size) == 4", frame) == 1);
  CHECK(truth_of("abs(1 - system.size) == 3", frame) == 1);
  CHECK(truth_of("log10(system.content / 2 mg/mL) == 1", frame) == 1);
  CHECK(truth_of("system.size + system.share > 1", frame) == -1);
}

TEST_CASE("words and sets are compared by their members") {
  const FactFrame frame = usual_frame();
  CHECK(truth_of("system.kind == 'hard'", frame) == 1);
  CHECK(truth_of("system.kind in ('soft'; 'hard')", frame) == 1);
  CHECK(truth_of("system.marks meets ('b'; 'c')", frame) == 1);
  CHECK(truth_of("system.marks meets ('c')", frame) == 0);
}

TEST_CASE("every slip of the pen has its own fault at its own place") {
  const auto message = [](const char* text) {
    const auto faults = faults_of(text);
    REQUIRE_MESSAGE(!faults.empty(), text);
    return faults.front();
  };
  CHECK(message("max(system.size, 3) > 1").help.find(";") != std::string::npos);
  CHECK(message("system.size = 3").help.find("==") != std::string::npos);
  CHECK(message("1 < system.size < 3").message.find("chain") != std::string::npos);
  CHECK(message("system.sise > 3").help.find("system.size") != std::string::npos);
  CHECK(message("system.red && system.blue").help.find("and") != std::string::npos);
  CHECK(message("(system.size > 3").message.find("bracket") != std::string::npos);
  CHECK(message("system.content > 3").help.find("mg/mL") != std::string::npos);
  CHECK(message("'hard' == system.kind").message.find("first") != std::string::npos);
  CHECK(message("system.kind == 'hart'").help.find("hard") != std::string::npos);
  CHECK(message("system.red > 1").offset == 0);
  CHECK(message("system.size >").message.find("ends") != std::string::npos);
  CHECK(message("log10(system.content) > 1").message.find("logarithm") != std::string::npos);
}

TEST_CASE("hostile text is refused, never followed") {
  CHECK_FALSE(faults_of(std::string(100000, '(')).empty());
  CHECK_FALSE(faults_of(std::string(1500, '(')).empty());
  CHECK_FALSE(faults_of(std::string(1500, '-') + "1").empty());
  std::string nots;
  for (int i = 0; i < 400; ++i) nots += "not ";
  CHECK_FALSE(faults_of(nots + "true").empty());
}
