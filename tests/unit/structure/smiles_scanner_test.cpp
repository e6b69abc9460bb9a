#include "structure/smiles_scanner.hpp"

#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "structure/bracket_atom.hpp"

using namespace firstcrop;
using detail::scan_smiles;
using detail::SmilesOutline;

namespace {

struct Wrong {
  std::string smiles;
  std::size_t position;
  std::size_t width;
  std::string reason;
};

const std::vector<Wrong> kWrong = {
    {"", 0, 1, "the SMILES is empty"},
    {"CC(C", 2, 1, "`(` is never closed by `)`"},
    {"CC(C(C)C", 2, 1, "`(` is never closed by `)`"},
    {"CC)C", 2, 1, "`)` without `(` before it"},
    {"C()C", 1, 2, "the branch is empty"},
    {"(C)C", 0, 1, "a branch has no atom before it"},
    {"C((C)C)", 2, 1, "a branch begins with an atom, not with another branch"},
    {"C=(C)C", 1, 1, "a bond belongs into the branch, behind `(`"},
    {"C(.C)C", 2, 1, "a branch cannot begin with `.`"},
    {"C(C=)C", 3, 1, "a bond has no atom after it"},
    {"c1ccccc", 1, 1, "ring 1 is never closed"},
    {"CC%12CC", 2, 3, "ring 12 is never closed"},
    {"C1CC(C", 1, 1, "ring 1 is never closed"},
    {"C(C1CC", 1, 1, "`(` is never closed by `)`"},
    {"C11", 2, 1, "a ring cannot close on the atom where it opens"},
    {"C1C1", 3, 1, "this ring number joins two atoms that are already neighbours"},
    {"C12CC12", 6, 1, "this ring number joins two atoms that are already neighbours"},
    {"C=1CC#1", 5, 1, "the two ends of this ring bond name different bonds"},
    {"1CC1", 0, 1, "a ring number has no atom before it"},
    {"C(1CC1)C", 2, 1, "a ring number has no atom before it"},
    {"C%1CC", 1, 1, "`%` is followed by a ring number of two digits, 10 to 99"},
    {"C=", 1, 1, "a bond has no atom after it"},
    {"=C", 0, 1, "a bond has no atom before it"},
    {"C.=C", 2, 1, "a bond has no atom before it"},
    {"C-=C", 2, 1, "a bond follows a bond"},
    {"C=.C", 1, 1, "a bond has no atom after it"},
    {".C", 0, 1, "`.` parts two molecules: one is missing before it"},
    {"C..C", 2, 1, "`.` parts two molecules: one is missing before it"},
    {"C.", 1, 1, "`.` parts two molecules: one is missing after it"},
    {"C(C.)C", 3, 1, "`.` parts two molecules: one is missing after it"},
    {"C[N", 1, 1, "`[` is never closed by `]`"},
    {"C[N[H]", 1, 1, "`[` is never closed by `]`"},
    {"CN]", 2, 1, "`]` without `[` before it"},
    {"C[]", 1, 2, "an element symbol is missing in the brackets"},
    {"C[Xx]C", 2, 2, "`Xx` is no element symbol"},
    {"[CC]", 2, 1, "one atom only in brackets: `C` is too much"},
    {"[13]", 2, 2, "an element symbol is missing in the brackets"},
    {"[1234C]", 1, 4, "no isotope has a mass number that large"},
    {"[+]", 1, 1, "an element symbol was expected in the brackets before `+`"},
    {"[Fe3+]", 3, 2, "the sign of a charge stands before its number: `+3`"},
    {"[Fe+++]", 3, 3, "write a charge of three and more as `+3`"},
    {"[C+16]", 2, 3, "no atom bears a charge beyond +15"},
    {"[C@TH3](F)(Cl)Br", 2, 4, "`@TH` counts from 1 to 2"},
    {"[CH3:]", 4, 1, "`:` in brackets wants an atom number of at most five digits"},
    {"[C+H3]", 3, 2, "one atom only in brackets: `H3` is too much"},
    {"CCL", 1, 2, "chlorine is written `Cl`"},
    {"CBR", 1, 2, "bromine is written `Br`"},
    {"CcL", 2, 1, "`L` is no element symbol"},
    {"Ccl", 1, 2, "chlorine is written `Cl`"},
    {"CSi", 1, 2, "`Si` needs square brackets: `[Si]`"},
    {"NaCl", 0, 2, "`Na` needs square brackets: `[Na]`"},
    {"CMgBr", 1, 2, "`Mg` needs square brackets: `[Mg]`"},
    {"OK", 1, 1, "`K` needs square brackets: `[K]`"},
    {"CH4", 1, 1, "hydrogen is left out, or stands in square brackets: `[H]`"},
    {"CD", 1, 1, "`D` is no symbol here: write `[2H]`"},
    {"RC", 0, 1, "`R` is a place holder: write `*` for an attachment point"},
    {"CCO ethanol", 3, 1, "a blank cannot stand in a SMILES"},
    {" CCO", 0, 1, "a blank cannot stand in a SMILES"},
    {"CCO\n", 3, 1, "a blank cannot stand in a SMILES"},
    {"CCO>>CC=O", 3, 1, "a reaction arrow: one structure is wanted here, not a reaction"},
    {"C~C", 1, 1, "`~` (any bond) belongs to search patterns, not to a structure"},
    {"C{C}", 1, 1, "`{` has no meaning in a SMILES"},
    {std::string("C\0C", 3), 1, 1, "an unprintable character"},
    {"C–C", 1, 1, "`–` is no character of SMILES, which is plain ASCII"},
};

}  // namespace

