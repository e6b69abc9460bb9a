#include "rules/judge.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "rules/rule_cases.hpp"
#include "rules_fixture.hpp"

using namespace firstcrop;
using namespace firstcrop::test;

namespace {

const char* kSize =
    "- id: size\n  weight: 2\n  grade: {of: system.size, points: [[0, 0.1], [10, 1]]}\n"
    "  say: {high: large, middle: fair, low: \"small: {system.size}\"}\n  source: made up\n"
    "  cases:\n  - {system.size: 10, expect: high, grade: 1}\n  - {system.size: 0, expect: low, grade: "
    "0.1}\n";
const char* kContent =
    "- id: content\n  weight: 1\n  grade: {of: system.content, scale: log, points: [[1 mg/mL, 0.25], [100 "
    "mg/mL, 1]]}\n"
    "  say: {high: rich, middle: fair, low: poor}\n  source: made up\n"
    "  cases:\n  - {system.content: 100 mg/mL, expect: high, grade: 1}\n  - {system.content: 1 mg/mL, "
    "expect: low, grade: 0.25}\n";
const char* kBan =
    "- id: ban\n  exclude: {when: system.red, because: it is red}\n  source: made up\n"
    "  cases:\n  - {system.red: true, expect: fires}\n  - {system.red: false, expect: silent}\n";

FactFrame frame_with(double size, double content, bool works) {
  FactFrame frame(catalogue(), 1);
  set(frame, "system.size", number(size));
  set(frame, "system.content", number(content));
  set(frame, "system.works", flag(works));
  set(frame, "system.red", flag(false));
  return frame;
}

}  // namespace

TEST_CASE("the score is the weighted geometric mean of the grades (Derringer and Suich, 1980)") {
  Findings findings;
  const auto book = book_of({kSize, kContent}, findings);
  REQUIRE(book);
  const Judgement judgement = judge(*book, frame_with(5, 10, true));
  const double size_grade = 0.55;      // halfway between 0.1 and 1
  const double content_grade = 0.625;  // halfway on the logarithmic axis between 0.25 and 1
  CHECK(*judgement.score ==
        doctest::Approx(std::exp((2 * std::log(size_grade) + std::log(content_grade)) / 3)));
  CHECK(judgement.judged == doctest::Approx(1));
  CHECK(*judgement.chance == doctest::Approx(1));
}

TEST_CASE("an unknown grade loses its weight, and the lost share is told") {
  Findings findings;
  const auto book = book_of({kSize, kContent}, findings);
  REQUIRE(book);
  FactFrame frame = frame_with(10, 10, true);
  set(frame, "system.content", {Unknown{"not measured"}, Origin::Given, {}});
  const Judgement judgement = judge(*book, frame);
  CHECK(*judgement.score == doctest::Approx(1));
  CHECK(judgement.judged == doctest::Approx(2.0 / 3));
  CHECK(judgement.verdict == Verdict::Doubtful);
}

TEST_CASE("an exclusion takes the score away; one that is unknown or possible leaves at most doubtful") {
  Findings findings;
  const auto book = book_of({kSize, kBan}, findings);
  REQUIRE(book);
  FactFrame frame = frame_with(10, 10, true);
  CHECK(judge(*book, frame).verdict == Verdict::Sound);
  set(frame, "system.red", flag(true));
  const Judgement excluded = judge(*book, frame);
  CHECK(excluded.verdict == Verdict::Unfit);
  CHECK(excluded.excluded);
  CHECK_FALSE(excluded.score);
  CHECK(book->rules()[*excluded.deciding_rule].id.text == "ban");
  set(frame, "system.red", {Unknown{"nobody looked"}, Origin::Given, {}});
  CHECK(judge(*book, frame).verdict == Verdict::Doubtful);
  set(frame, "system.red", {FlagColumn::of_mask(0xFFFFFFFF), Origin::Given, {}});
  CHECK(judge(*book, frame).verdict == Verdict::Doubtful);
}

