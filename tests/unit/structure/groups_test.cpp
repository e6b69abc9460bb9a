#include "structure/groups.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <set>
#include <string>
#include <vector>

#include "base/error.hpp"
#include "structure/descriptors.hpp"
#include "structure_files.hpp"

using namespace firstcrop;
using Tokens = std::vector<std::string>;

namespace {

GroupCatalogue small_catalogue() {
  return GroupCatalogue(
      {{"alcohol", "alcohol", {"[CX4][OX2H]"}, {"ROH"}, {}, true, {"alcohol"}, ""},
       {"diol", "1,2-diol", {"[OX2H]{chain}[OX2H]"}, {}, {"alcohol"}, true, {}, ""},
       {"tetrol", "1,2,3,4-tetrol", {}, {"erythritol type"}, {"diol"}, true, {"other ring"}, ""},
       {"any-oxygen", "oxygen", {"[#8]"}, {}, {}, false, {}, ""}},
      {{"carbon", {"[CX4]"}}, {"chain", {"{carbon}{carbon}", "{carbon}{carbon}{carbon}"}}});
}

}  // namespace

TEST_CASE("tokens come in the order of the catalogue") {
  CHECK(small_catalogue().perceive(structure_files::molecule("OCCO")) ==
        Tokens{"alcohol", "diol", "any-oxygen"});
  CHECK(small_catalogue().perceive(structure_files::molecule("c1ccccc1")).empty());
}

TEST_CASE("a piece with several alternatives makes a pattern of each") {
  const GroupCatalogue catalogue = small_catalogue();
  CHECK(catalogue.find("diol")->smarts == Tokens{"[OX2H][CX4][CX4][OX2H]", "[OX2H][CX4][CX4][CX4][OX2H]"});
  CHECK(catalogue.perceive(structure_files::molecule("OCCCO")) == Tokens{"alcohol", "diol", "any-oxygen"});
  CHECK(catalogue.perceive(structure_files::molecule("OCCCCO")) == Tokens{"alcohol", "any-oxygen"});
}

TEST_CASE("a group is found by token, other name or name for people, whatever the case") {
  const GroupCatalogue catalogue = small_catalogue();
  REQUIRE(catalogue.find("roh") != nullptr);
  CHECK(catalogue.find("roh")->token == "alcohol");
  CHECK(catalogue.find("ALCOHOL")->token == "alcohol");
  CHECK(catalogue.find("Erythritol-type")->token == "tetrol");
  CHECK(catalogue.find("1,2-DIOL")->token == "diol");
  CHECK(catalogue.find("amine") == nullptr);
  CHECK(catalogue.find("") == nullptr);
}

TEST_CASE("parents are added over all generations, and dropped where a child stands") {
  const GroupCatalogue catalogue = small_catalogue();
  CHECK(catalogue.with_parents({"tetrol"}) == Tokens{"alcohol", "diol", "tetrol"});
  CHECK(catalogue.with_parents({"any-oxygen", "alcohol", "unheard-of"}) == Tokens{"alcohol", "any-oxygen"});
  CHECK(catalogue.most_specific({"alcohol", "diol", "tetrol"}) == Tokens{"tetrol"});
  CHECK(catalogue.most_specific({"alcohol", "any-oxygen"}) == Tokens{"alcohol"});
}

TEST_CASE("faults of a group file are named") {
  CHECK_THROWS_WITH_AS(GroupCatalogue({{"a", "a", {"[C{missing}]"}, {}, {}, true, {}, ""}}),
                       "group pattern `[C{missing}]` names an unknown piece", Error);
  CHECK_THROWS_WITH_AS(GroupCatalogue({{"a", "a", {"C"}, {}, {"b"}, true, {}, ""}}),
                       "group `a` names the unknown parent `b`", Error);
  CHECK_THROWS_AS(GroupCatalogue({{"a", "a", {"{self}"}, {}, {}, true, {}, ""}}, {{"self", {"{self}"}}}),
                  Error);
  const GroupCatalogue late({{"a", "a", {"C1CC"}, {}, {}, true, {}, ""}});
  CHECK_THROWS_AS(late.check_patterns(), Error);
}

TEST_CASE("every pattern of the group file is valid") {
  CHECK_NOTHROW(structure_files::catalogue().check_patterns());
}

