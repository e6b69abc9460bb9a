#include "solute/known_solid.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <string>
#include <variant>

#include "structure_files.hpp"

namespace firstcrop {
namespace {

const std::string kFolder = std::string(FIRSTCROP_SOURCE_DIR) + "/solvents";

std::optional<KnownSolid> found(const char* smiles, std::optional<double> melting_point_k = std::nullopt) {
  const auto parsed = parse_smiles(smiles);
  REQUIRE(std::holds_alternative<Molecule>(parsed));
  return find_known_solid(kFolder, {std::get<Molecule>(parsed), melting_point_k});
}

bool works_from(const KnownSolid& solid, const std::string& system) {
  return std::any_of(solid.published.begin(), solid.published.end(), [&system](const PublishedUse& use) {
    return use.system == system && use.outcome == PublishedOutcome::Works;
  });
}

}  // namespace

TEST_CASE("a solid is found however its structure is written") {
  for (const char* smiles : {"C1c2ccccc2-c2ccccc21", "c1ccc2c(c1)Cc1ccccc1-2", "C1c3ccccc3c4ccccc14"}) {
    const auto fluorene = found(smiles);
    REQUIRE(fluorene);
    CHECK(fluorene->name == "fluorene");
    CHECK(fluorene->match == SolidMatch::Same);
    CHECK(fluorene->curves.size() > 10);
    CHECK(works_from(*fluorene, "methanol"));
  }
}

TEST_CASE("every curve has its source and its range") {
  const auto fluorene = found("C1c2ccccc2-c2ccccc21");
  REQUIRE(fluorene);
  for (const MeasuredCurve& curve : fluorene->curves) {
    CHECK_FALSE(curve.source.empty());
    CHECK(curve.coldest_k <= curve.hottest_k);
    CHECK(curve.points >= 1);
  }
}

TEST_CASE("stereo marks as drawn decide between the forms of one skeleton") {
  const auto racemate = found("CC(C)Cc1ccc(C(C)C(=O)O)cc1", 349.0);
  REQUIRE(racemate);
  CHECK(racemate->name == "ibuprofen");
  CHECK(racemate->match == SolidMatch::Same);
  const auto drawn = found("CC(C)Cc1ccc([C@H](C)C(=O)O)cc1");
  REQUIRE(drawn);
  CHECK(drawn->name == "dexibuprofen");
}

TEST_CASE("a form that the table does not draw counts only if its melting point agrees") {
  // The other hand of dexibuprofen: it would melt and dissolve as that does.
  const auto other_hand = found("CC(C)Cc1ccc([C@@H](C)C(=O)O)cc1", 349.0);
  REQUIRE(other_hand);
  CHECK(other_hand->match == SolidMatch::OtherStereoMarks);
  CHECK_FALSE(found("CC(C)Cc1ccc([C@@H](C)C(=O)O)cc1", 420.0));
}

TEST_CASE("a tautomer is recognised and told") {
  // 2-pyridone and 2-hydroxypyridine stand for one substance; so do the 1H and 2H forms of a tetrazole.
  const auto drawn_1h = found("CCCCC(=O)N(Cc1ccc(-c2ccccc2-c2nnn[nH]2)cc1)[C@H](C(=O)O)C(C)C");
  REQUIRE(drawn_1h);
  CHECK(drawn_1h->match == SolidMatch::Tautomer);
  CHECK(drawn_1h->curves.size() >= 5);
}

TEST_CASE("published systems are found for solids without curves; what was read stands before what was recalled") {
  const auto chalcone = found("O=C(/C=C/c1ccccc1)c1ccccc1");
  REQUIRE(chalcone);
  CHECK(chalcone->curves.empty());
  REQUIRE_FALSE(chalcone->published.empty());
  // Organic Syntheses 1922: about 5 mL of 95 % ethanol per gram, 770 g from 880 g.
  CHECK(chalcone->published.front().system == "ethanol-95");
  CHECK(chalcone->published.front().volume_ml_g == doctest::Approx(5.2));
  CHECK(chalcone->published.front().recovery == doctest::Approx(0.875));
  REQUIRE(chalcone->melting_point_k);
  CHECK(*chalcone->melting_point_k == doctest::Approx(329.15));
}

TEST_CASE("a solid that nobody measured is not found") {
  CHECK_FALSE(found("CCCCOc1ccc(cc1)C(=O)NCCBr"));
}

TEST_CASE("a salt has a neutral parent, a plain molecule has none") {
  const auto salt = std::get<Molecule>(parse_smiles("[Na+].[O-]C(=O)c1ccccc1O"));
  const auto parent = salt.neutral_parent();
  REQUIRE(parent);
  const auto known = find_known_solid(kFolder, {*parent, std::nullopt});
  REQUIRE(known);
  CHECK(known->name == "salicylic acid");
  CHECK_FALSE(std::get<Molecule>(parse_smiles("OC(=O)c1ccccc1O")).neutral_parent());
}

TEST_CASE("the tables of known solids are free of faults") {
  Findings findings;
  std::vector<std::string> any{"ethanol"};
  check_known_solids(kFolder, any, findings);
  // Only the solvents that this short list leaves out may be complained of.
  for (const Finding& finding : findings.sorted()) {
    const bool about_solvent = finding.message.starts_with("no s");
    CHECK_MESSAGE(about_solvent, to_text(finding));
  }
}

}  // namespace firstcrop
