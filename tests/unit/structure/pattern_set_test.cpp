#include "structure/pattern_set.hpp"

#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "base/error.hpp"
#include "structure_files.hpp"

using namespace firstcrop;
using detail::PatternSearch;
using detail::PatternSet;

TEST_CASE("a pattern occurs where its atoms and bonds do") {
  const PatternSet set({"[CX3](=O)[OX2H]", "c1ccccc1", "N", "[OX2H]"});
  const Molecule benzoic_acid = structure_files::molecule("OC(=O)c1ccccc1");
  PatternSearch search(set, benzoic_acid);
  CHECK(search.occurs(0));
  CHECK(search.occurs(1));
  CHECK_FALSE(search.occurs(2));
  CHECK(search.count(3) == 1);
  CHECK(search.matches(1).front().size() == 6);
}

TEST_CASE("matches are counted once for each set of atoms") {
  const PatternSet set({"[#6][#6]", "C#N"});
  const Molecule propane = structure_files::molecule("CCC");
  const PatternSearch search(set, propane);
  CHECK(search.count(0) == 2);
  CHECK(search.count(1) == 0);
}

TEST_CASE("a set names its invalid pattern") {
  CHECK_THROWS_AS(PatternSet({"[C"}), Error);
  CHECK_THROWS_AS(PatternSet({""}), Error);
  const PatternSet late({"C", "[CX3](=O)=O1"});
  CHECK_THROWS_WITH_AS(late.compile_all(), "`[CX3](=O)=O1` is not a valid search pattern (SMARTS)", Error);
  const Molecule carbon_dioxide = structure_files::molecule("O=C=O");
  const PatternSet used({"C(=O)=O1"});
  PatternSearch search(used, carbon_dioxide);
  CHECK_THROWS_AS(static_cast<void>(search.occurs(0)), Error);
  CHECK_THROWS_AS(static_cast<void>(search.occurs(0)), Error);
}

TEST_CASE("the quick look never hides a group") {
  // A pattern inside `$()` escapes the quick look, so both forms must give one answer.
  std::vector<std::string> plain;
  std::vector<std::string> wrapped;
  const GroupCatalogue catalogue = structure_files::catalogue();
  for (const GroupDefinition& definition : catalogue.definitions()) {
    for (const std::string& pattern : definition.smarts) {
      if (pattern.find('.') != std::string::npos) continue;
      plain.push_back(pattern);
      wrapped.push_back("[$(" + pattern + ")]");
    }
  }
  const PatternSet plain_set(plain);
  const PatternSet wrapped_set(wrapped);
  int refused_early = 0;
  int found = 0;
  for (const char* smiles : {"CC(=O)Oc1ccccc1C(=O)O",
                             "Nc1ccc(S(=O)(=O)Nc2ncccn2)cc1",
                             "Cn1c(=O)c2c(ncn2C)n(C)c1=O",
                             "NC(Cc1ccccc1)C(=O)O",
                             "CC1(C)SC2C(NC(=O)Cc3ccccc3)C(=O)N2C1C(=O)O",
                             "C[N+](C)(C)CC(=O)[O-]",
                             "OC(=O)CN(CCN(CC(=O)O)CC(=O)O)CC(=O)O",
                             "O=[N+]([O-])c1cc([N+](=O)[O-])cc([N+](=O)[O-])c1",
                             "OCC1OC(O)C(O)C(O)C1O",
                             "ClCC1CO1",
                             "C=CC(=O)OCC#C",
                             "N#CC(C#N)=C(Cl)Br",
                             "CC(C)(C)OC(=O)NN",
                             "c1ccc(/N=N/c2ccccc2)cc1",
                             "O=C1C=CC(=O)C=C1",
                             "C[Si](C)(C)OCI",
                             "CC(=O)CC(=O)OCC",
                             "CSSCCS",
                             "CS(=O)CS(C)(=O)=O",
                             "OB(O)c1ccco1",
                             "CP(C)(=O)OC",
                             "NNC(=S)NO",
                             "CON=C(C)N=C=O",
                             "C1CC2CCC1N2",
                             "[O-][n+]1ccccc1",
                             "FC(F)(F)C(Cl)(Cl)I",
                             "CC1(C)OOC(C)(C)O1",
                             "NC(=N)NCCCC(N)C(=O)O"}) {
    CAPTURE(smiles);
    const Molecule molecule = structure_files::molecule(smiles);
    PatternSearch plain_search(plain_set, molecule);
    PatternSearch wrapped_search(wrapped_set, molecule);
    for (std::size_t pattern = 0; pattern < plain.size(); ++pattern) {
      CAPTURE(plain[pattern]);
      CHECK(plain_search.occurs(pattern) == wrapped_search.occurs(pattern));
      refused_early += plain_search.may_match(pattern) ? 0 : 1;
      found += plain_search.occurs(pattern) ? 1 : 0;
    }
  }
  CHECK(found > 100);
  CHECK(refused_early > 20 * found);
}
