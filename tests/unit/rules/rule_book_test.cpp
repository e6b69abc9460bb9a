#include "rules/rule_book.hpp"

#include <algorithm>

#include <doctest/doctest.h>

#include "rules/judge.hpp"
#include "small_book.hpp"

using namespace firstcrop;
using small::fact;

namespace {

std::string advice(const std::string& id, const std::string& when) {
  return "- id: " + id + "\n  advice: {when: " + when + ", text: x}\n  source: s\n  cases: []\n";
}

const std::string kMadeHot =
    "- id: hot\n  derive: {fact: system.hot_temperature, value: min(system.boiling_point - 1 K; "
    "aim.heating_limit)}\n  source: s\n  cases: []\n";

std::vector<RuleFile> files_of(const std::vector<std::pair<std::string, std::string>>& texts,
                               Findings& findings) {
  std::vector<RuleFile> out;
  for (const auto& [path, text] : texts) out.push_back(small::load(text, findings, path));
  return out;
}

std::vector<std::string> ids(const RuleBook& book) {
  std::vector<std::string> out;
  for (const Rule& rule : book.rules()) out.push_back(rule.id.text);
  return out;
}

}  // namespace

TEST_CASE("the order of rules and files makes no difference") {
  std::vector<std::pair<std::string, std::string>> texts{
      {"a.yaml", small::file_of(advice("b", "system.is_pair") + advice("a", "system.is_pair"))},
      {"b.yaml", small::file_of(advice("d", "system.is_pair") + advice("c", "system.is_pair"), false)}};
  for (int round = 0; round < 2; ++round) {
    Findings findings;
    const auto book = RuleBook::build(small::catalogue(), files_of(texts, findings), {}, findings);
    REQUIRE(book);
    CHECK(findings.empty());
    CHECK(ids(*book) == std::vector<std::string>{"a", "b", "c", "d"});
    std::reverse(texts.begin(), texts.end());
  }
}

TEST_CASE("an id that stands twice is told at the later place, with the first, in any order of reading") {
  std::vector<std::pair<std::string, std::string>> texts{
      {"a.yaml", small::file_of(advice("chill", "system.is_pair"))},
      {"b.yaml", small::file_of(advice("chill", "solute.energetic"), false)}};
  for (int round = 0; round < 2; ++round) {
    Findings findings;
    (void)RuleBook::build(small::catalogue(), files_of(texts, findings), {}, findings);
    REQUIRE(findings.size() == 1);
    const Finding finding = findings.sorted().front();
    CHECK(finding.message == "the rule `chill` stands twice");
    CHECK(finding.place.path == "b.yaml");
    REQUIRE(finding.note_place);
    CHECK(finding.note_place->path == "a.yaml");
    std::reverse(texts.begin(), texts.end());
  }
}

TEST_CASE("an addition replaces the rule of its id, or is added") {
  Findings findings;
  auto base = files_of({{"a.yaml", small::file_of(advice("chill", "system.is_pair"))}}, findings);
  auto more = files_of(
      {{"mine.yaml",
        small::file_of(advice("chill", "solute.energetic") + advice("own", "system.is_pair"), false)}},
      findings);
  const auto book = RuleBook::build(small::catalogue(), std::move(base), std::move(more), findings);
  REQUIRE(book);
  CHECK_FALSE(findings.has_errors());
  REQUIRE(findings.size() == 1);
  CHECK(findings.sorted().front().severity == Severity::Note);
  CHECK(findings.sorted().front().message == "`chill` replaces the rule of that id");
  CHECK(ids(*book) == std::vector<std::string>{"chill", "own"});
  REQUIRE(book->find("chill") != nullptr);
  CHECK(book->find("chill")->written.body == "solute.energetic");
  CHECK(book->find("chill")->place.path == "mine.yaml");
  CHECK(book->find("other") == nullptr);
}

TEST_CASE("two additions of one id are told") {
  Findings findings;
  auto base = files_of({{"a.yaml", small::file_of(advice("chill", "system.is_pair"))}}, findings);
  auto more = files_of({{"x.yaml", small::file_of(advice("own", "system.is_pair"), false)},
                        {"y.yaml", small::file_of(advice("own", "system.is_pair"), false)}},
                       findings);
  (void)RuleBook::build(small::catalogue(), std::move(base), std::move(more), findings);
  CHECK(findings.size() == 1);
}

