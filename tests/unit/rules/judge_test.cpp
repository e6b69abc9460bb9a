#include "rules/judge.hpp"

#include <algorithm>
#include <cmath>

#include <doctest/doctest.h>

#include "small_book.hpp"

using namespace firstcrop;
using small::fact;

namespace {

const Names kSingle{"benzil", "ethanol", {"ethanol"}};
const Names kPair{"benzil", "ethanol+water 80:20", {"ethanol", "water"}};

std::string grade(const std::string& id, double weight, const std::string& body,
                  const std::string& more = "") {
  return "- id: " + id + "\n  weight: " + std::to_string(weight) + "\n  grade: " + body + "\n" + more +
         "  say: {high: good, middle: fair, low: poor}\n  source: memory\n  cases: []\n";
}

// The grade is the polarity itself, from 0.01 to 1.
std::string polarity_grade(const std::string& id, double weight, const std::string& of = "system.polarity") {
  return grade(id, weight, "{of: " + of + ", points: [[0.01, 0.01], [1, 1]]}");
}

std::string exclusion(const std::string& when) {
  return "- id: never\n  exclude: {when: " + when +
         ", because: \"{system} is banned\"}\n  source: memory\n"
         "  cases: []\n";
}

std::string caution(const std::string& when, const std::string& text) {
  return "- id: beware\n  step: heating\n  caution: {when: " + when + ", level: danger, text: \"" + text +
         "\"}\n  source: memory\n  cases: []\n";
}

FactFrame single() {
  FactFrame out(small::catalogue(), 1);
  out.set(fact("system.works"), small::flag(true));
  return out;
}

FactFrame pair() {
  FactFrame out(small::catalogue(), 2);
  out.set(fact("system.works"), small::flag(true));
  return out;
}

ScenarioValues half_and_half(double low, double high) {
  ScenarioValues out{};
  for (std::size_t k = 0; k < kScenarioCount; ++k) out[k] = k < 32 ? low : high;
  return out;
}

const RuleOutcome& outcome_of(const Judgement& judgement, const std::string& id, std::size_t which = 0) {
  for (const RuleOutcome& outcome : judgement.outcomes) {
    if (outcome.rule.text == id && which-- == 0) return outcome;
  }
  FAIL("no outcome of " << id);
  return judgement.outcomes.front();
}

}  // namespace

TEST_CASE("the score is the weighted geometric mean of the grades") {
  const RuleBook book = small::book_of(polarity_grade("a", 1) + polarity_grade("b", 3, "solute.polarity"));
  FactFrame frame = single();
  frame.set(fact("system.polarity"), small::number(0.5));
  frame.set(fact("solute.polarity"), small::number(0.8));
  const Judgement judgement = judge(book, frame);
  REQUIRE(judgement.score);
  // (0.5 * 0.8^3)^(1/4), by hand 0.71131
  CHECK(*judgement.score == doctest::Approx(std::pow(0.5 * 0.8 * 0.8 * 0.8, 0.25)));
  CHECK(*judgement.score == doctest::Approx(0.71131).epsilon(1e-4));
  CHECK(judgement.judged == 1);
  CHECK(judgement.scores.is_certain());
  CHECK(judgement.verdict == Verdict::Sound);
}

TEST_CASE("the score is formed in each scenario and then averaged") {
  const RuleBook book = small::book_of(polarity_grade("a", 1) + polarity_grade("b", 1, "solute.polarity"));
  FactFrame frame = single();
  frame.set(fact("system.polarity"), small::column(half_and_half(0.2, 0.9)));
  frame.set(fact("solute.polarity"), small::column(half_and_half(0.9, 0.2)));
  const Judgement judgement = judge(book, frame);
  // The two always make up for one another: sqrt(0.2 * 0.9) everywhere, not the 0.55 of their means.
  CHECK(*judgement.score == doctest::Approx(std::sqrt(0.18)));
  CHECK(judgement.scores.at(0) == doctest::Approx(std::sqrt(0.18)));
  frame.set(fact("solute.polarity"), small::column(half_and_half(0.2, 0.9)));
  CHECK(*judge(book, frame).score == doctest::Approx(0.55));
}

