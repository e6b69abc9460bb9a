#include "rules/rule_loader.hpp"

#include <algorithm>

#include <doctest/doctest.h>

#include "small_book.hpp"

using namespace firstcrop;
using small::findings_on;

namespace {

// A sound advice; `body` and `cases` may be replaced.
std::string advice(const std::string& when, const std::string& text = "chill {system}",
                   const std::string& cases = "[]", const std::string& more = "") {
  return "- id: chill\n  advice: {when: " + when + ", text: \"" + text + "\"}\n" + more +
         "  source: common practice, no source\n  cases: " + cases + "\n";
}

std::string grade(const std::string& body, const std::string& more = "  weight: 1\n") {
  return "- id: level\n  grade: " + body + "\n" + more +
         "  say: {high: a, middle: b, low: c}\n  source: memory\n  cases: []\n";
}

std::string derive(const std::string& body, const std::string& more = "") {
  return "- id: made\n  derive: " + body + "\n" + more + "  source: memory\n  cases: []\n";
}

Rule only_rule(const std::string& rules) {
  Findings findings;
  const RuleFile file = small::load(small::file_of(rules), findings);
  REQUIRE_MESSAGE(findings.empty(), small::all_text(findings));
  REQUIRE(file.rules.size() == 1);
  return file.rules.front();
}

// The only finding without its place; the caret is under `marked`, the text of line 10 and on.
void check_finding(const std::string& rules, const std::string& expected, const std::string& marked) {
  CAPTURE(rules);
  Findings findings;
  const RuleFile file = small::load(small::file_of(rules), findings);
  CHECK(file.rules.empty());
  REQUIRE_MESSAGE(findings.size() == 1, small::all_text(findings));
  const Finding finding = findings.sorted().front();
  CHECK(finding.message + (finding.help.empty() ? "" : " | " + finding.help) == expected);
  const std::string& line = finding.place.excerpt;
  std::size_t byte = 0;
  for (int column = 1; column < finding.place.column && byte < line.size(); ++column) {
    do {
      ++byte;
    } while (byte < line.size() && (static_cast<unsigned char>(line[byte]) & 0xC0U) == 0x80U);
  }
  CHECK_MESSAGE(line.substr(byte).starts_with(marked), line.substr(byte));
}

}  // namespace

TEST_CASE("a rule file is read whole") {
  const Rule rule = only_rule(
      "- id: hot-window\n"
      "  weight: 1.5\n"
      "  when: not solute.energetic\n"
      "  let: {ratio: system.hot_solubility / system.cold_solubility}\n"
      "  grade: {of: log10(ratio), points: [[0, .01], [0.5, .5], [1, 1]]}\n"
      "  say: {high: \"{ratio} times\", middle: \"only {ratio} times\", low: hardly}\n"
      "  teach: Steep curves are kind.\n"
      "  source: a book\n"
      "  cases:\n"
      "  - {solute.energetic: false, system.hot_solubility: 100 mg/mL, system.cold_solubility: 10 mg/mL, "
      "expect: "
      "high, grade: 1}\n");
  CHECK(rule.id.text == "hot-window");
  CHECK(rule.kind == RuleKind::Grade);
  CHECK(rule.scope == RuleScope::System);
  CHECK(rule.weight == 1.5);
  CHECK(rule.when);
  CHECK(rule.lowest_grade == 0.01);
  CHECK(rule.highest_grade == 1);
  CHECK(rule.teach == "Steep curves are kind.");
  CHECK(rule.source == "a book");
  CHECK(rule.place.line == 10);
  CHECK(rule.place.path == "rules.yaml");
  CHECK(rule.written.when == "not solute.energetic");
  CHECK(rule.written.body == "log10(ratio)");
  CHECK(rule.written.points.size() == 3);
  CHECK(rule.written.lets.front().second == "system.hot_solubility / system.cold_solubility");
  CHECK(rule.facts.size() == 3);
  REQUIRE(rule.cases.size() == 1);
  CHECK(rule.cases.front().given.size() == 3);
  CHECK(rule.cases.front().expected == Outcome::High);
}