TEST_CASE("the limits stand once, and an addition may replace them") {
  Findings findings;
  CHECK_FALSE(RuleBook::build(small::catalogue(),
                              files_of({{"a.yaml", small::file_of("", false) + "[]\n"}}, findings), {},
                              findings));
  CHECK(small::all_text(findings).find("no rule file holds a `verdict`") != std::string::npos);

  Findings twice;
  const std::string rule = advice("a", "system.is_pair");
  (void)RuleBook::build(
      small::catalogue(),
      files_of({{"b.yaml", small::file_of(rule)}, {"a.yaml", small::file_of(advice("b", "system.is_pair"))}},
               twice),
      {}, twice);
  REQUIRE(twice.size() == 1);
  CHECK(twice.sorted().front().message == "`verdict` stands in two files");
  CHECK(twice.sorted().front().place.path == "b.yaml");

  Findings fine;
  std::string own = small::file_of(advice("c", "system.is_pair"));
  own.replace(own.find("high: 0.75"), 10, "high: 0.85");
  const auto book = RuleBook::build(small::catalogue(), files_of({{"a.yaml", small::file_of(rule)}}, fine),
                                    files_of({{"mine.yaml", own}}, fine), fine);
  REQUIRE(book);
  CHECK(fine.empty());
  CHECK(book->limits().high_grade == 0.85);
}

TEST_CASE("a grade needs a sentence for each word that it can reach") {
  const auto on = [](const std::string& say, const std::string& grade) {
    Findings findings;
    auto files = files_of({{"a.yaml", small::file_of("- id: a\n  weight: 1\n  grade: " + grade +
                                                     "\n  say: " + say + "\n  source: s\n  cases: []\n")}},
                          findings);
    (void)RuleBook::build(small::catalogue(), std::move(files), {}, findings);
    return small::all_text(findings);
  };
  const std::string points = "{of: system.polarity, points: [[0, 0.1], [1, 1]]}";
  CHECK(on("{high: a, middle: b, low: c}", points).empty());
  CHECK(on("{high: a, low: c}", points)
            .find("the grade of `a` can be middle, but `say` has no sentence for it") != std::string::npos);
  CHECK(on("{high: a, middle: b}", points).find("can be low") != std::string::npos);
  // Rungs are all that a ladder gives.
  CHECK(on("{high: a, low: c}", "{ladder: [[system.is_pair, .1], [else, 1]]}").empty());
  CHECK(on("{high: a}", "{of: system.polarity, points: [[0, 0.8], [1, 1]]}").empty());
}

TEST_CASE("grades have words") {
  const RuleBook book = small::book_of(advice("a", "system.is_pair"));
  CHECK(book.word_for(1) == Outcome::High);
  CHECK(book.word_for(0.75) == Outcome::High);
  CHECK(book.word_for(0.74) == Outcome::Middle);
  CHECK(book.word_for(0.4) == Outcome::Middle);
  CHECK(book.word_for(0.39) == Outcome::Low);
}

TEST_CASE("derive rules are producers of calculated facts") {
  const RuleBook book = small::book_of(kMadeHot);
  const std::vector<Producer> producers = book.producers();
  REQUIRE(producers.size() == 1);
  CHECK(producers[0].name == "rule hot");
  CHECK(producers[0].gives == std::vector<FactReference>{fact("system.hot_temperature")});
  CHECK(producers[0].needs.size() == 2);
  CHECK(producers[0].place.line == 10);
  FactFrame frame(small::catalogue(), 1);
  frame.set(fact("system.boiling_point"), small::celsius(78));
  frame.set(fact("aim.heating_limit"), small::celsius(110));
  producers[0].run(frame, 0);
  const FactValue& hot = frame.get(fact("system.hot_temperature"));
  CHECK(std::get<NumberColumn>(hot.value).certain == doctest::Approx(350.15));
  CHECK(hot.origin == Origin::Calculated);
  CHECK_FALSE(is_measured(hot.origin));
}

