#include "plan/bench_plan.hpp"
#include "plan/bench_practice.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <optional>
#include <string>

#include "knowledge_fixture.hpp"
#include "ranking/rule_files.hpp"
#include "systems/fact_list.hpp"

namespace firstcrop {
namespace {

const std::string kBenzanilide =
    "smiles: \"O=C(Nc1ccccc1)c1ccccc1\"\nmelting_point: 163 °C\n"
    "impurities:\n- {name: benzoic acid, smiles: \"OC(=O)c1ccccc1\", share: 2 to 6 %}\n";
const std::string kColoured = "colour: {crude: brown, pure: colourless}\n";
const std::string kDirty = "crude: {mass: 4 g, insoluble: 1 to 3 %}\n";

// A judge with all that it refers to.
struct Bench {
  Catalogue catalogue = make_catalogue();
  Findings findings;
  std::optional<RuleBook> book =
      load_rule_book(std::string(FIRSTCROP_SOURCE_DIR) + "/rules", {}, catalogue, findings);
  Inquiry inquiry;
  std::optional<SystemJudge> judge;

  explicit Bench(const std::string& lines, const AimOptions& options = {})
      : inquiry(fixture::inquiry(fixture::solute(lines), options)),
        judge(SystemJudge::create(catalogue, inquiry, *book, findings)) {}

