#include "ranking/pair_study.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <string>

#include "knowledge_fixture.hpp"
#include "rules_fixture.hpp"

namespace firstcrop {
namespace {

const std::string kFluorene = "smiles: \"C1c2ccccc2-c2ccccc21\"\nmelting_point: 115 °C\n";

// A judge with all that it refers to.
struct Bench {
  Findings findings;
  Inquiry inquiry;
  std::optional<SystemJudge> judge;

  explicit Bench(const std::string& lines = "", const AimOptions& options = {})
      : inquiry(fixture::inquiry(fixture::solute(lines), options)),
        judge(SystemJudge::create(fixture::catalogue(), inquiry, fixture::book(), findings)) {}

  [[nodiscard]] PairStudy study(const char* first, const char* second, bool with_solid = false) const {
    return study_pair(*judge, System{{fixture::solvent(first), fixture::solvent(second)}, 0.5}, false, with_solid);
  }
};

}  // namespace

TEST_CASE("phases are told at the bath, at 25 °C and hot") {
  const Bench bench;
  const PairStudy study = bench.study("methanol", "hexane");
  REQUIRE(study.phases.size() == 3);
  CHECK(study.phases[0].temperature_k == doctest::Approx(278.15));
  CHECK(study.phases[1].temperature_k == doctest::Approx(298.15));
  CHECK(study.parts());
  // Two liquids below 33.7 °C, one above (IUPAC Solubility Data Series 56; R. W. Kiser and others, J. Phys. Chem.
  // 1961, 65, 1186, by memory).
  REQUIRE(study.critical_temperature_k);
  CHECK(*study.critical_temperature_k == doctest::Approx(306.8).epsilon(0.002));
  CHECK(study.phases[0].answer.one_liquid < 0.1);
  CHECK(study.phases[2].answer.one_liquid > 0.9);
}

TEST_CASE("chloroform with acetone is a reaction, ethanol with water is none") {
  const Bench bench;
  CHECK(bench.study("chloroform", "acetone").reacts());
  CHECK_FALSE(bench.study("ethanol", "water").reacts());
}

TEST_CASE("the azeotrope of ethanol and water stands at the published place") {
  // 95.6 % by mass, 78.15 °C (CRC Handbook of Chemistry and Physics); 97 % by volume.
  const Bench bench;
  const PairStudy study = bench.study("ethanol", "water");
  REQUIRE(study.azeotrope);
  CHECK(study.azeotrope->temperature_k == doctest::Approx(351.3).epsilon(0.001));
  REQUIRE(study.azeotrope_volume_fraction);
  CHECK(*study.azeotrope_volume_fraction == doctest::Approx(0.965).epsilon(0.01));
}

TEST_CASE("high up everything boils lower") {
  AimOptions options;
  options.altitude_m = 3000;
  const PairStudy low = Bench().study("ethanol", "water");
  const PairStudy high = Bench("", options).study("ethanol", "water");
  for (std::size_t i = 0; i < low.boiling.size(); ++i) {
    REQUIRE(low.boiling[i].temperature_k);
    REQUIRE(high.boiling[i].temperature_k);
    CHECK(*high.boiling[i].temperature_k < *low.boiling[i].temperature_k - 5);
  }
}

TEST_CASE("without a solid nothing is said about one") {
  const PairStudy study = Bench().study("ethanol", "water");
  CHECK_FALSE(study.solid);
  for (const RuleOutcome& outcome : study.judged.judgement.outcomes) {
    if (!speaks_of_solvents_only(outcome)) continue;
    for (const UsedFact& fact : outcome.facts) CHECK_FALSE(fact.name.starts_with("solute."));
  }
}

TEST_CASE("with a solid the better solvent stands first, whatever was typed") {
  const Bench bench(kFluorene);
  const PairStudy study = bench.study("water", "ethanol", true);
  REQUIRE(study.solid);
  CHECK(study.pair.solvents[0] == fixture::solvent("ethanol"));
  REQUIRE(study.solid->cloud_volume);
  REQUIRE(study.solid->best_single);
  CHECK(study.solid->window.from < study.solid->window.to);
}

TEST_CASE("of a pair that reacts nothing is told that uses it") {
  const Bench bench;
  const PairStudy study = bench.study("chloroform", "acetone");
  REQUIRE(study.reacts());
  CHECK_FALSE(study.is_suitable());
  CHECK(study.drift.points.empty());
  CHECK(study.azeotrope.has_value());
  int told = 0;
  for (const RuleOutcome& outcome : study.judged.judgement.outcomes) {
    if (!is_told(study, outcome) || outcome.outcome != Outcome::Fires) continue;
    ++told;
    CHECK(outcome.kind != RuleKind::Advice);
    CHECK((outcome.kind == RuleKind::Exclude || outcome.step.empty() || outcome.step == "always" ||
           outcome.step == "waste"));
  }
  CHECK(told > 0);
}

TEST_CASE("no mixture is told to boil below the listed azeotrope, at sea or on a mountain") {
  // Water with tetrahydrofuran 63.4 to 64 °C (Matous et al.; Kiyohara et al.), methanol with heptane 59 °C.
  for (const double altitude_m : {0.0, 2500.0}) {
    AimOptions options;
    options.altitude_m = altitude_m;
    const Bench bench("", options);
    for (const auto& [first, second] :
         {std::pair{"water", "tetrahydrofuran"}, {"methanol", "heptane"}, {"methanol", "hexane"},
          {"ethanol", "water"}, {"water", "toluene"}}) {
      CAPTURE(first);
      CAPTURE(second);
      CAPTURE(altitude_m);
      const PairStudy study = bench.study(first, second);
      REQUIRE(study.azeotrope);
      const double least_k = study.azeotrope->temperature_k - 1e-9;
      CHECK(study.lowest_boiling_k >= least_k);
      for (const PairBoiling& at : study.boiling) CHECK(*at.temperature_k >= least_k);
      for (const BoiledDown& point : study.drift.points) CHECK(point.temperature_k >= least_k);
      CHECK(boiling_point_of(study.pair, study.pressure_kpa, fixture::knowledge()).temperature_k >= least_k);
    }
  }
}

TEST_CASE("water with tetrahydrofuran is one liquid hot, and hardly less cold") {
  const PairStudy study = Bench().study("water", "tetrahydrofuran");
  REQUIRE(study.phases.size() == 3);
  CHECK_FALSE(study.parts());
  for (const PairPhases& at : study.phases) CHECK(at.answer.one_liquid > 0.85);
}

TEST_CASE("what parts at 25 °C is calculated where hot, or not known") {
  const PairStudy blend = Bench().study("ethanol-95", "heptane");
  REQUIRE(blend.phases.size() == 3);
  CHECK(blend.phases[1].answer.evidence == "published");
  CHECK(blend.phases[1].answer.one_liquid < 0.1);
  CHECK(blend.phases[2].answer.evidence == "calculated");
  CHECK(blend.phases[2].answer.one_liquid > blend.phases[1].answer.one_liquid);
  const PairStudy no_groups = Bench().study("formamide", "1-2-dichloroethane");
  CHECK(no_groups.phases.back().answer.evidence == "not known");
}

TEST_CASE("without a solid neither solvent is the poor one") {
  const PairStudy study = Bench().study("water", "tetrahydrofuran");
  for (const RuleOutcome& outcome : study.judged.judgement.outcomes) {
    if (!is_told(study, outcome)) continue;
    CHECK(outcome.text.find("poor") == std::string::npos);
    CHECK(outcome.text.find("before any") == std::string::npos);
    CHECK(outcome.text.find("-34") == std::string::npos);
  }
}

TEST_CASE("a pair that parts but not at the ratio for the solid tells the ratios that do not") {
  const Bench bench(kFluorene);
  const PairStudy study = bench.study("hexane", "methanol", true);
  REQUIRE(study.parts());
  CHECK(study.judged.judgement.verdict != Verdict::Unfit);
  REQUIRE(study.one_liquid_share);
  CHECK((*study.one_liquid_share)[0] <= study.pair.first_fraction);
  CHECK((*study.one_liquid_share)[1] >= study.pair.first_fraction);
  CHECK((*study.one_liquid_share)[1] - (*study.one_liquid_share)[0] < 0.9);
  CHECK(study.is_suitable());
}

TEST_CASE("for a pair that parts there are stand-ins that mix with the one that stays") {
  const Bench bench;
  const PairStudy study = bench.study("methanol", "heptane");
  REQUIRE(study.parts());
  REQUIRE_FALSE(study.stand_ins.empty());
  for (const StandIn& stand_in : study.stand_ins) {
    const SolventId stays = stand_in.replaces == fixture::solvent("heptane") ? fixture::solvent("methanol")
                                                                           : fixture::solvent("heptane");
    const auto one = fixture::knowledge().phase.one_liquid(stand_in.solvent, stays, 298.15);
    REQUIRE(one);
    CHECK(one->chance >= 0.9);
  }
}

}  // namespace firstcrop
