#include "systems/reactions.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <utility>

#include "knowledge_fixture.hpp"

namespace firstcrop {
namespace {

const std::string kBenzoicAcid = "smiles: \"O=C(O)c1ccccc1\"\nmelting_point: 122 °C\n";
const std::string kAcidChloride = "smiles: \"O=C(Cl)c1ccc([N+](=O)[O-])cc1\"\nmelting_point: 73 °C\n";

Reaction with_solid(const std::string& lines, const std::string& solvent) {
  const Inquiry inquiry = fixture::inquiry(fixture::solute(lines));
  return reaction_with_solid(fixture::solvent(solvent), inquiry.reactions, inquiry.aim,
                             fixture::knowledge().library);
}

Reaction between(const std::string& lines, const std::string& first, const std::string& second) {
  const Inquiry inquiry = fixture::inquiry(fixture::solute(lines));
  return reaction_between(fixture::solvent(first), fixture::solvent(second), inquiry.reactions, inquiry.aim,
                          fixture::knowledge().library);
}

}  // namespace

TEST_CASE("an acid chloride reacts with ethanol, and the reaction says what happens and who says so") {
  const Reaction reaction = with_solid(kAcidChloride, "ethanol");
  REQUIRE(reaction.severity);
  CHECK(*reaction.severity == ReactionSeverity::Reacts);
  CHECK(reaction.row == "sg001");
  CHECK(reaction.text.find("ester") != std::string::npos);
  CHECK_FALSE(reaction.source.empty());
}

TEST_CASE("an acid chloride has nothing to fear from heptane") {
  CHECK_FALSE(with_solid(kAcidChloride, "heptane").severity);
}

TEST_CASE("benzoic acid may be crystallized from ethanol unless acid was carried over") {
  CHECK_FALSE(with_solid(kBenzoicAcid, "ethanol").severity);
  const Reaction reaction = with_solid(kBenzoicAcid + "contains: [acid-traces]\n", "ethanol");
  REQUIRE(reaction.severity);
  CHECK(*reaction.severity == ReactionSeverity::Caution);
  CHECK(reaction.row == "sg007");
}

TEST_CASE("a strong acid in the crude counts as traces of acid too") {
  const Reaction reaction = with_solid(kBenzoicAcid + "contains: [strong-acid]\n", "ethanol");
  REQUIRE(reaction.severity);
  CHECK(*reaction.severity >= ReactionSeverity::Caution);
}

TEST_CASE("long boiling makes benzoic acid and ethanol speak") {
  CHECK(with_solid(kBenzoicAcid + "aim:\n  hot_time: 2 h\n", "ethanol").severity);
  CHECK_FALSE(with_solid(kBenzoicAcid + "aim:\n  hot_time: 10 min\n", "ethanol").severity);
}

TEST_CASE("chloroform and acetone are dangerous together, in either order, whatever the solid") {
  for (const std::string& lines : {kBenzoicAcid, std::string("molar_mass: 200 g/mol\n")}) {
    for (const auto& [first, second] :
         {std::pair("chloroform", "acetone"), std::pair("acetone", "chloroform")}) {
      const Reaction reaction = between(lines, first, second);
      REQUIRE(reaction.severity);
      CHECK(*reaction.severity == ReactionSeverity::Dangerous);
      CHECK(reaction.row == "ss001");
    }
  }
}

TEST_CASE("ethanol and water leave each other alone") {
  CHECK_FALSE(between(kBenzoicAcid, "ethanol", "water").severity);
}

TEST_CASE("a moist acid chloride is known to be moist") {
  const auto setting = [](const std::string& lines) {
    return fixture::inquiry(fixture::solute(lines)).reactions.yes;
  };
  const auto dry = setting(kAcidChloride);
  const auto moist = setting(kAcidChloride + "crude: {moisture: 5 %}\n");
  CHECK(std::count(dry.begin(), dry.end(), "wet-solute") == 0);
  CHECK(std::count(moist.begin(), moist.end(), "wet-solute") == 1);
}

}  // namespace firstcrop
