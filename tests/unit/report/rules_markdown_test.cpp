#include <doctest/doctest.h>

#include <algorithm>
#include <string>

#include "ranking/rule_files.hpp"
#include "report/markdown.hpp"
#include "report/rules_text.hpp"
#include "systems/fact_list.hpp"

namespace firstcrop {
namespace {

const Catalogue& catalogue() {
  static const Catalogue facts = make_catalogue();
  return facts;
}

const RuleBook& book() {
  static const RuleBook rules = [] {
    Findings findings;
    auto loaded = load_rule_book(std::string(FIRSTCROP_SOURCE_DIR) + "/rules", {}, catalogue(), findings);
    REQUIRE(loaded);
    return std::move(*loaded);
  }();
  return rules;
}

// Number of bars that part cells, those that are text apart.
std::ptrdiff_t bars(const std::string& line) {
  std::ptrdiff_t out = 0;
  for (std::size_t i = 0; i < line.size(); ++i) {
    if (line[i] == '|' && (i == 0 || line[i - 1] != '\\')) ++out;
  }
  return out;
}

}  // namespace

TEST_CASE("the page of every rule states it, its facts, its source and each of its cases") {
  for (const Rule& rule : book().rules()) {
    INFO(rule.id.text);
    const std::string page = rule_markdown(book(), rule);
    for (const char* part : {"## What it looks at", "## Source", "## Cases that test it"}) {
      CHECK(page.find(part) != std::string::npos);
    }
    CHECK(page.find(report::plain(rule.source)) != std::string::npos);
    for (const FactReference& fact : rule.facts) CHECK(page.find(catalogue().name_of(fact)) != std::string::npos);
    for (const RuleCase& one : rule.cases) CHECK(page.find(expectation_of(one)) != std::string::npos);
  }
}

TEST_CASE("the rows of a table have as many cells as its head") {
  for (const Rule& rule : book().rules()) {
    INFO(rule.id.text);
    const std::string page = rule_markdown(book(), rule) + "\n" + rules_markdown(book());
    std::ptrdiff_t wanted = 0;
    for (std::size_t from = 0; from < page.size();) {
      const std::size_t end = std::min(page.find('\n', from), page.size());
      const std::string line = page.substr(from, end - from);
      from = end + 1;
      if (!line.starts_with("|")) {
        wanted = 0;
        continue;
      }
      if (wanted == 0) wanted = bars(line);
      CHECK_MESSAGE(bars(line) == wanted, line);
    }
  }
}

TEST_CASE("the points of a grade are drawn as bars") {
  const Rule* rule = book().find("hot-window");
  REQUIRE(rule != nullptr);
  const std::string page = rule_markdown(book(), *rule);
  CHECK(page.find("| 40 mg/mL | 1 | `####################` |") != std::string::npos);
  CHECK(page.find("| 10 mg/mL | 0.3 | `######..............` |") != std::string::npos);
}

TEST_CASE("the index leads to the page of every rule") {
  const std::string index = rules_markdown(book());
  for (const Rule& rule : book().rules()) {
    CHECK(index.find("[" + rule.id.text + "](" + rule.id.text + ".md)") != std::string::npos);
  }
}

}  // namespace firstcrop