TEST_CASE("an unknown grade loses its weight, and the lost share is told") {
  const RuleBook book = small::book_of(polarity_grade("a", 1) + polarity_grade("b", 3, "solute.polarity"));
  FactFrame frame = single();
  frame.set(fact("system.polarity"), small::number(0.5));
  const Judgement judgement = judge(book, frame, kSingle);
  CHECK(*judgement.score == doctest::Approx(0.5));
  CHECK(judgement.judged == doctest::Approx(0.25));
  CHECK(judgement.verdict == Verdict::Doubtful);
  CHECK(book.rules()[*judgement.deciding_rule].id.text == "b");
  const RuleOutcome& outcome = outcome_of(judgement, "b");
  CHECK(outcome.outcome == Outcome::Unknown);
  CHECK(outcome.missing == std::vector<std::string>{"solute.polarity"});
  CHECK(outcome.text.empty());
  CHECK_FALSE(outcome.grade);
}

TEST_CASE("where nothing can be judged there is no score, and no verdict better than doubtful") {
  const RuleBook book = small::book_of(polarity_grade("a", 1));
  const Judgement judgement = judge(book, single());
  CHECK_FALSE(judgement.score);
  CHECK(judgement.judged == 0);
  CHECK(judgement.verdict == Verdict::Doubtful);
}

TEST_CASE("a grade known in some scenarios counts in those") {
  const RuleBook book = small::book_of(polarity_grade("a", 1) + polarity_grade("b", 1, "solute.polarity"));
  FactFrame frame = single();
  frame.set(fact("system.polarity"), small::number(0.5));
  frame.set(fact("solute.polarity"), small::column(half_and_half(0.8, 0.8), small::first_scenarios(32)));
  const Judgement judgement = judge(book, frame);
  CHECK(judgement.scores.at(0) == doctest::Approx(std::sqrt(0.4)));
  CHECK(judgement.scores.at(63) == doctest::Approx(0.5));
  CHECK(judgement.judged == doctest::Approx(0.75));
}

TEST_CASE("a rule whose condition is false does not count; one whose condition is unknown is not judged") {
  const RuleBook book = small::book_of(
      polarity_grade("a", 1) +
      grade("b", 1, "{of: solute.polarity, points: [[0.01, 0.01], [1, 1]]}", "  when: system.is_pair\n"));
  FactFrame frame = single();
  frame.set(fact("system.polarity"), small::number(0.9));
  frame.set(fact("solute.polarity"), small::number(0.1));
  Judgement judgement = judge(book, frame, kSingle);
  CHECK(*judgement.score == doctest::Approx(0.9));
  CHECK(judgement.judged == doctest::Approx(0.5));
  CHECK(outcome_of(judgement, "b").outcome == Outcome::Unknown);
  CHECK(outcome_of(judgement, "b").missing == std::vector<std::string>{"system.is_pair"});
  frame.set(fact("system.is_pair"), small::flag(false));
  judgement = judge(book, frame, kSingle);
  CHECK(judgement.judged == 1);
  CHECK(outcome_of(judgement, "b").outcome == Outcome::NotApplicable);
  frame.set(fact("system.is_pair"), small::flag(true));
  CHECK(*judge(book, frame).score == doctest::Approx(0.3));
}

TEST_CASE("a condition that holds in half of the scenarios counts in those") {
  const RuleBook book = small::book_of(
      polarity_grade("a", 1) +
      grade("b", 1, "{of: solute.polarity, points: [[0.01, 0.01], [1, 1]]}", "  when: system.is_pair\n"));
  FactFrame frame = single();
  frame.set(fact("system.polarity"), small::number(0.9));
  frame.set(fact("solute.polarity"), small::number(0.1));
  frame.set(fact("system.is_pair"), small::flag_mask(small::first_scenarios(32)));
  const Judgement judgement = judge(book, frame);
  CHECK(judgement.judged == 1);
  CHECK(*judgement.score == doctest::Approx((0.3 + 0.9) / 2));
}

