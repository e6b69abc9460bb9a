#include "trials/next_tube.hpp"

#include <algorithm>
#include <string>

#include <doctest/doctest.h>

#include "bench.hpp"

namespace firstcrop {
namespace {

const std::string kFluorene = "smiles: \"C1c2ccccc2-c2ccccc21\"\nmelting_point: 115 °C\n";
const std::string kBenzoicAcid = "smiles: \"OC(=O)c1ccccc1\"\nmelting_point: 122 °C\n";

TrialPlan plan_for(const fixture::TrialBench& bench, const TrialOptions& options = {}) {
  return plan_trials(*bench.judge, options);
}

bool proposes(const TrialPlan& plan, const char* id) {
  return std::any_of(plan.tubes.begin(), plan.tubes.end(), [&](const ProposedTube& tube) {
    return plan.solvents[tube.solvent].id() == fixture::solvent(id);
  });
}

}  // namespace

TEST_CASE("the tube worth most comes first, one tube a solvent") {
  const fixture::TrialBench bench(kFluorene);
  const TrialPlan plan = plan_for(bench, {50, 5});
  REQUIRE(plan.tubes.size() == 5);
  CHECK(plan.advice == TrialAdvice::Try);
  for (std::size_t i = 1; i < plan.tubes.size(); ++i) {
    CHECK(plan.tubes[i].solvent != plan.tubes[i - 1].solvent);
    CHECK(plan.tubes[i].gain <= plan.tubes[i - 1].gain + 0.002);
  }
  for (std::size_t i = 1; i < plan.solvents.size(); ++i) {
    CHECK(plan.solvents[i].expected.usefulness <= plan.solvents[i - 1].expected.usefulness);
  }
  CHECK(plan.tubes.front().worth() == doctest::Approx(plan.tubes.front().gain / 2));
}

TEST_CASE("what a tube decides covers all that may be seen") {
  const fixture::TrialBench bench(kFluorene);
  const TrialPlan plan = plan_for(bench, {50, 1});
  double chance = 0;
  for (const TubeOutcome& outcome : plan.tubes.front().outcomes) {
    chance += outcome.chance;
    CHECK(outcome.choice < plan.solvents.size());
    CHECK(outcome.usefulness >= outcome.own - 1e-9);
  }
  CHECK(chance > 0.95);
}

TEST_CASE("a solvent that is banned or reacts is never proposed") {
  const fixture::TrialBench banned(kFluorene + "aim: {ban: [alcohols]}\n");
  const TrialPlan plan = plan_for(banned, {50, 20});
  for (const TrialSolvent& solvent : plan.solvents) {
    const auto& classes = fixture::knowledge().library.solvent(solvent.id()).classes;
    CHECK(std::find(classes.begin(), classes.end(), "alcohols") == classes.end());
  }
  CHECK(plan.left_out.size() >= 3);

  // An acid chloride and an alcohol make an ester.
  const fixture::TrialBench reactive("smiles: \"O=C(Cl)c1ccc([N+](=O)[O-])cc1\"\nmelting_point: 73 °C\n",
                                     fixture::on_shelf("ethanol,methanol,water,heptane,toluene"));
  const TrialPlan other = plan_for(reactive, {50, 5});
  CHECK_FALSE(proposes(other, "ethanol"));
  CHECK_FALSE(proposes(other, "methanol"));
  CHECK_FALSE(proposes(other, "water"));
}

TEST_CASE("an explosive solid gets no tube") {
  const fixture::TrialBench bench("smiles: \"Cc1c([N+](=O)[O-])cc([N+](=O)[O-])cc1[N+](=O)[O-]\"\nmelting_point: 80 °C\n");
  const TrialPlan plan = plan_for(bench);
  CHECK(plan.advice == TrialAdvice::Refused);
  CHECK(plan.tubes.empty());
  CHECK(plan.refusal.find("explode") != std::string::npos);
}

TEST_CASE("where no rule lets anything through there is nothing to try") {
  const fixture::TrialBench bench(kFluorene + "aim: {ban: [alcohols]}\n", fixture::on_shelf("methanol,ethanol"));
  CHECK(plan_for(bench).advice == TrialAdvice::Nothing);
}

TEST_CASE("a tube that was made is not proposed again") {
  const AimOptions shelf = fixture::on_shelf("ethanol,heptane,toluene");
  const TrialPlan before = plan_for(fixture::TrialBench(kFluorene, shelf), {50, 3});
  for (const ProposedTube& tube : before.tubes) {
    const std::string& id = fixture::knowledge().library.solvent(before.solvents[tube.solvent].id()).id;
    const std::string made = "trials:\n- {system: " + id + ", mass: 50 mg, volume: " +
                             std::to_string(tube.size.volume_ml) + " mL, cold: part, hot: all, cooled: crystals}\n";
    const fixture::TrialBench bench(kFluorene + made, shelf);
    const TrialPlan after = plan_for(bench, {50, 3});
    for (const ProposedTube& next : after.tubes) {
      const bool same = after.solvents[next.solvent].id() == before.solvents[tube.solvent].id() &&
                        next.size.volume_ml == tube.size.volume_ml;
      CHECK_FALSE(same);
    }
  }
}

TEST_CASE("more solvent in a tube that stands in the rack saves weighing") {
  const fixture::TrialBench bench(
      kFluorene + "trials:\n- {tube: 4, system: ethanol, mass: 60 mg, volume: 0.5 mL, cold: none, hot: part}\n",
      fixture::on_shelf("ethanol"));
  const TrialPlan plan = plan_for(bench, {50, 3});
  REQUIRE(plan.tubes.size() == 1);
  REQUIRE(plan.tubes.front().top_up);
  CHECK(plan.tubes.front().top_up->tube == "4");
  const double ratio = plan.tubes.front().size.mass_mg / plan.tubes.front().size.volume_ml;
  CHECK(60 / (0.5 + plan.tubes.front().top_up->volume_ml) == doctest::Approx(ratio));
}

TEST_CASE("a choice that was in no tube is to be confirmed where no tube promises much") {
  // Benzanilide is measured in sixteen solvents of our tables, so hardly anything is left to learn.
  const fixture::TrialBench bench("smiles: O=C(Nc1ccccc1)c1ccccc1\nmelting_point: 163 °C\n", {}, false);
  const TrialPlan plan = plan_for(bench);
  REQUIRE_FALSE(plan.choice().tubed);
  REQUIRE(plan.best_gain < kStopBelow);
  CHECK(plan.advice == TrialAdvice::Confirm);
  REQUIRE_FALSE(plan.tubes.empty());
  CHECK(plan.tubes.front().solvent == 0);
}

TEST_CASE("many tubes lead to a stop") {
  std::string trials = "trials:\n";
  for (const char* volume : {"0.5", "1.0", "2.0"}) {
    trials += "- {system: ethanol, mass: 50 mg, volume: " + std::string(volume) +
              " mL, cold: part, hot: all, cooled: crystals}\n";
  }
  trials += "- {system: heptane, mass: 50 mg, volume: 2.0 mL, cold: none, hot: none}\n";
  const fixture::TrialBench bench(kBenzoicAcid + trials, fixture::on_shelf("ethanol,heptane"));
  const TrialPlan plan = plan_for(bench);
  CHECK(plan.choice().tubed);
  CHECK(plan.advice == TrialAdvice::Stop);
}

TEST_CASE("where no single solvent is likely to work a pair is proposed") {
  // A strong and a weak solvent, each useless alone.
  const std::string trials =
      "trials:\n- {system: acetone, mass: 200 mg, volume: 0.5 mL, cold: all}\n"
      "- {system: acetone, mass: 200 mg, volume: 0.5 mL, cold: all, cooled: nothing, cooled_to: 5 °C}\n"
      "- {system: water, mass: 20 mg, volume: 5 mL, cold: none, hot: none}\n";
  const fixture::TrialBench bench(kFluorene + trials, fixture::on_shelf("acetone,water"));
  const TrialPlan plan = plan_for(bench);
  CHECK(plan.any_works < 0.5);
  REQUIRE(plan.pair);
  CHECK(plan.advice == TrialAdvice::Pair);
  CHECK(plan.pair->judged.system.solvents.front() == fixture::solvent("acetone"));
  CHECK(plan.pair->chance > 0.3);
}

TEST_CASE("the order of a shelf makes no difference") {
  const TrialPlan one = plan_for(fixture::TrialBench(kFluorene, fixture::on_shelf("ethanol,heptane,toluene,water")));
  const TrialPlan two = plan_for(fixture::TrialBench(kFluorene, fixture::on_shelf("water,toluene,heptane,ethanol")));
  REQUIRE(one.tubes.size() == two.tubes.size());
  for (std::size_t i = 0; i < one.tubes.size(); ++i) {
    CHECK(one.tubes[i].gain == two.tubes[i].gain);
    CHECK(one.solvents[one.tubes[i].solvent].id() == two.solvents[two.tubes[i].solvent].id());
  }
}

TEST_CASE("a flammable tube is kept from flames") {
  const TrialPlan plan = plan_for(fixture::TrialBench(kFluorene, fixture::on_shelf("heptane")));
  const auto& cautions = plan.tubes.front().cautions;
  CHECK(std::any_of(cautions.begin(), cautions.end(), [](const RuleOutcome& outcome) {
    return outcome.kind == RuleKind::Caution && outcome.text.find("never over a burner") != std::string::npos;
  }));
}

}  // namespace firstcrop