TEST_CASE("what a rule is judged on follows from its facts and its sentences") {
  CHECK(only_rule(advice("system.is_pair")).scope == RuleScope::System);
  CHECK(only_rule(advice("solvent.banned")).scope == RuleScope::Component);
  CHECK(only_rule(advice("good.banned", "x")).scope == RuleScope::Pair);
  CHECK(only_rule(advice("pair.two_phases_hot", "x")).scope == RuleScope::Pair);
  CHECK(only_rule(advice("system.is_pair", "add {poor}")).scope == RuleScope::Pair);
  CHECK(only_rule(advice("system.is_pair", "at {good.boiling_point}")).scope == RuleScope::Pair);
  CHECK(only_rule(advice("aim.open_flame", "{solvent} burns")).scope == RuleScope::Component);
  CHECK(only_rule(derive("{fact: solvent.banned, value: aim.open_flame}")).scope == RuleScope::Component);
}

TEST_CASE("a text fact takes its words without quotes, or an expression") {
  const std::string ladder = "{fact: solute.form, ladder: [[solute.energetic, salt], [else, neutral]]}";
  CHECK(only_rule(derive(ladder)).written.ladder.size() == 2);
  CHECK(only_rule(derive("{fact: system.note, value: first(solute.form; 'x')}")).facts.size() == 1);
  CHECK(only_rule(derive("{fact: system.note, value: any words at all}")).facts.empty());
}

TEST_CASE("keys that a rule needs, and keys that it does not know") {
  check_finding("- advice: {when: system.is_pair, text: x}\n  source: s\n  cases: []\n",
                "this rule lacks the key `id` | give it a name like `id: hot-window`", "advice");
  check_finding("- id: Hot window\n  advice: {when: system.is_pair, text: x}\n  source: s\n  cases: []\n",
                "an id is made of small letters, digits and hyphens, at most 60 | write it like `hot-window`",
                "Hot window");
  check_finding(
      "- id: a\n  source: s\n  cases: []\n",
      "the rule does nothing: it has none of `derive`, `exclude`, `grade`, `caution`, `advice` | add the "
      "one that it is meant to be",
      "id: a");
  check_finding(advice("system.is_pair", "x", "[]", "  exclude: {when: system.is_pair, because: y}\n"),
                "a rule has one kind; this one is `exclude` already | part it into two rules", "{when");
  check_finding("- id: a\n  advice: {when: system.is_pair, text: x}\n  cases: []\n",
                "rule `a` lacks the key `source` | name it, or write `common practice, no source`", "id: a");
  check_finding("- id: a\n  advice: {when: system.is_pair, text: x}\n  source: s\n",
                "rule `a` lacks the key `cases` | add one on each side: `- {fact: value, expect: ...}`",
                "id: a");
  check_finding(advice("system.is_pair", "x", "[]", "  wieght: 1\n"),
                "rule `chill` has no key `wieght` | did you mean `weight`?", "wieght");
  check_finding(advice("system.is_pair", "x", "[]", "  weight: 1\n"),
                "only a grade has a weight | leave it out", "1");
  check_finding(advice("system.is_pair", "x", "[]", "  say: {high: a}\n"),
                "only a grade has `say` | the sentence of this kind stands beside its `when`", "{high");
  check_finding(advice("system.is_pair", "x", "[]", "  step: coling\n"),
                "`step` cannot be `coling` | did you mean `cooling`?", "coling");
  check_finding(
      "- id: a\n  exclude: {when: system.is_pair, because: x}\n  step: cooling\n  source: s\n  cases: []\n",
      "only a caution or an advice has a step | leave it out", "cooling");
  check_finding("- id: a\n  advice: {text: x}\n  source: s\n  cases: []\n",
                "`advice` lacks the key `when` | write when it fires; `when: true` for always", "{text");
  check_finding("- id: a\n  exclude: {when: system.is_pair}\n  source: s\n  cases: []\n",
                "`exclude` lacks the key `because` | write the sentence for the person at the bench",
                "{when");
  check_finding(
      "- id: a\n  exclude: {when: system.is_pair, because: x, level: note}\n  source: s\n  cases: []\n",
      "`exclude` has no key `level` | known keys: because, perhaps, when", "level");
  check_finding("- id: a\n  caution: {when: system.is_pair, text: x}\n  source: s\n  cases: []\n",
                "`caution` lacks the key `level` | one of: note, warning, danger", "{when");
  check_finding(
      "- id: a\n  caution: {when: system.is_pair, text: x, level: dnger}\n  source: s\n  cases: []\n",
      "`level` cannot be `dnger` | did you mean `danger`?", "dnger");
}

