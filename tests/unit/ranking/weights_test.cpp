#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <map>
#include <string>
#include <vector>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "input/yaml_reader.hpp"
#include "knowledge_fixture.hpp"
#include "ranking/system_judge.hpp"
#include "rules/rule_loader.hpp"
#include "systems/fact_list.hpp"

namespace firstcrop {
namespace {

const Catalogue& catalogue() {
  static const Catalogue facts = make_catalogue();
  return facts;
}

// The rule files of the project, path and text.
std::map<std::string, std::string> rule_texts() {
  std::map<std::string, std::string> out;
  for (const auto& entry :
       std::filesystem::directory_iterator(std::string(FIRSTCROP_SOURCE_DIR) + "/rules")) {
    if (entry.path().extension() == ".yaml") out[entry.path().string()] = read_file(entry.path().string());
  }
  return out;
}

RuleBook book_of(const std::vector<std::pair<std::string, std::string>>& texts) {
  Findings findings;
  std::vector<RuleFile> files;
  for (const auto& [path, text] : texts) {
    const auto document = read_yaml(path, text, findings);
    REQUIRE(document);
    files.push_back(load_rules(*document, catalogue(), findings));
  }
  auto book = RuleBook::build(catalogue(), std::move(files), {}, findings);
  REQUIRE(book);
  REQUIRE_FALSE(findings.has_errors());
  return std::move(*book);
}

RuleBook book_of(const std::map<std::string, std::string>& texts) {
  return book_of(std::vector<std::pair<std::string, std::string>>(texts.begin(), texts.end()));
}

// A rule file cut into its head and its rules, each from `- id:` on.
std::vector<std::string> parts_of(const std::string& text) {
  std::vector<std::string> out;
  std::size_t from = 0;
  for (std::size_t at = text.find("\n- id: "); at != std::string::npos; at = text.find("\n- id: ", at + 1)) {
    out.push_back(text.substr(from, at + 1 - from));
    from = at + 1;
  }
  out.push_back(text.substr(from));
  return out;
}

// The text with another weight in one rule.
std::string with_weight(const std::string& text, const std::string& id, double weight) {
  std::string out;
  for (const std::string& part : parts_of(text)) {
    const std::size_t at = part.starts_with("- id: " + id + "\n") ? part.find("\n  weight: ") : std::string::npos;
    if (at == std::string::npos) {
      out += part;
      continue;
    }
    const std::size_t end = part.find('\n', at + 1);
    out += part.substr(0, at) + fmt::format("\n  weight: {}", weight) + part.substr(end);
  }
  return out;
}

struct Bench {
  Inquiry inquiry;
  std::optional<SystemJudge> judge;

  Bench(const std::string& lines, const RuleBook& book)
      : inquiry(fixture::inquiry(fixture::solute(lines), {}, true)) {
    Findings findings;
    judge = SystemJudge::create(catalogue(), inquiry, book, findings);
    REQUIRE(judge);
  }
  Bench(const Bench&) = delete;
  Bench& operator=(const Bench&) = delete;