TEST_CASE("in a pair the worse component counts, scenario by scenario") {
  const RuleBook book = small::book_of(polarity_grade("a", 1, "solvent.polarity"));
  FactFrame frame = pair();
  frame.set(fact("good.polarity"), small::number(0.9));
  frame.set(fact("poor.polarity"), small::number(0.5));
  Judgement judgement = judge(book, frame, kPair);
  CHECK(*judgement.score == doctest::Approx(0.5));
  CHECK(outcome_of(judgement, "a").component == 1);
  CHECK(outcome_of(judgement, "a").outcome == Outcome::Middle);
  frame.set(fact("good.polarity"), small::column(half_and_half(0.2, 0.9)));
  judgement = judge(book, frame, kPair);
  CHECK(*judgement.score == doctest::Approx((0.2 + 0.5) / 2));
  CHECK(judgement.scores.at(0) == doctest::Approx(0.2));
  CHECK(judgement.scores.at(63) == doctest::Approx(0.5));
}

TEST_CASE("a component that is unknown leaves the pair unjudged") {
  const RuleBook book = small::book_of(polarity_grade("a", 1, "solvent.polarity"));
  FactFrame frame = pair();
  frame.set(fact("good.polarity"), small::number(0.9));
  const Judgement judgement = judge(book, frame, kPair);
  CHECK_FALSE(judgement.score);
  CHECK(outcome_of(judgement, "a").outcome == Outcome::Unknown);
}

TEST_CASE("a component that a rule does not apply to leaves the other to count") {
  const RuleBook book = small::book_of(grade("a", 1, "{of: solvent.polarity, points: [[0.01, 0.01], [1, 1]]}",
                                             "  when: solvent.class == '1'\n"));
  FactFrame frame = pair();
  frame.set(fact("good.polarity"), small::number(0.2));
  frame.set(fact("poor.polarity"), small::number(0.9));
  frame.set(fact("good.class"), small::text("2"));
  frame.set(fact("poor.class"), small::text("1"));
  const Judgement judgement = judge(book, frame, kPair);
  CHECK(*judgement.score == doctest::Approx(0.9));
  CHECK(outcome_of(judgement, "a").component == 1);
}

TEST_CASE("rules of pairs do not apply to singles") {
  const RuleBook book = small::book_of(polarity_grade("a", 1) + polarity_grade("b", 1, "good.polarity"));
  FactFrame frame = single();
  frame.set(fact("system.polarity"), small::number(0.9));
  const Judgement judgement = judge(book, frame, kSingle);
  CHECK(judgement.judged == 1);
  CHECK(outcome_of(judgement, "b").outcome == Outcome::NotApplicable);
}

TEST_CASE("an exclusion as good as sure makes a system unfit, without a score") {
  const RuleBook book = small::book_of(polarity_grade("a", 1) + exclusion("solute.energetic"));
  FactFrame frame = single();
  frame.set(fact("system.polarity"), small::number(0.9));
  const auto verdict_at = [&](std::uint64_t truth, std::uint64_t known = kAllScenarios) {
    frame.set(fact("solute.energetic"), small::flag_mask(truth, known));
    return judge(book, frame, kSingle);
  };
  Judgement judgement = verdict_at(small::first_scenarios(58));
  CHECK(judgement.verdict == Verdict::Unfit);
  CHECK(judgement.excluded);
  CHECK_FALSE(judgement.score);
  CHECK(book.rules()[*judgement.deciding_rule].id.text == "never");
  CHECK(outcome_of(judgement, "never").outcome == Outcome::Fires);
  CHECK(outcome_of(judgement, "never").text == "ethanol is banned");
  CHECK(*outcome_of(judgement, "never").probability == doctest::Approx(58.0 / 64));

  judgement = verdict_at(small::first_scenarios(32));
  CHECK(judgement.verdict == Verdict::Doubtful);
  CHECK_FALSE(judgement.excluded);
  CHECK(judgement.score);
  CHECK(outcome_of(judgement, "never").outcome == Outcome::Possible);
  CHECK(book.rules()[*judgement.deciding_rule].id.text == "never");

  judgement = verdict_at(small::first_scenarios(6));
  CHECK(judgement.verdict == Verdict::Sound);
  CHECK(outcome_of(judgement, "never").outcome == Outcome::Silent);
  CHECK(outcome_of(judgement, "never").text.empty());
}