TEST_CASE("expressions are marked where they are wrong, inside their scalar") {
  check_finding(advice("system.is_piar"),
                "there is no fact `system.is_piar` | did you mean `system.is_pair`?", "system.is_piar");
  check_finding(advice("5 °C < system.boilingpoint"),
                "there is no fact `system.boilingpoint` | did you mean `system.boiling_point`?",
                "system.boilingpoint");
  check_finding(advice("system.polarity"),
                "a condition is expected here, this is a number | compare the number with another",
                "system.polarity");
  check_finding(advice("solute.form"), "a condition is expected here, this is a text", "solute.form");
  check_finding(advice("[a]"),
                "an expression is expected here | quote an expression that begins with `[` or `{`", "[a]");
  check_finding(advice("system.is_pair", "chill {systm}"),
                "`systm` is neither a fact nor a `let` | did you mean `{system}`?", "{systm}");
  check_finding(advice("system.is_pair", "x", "[]", "  when: system.boiling_point < 100\n"),
                "a temperature is compared with a number | write the number with its unit: `100 °C`",
                "system.boiling_point < 100");
}

TEST_CASE("a comma that cut an expression in a flow map is recognized") {
  const std::string findings = findings_on(
      "- id: a\n  grade: {of: max(system.polarity, 1), points: [[0, 1], [1, .5]]}\n  weight: 1\n"
      "  say: {high: a, middle: b, low: c}\n  source: s\n  cases: []\n");
  CHECK(findings.find("a comma cut the value before this") != std::string::npos);
}

TEST_CASE("solvent does not stand beside good, poor and pair") {
  const std::string expected =
      "`solvent` stands beside `good`, `poor` or `pair` | `solvent` means each of the two in turn; name the "
      "one "
      "you mean, or part the rule";
  check_finding(advice("solvent.banned and good.banned", "x"), expected, "id: chill");
  check_finding(advice("solvent.banned or pair.two_phases_hot", "x"), expected, "id: chill");
  check_finding(advice("solvent.banned", "add {poor}"), expected, "id: chill");
  check_finding(
      derive("{fact: system.polarity, value: solvent.polarity}"),
      "`system.polarity` is one value, but `solvent.` stands for each of two solvents | name the one you "
      "mean: `good.` or `poor.`",
      "id: made");
}