TEST_CASE("every fault of the grammar is found where it stands") {
  for (const Wrong& wrong : kWrong) {
    CAPTURE(wrong.smiles);
    const auto scanned = scan_smiles(wrong.smiles);
    const auto* fault = std::get_if<SmilesFault>(&scanned);
    REQUIRE(fault != nullptr);
    CHECK(fault->reason == wrong.reason);
    CHECK(fault->position == wrong.position);
    CHECK(fault->width == wrong.width);
  }
}

TEST_CASE("atoms are listed in the order of the text with the place of each") {
  const auto scanned = scan_smiles("C[C@@H](Cl)c1cc[nH]c1.[Na+]");
  const auto* outline = std::get_if<SmilesOutline>(&scanned);
  REQUIRE(outline != nullptr);
  const std::vector<std::pair<std::size_t, std::size_t>> expected = {
      {0, 1}, {1, 6}, {8, 2}, {11, 1}, {13, 1}, {14, 1}, {15, 4}, {19, 1}, {22, 5}};
  REQUIRE(outline->atoms.size() == expected.size());
  for (std::size_t atom = 0; atom < expected.size(); ++atom) {
    CAPTURE(atom);
    CHECK(outline->atoms[atom].position == expected[atom].first);
    CHECK(outline->atoms[atom].width == expected[atom].second);
  }
}

TEST_CASE("all notations of the language pass") {
  for (const char* smiles : {"C",
                             "*",
                             "[*]",
                             "[13CH4]",
                             "[nH]1cccc1",
                             "[C@H](F)(Cl)Br",
                             "[C@@H](F)(Cl)Br",
                             "[C@TH1H](F)(Cl)Br",
                             "[Pt@SP2](F)(Cl)(Br)I",
                             "F/C=C/F",
                             "F/C=C\\F",
                             "C1CCCCC1",
                             "C%10CCCCC%10",
                             "C=1CCCCC=1",
                             "C1CCCCC=1",
                             "[CH3:7]O",
                             "[Fe+2]",
                             "[Fe++]",
                             "[O--]",
                             "[O-2]",
                             "C$C",
                             "[Pd]<-N",
                             "N->[Pd]",
                             "c1:c:c:c:c:c1",
                             "C1.C1",
                             "CC(C)1CC1",
                             "[se]1cccc1",
                             "C0CC0",
                             "[Cl-].[Na+]"}) {
    CAPTURE(smiles);
    CHECK(std::holds_alternative<SmilesOutline>(scan_smiles(smiles)));
  }
}

TEST_CASE("what would keep the later steps busy is refused") {
  CHECK(std::holds_alternative<SmilesOutline>(scan_smiles(std::string(500, 'C'))));
  const auto too_long = scan_smiles(std::string(501, 'C'));
  REQUIRE(std::holds_alternative<SmilesFault>(too_long));
  CHECK(std::get<SmilesFault>(too_long).position == 500);

  std::string deep;
  for (int level = 0; level < 70; ++level) deep += "C(";
  CHECK(std::get<SmilesFault>(scan_smiles(deep)).reason == "the branches are nested too deeply");
  CHECK(std::get<SmilesFault>(scan_smiles(std::string(100000, '('))).position == 500);

  std::string rings;
  for (int ring = 0; ring < 41; ++ring) rings += "C1CC1";
  CHECK(std::get<SmilesFault>(scan_smiles(rings)).reason == "more than 40 rings");

  std::string star = "[U]";
  for (int arm = 0; arm < 13; ++arm) star += "(C)";
  CHECK(std::get<SmilesFault>(scan_smiles(star)).reason == "an atom with more than 12 neighbours");
}

TEST_CASE("a bracket atom is read to its closing bracket") {
  CHECK(detail::read_bracket("C[N+]C", 1).width == 4);
  CHECK_FALSE(detail::read_bracket("C[N+]C", 1).fault.has_value());
  CHECK(detail::read_bracket("C[N+C", 1).fault.has_value());
}