TEST_CASE("names in the group file are unambiguous, and what they refer to exists") {
  const GroupCatalogue catalogue = structure_files::catalogue();
  CHECK(catalogue.definitions().size() == 252);
  std::set<std::string> allowed(model_group_names().begin(), model_group_names().end());
  allowed.insert({"aromatic ring", "benzene ring", "heteroaromatic ring", "other ring"});
  std::set<std::string> tokens;
  std::set<std::string> stood_for;
  for (const GroupDefinition& definition : catalogue.definitions()) {
    CAPTURE(definition.token);
    CHECK(tokens.insert(definition.token).second);
    CHECK_FALSE(definition.name.empty());
    CHECK_FALSE(definition.smarts.empty());
    CHECK(catalogue.find(definition.token)->token == definition.token);
    for (const std::string& other : definition.also_known_as) {
      CAPTURE(other);
      // An other name may repeat a token only where it is the group's own.
      CHECK(catalogue.find(other)->token == definition.token);
    }
    for (const std::string& group : definition.model_groups) {
      CAPTURE(group);
      CHECK(allowed.count(group) == 1);
      stood_for.insert(group);
    }
  }
  CHECK(stood_for == allowed);
}

TEST_CASE("groups that a person names give the same presences as the structure that holds only them") {
  const GroupCatalogue catalogue = structure_files::catalogue();
  struct Case {
    const char* smiles;
    Tokens tokens;
  };
  for (const Case& test :
       {Case{"O=C(O)c1ccccc1", {"carboxylic-acid", "arene"}}, Case{"CC(=O)Nc1ccccc1", {"anilide", "arene"}},
        Case{"COc1ccc2ccccc2c1", {"ether", "arene"}},
        Case{"O=[N+]([O-])c1ccc(Cl)cc1", {"nitro", "chlorine", "arene"}},
        Case{"CC(=O)CCC(=O)OC", {"ketone", "ester"}}, Case{"N#CCC#N", {"nitrile"}},
        Case{"c1ccc2[nH]ccc2c1", {"pyrrole-or-indole", "pyrrole-type-nh", "arene"}}}) {
    CAPTURE(test.smiles);
    const auto from_structure = group_features(structure_files::molecule(test.smiles));
    const auto from_tokens = catalogue.group_features(test.tokens);
    REQUIRE(from_tokens.size() == kGroupFeatureCount);
    for (std::size_t group = 0; group < model_group_names().size(); ++group) {
      CAPTURE(model_group_names()[group]);
      CHECK(from_tokens[group] == from_structure[group]);
    }
    CHECK(from_tokens[29] <= from_structure[29]);
    CHECK(from_tokens[30] <= from_structure[30]);
  }
}

TEST_CASE("rings that named groups imply are counted at their least number") {
  const GroupCatalogue catalogue = structure_files::catalogue();
  CHECK(catalogue.group_features({"ketone"})[29] == 0.0);
  CHECK(catalogue.group_features({"phenol"})[29] == 1.0);
  CHECK(catalogue.group_features({"phenol", "arene"})[29] == 1.0);
  CHECK(catalogue.group_features({"arene", "furan"})[29] == 2.0);
  CHECK(catalogue.group_features({"lactone"})[30] == 1.0);
  CHECK(catalogue.group_features({})[0] == 0.0);
}

TEST_CASE("what a token stands for in the model is true of nearly all structures that hold it") {
  const GroupCatalogue catalogue = structure_files::catalogue();
  int agreed = 0;
  int claims = 0;
  for (const char* smiles :
       {"CC(=O)Oc1ccccc1C(=O)O", "Nc1ccc(S(=O)(=O)Nc2ncccn2)cc1", "NC(Cc1ccccc1)C(=O)O",
        "CC(C)(C)OC(=O)NC(C)C(=O)O", "CC1(C)SC2C(NC(=O)Cc3ccccc3)C(=O)N2C1C(=O)O", "OCC1OC(O)C(O)C(O)C1O",
        "C=CC(=O)OCC#C", "O=C1C=CC(=O)C=C1", "c1ccc(/N=N/c2ccccc2)cc1", "CSSCCS", "CS(=O)CS(C)(=O)=O",
        "O=C1OC(=O)c2ccccc21", "O=C1CCCCN1", "ClCC1CO1", "CN(C)c1ccc(C=O)cc1", "NC(=O)c1cccnc1",
        "O=C1NC(=O)c2ccccc21", "CC(C)=NO", "Brc1ccc(F)cc1"}) {
    const Molecule molecule = structure_files::molecule(smiles);
    const auto from_structure = group_features(molecule);
    const auto from_tokens = catalogue.group_features(catalogue.perceive(molecule));
    for (std::size_t group = 0; group < model_group_names().size(); ++group) {
      if (from_structure[group] == 0.0 && from_tokens[group] == 0.0) continue;
      ++claims;
      agreed += from_structure[group] == from_tokens[group] ? 1 : 0;
    }
  }
  CHECK(claims > 30);
  CHECK(agreed >= claims - 4);
}