TEST_CASE("lets are checked, in whatever order they stand") {
  const Rule rule = only_rule(advice("b > 2 K", "{a} {b}", "[]",
                                     "  let: {b: a * 2, a: system.boiling_point - solute.melting_point}\n"));
  CHECK(rule.facts.size() == 2);
  check_finding(advice("system.is_pair", "x", "[]", "  let: {a: system.polarity}\n"),
                "the `let` `a` is never used | delete it", "a: system");
  check_finding(
      advice("system.is_pair", "x", "[]", "  let: {a: b + 1, b: a + 1}\n"),
      "no `let` of these can be computed, for they need each other: `a`, `b` | let one of them stand on "
      "facts alone",
      "a: b");
  check_finding(advice("a > 1", "x", "[]", "  let: {a: a + 1}\n"),
                "the `let` `a` needs itself | let one of them stand on facts alone", "a: a");
  check_finding(advice("system.is_pair", "x", "[]", "  let: {min: system.polarity}\n"),
                "`min` cannot be the name of a `let`: it means something else | take another name", "min");
  check_finding(advice("system.is_pair", "x", "[]", "  let: {my.name: system.polarity}\n"),
                "`my.name` cannot be the name of a `let` | a name is one word of letters, digits and `_`",
                "my.name");
  check_finding(advice("system.is_pair", "x", "[]", "  let: 5\n"),
                "`let` is a map of names and expressions | write `let: {margin: solute.melting_point - "
                "system.boiling_point}`",
                "5");
  // A let that is wrong is told once, not again where it is used.
  check_finding(advice("a > 1", "x", "[]", "  let: {a: system.polarty}\n"),
                "there is no fact `system.polarty` | did you mean `system.polarity`?", "system.polarty");
}

TEST_CASE("points rise, have the dimension of what is graded, and grades between 0.01 and 1") {
  check_finding(grade("{of: solute.form, points: [[0, 1], [1, .5]]}"),
                "points stand over a number, this is a text | write a `ladder`", "solute.form");
  check_finding(grade("{of: system.polarity, points: [[0, 1]]}"),
                "`points` is a list of at least two `[x, grade]` | write `[[10 mg/mL, 0.3], [40 mg/mL, 1]]`",
                "[[0");
  check_finding(grade("{of: system.polarity, points: [[0, 1], [1]]}"),
                "a point is `[x, grade]` | write `[[10 mg/mL, 0.3], [40 mg/mL, 1]]`", "[1]");
  check_finding(grade("{of: system.polarity, points: [[0, 1], [0, .5]]}"),
                "the points must go up from one to the next | sort them by x, each x once", "0, .5");
  check_finding(grade("{of: system.polarity, points: [[1, 1], [0, .5]]}"),
                "the points must go up from one to the next | sort them by x, each x once", "0, .5");
  check_finding(grade("{of: system.boiling_point, points: [[10, 1], [20 °C, .5]]}"),
                "a temperature is expected here, not a number | write `10 °C`", "10, 1");
  check_finding(grade("{of: system.boiling_point, points: [[10 K, 1], [20 °C, .5]]}"),
                "a temperature is expected here, not a temperature difference | write it like `10 °C`",
                "10 K");
  check_finding(grade("{of: system.polarity, points: [[0 K, 1], [20, .5]]}"),
                "a number is expected here, not a temperature difference | write a plain number", "0 K");
  check_finding(grade("{of: system.polarity, points: [[x, 1], [20, .5]]}"),
                "a number is expected here | write it like `0.5`", "x");
  check_finding(grade("{of: system.polarity, points: [[0, 1.5], [20, .5]]}"),
                "a grade lies between 0.01 and 1 | write it as a share of 1", "1.5");
  check_finding(grade("{of: system.polarity, points: [[0, 0], [20, .5]]}"),
                "a grade lies between 0.01 and 1 | what must never be is an `exclude` rule", "0], [20");
  check_finding(grade("{of: system.polarity, scale: log, points: [[0, 1], [20, .5]]}"),
                "a logarithmic scale begins above zero | leave out the point, or `scale: log`", "0, 1");
  check_finding(grade("{of: system.polarity, scale: lgo, points: [[1, 1], [20, .5]]}"),
                "`scale` cannot be `lgo` | did you mean `log`?", "lgo");
  check_finding(grade("{of: system.polarity}"),
                "`grade` lacks the key `points` | write `points: [[x, grade], ...]`", "{of");
  check_finding(grade("{points: [[1, 1], [20, .5]]}"),
                "`grade` lacks the key `of` | write what is graded: `of: system.hot_solubility`", "{points");
  check_finding(grade("{of: system.polarity, points: [[1, 1], [20, .5]], pionts: 1}"),
                "`grade` has no key `pionts` | did you mean `points`?", "pionts");
}