TEST_CASE("what may be excluded counts against chance and score as far as it is probable, and says so") {
  const RuleBook book = small::book_of(polarity_grade("a", 1) + exclusion("solute.energetic"));
  FactFrame frame = single();
  frame.set(fact("system.polarity"), small::number(0.8));
  frame.set(fact("solute.energetic"), small::flag_mask(small::first_scenarios(32)));
  Judgement judgement = judge(book, frame, kSingle);
  CHECK(*judgement.chance == doctest::Approx(0.5));
  CHECK(*judgement.score == doctest::Approx(0.4));
  CHECK(outcome_of(judgement, "never").text == "perhaps (50 %): ethanol is banned");
  // What works only where it is excluded never works.
  frame.set(fact("system.works"), small::flag_mask(small::first_scenarios(32)));
  judgement = judge(book, frame, kSingle);
  CHECK(*judgement.chance == 0);
  CHECK(judgement.verdict == Verdict::Unfit);
  CHECK_FALSE(judgement.excluded);
  CHECK(book.rules()[*judgement.deciding_rule].id.text == "never");
  // A system that is excluded for sure keeps the chance that it would have.
  frame.set(fact("system.works"), small::flag(true));
  frame.set(fact("solute.energetic"), small::flag(true));
  CHECK(*judge(book, frame).chance == 1);
}

TEST_CASE("an exclusion that is merely possible has a sentence of its own") {
  const RuleBook book =
      small::book_of(polarity_grade("a", 1) +
                     "- id: never\n  exclude: {when: solute.energetic, because: \"{solute} explodes\", "
                     "perhaps: \"{solute} may explode ({probability})\"}\n  source: memory\n  cases: []\n");
  FactFrame frame = single();
  frame.set(fact("system.polarity"), small::number(0.9));
  frame.set(fact("solute.energetic"), small::flag_mask(small::first_scenarios(16)));
  CHECK(outcome_of(judge(book, frame, kSingle), "never").text == "benzil may explode (25 %)");
  frame.set(fact("solute.energetic"), small::flag(true));
  CHECK(outcome_of(judge(book, frame, kSingle), "never").text == "benzil explodes");
}

TEST_CASE("a caution may keep a system from being sound, and may want another probability") {
  const RuleBook book = small::book_of(
      polarity_grade("a", 1) +
      "- id: beware\n  caution: {when: solute.energetic, level: note, text: untried, probability: 0.5, "
      "at_most: doubtful}\n  source: memory\n  cases: []\n");
  FactFrame frame = single();
  frame.set(fact("system.polarity"), small::number(0.9));
  frame.set(fact("solute.energetic"), small::flag_mask(small::first_scenarios(31)));
  CHECK(judge(book, frame, kSingle).verdict == Verdict::Sound);
  CHECK(outcome_of(judge(book, frame, kSingle), "beware").outcome == Outcome::Silent);
  frame.set(fact("solute.energetic"), small::flag_mask(small::first_scenarios(32)));
  const Judgement judgement = judge(book, frame, kSingle);
  CHECK(judgement.verdict == Verdict::Doubtful);
  CHECK(judgement.score == doctest::Approx(0.9));
  CHECK(book.rules()[*judgement.deciding_rule].id.text == "beware");
}

