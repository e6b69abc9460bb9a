#include "structure/chemistry_fault.hpp"

#include <doctest/doctest.h>

#include <string>
#include <vector>

using namespace firstcrop;

namespace {

struct Impossible {
  std::string smiles;
  std::size_t position;
  std::size_t width;
  std::string reason;
};

const std::string kNoPattern = "this aromatic ring has no pattern of alternating double bonds";

const std::vector<Impossible> kImpossible = {
    {"CC(C)(C)(C)C", 1, 1, "`C` has 5 bonds and takes at most 4"},
    {"O=C(=O)(O)c1ccccc1", 2, 1, "`C` has 6 bonds and takes at most 4"},
    {"CN(C)(C)C", 1, 1, "`N` has 4 bonds and takes at most 3"},
    {"CO(C)C", 1, 1, "`O` has 3 bonds and takes at most 2"},
    {"CClC", 1, 2, "`Cl` has 2 bonds and takes at most 1"},
    {"CC[NH5]", 2, 5, "`N` has 6 bonds and takes at most 3"},
    {"C[N+](C)(C)(C)C", 1, 4, "`N` with 5 bonds and charge +1 does not exist"},
    {"CC(=O)[O-]C", 6, 4, "`O` with 2 bonds and charge -1 does not exist"},
    {"CS(=O)(=O)(=O)C", 1, 1, "`S` with 8 bonds does not exist"},
    {"Cc", 1, 1, "a lower-case (aromatic) atom outside a ring; write `C`"},
    {"c", 0, 1, "a lower-case (aromatic) atom outside a ring; write `C`"},
    {"CCn(C)C", 2, 1, "a lower-case (aromatic) atom outside a ring; write `N`"},
    {"c1cccc1", 0, 1, kNoPattern},
    {"Cc1cccccc1C", 1, 1, kNoPattern},
    {"c1ccnc1", 4, 1, kNoPattern + "; a ring nitrogen that bears hydrogen is written `[nH]`"},
    {"Cc1ccc2nccc2c1", 7, 1, kNoPattern + "; a ring nitrogen that bears hydrogen is written `[nH]`"},
};

}  // namespace

TEST_CASE("impossible chemistry is found at the atom to blame") {
  for (const Impossible& impossible : kImpossible) {
    CAPTURE(impossible.smiles);
    const auto parsed = parse_smiles(impossible.smiles);
    const auto* fault = std::get_if<SmilesFault>(&parsed);
    REQUIRE(fault != nullptr);
    CHECK(fault->reason == impossible.reason);
    CHECK(fault->position == impossible.position);
    CHECK(fault->width == impossible.width);
  }
}

TEST_CASE("of several impossible atoms the first is named") {
  const auto parsed = parse_smiles("CC(C)(C)(C)CCO(C)C");
  REQUIRE(std::holds_alternative<SmilesFault>(parsed));
  CHECK(std::get<SmilesFault>(parsed).position == 1);
}