TEST_CASE("a grade has a weight above zero and sentences") {
  check_finding(grade("{of: system.polarity, points: [[0, 1], [1, .5]]}", ""),
                "rule `level` lacks the key `weight` | write it like `weight: 1`", "id: level");
  check_finding(grade("{of: system.polarity, points: [[0, 1], [1, .5]]}", "  weight: 0\n"),
                "a weight lies above 0 and not above 100 | delete the rule if it is to weigh nothing", "0");
  check_finding(grade("{of: system.polarity, points: [[0, 1], [1, .5]]}", "  weight: -1\n"),
                "a weight lies above 0 and not above 100 | delete the rule if it is to weigh nothing", "-1");
  check_finding(grade("{of: system.polarity, points: [[0, 1], [1, .5]]}", "  weight: 5 K\n"),
                "a number is expected here, not a temperature difference | write a plain number", "5 K");
  check_finding(
      "- id: a\n  weight: 1\n  grade: {of: system.polarity, points: [[0, 1], [1, .5]]}\n  source: s\n"
      "  cases: []\n",
      "rule `a` lacks the key `say` | write `say: {high: ..., middle: ..., low: ...}`", "id: a");
  check_finding(
      "- id: a\n  weight: 1\n  grade: {of: system.polarity, points: [[0, 1], [1, .5]]}\n"
      "  say: {high: x, medium: y}\n  source: s\n  cases: []\n",
      "`say` has no key `medium` | known keys: high, low, middle, unsure", "medium");
}

TEST_CASE("every rung of a ladder can be reached, and the last is else") {
  CHECK(only_rule(
            grade("{ladder: [[solvent.class == '1', .03], [solvent.class in ('1'; '2'), .4], [else, 1]]}"))
            .lowest_grade == 0.03);
  const std::string unreachable =
      "this rung can never be reached | the rungs before it catch all that it would";
  check_finding(grade("{ladder: [[system.is_pair, .5], [system.is_pair, .6], [else, 1]]}"), unreachable,
                "system.is_pair, .6");
  check_finding(grade("{ladder: [[solvent.class in ('1'; '2'), .5], [solvent.class == '1', .6], [else, 1]]}"),
                unreachable, "solvent.class == '1'");
  check_finding(
      grade("{ladder: [[solvent.hazards meets ('H1'; 'H2'), .5], [solvent.hazards meets ('H2'), .6], "
            "[else, 1]]}"),
      unreachable, "solvent.hazards meets ('H2')");
  check_finding(grade("{ladder: [[system.polarity < 3, .5], [system.polarity < 2, .6], [else, 1]]}"),
                unreachable, "system.polarity < 2");
  check_finding(grade("{ladder: [[system.polarity > 2, .5], [system.polarity >= 3, .6], [else, 1]]}"),
                unreachable, "system.polarity >= 3");
  check_finding(grade("{ladder: [[system.is_pair, .5], [else, 1], [solute.energetic, .6]]}"),
                "this rung can never be reached | it stands behind `else`", "solute.energetic");
  check_finding(grade("{ladder: [[system.is_pair, .5], [true, 1]]}"),
                "a rung that is always `true` is of no use | write `else`", "true");
  check_finding(grade("{ladder: [[false, .5], [else, 1]]}"),
                "a rung that is always `false` is of no use | delete it", "false");
  check_finding(grade("{ladder: [[system.is_pair, .5], [solute.energetic, 1]]}"),
                "the ladder does not say what holds otherwise | end it with `[else, value]`",
                "[solute.energetic");
  check_finding(grade("{ladder: [[else, 1]]}"),
                "a ladder of one rung is no ladder | add a rung with a condition", "[[else");
  check_finding(
      grade("{ladder: []}"),
      "a ladder is a list of rungs `[condition, value]` | write `[[condition, value], [else, value]]`", "[]");
  check_finding(
      grade("{ladder: [[max(system.polarity, 1) > 2, .5], [else, 1]]}"),
      "a rung is `[condition, value]` | separate the members of a set and the arguments of a function by "
      "`;`",
      "[max(");
  check_finding(grade("{ladder: [system.is_pair, [else, 1]]}"),
                "a rung is `[condition, value]` | write `[condition, value]`", "system.is_pair");
  check_finding(grade("{ladder: [[system.is_pair, 2], [else, 1]]}"),
                "a grade lies between 0.01 and 1 | write it as a share of 1", "2]");
  check_finding(grade("{ladder: [[system.is_pair, .5], [else, 1]], scale: log}"),
                "`scale` and `ladder` exclude each other | keep one of the two", "log");
}