TEST_CASE("a grade whose range reaches from low into high says that it is not known") {
  const auto book_with = [](const std::string& unsure) {
    return small::book_of(
        "- id: a\n  weight: 1\n  grade: {of: system.polarity, points: [[0.01, 0.01], [1, 1]]}\n"
        "  say: {high: good, middle: fair, low: poor" +
        unsure + "}\n  source: memory\n  cases: []\n");
  };
  FactFrame frame = single();
  frame.set(fact("system.polarity"), small::column(half_and_half(0.1, 0.9)));
  CHECK(outcome_of(judge(book_with(", unsure: not known"), frame, kSingle), "a").text == "not known");
  CHECK(outcome_of(judge(book_with(""), frame, kSingle), "a").text == "fair");
  frame.set(fact("system.polarity"), small::column(half_and_half(0.5, 0.9)));
  CHECK(outcome_of(judge(book_with(", unsure: not known"), frame, kSingle), "a").text == "fair");
}

TEST_CASE("an exclusion that is unknown allows no better verdict than doubtful, and names the fact") {
  const RuleBook book = small::book_of(polarity_grade("a", 1) + exclusion("solute.energetic"));
  FactFrame frame = single();
  frame.set(fact("system.polarity"), small::number(0.9));
  Judgement judgement = judge(book, frame, kSingle);
  CHECK(judgement.verdict == Verdict::Doubtful);
  CHECK(outcome_of(judgement, "never").outcome == Outcome::Unknown);
  CHECK(outcome_of(judgement, "never").missing == std::vector<std::string>{"solute.energetic"});
  // Known to be false in most scenarios, and unknown in the rest: still at most doubtful.
  frame.set(fact("solute.energetic"), small::flag_mask(0, small::first_scenarios(40)));
  judgement = judge(book, frame, kSingle);
  CHECK(judgement.verdict == Verdict::Doubtful);
  CHECK(outcome_of(judgement, "never").outcome == Outcome::Unknown);
}

TEST_CASE("one component is enough to exclude a pair") {
  const RuleBook book = small::book_of(polarity_grade("a", 1) + exclusion("solvent.banned"));
  FactFrame frame = pair();
  frame.set(fact("system.polarity"), small::number(0.9));
  frame.set(fact("good.banned"), small::flag(false));
  frame.set(fact("poor.banned"), small::flag(true));
  Judgement judgement = judge(book, frame, kPair);
  CHECK(judgement.verdict == Verdict::Unfit);
  CHECK(outcome_of(judgement, "never").component == 1);
  // Unknown beside false is unknown; unknown beside true is true.
  FactFrame half = pair();
  half.set(fact("system.polarity"), small::number(0.9));
  half.set(fact("good.banned"), small::flag(false));
  CHECK(judge(book, half).verdict == Verdict::Doubtful);
  half.set(fact("good.banned"), small::flag(true));
  CHECK(judge(book, half).verdict == Verdict::Unfit);
}

TEST_CASE("a small chance makes a system unfit, with its score and the grade that costs most") {
  const RuleBook book = small::book_of(polarity_grade("a", 1) + polarity_grade("b", 1, "solute.polarity"));
  FactFrame frame = single();
  frame.set(fact("system.polarity"), small::number(0.9));
  frame.set(fact("solute.polarity"), small::number(0.5));
  frame.set(fact("system.works"), small::flag_mask(small::first_scenarios(6)));
  const Judgement judgement = judge(book, frame);
  CHECK(judgement.verdict == Verdict::Unfit);
  CHECK_FALSE(judgement.excluded);
  CHECK(judgement.score);
  CHECK(*judgement.chance == doctest::Approx(6.0 / 64));
  CHECK(book.rules()[*judgement.deciding_rule].id.text == "b");
  frame.set(fact("system.works"), small::flag_mask(small::first_scenarios(7)));
  CHECK(judge(book, frame).verdict == Verdict::Sound);
}

