#include "structure/structure_kind.hpp"

#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "structure_files.hpp"

using namespace firstcrop;

namespace {

/// The marks of a kind as words, for comparison with the table.
std::string words(const StructureKind& kind) {
  std::string text;
  const auto add = [&text](bool holds, const char* word) {
    if (holds) text += (text.empty() ? "" : " ") + std::string(word);
  };
  add(kind.salt, "salt");
  add(kind.hydrate, "hydrate");
  add(kind.solvate, "solvate");
  add(kind.zwitterion, "zwitterion");
  add(kind.organometallic, "organometallic");
  add(kind.mixture, "mixture");
  add(kind.polymer, "polymer");
  add(kind.inorganic, "inorganic");
  add(kind.radical, "radical");
  return text.empty() ? "ordinary" : text;
}

struct Case {
  std::string name;
  std::string smiles;
  std::string kind;
};

const std::vector<Case> kCases = {
    {"aspirin", "CC(=O)Oc1ccccc1C(=O)O", "ordinary"},
    {"dioxane, a solvent by itself", "C1COCCO1", "ordinary"},
    {"nitrobenzene", "O=[N+]([O-])c1ccccc1", "ordinary"},
    {"pyridine N-oxide", "[O-][n+]1ccccc1", "ordinary"},
    {"methyl azide", "CN=[N+]=[N-]", "ordinary"},
    {"phenyl isocyanide", "[C-]#[N+]c1ccccc1", "ordinary"},
    {"a phosphorus ylide", "C[CH-][P+](c1ccccc1)(c1ccccc1)c1ccccc1", "ordinary"},
    {"4-aminobenzoic acid", "Nc1ccc(C(=O)O)cc1", "ordinary"},
    {"nicotinic acid", "OC(=O)c1cccnc1", "ordinary"},
    {"selenophene", "c1cc[se]c1", "ordinary"},

    {"sodium benzoate", "[Na+].[O-]C(=O)c1ccccc1", "salt"},
    {"sodium benzoate, bond drawn", "[Na]OC(=O)c1ccccc1", "salt"},
    {"a hydrochloride", "CN(C)CCc1ccccc1.Cl", "salt"},
    {"a hydrobromide without nitrogen drawn basic", "NC(=O)c1ccccc1.Br", "salt"},
    {"pyridinium sulfate, neutral drawing", "c1ccncc1.OS(=O)(=O)O", "salt"},
    {"a mesylate, neutral drawing", "CC(N)c1ccccc1.CS(=O)(=O)O", "salt"},
    {"ethylammonium benzoate, neutral drawing", "CCN.OC(=O)c1ccccc1", "salt"},
    {"methylguanidine phosphate", "CNC(=N)N.OP(=O)(O)O", "salt"},
    {"a cation alone", "C[n+]1ccccc1", "salt"},
    {"N-methylpyridinium tetrafluoroborate", "F[B-](F)(F)F.C[n+]1ccccc1", "salt"},
    {"copper acetate", "CC(=O)[O-].CC(=O)[O-].[Cu+2]", "salt"},
    {"potassium cyanide", "[K+].[C-]#N", "salt"},
    {"glycine hydrochloride", "NCC(=O)O.Cl", "salt"},
    {"sodium chloride", "[Na+].[Cl-]", "salt inorganic"},
    {"sodium hydrogen dibenzoate", "[Na+].[O-]C(=O)c1ccccc1.OC(=O)c1ccccc1", "salt mixture"},

    {"citric acid hydrate", "O.OC(=O)CC(O)(CC(=O)O)C(=O)O", "hydrate"},
    {"potassium tartrate dihydrate", "[K+].[K+].[O-]C(=O)C(O)C(O)C(=O)[O-].O.O", "salt hydrate"},
    {"a hydrochloride hydrate", "CN(C)CCc1ccccc1.Cl.O", "salt hydrate"},
    {"phenanthrene with ethanol", "CCO.c1ccc2c(c1)ccc1ccccc12", "solvate"},
    {"phenanthrene with acetic acid", "CC(=O)O.c1ccc2c(c1)ccc1ccccc12", "solvate"},
    {"a hydrochloride with acetonitrile", "CN(C)CCc1ccccc1.Cl.CC#N", "salt solvate"},
    {"benzoic acid with glycine", "OC(=O)c1ccccc1.NCC(=O)O", "salt"},
    {"dimethylformamide with hydrogen chloride", "CN(C)C=O.Cl", "salt"},
    {"a hydrochloride with methanol", "CN(C)CCc1ccccc1.Cl.CO", "salt solvate"},

    {"glycine", "NCC(=O)O", "zwitterion"},
    {"betaine", "C[N+](C)(C)CC(=O)[O-]", "zwitterion"},
    {"sulfanilic acid", "Nc1ccc(S(=O)(=O)O)cc1", "zwitterion"},
    {"gabapentin", "NCC1(CC(=O)O)CCCCC1", "zwitterion"},
    {"creatine", "CN(CC(=O)O)C(=N)N", "zwitterion"},
    {"a sydnone", "[O-]c1c[n+](-c2ccccc2)no1", "zwitterion"},
    {"alanylalanine", "CC(N)C(=O)NC(C)C(=O)O", "zwitterion"},

    {"phenylboronic acid", "OB(O)c1ccccc1", "organometallic"},
    {"ethoxytrimethylsilane", "C[Si](C)(C)OCC", "organometallic"},
    {"methylmagnesium bromide", "C[Mg]Br", "organometallic"},
    {"ferrocene in ions", "[Fe+2].c1cc[cH-]c1.c1cc[cH-]c1", "salt organometallic"},
    {"diethylzinc", "CC[Zn]CC", "organometallic"},
    {"palladium", "[Pd]", "organometallic inorganic"},

    {"ethanol and methanol", "CCO.CO", "mixture"},
    {"benzamide with benzoic acid", "NC(=O)c1ccccc1.OC(=O)c1ccccc1", "mixture"},
    {"two molecules of benzoic acid", "OC(=O)c1ccccc1.OC(=O)c1ccccc1", "mixture"},

    {"polyethylene with open ends", "*CC*", "polymer"},
    {"water", "O", "inorganic"},
    {"sulfamic acid", "NS(=O)(=O)O", "inorganic"},
    {"boric acid", "OB(O)O", "inorganic"},
    {"TEMPO", "CC1(C)CCCC(C)(C)N1[O]", "radical"},
    {"methyl", "[CH3]", "radical"},
};

}  // namespace