TEST_CASE("a derived value has the type of its fact") {
  check_finding(derive("{fact: system.hot_temperature, value: system.polarity}"),
                "`system.hot_temperature` is a temperature, this is a number", "system.polarity");
  check_finding(derive("{fact: system.hot_temprature, value: system.boiling_point}"),
                "there is no fact `system.hot_temprature` | did you mean `system.hot_temperature`?",
                "system.hot_temprature");
  check_finding(derive("{fact: good.banned, value: aim.open_flame}"),
                "a fact of a solvent is derived for both alike | write `solvent.` here", "good.banned");
  check_finding(derive("{fact: solute.groups, value: aim.open_flame}"), "a set cannot be derived",
                "solute.groups");
  check_finding(derive("{fact: system.polarity}"),
                "`derive` has either `value` or `ladder` | add `value: ...`", "{fact");
  check_finding(derive("{fact: system.polarity, value: 1, ladder: [[system.is_pair, 1], [else, 2]]}"),
                "`derive` has either `value` or `ladder` | keep one of the two", "{fact");
  check_finding(derive("{fact: solute.form, ladder: [[system.is_pair, sallt], [else, neutral]]}"),
                "`solute.form` is never `sallt` | did you mean `salt`?", "sallt");
  check_finding(derive("{fact: solute.form, ladder: [[system.is_pair, gas], [else, neutral]]}"),
                "`solute.form` is never `gas` | one of: neutral, salt, hydrate", "gas");
  check_finding(derive("{value: 1}"), "`derive` lacks the key `fact` | write `fact: system.hot_temperature`",
                "{value");
}