  [[nodiscard]] BenchPlan plan(const std::string& system, std::optional<double> volume_ml = {}) const {
    return make_bench_plan(*judge, judge->with_good_first(fixture::system(system)), volume_ml);
  }
};

const BenchStep* step_of(const BenchPlan& plan, const std::string& name) {
  const auto found = std::find_if(plan.steps.begin(), plan.steps.end(),
                                  [&name](const BenchStep& step) { return step.name == name; });
  return found == plan.steps.end() ? nullptr : &*found;
}

std::string all_words(const BenchPlan& plan) {
  std::string out;
  for (const BenchStep& step : plan.steps) {
    for (const RuleOutcome& outcome : step.sentences) out += outcome.text + "\n";
    for (const RuleOutcome& outcome : step.cautions) out += outcome.text + "\n";
  }
  return out;
}

bool says(const BenchPlan& plan, const char* words) {
  return all_words(plan).find(words) != std::string::npos;
}

AimOptions of_mass(double mass_mg) {
  AimOptions out;
  out.mass_mg = mass_mg;
  return out;
}

}  // namespace

TEST_CASE("the balance of a sheet adds up to the charge") {
  for (const std::string& lines : {kBenzanilide, kBenzanilide + kColoured, kBenzanilide + kDirty}) {
    for (const char* system : {"ethanol", "toluene", "water", "ethanol+water@70:30"}) {
      const Bench bench(lines);
      const BenchPlan plan = bench.plan(system);
      REQUIRE(plan.refused_because.empty());
      double sum = 0;
      for (const BalanceRow& row : plan.balance) sum += row.mass.value;
      CHECK(sum == doctest::Approx(bench.inquiry.aim.mass_mg).epsilon(1e-9));
    }
  }
}

TEST_CASE("more solvent never raises the expected crop") {
  const Bench bench(kBenzanilide);
  double last = 1e9;
  const BenchPlan least = bench.plan("ethanol");
  for (double volume_ml = least.minimum_volume.high.value_or(0); volume_ml < 200; volume_ml *= 1.5) {
    const double crop = bench.plan("ethanol", volume_ml).crop.value;
    CHECK(crop <= last);
    last = crop;
  }
}

TEST_CASE("hot filtration and charcoal only where they are needed") {
  const BenchPlan clean = Bench(kBenzanilide).plan("ethanol");
  CHECK(step_of(clean, "filter-hot") == nullptr);
  CHECK(step_of(clean, "boil-back") == nullptr);
  CHECK(step_of(clean, "charcoal") == nullptr);
  const BenchPlan dirty = Bench(kBenzanilide + kDirty).plan("ethanol");
  REQUIRE(step_of(dirty, "filter-hot") != nullptr);
  CHECK(step_of(dirty, "boil-back") != nullptr);
  CHECK(step_of(dirty, "charcoal") == nullptr);
  const BenchPlan coloured = Bench(kBenzanilide + kColoured).plan("ethanol");
  CHECK(step_of(coloured, "charcoal") != nullptr);
  CHECK(step_of(coloured, "filter-hot") != nullptr);
}

TEST_CASE("with extra solvent the funnel may be colder than the solution at its least volume") {
  const BenchPlan plan = Bench(kBenzanilide + kDirty).plan("ethanol");
  REQUIRE(plan.crystals_from);
  const BenchStep* filter = step_of(plan, "filter-hot");
  REQUIRE(filter != nullptr);
  REQUIRE(filter->at);
  CHECK(filter->at->value < plan.crystals_from->value - 1);
}

TEST_CASE("facts of the trade stand on the sheet") {
  // Common practice, no source: each of these is what a course tells.
  const BenchPlan coloured = Bench(kBenzanilide + kColoured + kDirty + "aim: {heating: hot-plate}\n").plan("toluene");
  CHECK(says(coloured, "spatula tip"));
  CHECK(says(coloured, "greyish"));
  CHECK(says(coloured, "a few mL of hot solvent through it first"));
  CHECK(says(coloured, "rinse only if crystals are seen in the funnel"));
  CHECK(says(coloured, "no empty flask on the hot plate"));
  CHECK(says(coloured, "never into hot liquid"));
  const BenchStep* charcoal = step_of(coloured, "charcoal");
  REQUIRE(charcoal != nullptr);
  CHECK_FALSE(charcoal->cautions.empty());
  const BenchPlan soft = Bench("smiles: \"O=C(/C=C/c1ccccc1)c1ccccc1\"\nmelting_point: 57 °C\n").plan("ethanol");
  CHECK(says(soft, "the droplets must be dissolved too"));
}

TEST_CASE("a caution stands at the step where it bites") {
  const BenchPlan plan = Bench(kBenzanilide + kColoured).plan("ethanol");
  const BenchStep* dissolve = step_of(plan, "dissolve");
  REQUIRE(dissolve != nullptr);
  CHECK(std::any_of(dissolve->cautions.begin(), dissolve->cautions.end(), [](const RuleOutcome& outcome) {
    return outcome.text.find("flammable") != std::string::npos;
  }));
}

TEST_CASE("a pair: the good solvent, then the poor one to the cloud") {
  const BenchPlan plan = Bench(kBenzanilide).plan("ethanol+water@70:30");
  const BenchStep* poor = step_of(plan, "add-poor");
  REQUIRE(poor != nullptr);
  REQUIRE_FALSE(poor->amounts.empty());
  CHECK(poor->amounts.front().what == "water");
  const BenchStep* good = step_of(plan, "dissolve");
  REQUIRE(good != nullptr);
  CHECK(good->amounts.front().what == "ethanol");
  CHECK(poor->amounts.front().quantity.value / good->amounts.front().quantity.value ==
        doctest::Approx(3.0 / 7).epsilon(0.01));
}

TEST_CASE("what is dangerous, reacts or parts into two liquids gets no sheet") {
  CHECK(Bench(kBenzanilide).plan("methanol+heptane@50:50").refused_by == "one-liquid");
  const BenchPlan acid_chloride =
      Bench("smiles: \"O=C(Cl)c1ccc([N+](=O)[O-])cc1\"\nmelting_point: 73 °C\n").plan("ethanol");
  CHECK(acid_chloride.refused_by == "reacts-with-solid");
  CHECK(acid_chloride.steps.empty());
}

TEST_CASE("a bad system still gets its sheet, with the verdict") {
  const BenchPlan plan = Bench(kBenzanilide).plan("heptane");
  CHECK(plan.refused_because.empty());
  CHECK(plan.judged.judgement.verdict == Verdict::Unfit);
  CHECK_FALSE(plan.steps.empty());
}

TEST_CASE("a volume that was asked for is told, too small or not") {
  const Bench bench(kBenzanilide);
  const BenchPlan little = bench.plan("ethanol", 2.0);
  CHECK(says(little, "do not dissolve all of it"));
  const BenchPlan much = bench.plan("ethanol", 300.0);
  CHECK_FALSE(says(much, "do not dissolve all of it"));
  CHECK(much.volume.value == doctest::Approx(300));
  CHECK(much.recovery.value < bench.plan("ethanol").recovery.value);
}

TEST_CASE("from 20 mg to 50 g") {
  for (const double mass_mg : {20.0, 200.0, 4000.0, 50000.0}) {
    const BenchPlan plan = Bench(kBenzanilide, of_mass(mass_mg)).plan("ethanol");
    CHECK(plan.crop.value > 0.5 * mass_mg);
    CHECK(plan.crop.value < mass_mg);
    CHECK(plan.minimum_volume.high.value() <= plan.vessel.nominal_ml * 2 / 3);
  }
}

TEST_CASE("crystals for X-rays are left alone") {
  AimOptions options;
  options.want = "large-crystals";
  const BenchPlan plan = Bench(kBenzanilide, options).plan("ethanol");
  CHECK(step_of(plan, "ice") == nullptr);
  REQUIRE(step_of(plan, "cool") != nullptr);
  CHECK(step_of(plan, "cool")->minutes->low >= 600);
}

TEST_CASE("a solvent that freezes in the bath is collected above that") {
  const BenchPlan plan = Bench(kBenzanilide).plan("acetic-acid");
  const BenchStep* collect = step_of(plan, "collect");
  REQUIRE(collect != nullptr);
  REQUIRE(collect->at);
  CHECK(collect->at->value > 289);
}

TEST_CASE("purity is told where the impurity has a structure, and only there") {
  const BenchPlan named = Bench(kBenzanilide).plan("ethanol");
  REQUIRE(named.purity);
  CHECK(named.purity->value > 0.94);
  CHECK_FALSE(Bench("smiles: \"O=C(Nc1ccccc1)c1ccccc1\"\nmelting_point: 163 °C\n").plan("ethanol").purity);
}

TEST_CASE("the strongest liquor of the sheet is that of the rule") {
  // Naphthalene in hot toluene holds far more than anyone works with.
  const Bench bench("smiles: \"c1ccc2ccccc2c1\"\nmelting_point: 80 °C\n");
  const JudgedSystem judged = bench.judge->judge(fixture::system("toluene"));
  const auto* working = std::get_if<NumberColumn>(
      &judged.frame.get(bench.catalogue.find("system.working_solubility").value()).value);
  REQUIRE(working != nullptr);
  double strongest = 0;
  for (std::size_t k = 0; k < kScenarioCount; ++k) strongest = std::max(strongest, working->at(k));
  CHECK(strongest == doctest::Approx(practice::kWorkableMgMl));
}

}  // namespace firstcrop
