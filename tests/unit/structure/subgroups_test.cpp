#include "structure/subgroups.hpp"

#include <doctest/doctest.h>

#include <map>
#include <string>
#include <variant>

using namespace firstcrop;
using Counts = std::map<int, double>;

namespace {

SubgroupAssignment assigned(const std::string& smiles) {
  const auto parsed = parse_smiles(smiles);
  REQUIRE(std::holds_alternative<Molecule>(parsed));
  return assign_subgroups(std::get<Molecule>(parsed));
}

}  // namespace

TEST_CASE("a molecule is covered by as few subgroups as possible") {
  // Assignments of the published scheme: Gmehling, Li, Schiller, Ind. Eng. Chem. Res. 1993, 32, 178, examples of table 1.
  CHECK(assigned("CCCCCC").counts == Counts{{1, 2}, {2, 4}});
  CHECK(assigned("CC(C)CC(C)(C)C").counts == Counts{{1, 5}, {2, 1}, {3, 1}, {4, 1}});
  CHECK(assigned("CC(C)O").counts == Counts{{1, 2}, {3, 1}, {81, 1}});
  CHECK(assigned("CO").counts == Counts{{15, 1}});
  CHECK(assigned("O").counts == Counts{{16, 1}});
  CHECK(assigned("CCC(C)=O").counts == Counts{{1, 1}, {2, 1}, {18, 1}});
  CHECK(assigned("CCOC(C)=O").counts == Counts{{1, 1}, {2, 1}, {21, 1}});
  CHECK(assigned("CCC(=O)OC").counts == Counts{{1, 2}, {22, 1}});
  CHECK(assigned("CCOCC").counts == Counts{{1, 2}, {2, 1}, {25, 1}});
  CHECK(assigned("C1CCOC1").counts == Counts{{27, 1}, {78, 2}});
  CHECK(assigned("Cc1ccccc1").counts == Counts{{9, 5}, {11, 1}});
  CHECK(assigned("CCN(CC)CC").counts == Counts{{1, 3}, {2, 2}, {35, 1}});
}

TEST_CASE("where the carbon of a functional group may be either, the lower subgroup is taken") {
  CHECK(assigned("COCC(C)=O").counts == Counts{{2, 1}, {18, 1}, {24, 1}});
  CHECK(assigned("COCCO").counts == Counts{{2, 2}, {14, 1}, {24, 1}});
}

TEST_CASE("what no subgroup fits is told, not guessed") {
  CHECK_FALSE(assigned("C[Si](C)(C)C").reason.empty());
  CHECK(assigned("FC(F)(F)CO").reason.find("F") != std::string::npos);
  CHECK_FALSE(assigned("CC(=O)OC(C)=O").reason.empty());
  CHECK_FALSE(assigned("COOC").reason.empty());
  CHECK_FALSE(assigned("c1ncccn1").reason.empty());
  CHECK_FALSE(assigned("CCO.O").reason.empty());
  CHECK_FALSE(assigned("[Na+].[Cl-]").reason.empty());
}

TEST_CASE("a long chain is taken apart at once") {
  CHECK(assigned(std::string(40, 'C')).counts == Counts{{1, 2}, {2, 38}});
  CHECK_FALSE(assigned(std::string(70, 'C')).reason.empty());
}