TEST_CASE("cases name facts that the rule looks at, and outcomes that it can have") {
  check_finding(advice("system.is_pair", "x", "[{system.is_piar: true, expect: fires}]"),
                "there is no fact `system.is_piar` | did you mean `system.is_pair`?", "system.is_piar");
  check_finding(advice("system.is_pair", "x", "[{sunny: true, expect: fires}]"),
                "there is no fact `sunny` | a case holds facts, `expect`, `grade`, `value` and `missing`",
                "sunny");
  check_finding(advice("system.is_pair", "x", "[{aim.open_flame: true, expect: fires}]"),
                "the rule never looks at `aim.open_flame` | it looks at system.is_pair", "aim.open_flame");
  check_finding(advice("system.is_pair", "x", "[{system.is_pair: true, expect: fire}]"),
                "a case of an advice cannot expect `fire` | did you mean `fires`?", "fire");
  check_finding(advice("system.is_pair", "x", "[{system.is_pair: true, expect: high}]"),
                "a case of an advice cannot expect `high` | one of: fires, silent, unknown, not-applicable",
                "high");
  check_finding(advice("system.is_pair", "x", "[{system.is_pair: true}]"),
                "the case expects nothing | add `expect: ...`", "{system");
  check_finding(advice("system.is_pair", "x", "[{system.is_pair: true, expect: fires, grade: 1}]"),
                "only a grade has a grade | write `expect: ...` alone", "grade");
  check_finding(advice("system.is_pair", "x", "[{system.is_pair: true, expect: fires, value: 1}]"),
                "only a derive rule has a value | write `expect: ...`", "value");
  check_finding(advice("system.is_pair", "x", "[{system.is_pair: yes, expect: fires}]"),
                "`system.is_pair` is `true` or `false`", "yes");
  check_finding(advice("system.is_pair", "x", "[{expect: fires, missing: system.is_pair}]"),
                "something is missing only where the outcome is unknown | write `expect: unknown`",
                "{expect");
  check_finding(advice("system.is_pair", "x", "[{expect: unknown, missing: system.is_piar}]"),
                "there is no fact `system.is_piar` | did you mean `system.is_pair`?", "system.is_piar");
  check_finding(advice("system.is_pair", "x", "[{expect: unknown, missing: []}]"),
                "`missing` names one fact or more | write `missing: [a.b, c.d]`", "[]");
  check_finding(advice("system.is_pair", "x", "[5]"),
                "a case is a map of facts | write `- {fact: value, expect: ...}`", "5");
  check_finding(advice("system.is_pair", "x", "5"),
                "`cases` is a list of maps | write `- {fact: value, expect: ...}`", "5");
  check_finding(advice("system.boiling_point > 5 °C", "x", "[{system.boiling_point: 78, expect: fires}]"),
                "a temperature is expected here, not a number | write `78 °C`", "78");
  check_finding(advice("solute.form == 'salt'", "x", "[{solute.form: gas, expect: fires}]"),
                "`solute.form` is never `gas` | one of: neutral, salt, hydrate", "gas");
  check_finding(advice("solute.form == 'salt'", "x", "[{solute.form: [salt], expect: fires}]"),
                "a word is expected for `solute.form`", "[salt]");
  check_finding(advice("solute.groups meets ('x')", "x", "[{solute.groups: x, expect: fires}]"),
                "`solute.groups` is a set | write `[one, two]`, or `[]` for none", "x, expect");
  check_finding(
      advice("measured(system.polarity)", "x", "[{system.polarity: \"1 [guessed]\", expect: fires}]"),
      "`guessed` is not an origin | one of: published, measured, given, predicted, calculated, assumed",
      "\"1");
}

TEST_CASE("a case expects one thing") {
  const std::string before =
      "- id: a\n  weight: 1\n  grade: {of: system.polarity, points: [[0, 1], [1, .1]]}\n"
      "  say: {high: a, middle: b, low: c}\n  source: s\n  cases:\n  ";
  check_finding(before + "- {expect: unknown, grade: 1}\n",
                "the case expects a grade and none | keep one of `grade` and `expect`", "{expect");
  check_finding(
      "- id: a\n  derive: {fact: system.polarity, value: 1}\n  source: s\n  cases:\n"
      "  - {expect: unknown, value: 1}\n",
      "the case expects a value and none | keep one of `value` and `expect`", "{expect");
  check_finding(
      "- id: a\n  derive: {fact: system.polarity, value: 1}\n  source: s\n  cases:\n  - {expect: fires}\n",
      "a case of a derive rule cannot expect `fires` | one of: unknown, not-applicable", "fires");
  check_finding("- id: a\n  derive: {fact: system.polarity, value: 1}\n  source: s\n  cases:\n  - {}\n",
                "the case expects nothing | add `value: ...`", "{}");
}

TEST_CASE("one broken rule does not hide the others, nor their findings") {
  Findings findings;
  const std::string twice = advice("system.is_piar") + advice("system.polarity");
  const RuleFile file = small::load(
      small::file_of(twice +
                     "- id: good\n  advice: {when: system.is_pair, text: x}\n  source: s\n  cases: []\n"),
      findings);
  CHECK(file.rules.size() == 1);
  CHECK(findings.size() == 2);
}

TEST_CASE("the file itself is checked") {
  const auto on = [](const std::string& text) {
    Findings findings;
    (void)small::load(text, findings);
    return small::all_text(findings);
  };
  CHECK(on("rules: []\n").find("this rule file lacks the key `format`") != std::string::npos);
  CHECK(on("format: firstcrop rules 2\nrules: []\n").find("this is not the format expected here") !=
        std::string::npos);
  CHECK(on("format: firstcrop rules 1\n").find("the file holds neither `rules` nor `verdict`") !=
        std::string::npos);
  CHECK(on("format: firstcrop rules 1\nrules: []\nruls: []\n").find("did you mean `rules`?") !=
        std::string::npos);
  CHECK(on("- 1\n").find("must be a map") != std::string::npos);
  CHECK(on("format: firstcrop rules 1\nrules: 5\n").find("`rules` must be a list of maps") !=
        std::string::npos);
}