TEST_CASE("of the grades, one that bears on the chance decides where the chance is small") {
  const RuleBook book = small::book_of(polarity_grade("a", 1) + polarity_grade("b", 1, "solute.polarity") +
                                       "- id: works\n  derive: {fact: system.works, value: system.polarity > "
                                       "0.95}\n  source: s\n  cases: []\n");
  FactFrame frame = single();
  frame.set(fact("system.polarity"), small::number(0.9));
  frame.set(fact("solute.polarity"), small::number(0.1));
  frame.set(fact("system.works"), small::flag(false));
  CHECK(book.rules()[*judge(book, frame).deciding_rule].id.text == "a");
}

TEST_CASE("an unknown chance is told as none") {
  const RuleBook book = small::book_of(polarity_grade("a", 1));
  FactFrame frame(small::catalogue(), 1);
  frame.set(fact("system.polarity"), small::number(0.9));
  CHECK_FALSE(judge(book, frame).chance);
}

TEST_CASE("a sound system may be asked for a chance") {
  Findings findings;
  std::string text = small::file_of(polarity_grade("a", 1));
  text.replace(text.find("score: 0.6"), 10, "score: 0.6, chance: 0.5");
  std::vector<RuleFile> files;
  files.push_back(small::load(text, findings));
  const auto book = RuleBook::build(small::catalogue(), std::move(files), {}, findings);
  REQUIRE(book);
  FactFrame frame = single();
  frame.set(fact("system.polarity"), small::number(0.9));
  CHECK(judge(*book, frame).verdict == Verdict::Sound);
  frame.set(fact("system.works"), small::flag_mask(small::first_scenarios(31)));
  CHECK(judge(*book, frame).verdict == Verdict::Doubtful);
  FactFrame without(small::catalogue(), 1);
  without.set(fact("system.polarity"), small::number(0.9));
  CHECK(judge(*book, without).verdict == Verdict::Doubtful);
}

TEST_CASE("a weak grade in a heavy rule keeps a system from being sound") {
  const RuleBook heavy =
      small::book_of(polarity_grade("a", 10) + polarity_grade("b", 1.5, "solute.polarity"));
  const RuleBook light =
      small::book_of(polarity_grade("a", 10) + polarity_grade("b", 1.4, "solute.polarity"));
  FactFrame frame = single();
  frame.set(fact("system.polarity"), small::number(1));
  frame.set(fact("solute.polarity"), small::number(0.29));
  const Judgement judgement = judge(heavy, frame);
  CHECK(judgement.verdict == Verdict::Doubtful);
  CHECK(heavy.rules()[*judgement.deciding_rule].id.text == "b");
  CHECK(judge(light, frame).verdict == Verdict::Sound);
  frame.set(fact("solute.polarity"), small::number(0.31));
  CHECK(judge(heavy, frame).verdict == Verdict::Sound);
}

TEST_CASE("a low score is doubtful, decided by what costs most") {
  const RuleBook book = small::book_of(polarity_grade("a", 1) + polarity_grade("b", 1.2, "solute.polarity"));
  FactFrame frame = single();
  frame.set(fact("system.polarity"), small::number(0.5));
  frame.set(fact("solute.polarity"), small::number(0.5));
  const Judgement judgement = judge(book, frame);
  CHECK(judgement.verdict == Verdict::Doubtful);
  CHECK(book.rules()[*judgement.deciding_rule].id.text == "b");
}

TEST_CASE("a caution fires from one case in ten on") {
  const RuleBook book = small::book_of(caution("solute.energetic", "{solute} may explode in {system}"));
  FactFrame frame = single();
  frame.set(fact("solute.energetic"), small::flag_mask(small::first_scenarios(7)));
  Judgement judgement = judge(book, frame, kSingle);
  const RuleOutcome& fired = outcome_of(judgement, "beware");
  CHECK(fired.outcome == Outcome::Fires);
  CHECK(fired.text == "benzil may explode in ethanol");
  CHECK(fired.level == CautionLevel::Danger);
  CHECK(fired.step == "heating");
  CHECK(fired.source == "memory");
  CHECK(*fired.probability == doctest::Approx(7.0 / 64));
  frame.set(fact("solute.energetic"), small::flag_mask(small::first_scenarios(6)));
  judgement = judge(book, frame, kSingle);
  CHECK(outcome_of(judgement, "beware").outcome == Outcome::Silent);
  judgement = judge(book, single(), kSingle);
  CHECK(outcome_of(judgement, "beware").outcome == Outcome::Unknown);
}