TEST_CASE("salts, hydrates and the other kinds are told from the drawing") {
  for (const Case& test : kCases) {
    CAPTURE(test.name);
    const Molecule molecule = structure_files::molecule(test.smiles);
    CHECK(words(molecule.kind()) == test.kind);
    CHECK(molecule.kind().ordinary() == (test.kind == "ordinary"));
  }
}

TEST_CASE("a chain of many equal units is a polymer, an equally large natural product is not") {
  std::string glycol = "O";
  for (int unit = 0; unit < 30; ++unit) glycol += "CCO";
  CHECK(structure_files::molecule(glycol).kind().polymer);
  // source: constitution of vancomycin, from memory; 101 heavy atoms
  const Molecule vancomycin = structure_files::molecule(
      "CC1C(C(CC(O1)OC2C(C(C(OC2OC3=C4C=C5C=C3OC6=C(C=C(C=C6)C(C(C(=O)NC(C(=O)NC5C(=O)NC7C8=CC(=C(C=C8)O)C9="
      "C(C=C(C=C9O)"
      "O)C(NC(=O)C(C(C1=CC(=C(O4)C=C1)Cl)O)NC7=O)C(=O)O)CC(=O)N)NC(=O)C(CC(C)C)NC)O)Cl)CO)O)O)(C)N)O");
  CHECK(vancomycin.heavy_atom_count() > 70);
  CHECK_FALSE(vancomycin.kind().polymer);
}

TEST_CASE("every solvent that solvates are known of is recognised beside a solid") {
  for (const char* solvent :
       {"CO",         "CCO",        "CC(C)O",   "CC(C)=O", "CC#N",          "C(C)OC(C)=O", "ClCCl",
        "ClC(Cl)Cl",  "O1CCCC1",    "O1CCOCC1", "CCOCC",   "c1ccccc1",      "Cc1ccccc1",   "CCCCCC",
        "C1CCCCC1",   "CN(C)C=O",   "CS(C)=O",  "OC(C)=O", "C[N+](=O)[O-]", "n1ccccc1",    "COC(C)(C)C",
        "CN1CCCC1=O", "CC(N(C)C)=O"}) {
    CAPTURE(solvent);
    CHECK(words(structure_files::molecule(std::string(solvent) + ".O=C(c1ccccc1)c1ccccc1").kind()) ==
          "solvate");
  }
}
