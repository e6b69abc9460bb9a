#include "rules/rule_cases.hpp"

#include <doctest/doctest.h>

#include "small_book.hpp"

using namespace firstcrop;

namespace {

struct Ran {
  CaseCounts counts;
  std::string findings;  ///< messages, one a line
  Findings all;
};

Ran run(const std::string& rules) {
  Ran out;
  const RuleBook book = small::book_of(rules);
  out.counts = run_cases(book, out.all);
  for (const Finding& finding : out.all.sorted()) out.findings += finding.message + "\n";
  return out;
}

std::string grade(const std::string& cases) {
  return "- id: level\n  weight: 1\n  grade: {of: system.polarity, points: [[0, 0.01], [1, 1]]}\n"
         "  say: {high: a, middle: b, low: c}\n  source: s\n  cases:\n" +
         cases;
}

std::string advice(const std::string& when, const std::string& cases, const std::string& more = "") {
  return "- id: chill\n" + more + "  advice: {when: " + when + ", text: x}\n  source: s\n  cases:\n" + cases;
}

std::string derive(const std::string& cases) {
  return "- id: made\n  derive: {fact: system.hot_temperature, value: min(system.boiling_point - 1 K; "
         "aim.heating_limit)}\n  source: s\n  cases:\n" +
         cases;
}

const std::string kGoodGrades =
    "  - {system.polarity: 0.9, expect: high, grade: 0.9}\n"
    "  - {system.polarity: 0.2, expect: low, grade: 0.21}\n"
    "  - {expect: unknown, missing: system.polarity}\n";

}  // namespace

TEST_CASE("cases that come as expected are counted and say nothing") {
  const Ran ran = run(grade(kGoodGrades));
  CHECK(ran.counts.passed == 3);
  CHECK(ran.counts.failed == 0);
  CHECK_MESSAGE(ran.all.empty(), ran.findings);
}

TEST_CASE("a wrong outcome is told with what came instead, at its place") {
  const Ran ran = run(grade(kGoodGrades + "  - {system.polarity: 0.5, expect: high}\n"));
  CHECK(ran.counts.failed == 1);
  CHECK(ran.findings == "a case of `level` expects `high`, but `middle` with the grade 0.505 came\n");
  const Finding finding = ran.all.sorted().front();
  CHECK(
      finding.place.excerpt.substr(static_cast<std::size_t>(finding.place.column) - 1).starts_with("high}"));
  CHECK(finding.help == "correct the rule or the case");
}

TEST_CASE("grades are compared to the second decimal") {
  CHECK(run(grade(kGoodGrades + "  - {system.polarity: 0.5, expect: middle, grade: 0.51}\n")).counts.failed ==
        0);
  const Ran ran = run(grade(kGoodGrades + "  - {system.polarity: 0.5, expect: middle, grade: 0.52}\n"));
  CHECK(ran.findings == "a case of `level` expects the grade 0.52, but `middle` with the grade 0.505 came\n");
}

TEST_CASE("what is missing is compared whole") {
  const std::string sides =
      "  - {system.is_pair: true, solute.energetic: true, expect: fires}\n"
      "  - {system.is_pair: false, expect: silent}\n";
  const std::string when = "system.is_pair and solute.energetic";
  CHECK(run(advice(when, sides + "  - {expect: unknown, missing: [solute.energetic, system.is_pair]}\n"))
            .counts.failed == 0);
  const Ran ran = run(advice(when, sides + "  - {expect: unknown, missing: system.is_pair}\n"));
  CHECK(ran.findings ==
        "a case of `chill` expects `system.is_pair` to be missing, but `solute.energetic`, `system.is_pair` "
        "came\n");
  const Ran unknown = run(advice(when, sides + "  - {system.is_pair: true, expect: fires}\n"));
  CHECK(unknown.findings ==
        "a case of `chill` expects `fires`, but `unknown` for want of `solute.energetic` came\n");
}

TEST_CASE("a false condition is not applicable") {
  const std::string sides =
      "  - {solute.energetic: true, system.is_pair: true, expect: fires}\n"
      "  - {solute.energetic: true, system.is_pair: false, expect: silent}\n";
  CHECK(run(advice("system.is_pair", sides + "  - {solute.energetic: false, expect: not-applicable}\n",
                   "  when: solute.energetic\n"))
            .counts.failed == 0);
  CHECK(run(advice("system.is_pair", sides + "  - {solute.energetic: false, expect: silent}\n",
                   "  when: solute.energetic\n"))
            .findings == "a case of `chill` expects `silent`, but `not-applicable` came\n");
}

TEST_CASE("derived values are compared with their units") {
  const std::string good =
      "  - {system.boiling_point: 78 °C, aim.heating_limit: 110 °C, value: 77 °C}\n"
      "  - {system.boiling_point: 138 °C, aim.heating_limit: 110 °C, value: 110 °C}\n"
      "  - {system.boiling_point: 138 °C, expect: unknown, missing: aim.heating_limit}\n";
  CHECK(run(derive(good)).counts.passed == 3);
  const Ran ran =
      run(derive(good + "  - {system.boiling_point: 78.25 °C, aim.heating_limit: 110 °C, value: 78 °C}\n"));
  CHECK(ran.findings == "a case of `made` expects `78 °C`, but `77.25 °C` came\n");
  const Ran none = run(derive(good + "  - {system.boiling_point: 78 °C, value: 77 °C}\n"));
  CHECK(none.findings ==
        "a case of `made` expects `77 °C`, but `unknown` for want of `aim.heating_limit` came\n");
  CHECK(run(derive(good + "  - {system.boiling_point: 78 °C, aim.heating_limit: 110 °C, expect: unknown}\n"))
            .findings == "a case of `made` expects `unknown`, but `77 °C` came\n");
}