TEST_CASE("a caution names each component that it fires for") {
  const RuleBook book = small::book_of(caution("solvent.peroxides in ('A'; 'B')", "test {solvent}"));
  FactFrame frame = pair();
  frame.set(fact("good.peroxides"), small::text("A"));
  frame.set(fact("poor.peroxides"), small::text("B"));
  Judgement judgement = judge(book, frame, kPair);
  CHECK(outcome_of(judgement, "beware", 0).text == "test ethanol");
  CHECK(outcome_of(judgement, "beware", 0).component == 0);
  CHECK(outcome_of(judgement, "beware", 1).text == "test water");
  CHECK(outcome_of(judgement, "beware", 1).component == 1);
  frame.set(fact("good.peroxides"), small::text("none-known"));
  judgement = judge(book, frame, kPair);
  CHECK(judgement.outcomes.size() == 1);
  CHECK(outcome_of(judgement, "beware").component == 1);
  frame.set(fact("poor.peroxides"), small::text("none-known"));
  judgement = judge(book, frame, kPair);
  CHECK(judgement.outcomes.size() == 1);
  CHECK(outcome_of(judgement, "beware").outcome == Outcome::Silent);
  CHECK_FALSE(outcome_of(judgement, "beware").component);
}

TEST_CASE("an outcome lists the facts that the rule looked at, with their origin") {
  const RuleBook book =
      small::book_of(grade("a", 1, "{of: system.boiling_point, points: [[60 °C, 1], [100 °C, .1]]}",
                           "  when: not system.is_pair\n"));
  FactFrame frame = single();
  FactValue boiling = small::celsius(78);
  boiling.origin = Origin::Published;
  frame.set(fact("system.boiling_point"), boiling);
  frame.set(fact("system.is_pair"), small::flag_mask(small::first_scenarios(16)));
  const Judgement judgement = judge(book, frame, kSingle);
  const RuleOutcome& outcome = outcome_of(judgement, "a");
  REQUIRE(outcome.facts.size() == 2);
  const auto used = std::find_if(outcome.facts.begin(), outcome.facts.end(),
                                 [](const UsedFact& one) { return one.name == "system.boiling_point"; });
  REQUIRE(used != outcome.facts.end());
  CHECK(used->shown == "78 °C");
  CHECK(used->origin == Origin::Published);
  REQUIRE(used->quantity);
  CHECK(used->quantity->value == doctest::Approx(351.15));
  const UsedFact& flag = used == outcome.facts.begin() ? outcome.facts.back() : outcome.facts.front();
  REQUIRE(flag.quantity);
  CHECK(flag.quantity->value == doctest::Approx(0.25));
  CHECK(outcome.weight == 1);
  CHECK(outcome.kind == RuleKind::Grade);
}

TEST_CASE("an uncertain grade has its mean and the range that holds 80 percent") {
  const RuleBook book = small::book_of(polarity_grade("a", 1));
  FactFrame frame = single();
  ScenarioValues values{};
  for (std::size_t k = 0; k < kScenarioCount; ++k) values[k] = 0.2 + 0.01 * static_cast<double>(k);
  frame.set(fact("system.polarity"), small::column(values));
  const Judgement judgement = judge(book, frame, kSingle);
  const RuleOutcome& outcome = outcome_of(judgement, "a");
  CHECK(*outcome.grade == doctest::Approx(0.515));
  CHECK(*outcome.grade_low == doctest::Approx(0.259));
  CHECK(*outcome.grade_high == doctest::Approx(0.771));
  frame.set(fact("system.polarity"), small::number(0.5));
  CHECK_FALSE(outcome_of(judge(book, frame, kSingle), "a").grade_low);
}

