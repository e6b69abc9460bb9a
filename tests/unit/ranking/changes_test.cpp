#include "ranking/changes.hpp"

#include <doctest/doctest.h>

#include <string>

#include "knowledge_fixture.hpp"
#include "ranking/rule_files.hpp"
#include "systems/fact_list.hpp"

namespace firstcrop {
namespace {

const std::string kAcetanilide = "smiles: \"CC(=O)Nc1ccccc1\"\nmelting_point: 114 °C\n";
const std::string kBiphenyl = "smiles: \"c1ccc(-c2ccccc2)cc1\"\nmelting_point: 69 °C\n";

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

struct Bench {
  Inquiry inquiry;
  std::optional<SystemJudge> judge;

  explicit Bench(const std::string& lines, const AimOptions& options = {})
      : Bench(fixture::inquiry(fixture::solute(lines), options, true)) {}
  explicit Bench(Inquiry made) : inquiry(std::move(made)) {
    Findings findings;
    judge = SystemJudge::create(catalogue(), inquiry, book(), findings);
    REQUIRE(judge);
  }
  Bench(const Bench&) = delete;
  Bench& operator=(const Bench&) = delete;

  [[nodiscard]] JudgedSystem judged(const std::string& system) const {
    JudgedSystem out = judge->judge(judge->with_good_first(fixture::system(system)));
    judge->explain(out);
    return out;
  }
};

Trial trial(const std::string& system, double volume_ml, SeenDissolved cold, std::optional<SeenDissolved> hot) {
  Trial out;
  out.system.text = system;
  out.mass = WrittenQuantity{50, 50, *find_unit("mg")};
  out.volume = WrittenQuantity{volume_ml, volume_ml, *find_unit("mL")};
  out.cold = cold;
  out.hot = hot;
  return out;
}

Verdict verdict_after(const Bench& bench, const Change& change, const JudgedSystem& judged) {
  Inquiry changed = bench.inquiry;
  System system = judged.system;
  if (change.tube) {
    Trial filled = trial(name_of(system, bench.inquiry.knowledge->library), change.tube->volume_ml, change.tube->cold,
                         change.tube->hot);
    filled.cooled = change.tube->cooled;
    changed = with_tubes(bench.inquiry, {filled});
  } else if (change.fact == "system.good_fraction") {
    system.first_fraction = change.to->value;
  } else if (change.fact == "aim.bath_temperature") {
    changed.aim.bath_temperature_k = change.to->value;
  } else {
    changed.aim.heating_limit_k = change.to->value;
  }
  const Bench other(std::move(changed));
  return other.judge->judge(system).judgement.verdict;
}

}  // namespace

TEST_CASE("every change that is told gives the verdict that it promises, and another one than now") {
  for (const char* system : {"water", "ethanol", "heptane", "toluene", "acetone", "ethanol+water@50:50",
                             "acetone+water@90:10", "ethyl-acetate+heptane@30:70"}) {
    for (const std::string& solid : {kAcetanilide, kBiphenyl}) {
      const Bench bench(solid);
      const JudgedSystem judged = bench.judged(system);
      const std::vector<Change> changes = find_changes(*bench.judge, judged);
      CHECK(changes.size() <= kMostChanges);
      for (const Change& change : changes) {
        INFO(system << " " << solid << " " << change.fact);
        CHECK(change.verdict != judged.judgement.verdict);
        CHECK(verdict_after(bench, change, judged) == change.verdict);
        CHECK(catalogue().find(change.fact));
        CHECK(change.tube.has_value() != change.to.has_value());
      }
    }
  }
}

TEST_CASE("the search comes to the same however often it is asked") {
  const Bench bench(kAcetanilide);
  const JudgedSystem judged = bench.judged("ethanol+water@50:50");
  const std::vector<Change> once = find_changes(*bench.judge, judged);
  const std::vector<Change> again = find_changes(*bench.judge, judged);
  REQUIRE(once.size() == again.size());
  for (std::size_t i = 0; i < once.size(); ++i) {
    CHECK(once[i].fact == again[i].fact);
    CHECK(once[i].to == again[i].to);
    CHECK(once[i].chance == again[i].chance);
  }
}

TEST_CASE("a tube that was imagined teaches what the same tube in the file teaches") {
  const Bench bench(kBiphenyl);
  const Inquiry imagined =
      with_tubes(bench.inquiry, {trial("ethanol", 1, SeenDissolved::Part, SeenDissolved::All)});
  const Inquiry seen = fixture::inquiry(
      fixture::solute(kBiphenyl +
                      "trials:\n- {tube: 1, system: ethanol, mass: 50 mg, volume: 1 mL, cold: part, hot: all}\n"),
      {}, true);
  CHECK(imagined.scenarios.levels == seen.scenarios.levels);
  CHECK(imagined.evidence_of(fixture::system("ethanol")) != nullptr);
  CHECK(bench.inquiry.evidence_of(fixture::system("ethanol")) == nullptr);
}

TEST_CASE("what a rule excludes is told as such, and no tube brings it back") {
  // Two liquids: methanol with heptane in a bath of ice.
  const Bench bench(kBiphenyl);
  const JudgedSystem judged = bench.judged("methanol+heptane@50:50");
  REQUIRE(judged.judgement.excluded);
  const StandingAnswer answer = standing_of(*bench.judge, judged);
  CHECK(answer.standing == Standing::Excluded);
  CHECK(answer.rule == "one-liquid");
  for (const Change& change : find_changes(*bench.judge, judged)) CHECK_FALSE(change.tube);
}

TEST_CASE("without a chance worth the name no rule speaks for a system, though none excludes it") {
  const Bench bench(kBiphenyl);
  const JudgedSystem judged = bench.judged("water");
  REQUIRE(judged.judgement.verdict == Verdict::Unfit);
  REQUIRE_FALSE(judged.judgement.excluded);
  const StandingAnswer answer = standing_of(*bench.judge, judged);
  CHECK(answer.standing == Standing::NotSpokenFor);
  CHECK(answer.rule == "hot-window");
}

}  // namespace firstcrop