TEST_CASE("a value of two or more decimals is compared to the last of them") {
  const auto ratio = [](const std::string& cases) {
    return run(
        "- id: made\n  derive: {fact: system.polarity, value: 1 / solute.polarity}\n  source: s\n  cases:\n"
        "  - {solute.polarity: 4, value: 0.25}\n" +
        cases);
  };
  CHECK(ratio("  - {solute.polarity: 3, value: 0.33}\n").counts.failed == 0);
  CHECK(ratio("  - {solute.polarity: 3, value: 0.3333}\n").counts.failed == 0);
  CHECK(ratio("  - {solute.polarity: 3, value: 0.3334}\n").counts.failed == 1);
  CHECK(ratio("  - {solute.polarity: 3, value: 0.3}\n").counts.failed == 1);
}

TEST_CASE("derived flags and words are compared") {
  CHECK(run("- id: made\n  derive: {fact: system.works, value: system.polarity > 1}\n  source: s\n  cases:\n"
            "  - {system.polarity: 2, value: true}\n  - {system.polarity: 0, value: false}\n")
            .counts.failed == 0);
  CHECK(run("- id: made\n  derive: {fact: solute.form, ladder: [[solute.energetic, salt], [else, neutral]]}\n"
            "  source: s\n  cases:\n"
            "  - {solute.energetic: true, value: salt}\n  - {solute.energetic: false, value: salt}\n")
            .findings == "a case of `made` expects `salt`, but `neutral` came\n");
}

TEST_CASE("facts of a case are given unless it says otherwise") {
  const std::string when = "measured(system.polarity)";
  const Ran ran = run(advice(when,
                             "  - {system.polarity: 1, expect: fires}\n"
                             "  - {system.polarity: \"1 [predicted]\", expect: silent}\n"
                             "  - {expect: silent}\n"));
  CHECK_MESSAGE(ran.all.empty(), ran.findings);
}

TEST_CASE("cases of pairs name good and poor, cases of components name solvent") {
  CHECK(run("- id: part\n  exclude: {when: good.banned or poor.banned, because: x}\n  source: s\n  cases:\n"
            "  - {good.banned: false, poor.banned: true, expect: fires}\n"
            "  - {good.banned: false, poor.banned: false, expect: silent}\n"
            "  - {good.banned: false, expect: unknown, missing: poor.banned}\n")
            .counts.passed == 3);
  CHECK(run("- id: part\n  exclude: {when: solvent.banned, because: x}\n  source: s\n  cases:\n"
            "  - {solvent.banned: true, expect: fires}\n  - {solvent.banned: false, expect: silent}\n")
            .counts.passed == 2);
}

TEST_CASE("a rule that lacks a case on one side is told") {
  CHECK(run(grade("  - {system.polarity: 0.9, expect: high}\n")).findings ==
        "rule `level` has no case that expects `low`\n");
  CHECK(run(grade("  - {system.polarity: 0.1, expect: low}\n")).findings ==
        "rule `level` has no case that expects `high`\n");
  CHECK(run(advice("system.is_pair", "  - {system.is_pair: true, expect: fires}\n")).findings ==
        "rule `chill` has no case that expects `silent`\n");
  CHECK(run(advice("system.is_pair", "  - {system.is_pair: false, expect: silent}\n")).findings ==
        "rule `chill` has no case that expects `fires`\n");
  CHECK(
      run(derive("  - {system.boiling_point: 78 °C, aim.heating_limit: 110 °C, value: 77 °C}\n")).findings ==
      "rule `made` has fewer than two cases with a `value`\n");
}

TEST_CASE("what is always said needs no silent case, but one where it does not apply") {
  CHECK(run(advice("true", "  - {expect: fires}\n")).findings.empty());
  CHECK(run(advice("true", "  - {system.is_pair: true, expect: fires}\n", "  when: system.is_pair\n"))
            .findings == "rule `chill` has no case that expects `not-applicable`\n");
}

TEST_CASE("a grade that never falls low is tested on the words that it can give") {
  const auto soft = [](const std::string& points, const std::string& cases) {
    return run("- id: soft\n  weight: 1\n  grade: {of: system.polarity, points: " + points +
               "}\n  say: {high: a, middle: b}\n  source: s\n  cases:\n" + cases)
        .findings;
  };
  CHECK(soft("[[0, 0.5], [1, 1]]",
             "  - {system.polarity: 1, expect: high}\n  - {system.polarity: 0, expect: middle}\n")
            .empty());
  CHECK(soft("[[0, 0.5], [1, 1]]", "  - {system.polarity: 1, expect: high}\n") ==
        "rule `soft` has no case that expects `middle`\n");
  CHECK(soft("[[0, 0.8], [1, 1]]", "  - {system.polarity: 1, expect: high, grade: 1}\n") ==
        "rule `soft` has fewer than two cases with a `grade`\n");
  CHECK(soft("[[0, 0.8], [1, 1]]",
             "  - {system.polarity: 1, expect: high, grade: 1}\n"
             "  - {system.polarity: 0, expect: high, grade: 0.8}\n")
            .empty());
}