TEST_CASE("a ladder whose condition is uncertain mixes its grades, and still has a sentence") {
  const RuleBook book = small::book_of(
      "- id: a\n  weight: 1\n  grade: {ladder: [[system.is_pair, .1], [else, 1]]}\n  say: {high: alone, low: "
      "paired}\n"
      "  source: s\n  cases: []\n");
  FactFrame frame = single();
  frame.set(fact("system.is_pair"), small::flag_mask(small::first_scenarios(32)));
  Judgement judgement = judge(book, frame, kSingle);
  CHECK(*outcome_of(judgement, "a").grade == doctest::Approx(0.55));
  CHECK(outcome_of(judgement, "a").text == "alone");
  frame.set(fact("system.is_pair"), small::flag_mask(small::first_scenarios(40)));
  CHECK(outcome_of(judge(book, frame, kSingle), "a").text == "paired");
}

TEST_CASE("a division that cannot be done leaves the rule unjudged, with no fact missing") {
  const RuleBook book = small::book_of(polarity_grade("a", 1, "1 / system.polarity"));
  FactFrame frame = single();
  frame.set(fact("system.polarity"), small::number(0));
  const Judgement judgement = judge(book, frame, kSingle);
  CHECK(outcome_of(judgement, "a").outcome == Outcome::Unknown);
  CHECK(outcome_of(judgement, "a").missing.empty());
}

TEST_CASE("shuffled rules give the same verdict and the same words") {
  std::vector<std::string> rules{polarity_grade("a", 1), polarity_grade("b", 2, "solute.polarity"),
                                 exclusion("solute.energetic"), caution("system.is_pair", "two solvents"),
                                 polarity_grade("c", 1, "solvent.polarity")};
  FactFrame frame = pair();
  frame.set(fact("system.polarity"), small::column(half_and_half(0.3, 0.9)));
  frame.set(fact("solute.polarity"), small::number(0.7));
  frame.set(fact("good.polarity"), small::number(0.7));
  frame.set(fact("poor.polarity"), small::number(0.6));
  frame.set(fact("solute.energetic"), small::flag(false));
  frame.set(fact("system.is_pair"), small::flag(true));
  std::optional<Judgement> first;
  std::sort(rules.begin(), rules.end());
  do {
    std::string text;
    for (const std::string& rule : rules) text += rule;
    const Judgement judgement = judge(small::book_of(text), frame, kPair);
    if (!first) {
      first = judgement;
      continue;
    }
    REQUIRE(judgement.outcomes.size() == first->outcomes.size());
    bool is_same = judgement.score == first->score && judgement.verdict == first->verdict;
    for (std::size_t i = 0; i < judgement.outcomes.size(); ++i) {
      is_same = is_same && judgement.outcomes[i].rule == first->outcomes[i].rule &&
                judgement.outcomes[i].text == first->outcomes[i].text;
    }
    REQUIRE(is_same);
  } while (std::next_permutation(rules.begin(), rules.end()));
}

TEST_CASE("the fast pass and the full one agree") {
  const RuleBook book = small::book_of(polarity_grade("a", 1) + exclusion("solute.energetic"));
  FactFrame frame = single();
  frame.set(fact("system.polarity"), small::column(half_and_half(0.3, 0.9)));
  frame.set(fact("solute.energetic"), small::flag(false));
  const Judgement fast = judge(book, frame);
  const Judgement full = judge(book, frame, kSingle);
  CHECK(fast.outcomes.empty());
  CHECK(full.outcomes.size() == 2);
  CHECK(fast.score == full.score);
  CHECK(fast.verdict == full.verdict);
}

TEST_CASE("verdicts and outcomes have their words") {
  CHECK(name_of(Verdict::Sound) == "sound");
  CHECK(name_of(Verdict::Doubtful) == "doubtful");
  CHECK(name_of(Verdict::Unfit) == "unfit");
  CHECK(name_of(Outcome::NotApplicable) == "not-applicable");
  CHECK(name_of(Outcome::Possible) == "possible");
}
