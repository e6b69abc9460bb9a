#include "teaching/lesson.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <set>
#include <string>

#include "knowledge_fixture.hpp"
#include "rules_fixture.hpp"

namespace firstcrop {
namespace {

const std::string kBenzoicAcid = "smiles: \"O=C(O)c1ccccc1\"\nmelting_point: 122 °C\n";

struct Bench {
  Findings findings;
  Inquiry inquiry;
  std::optional<SystemJudge> judge;

  explicit Bench(const std::string& lines, const std::string& shelf = "common") : inquiry(made(lines, shelf)) {
    judge = SystemJudge::create(fixture::catalogue(), inquiry, fixture::book(), findings);
    REQUIRE(judge);
  }

  static Inquiry made(const std::string& lines, const std::string& shelf) {
    AimOptions options;
    options.shelf = shelf;
    return fixture::inquiry(fixture::solute(lines), options, true);
  }
  [[nodiscard]] std::string name(const GalleryEntry& entry) const {
    return name_of(entry.judged.system, inquiry.knowledge->library);
  }
};

}  // namespace

TEST_CASE("every solvent of the shelf hangs in the gallery once, with a reason and a question") {
  const Bench bench(kBenzoicAcid);
  const Lesson lesson = make_lesson(*bench.judge);
  const std::vector<SolventId>& shelf = bench.inquiry.aim.shelf.solvents;
  REQUIRE(lesson.gallery.size() == shelf.size());
  REQUIRE(lesson.shelf_order.size() == shelf.size());
  for (std::size_t i = 0; i < shelf.size(); ++i) {
    CHECK(lesson.gallery[lesson.shelf_order[i]].judged.system.solvents.front() == shelf[i]);
  }
  for (const GalleryEntry& entry : lesson.gallery) {
    INFO(bench.name(entry));
    CHECK_FALSE(entry.question.empty());
    CHECK_FALSE(entry.decides.empty());
    CHECK(fixture::book().find(entry.rule) != nullptr);
  }
}

TEST_CASE("the best stand first") {
  const Bench bench(kBenzoicAcid);
  const Lesson lesson = make_lesson(*bench.judge);
  const auto is_unfit = [](const GalleryEntry& entry) { return entry.judged.judgement.verdict == Verdict::Unfit; };
  const auto first_unfit = std::find_if(lesson.gallery.begin(), lesson.gallery.end(), is_unfit);
  CHECK(std::all_of(first_unfit, lesson.gallery.end(), is_unfit));
}

TEST_CASE("a question about several has answers among its choices, and some that are none") {
  const Bench bench(kBenzoicAcid);
  const Lesson lesson = make_lesson(*bench.judge);
  REQUIRE_FALSE(lesson.questions.empty());
  CHECK(lesson.questions.size() <= kMostQuestions);
  for (const WhichQuestion& question : lesson.questions) {
    INFO(question.question);
    CHECK(question.choices.size() <= kChoices);
    CHECK_FALSE(question.right.empty());
    CHECK(question.right.size() < question.choices.size());
    for (const std::size_t place : question.right) {
      CHECK(std::find(question.choices.begin(), question.choices.end(), place) != question.choices.end());
    }
    CHECK(std::set<std::size_t>(question.choices.begin(), question.choices.end()).size() == question.choices.size());
  }
}

TEST_CASE("few questions about one solvent are asked, and they contrast") {
  for (const char* solid : {"smiles: \"O=C(O)c1ccccc1\"\nmelting_point: 122 °C\n",
                            "smiles: COc1cc(C=O)ccc1O\nmelting_point: 82 °C\n"}) {
    const Bench bench(solid);
    const Lesson lesson = make_lesson(*bench.judge);
    std::multiset<std::string> rules;
    for (const GalleryEntry& entry : lesson.gallery) {
      if (!entry.asked) continue;
      rules.insert(entry.rule);
      CHECK(entry.decides.find("not known") == std::string::npos);
      for (const RuleOutcome& outcome : entry.judged.judgement.outcomes) {
        if (outcome.rule.text != entry.rule || outcome.kind != RuleKind::Grade || outcome.text.empty()) continue;
        const double low = outcome.grade_low.value_or(*outcome.grade);
        const double high = outcome.grade_high.value_or(*outcome.grade);
        CHECK(fixture::book().word_for(low) == fixture::book().word_for(high));
      }
    }
    CHECK(rules.size() <= kMostSingleQuestions);
    for (const std::string& rule : rules) CHECK(rules.count(rule) <= kMostSingleQuestions);
  }
}

TEST_CASE("water is among the answers where solid under it turns to an oil") {
  // Acetanilide melts under water at 83 °C (On the Melting Point of Acetanilide, J. Chem. Educ.).
  const Bench bench("smiles: CC(=O)Nc1ccccc1\nmelting_point: 114 °C\n"
                    "known:\n- {system: water, wet_melting_point: 83 °C}\n");
  const Lesson lesson = make_lesson(*bench.judge);
  const auto found = std::find_if(lesson.questions.begin(), lesson.questions.end(),
                                  [](const WhichQuestion& question) { return question.rule == "oiling-out"; });
  REQUIRE(found != lesson.questions.end());
  CHECK(bench.name(lesson.gallery[found->right.front()]) == "water");
}

TEST_CASE("what destroys the solid is asked for") {
  // Phthalic anhydride; alcohols and water open it.
  const Bench bench("smiles: \"O=C1OC(=O)c2ccccc12\"\nmelting_point: 131 °C\n");
  const Lesson lesson = make_lesson(*bench.judge);
  const auto found =
      std::find_if(lesson.questions.begin(), lesson.questions.end(),
                   [](const WhichQuestion& question) { return question.rule == "reacts-with-solid"; });
  REQUIRE(found != lesson.questions.end());
  for (const std::size_t place : found->right) CHECK(lesson.gallery[place].judged.judgement.excluded);
}

TEST_CASE("on a shelf of one solvent nothing can be chosen") {
  const Bench bench(kBenzoicAcid, "ethanol");
  const Lesson lesson = make_lesson(*bench.judge);
  CHECK(lesson.gallery.size() == 1);
  CHECK(lesson.questions.empty());
}

}  // namespace firstcrop