TEST_CASE("the limits of the verdict are checked") {
  const auto on = [](const std::string& from, const std::string& to) {
    std::string text = small::kVerdict;
    const std::size_t at = text.find(from);
    REQUIRE(at != std::string::npos);
    text.replace(at, from.size(), to);
    Findings findings;
    const RuleFile file = small::load("format: firstcrop rules 1\n" + text, findings);
    CHECK_FALSE(file.verdict);
    REQUIRE_MESSAGE(findings.size() == 1, small::all_text(findings));
    const Finding finding = findings.sorted().front();
    return finding.message + (finding.help.empty() ? "" : " | " + finding.help);
  };
  CHECK(on("  caution: {probability: 0.1}\n", "") == "`verdict` lacks the key `caution`");
  CHECK(on("score: 0.6, ", "") == "`sound` lacks the key `score`");
  CHECK(on("score: 0.6", "score: 1.6") == "`score` lies between 0 and 1");
  CHECK(on("score: 0.6", "scoer: 0.6, score: 0.6") == "`sound` has no key `scoer` | did you mean `score`?");
  CHECK(on("score: 0.6", "score: 5 K") ==
        "a number is expected here, not a temperature difference | write a plain number");
  CHECK(on("system.works", "system.wroks") ==
        "there is no fact `system.wroks` | did you mean `system.works`?");
  CHECK(on("system.works", "system.polarity") ==
        "the chance is the probability of a flag of the system | write `of: system.works`");
  CHECK(on("doubtful: {exclusion: 0.1}", "doubtful: {exclusion: 0.95}") ==
        "`exclusion` of `doubtful` lies above that of `unfit` | the doubtful limit is the lower one");
  CHECK(on("low: 0.4", "low: 0.8") == "`low` of `words` lies above `high` | write the lower limit as `low`");
  CHECK(on("score: 0.6", "chance: 0.05, score: 0.6") ==
        "`chance` of `sound` lies below that of `unfit` | a sound system needs the larger chance");
  CHECK(on("  words: {high: 0.75, low: 0.4}", "  words: {high: 0.75, low: 0.4}\n  wrods: 1") ==
        "`verdict` has no key `wrods` | did you mean `words`?");
}

TEST_CASE("the limits are read as they stand") {
  Findings findings;
  const RuleFile file = small::load("format: firstcrop rules 1\n" + small::kVerdict, findings);
  REQUIRE(file.verdict);
  CHECK(file.verdict->chance_of == small::fact("system.works"));
  CHECK(file.verdict->sound_score == 0.6);
  CHECK(file.verdict->sound_heavy_weight == 1.5);
  CHECK(file.verdict->sound_chance == 0);
  CHECK(file.verdict->unfit_exclusion == 0.9);
  CHECK(file.verdict->caution_probability == 0.1);
  CHECK(file.verdict->low_grade == 0.4);
}

TEST_CASE("rule files of random bytes never break the loader") {
  const std::string good = small::file_of(advice("system.is_pair and solute.form == 'salt'"));
  std::uint32_t state = 99;
  for (int round = 0; round < 400; ++round) {
    std::string text = good;
    for (int change = 0; change < 3; ++change) {
      state = state * 1664525U + 1013904223U;
      const std::size_t at = (state >> 8U) % text.size();
      text[at] = "{}[]():;,'\"-x1\n "[(state >> 4U) % 16U];
    }
    Findings findings;
    const RuleFile file = small::load(text, findings);
    CHECK((file.rules.size() == 1 || !findings.empty()));
  }
}