TEST_CASE("a derived fact that cannot be formed says for want of what") {
  const RuleBook book = small::book_of(kMadeHot);
  FactFrame frame(small::catalogue(), 1);
  frame.set(fact("system.boiling_point"), small::celsius(78));
  book.producers()[0].run(frame, 0);
  const auto* unknown = std::get_if<Unknown>(&frame.get(fact("system.hot_temperature")).value);
  REQUIRE(unknown != nullptr);
  CHECK(unknown->reason == "for want of `aim.heating_limit`");
}

TEST_CASE("a derive rule whose condition fails leaves its fact unknown") {
  const RuleBook book = small::book_of(
      "- id: p\n  when: system.is_pair\n  derive: {fact: system.polarity, value: 1}\n  source: s\n  cases: "
      "[]\n");
  FactFrame frame(small::catalogue(), 1);
  frame.set(fact("system.is_pair"), small::flag(false));
  book.producers()[0].run(frame, 0);
  CHECK(std::get<Unknown>(frame.get(fact("system.polarity")).value).reason == "the rule `p` does not apply");
  frame.set(fact("system.is_pair"), small::flag_mask(0b11));
  book.producers()[0].run(frame, 0);
  CHECK(std::get<NumberColumn>(frame.get(fact("system.polarity")).value).known == 0b11);
}

TEST_CASE("a ladder of words, with unknown for a rung") {
  const RuleBook book = small::book_of(
      "- id: p\n  derive: {fact: solute.form, ladder: [[solute.energetic, salt], [solute.polarity > 1, "
      "unknown], "
      "[else, neutral]]}\n  source: s\n  cases: []\n");
  const auto form = [&book](bool energetic, double polarity) {
    FactFrame frame(small::catalogue(), 1);
    frame.set(fact("solute.energetic"), small::flag(energetic));
    frame.set(fact("solute.polarity"), small::number(polarity));
    book.producers()[0].run(frame, 0);
    const auto* word = std::get_if<std::string>(&frame.get(fact("solute.form")).value);
    return word != nullptr ? *word : std::string("?");
  };
  CHECK(form(true, 0) == "salt");
  CHECK(form(false, 0) == "neutral");
  CHECK(form(false, 2) == "?");
}

TEST_CASE("a component fact is derived for each solvent") {
  const RuleBook book = small::book_of(
      "- id: p\n  derive: {fact: solvent.banned, value: solvent.hazards meets ('H350')}\n  source: s\n  "
      "cases: []\n");
  Findings findings;
  const auto graph = FactGraph::build(small::catalogue(), book.producers(), findings);
  REQUIRE(graph);
  FactFrame frame(small::catalogue(), 2);
  frame.set(fact("good.hazards"), small::set({"H350"}));
  frame.set(fact("poor.hazards"), small::set({}));
  graph->run(frame);
  CHECK(std::get<FlagColumn>(frame.get(fact("good.banned")).value).truth == kAllScenarios);
  CHECK(std::get<FlagColumn>(frame.get(fact("poor.banned")).value).truth == 0);
}

TEST_CASE("rules that derive in a circle are told with the way") {
  const RuleBook book = small::book_of(
      "- id: one\n  derive: {fact: system.hot_temperature, value: system.cold_temperature + 5 K}\n  source: "
      "s\n"
      "  cases: []\n"
      "- id: two\n  derive: {fact: system.cold_temperature, value: system.hot_temperature - 5 K}\n  source: "
      "s\n"
      "  cases: []\n");
  Findings findings;
  CHECK_FALSE(FactGraph::build(small::catalogue(), book.producers(), findings));
  CHECK(findings.sorted().front().message ==
        "facts need each other in a circle: `rule one` needs `system.cold_temperature`, `rule two` needs "
        "`system.hot_temperature`");
}

TEST_CASE("the facts of a book are those of conditions, bodies, sentences and the chance") {
  const RuleBook book = small::book_of(
      "- id: a\n  advice: {when: system.is_pair, text: \"at {system.boiling_point}\"}\n  source: s\n"
      "  cases: []\n");
  const std::vector<FactReference> facts = book.facts();
  const auto has = [&facts](const char* name) {
    return std::find(facts.begin(), facts.end(), fact(name)) != facts.end();
  };
  CHECK(has("system.is_pair"));
  CHECK(has("system.boiling_point"));
  CHECK(has("system.works"));
  CHECK(facts.size() == 3);
}