TEST_CASE("a chance below the limit is unfit whatever the score") {
  Findings findings;
  const auto book = book_of({kSize}, findings);
  REQUIRE(book);
  const Judgement judgement = judge(*book, frame_with(10, 10, false));
  CHECK(judgement.verdict == Verdict::Unfit);
  CHECK_FALSE(judgement.excluded);
  CHECK(judgement.score);
}

TEST_CASE("a rule over components takes the worse one") {
  Findings findings;
  const auto book =
      book_of({"- id: each\n  weight: 1\n  grade: {of: solvent.size, points: [[0, 0.1], [10, 1]]}\n"
               "  say: {high: large, middle: fair, low: small}\n  source: made up\n"
               "  cases:\n  - {solvent.size: 10, expect: high}\n  - {solvent.size: 0, expect: low}\n"},
              findings);
  REQUIRE(book);
  FactFrame frame(catalogue(), 2);
  set(frame, "system.works", flag(true));
  set(frame, "solvent.size", number(10), 0);
  set(frame, "solvent.size", number(0), 1);
  CHECK(*judge(*book, frame).score == doctest::Approx(0.1));
}

TEST_CASE("the order of files and rules makes no difference") {
  Findings findings;
  const auto forward = book_of({kSize, kContent, kBan}, findings);
  const auto backward = book_of({std::string(kBan) + kContent, kSize}, findings);
  REQUIRE(forward);
  REQUIRE(backward);
  const FactFrame frame = frame_with(3, 40, true);
  const Judgement one = judge(*forward, frame, Names{"solid", "system", {"a"}});
  const Judgement other = judge(*backward, frame, Names{"solid", "system", {"a"}});
  CHECK(*one.score == *other.score);
  REQUIRE(one.outcomes.size() == other.outcomes.size());
  for (std::size_t i = 0; i < one.outcomes.size(); ++i) CHECK(one.outcomes[i].text == other.outcomes[i].text);
}

TEST_CASE("a rule without a case on each side, and a case that comes out otherwise, are findings") {
  Findings findings;
  const auto book =
      book_of({"- id: lonely\n  caution: {when: system.red, level: note, text: red}\n  source: made up\n"
               "  cases:\n  - {system.red: true, expect: fires}\n",
               "- id: wrong\n  caution: {when: system.red, level: note, text: red}\n  source: made up\n"
               "  cases:\n  - {system.red: true, expect: silent}\n  - {system.red: false, expect: fires}\n"},
              findings);
  REQUIRE(book);
  REQUIRE(findings.empty());
  const CaseCounts counts = run_cases(*book, findings);
  CHECK(counts.passed == 1);
  CHECK(counts.failed == 2);
  CHECK(findings.size() == 3);
}

TEST_CASE("two rules of one id, and two producers of one fact, are told with both places") {
  Findings findings;
  CHECK_FALSE(book_of({kBan, kBan}, findings));
  REQUIRE(findings.has_errors());
  CHECK(findings.sorted().front().note_place);
}

TEST_CASE("derived facts that need each other are told as a circle with its path") {
  Findings findings;
  const auto book =
      book_of({"- id: one\n  derive: {fact: system.derived, value: system.size + 1}\n  source: made up\n"
               "  cases:\n  - {system.size: 1, value: 2}\n  - {system.size: 2, value: 3}\n",
               "- id: two\n  derive: {fact: system.size, value: system.derived - 1}\n  source: made up\n"
               "  cases:\n  - {system.derived: 1, value: 0}\n  - {system.derived: 2, value: 1}\n"},
              findings);
  REQUIRE(book);
  CHECK_FALSE(FactGraph::build(catalogue(), book->producers(), findings));
  REQUIRE(findings.has_errors());
  CHECK(findings.sorted().front().message.find("circle") != std::string::npos);
}