  [[nodiscard]] Judgement judged(const std::string& system) const {
    JudgedSystem out = judge->judge(judge->with_good_first(fixture::system(system)));
    judge->explain(out);
    return std::move(out.judgement);
  }
};

// A salt and a hydrocarbon, a named impurity and both other aims, so that every weight is asked for somewhere.
const std::vector<std::string> kSolids{
    "smiles: \"c1ccc(-c2ccccc2)cc1\"\nmelting_point: 69 °C\nimpurities:\n- {name: x, smiles: \"Oc1ccccc1\", share: 3 %}\n"
    "aim: {want: yield, ingested: true}\n",
    "smiles: \"O=C1c2ccccc2C(=O)c2ccccc21\"\nmelting_point: 285 °C\naim: {want: large-crystals}\n",
    "smiles: \"[Cl-].[NH3+]CCc1ccccc1\"\nmelting_point: 220 °C\n",
    "smiles: \"NCC(=O)O\"\npublished:\n- {system: ethanol, outcome: insoluble-hot}\nknown:\n"
    "- {system: water, wet_melting_point: 90 °C, source: own tube}\n"};
const std::vector<std::string> kSystems{"ethanol", "water", "heptane", "1-propanol", "toluene", "ethanol+water@50:50"};

std::string words_of(const RuleOutcome& outcome) {
  return fmt::format("{} {} {} {} {} {}", outcome.rule.text, name_of(outcome.outcome), outcome.text,
                     outcome.grade.value_or(-1), outcome.probability.value_or(-1), fmt::join(outcome.missing, ","));
}

}  // namespace

TEST_CASE("the order of rule files, and of rules in them, changes nothing") {
  const std::map<std::string, std::string> texts = rule_texts();
  const RuleBook book = book_of(texts);
  std::vector<std::pair<std::string, std::string>> turned;
  for (const auto& [path, text] : texts) {
    std::vector<std::string> parts = parts_of(text);
    for (std::string& part : parts) {
      if (part.back() != '\n') part += '\n';
    }
    std::reverse(parts.begin() + 1, parts.end());
    std::string all;
    for (const std::string& part : parts) all += part;
    turned.emplace_back(path, all);
  }
  std::reverse(turned.begin(), turned.end());
  const RuleBook other = book_of(turned);
  REQUIRE(book.rules().size() == other.rules().size());
  for (const std::string& solid : kSolids) {
    const Bench first(solid, book);
    const Bench second(solid, other);
    for (const std::string& system : kSystems) {
      INFO(solid << system);
      const Judgement one = first.judged(system);
      const Judgement two = second.judged(system);
      CHECK(one.verdict == two.verdict);
      CHECK(one.score == two.score);
      CHECK(one.chance == two.chance);
      CHECK(one.deciding_rule == two.deciding_rule);
      REQUIRE(one.outcomes.size() == two.outcomes.size());
      for (std::size_t i = 0; i < one.outcomes.size(); ++i) {
        CHECK(words_of(one.outcomes[i]) == words_of(two.outcomes[i]));
      }
    }
  }
}

TEST_CASE("another weight moves the score of the systems that the rule grades, and nothing else") {
  const std::map<std::string, std::string> texts = rule_texts();
  const RuleBook book = book_of(texts);
  std::vector<std::vector<Judgement>> before;
  for (const std::string& solid : kSolids) {
    const Bench bench(solid, book);
    before.emplace_back();
    for (const std::string& system : kSystems) before.back().push_back(bench.judged(system));
  }
  std::vector<std::string> unmoved;
  for (const Rule& rule : book.rules()) {
    if (rule.kind != RuleKind::Grade) continue;
    std::map<std::string, std::string> changed = texts;
    for (auto& [path, text] : changed) text = with_weight(text, rule.id.text, rule.weight * 2);
    const RuleBook other = book_of(changed);
    REQUIRE(other.find(rule.id.text)->weight == doctest::Approx(rule.weight * 2));
    bool has_moved = false;
    for (std::size_t s = 0; s < kSolids.size(); ++s) {
      const Bench bench(kSolids[s], other);
      for (std::size_t i = 0; i < kSystems.size(); ++i) {
        INFO(rule.id.text << " " << kSolids[s] << kSystems[i]);
        const Judgement& old = before[s][i];
        const Judgement now = bench.judged(kSystems[i]);
        CHECK(now.chance == old.chance);
        CHECK(now.excluded == old.excluded);
        REQUIRE(now.outcomes.size() == old.outcomes.size());
        bool is_graded = false;
        for (std::size_t k = 0; k < now.outcomes.size(); ++k) {
          CHECK(words_of(now.outcomes[k]) == words_of(old.outcomes[k]));
          const bool is_own = now.outcomes[k].rule == rule.id;
          if (!is_own) CHECK(now.outcomes[k].weight == old.outcomes[k].weight);
          is_graded = is_graded || (is_own && now.outcomes[k].grade.has_value());
        }
        if (!is_graded) CHECK(now.score == old.score);
        has_moved = has_moved || now.score != old.score;
      }
    }
    if (!has_moved) unmoved.push_back(rule.id.text);
  }
  // A rule whose weight moved nothing was asked nowhere, and the test says nothing of it.
  INFO(fmt::format("{}", fmt::join(unmoved, ", ")));
  CHECK(unmoved.size() <= 2);
}

}  // namespace firstcrop
