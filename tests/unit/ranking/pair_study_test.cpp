#include "ranking/pair_study.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <string>

#include "knowledge_fixture.hpp"
#include "ranking/rule_files.hpp"
#include "systems/fact_list.hpp"

namespace firstcrop {
namespace {

const std::string kFluorene = "smiles: \"C1c2ccccc2-c2ccccc21\"\nmelting_point: 115 °C\n";

// A judge with all that it refers to.
struct Bench {
  Catalogue catalogue = make_catalogue();
  Findings findings;
  std::optional<RuleBook> book =
      load_rule_book(std::string(FIRSTCROP_SOURCE_DIR) + "/rules", {}, catalogue, findings);
  Inquiry inquiry;
  std::optional<SystemJudge> judge;

  explicit Bench(const std::string& lines = "", const AimOptions& options = {})
      : inquiry(fixture::inquiry(fixture::solute(lines), options)),
        judge(SystemJudge::create(catalogue, inquiry, *book, findings)) {}

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
