#include "trials/learned.hpp"

#include <string>

#include <doctest/doctest.h>

#include "bench.hpp"

namespace firstcrop {
namespace {

const std::string kFluorene = "smiles: \"C1c2ccccc2-c2ccccc21\"\nmelting_point: 115 °C\n";

std::vector<TubeLesson> lessons_for(const std::string& lines) {
  const fixture::TrialBench bench(lines);
  const TrialPlan plan = plan_trials(*bench.judge, {});
  return lessons_of_tubes(*bench.judge, plan.solvents);
}

}  // namespace

TEST_CASE("without tubes nothing was learned") { CHECK(lessons_for(kFluorene).empty()); }

TEST_CASE("a tube tells what was expected, seen, and known since") {
  const auto lessons = lessons_for(
      kFluorene + "trials:\n- {tube: 1, system: ethanol, mass: 50 mg, volume: 1.0 mL, cold: part, hot: all, cooled: crystals}\n");
  REQUIRE(lessons.size() == 1);
  const TubeLesson& lesson = lessons.front();
  REQUIRE(lesson.looks.size() == 3);
  CHECK(lesson.looks[0].over_mg_ml.value() == doctest::Approx(10));
  CHECK(lesson.looks[0].under_mg_ml.value() == doctest::Approx(50));
  CHECK(lesson.looks[1].over_mg_ml.value() == doctest::Approx(50));
  CHECK_FALSE(lesson.looks[1].under_mg_ml);
  CHECK(lesson.looks[2].under_mg_ml.value() == doctest::Approx(50));
  for (const LearnedLook& look : lesson.looks) {
    // What is known now is narrower than what was expected.
    CHECK(*look.now.high / *look.now.low < *look.before.high / *look.before.low);
    CHECK(look.chance_before > 0);
  }
  CHECK(lesson.before);
  CHECK(lesson.after);
}

TEST_CASE("the tubes before a tube are what it is judged by, the later ones are not") {
  const std::string first = "- {tube: 1, system: ethanol, mass: 50 mg, volume: 1.0 mL, cold: part, hot: all}\n";
  const std::string second = "- {tube: 2, system: heptane, mass: 50 mg, volume: 1.0 mL, cold: part, hot: all}\n";
  const auto both = lessons_for(kFluorene + "trials:\n" + first + second);
  const auto alone = lessons_for(kFluorene + "trials:\n" + first);
  const auto other_first = lessons_for(kFluorene + "trials:\n" + second);
  REQUIRE(both.size() == 2);
  CHECK(both[0].looks[0].before.value == alone[0].looks[0].before.value);
  CHECK(both[1].looks[0].before.value != other_first[0].looks[0].before.value);
}

TEST_CASE("oil and cold solutions are told with the rule for such tubes") {
  const auto lessons = lessons_for(
      kFluorene +
      "trials:\n- {tube: a, system: toluene, mass: 50 mg, volume: 0.5 mL, cold: all}\n"
      "- {tube: b, system: \"ethanol+water@60:40\", mass: 50 mg, volume: 1 mL, cold: none, hot: all, cooled: oil}\n");
  REQUIRE(lessons.size() == 2);
  REQUIRE(lessons[0].advice.size() == 1);
  CHECK(lessons[0].advice[0].find("good half of a pair") != std::string::npos);
  REQUIRE(lessons[1].advice.size() == 1);
  CHECK(lessons[1].advice[0].find("warm it clear") != std::string::npos);
  CHECK_FALSE(lessons[1].before);  // a pair is no single solvent
}

TEST_CASE("an oil in a tube makes its solvent no better") {
  const std::string vanillin = "smiles: COc1cc(C=O)ccc1O\nmelting_point: 82 °C\ntrials:\n";
  const std::string tube = "- {tube: 1, system: water, mass: 50 mg, volume: 1.0 mL, cold: part, hot: all, cooled: ";
  const auto oil = lessons_for(vanillin + tube + "oil}\n");
  const auto crystals = lessons_for(vanillin + tube + "crystals}\n");
  REQUIRE(oil.size() == 1);
  REQUIRE(oil[0].after);
  CHECK(oil[0].after_oil < 0.8);
  CHECK(oil[0].after->usefulness <= oil[0].before->usefulness);
  CHECK(crystals[0].after_oil == 1);
  CHECK(crystals[0].after->usefulness > crystals[0].before->usefulness);
}

TEST_CASE("a tube that nothing but the prediction contradicts says so") {
  const auto lessons = lessons_for(
      "smiles: CC(=O)Nc1ccccc1\nmelting_point: 114 °C\n"
      "trials:\n- {tube: 1, system: toluene, mass: 50 mg, volume: 1.0 mL, cold: none, hot: none}\n");
  REQUIRE(lessons.size() == 1);
  REQUIRE(lessons[0].looks.size() == 2);
  CHECK(lessons[0].looks[1].believed < 0.5);
  CHECK(lessons[0].looks[1].against.empty());
}

}  // namespace firstcrop
