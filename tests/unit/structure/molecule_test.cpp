#include "structure/molecule.hpp"

#include <doctest/doctest.h>

#include <random>
#include <string>
#include <vector>

#include "structure_files.hpp"

using namespace firstcrop;
using structure_files::molecule;

TEST_CASE("different ways to write a molecule lead to one canonical SMILES") {
  const std::string canonical = molecule("OC(=O)c1ccccc1").canonical_smiles();
  CHECK(molecule("c1ccccc1C(O)=O").canonical_smiles() == canonical);
  CHECK(molecule("C1=CC=CC=C1C(=O)O").canonical_smiles() == canonical);
  CHECK(molecule("[H]OC(=O)c1ccccc1").canonical_smiles() == canonical);
  CHECK(molecule(canonical).canonical_smiles() == canonical);
}

TEST_CASE("the key without stereo marks is the same for both hands and for the flat drawing") {
  const std::string flat = molecule("CC(N)C(=O)O").canonical_smiles_without_stereo();
  const Molecule left = molecule("C[C@H](N)C(=O)O");
  const Molecule right = molecule("C[C@@H](N)C(=O)O");
  CHECK(left.canonical_smiles_without_stereo() == flat);
  CHECK(right.canonical_smiles_without_stereo() == flat);
  CHECK(left.canonical_smiles() != right.canonical_smiles());
  CHECK(molecule("OC(=O)/C=C/C(=O)O").canonical_smiles_without_stereo() ==
        molecule("OC(=O)/C=C\\C(=O)O").canonical_smiles_without_stereo());
}

TEST_CASE("formula, molar mass and heavy atoms are those of the text books") {
  // source: sums of the atomic masses C 12.011, H 1.008, O 15.999, N 14.007, Na 22.990
  const Molecule aspirin = molecule("CC(=O)Oc1ccccc1C(=O)O");
  CHECK(aspirin.formula() == "C9H8O4");
  CHECK(aspirin.molar_mass_g_mol() == doctest::Approx(180.159).epsilon(1e-5));
  CHECK(aspirin.heavy_atom_count() == 13);
  const Molecule salt = molecule("[Na+].[O-]C(=O)c1ccccc1");
  CHECK(salt.formula() == "C7H5NaO2");
  CHECK(salt.molar_mass_g_mol() == doctest::Approx(144.105).epsilon(1e-5));
}

TEST_CASE("a text without any atom but hydrogen and attachment points is no structure") {
  for (const char* smiles : {"[H][H]", "[H+]", "*", "**"}) {
    CAPTURE(smiles);
    CHECK(std::holds_alternative<SmilesFault>(parse_smiles(smiles)));
  }
}

TEST_CASE("whatever is typed, the answer is a molecule or a fault inside the text") {
  const std::vector<std::string> seeds = {"CC(=O)Oc1ccccc1C(=O)O",
                                          "[Na+].[O-]C(=O)c1ccccc1",
                                          "C[C@H](N)C(=O)O",
                                          "Cn1c(=O)c2c(ncn2C)n(C)c1=O",
                                          "C1CC2CCC1C2",
                                          "F/C=C/Cl",
                                          "O=[N+]([O-])c1cccc(C#N)c1"};
  const std::string alphabet = "()[]=#:/\\.-+@%0123456789CNOPSFIBHcnopsbrl*~<> {}";
  std::mt19937 random(20220901);
  int molecules = 0;
  int faults = 0;
  for (int trial = 0; trial < 6000; ++trial) {
    std::string text = seeds[random() % seeds.size()];
    const unsigned int changes = 1 + static_cast<unsigned int>(random() % 4);
    for (unsigned int change = 0; change < changes; ++change) {
      const std::size_t place = random() % (text.size() + 1);
      const char letter = alphabet[random() % alphabet.size()];
      if (random() % 2 == 0) {
        text.insert(place, 1, letter);
      } else if (place < text.size()) {
        text[place] = letter;
      }
    }
    CAPTURE(text);
    const auto parsed = parse_smiles(text);
    if (const auto* fault = std::get_if<SmilesFault>(&parsed)) {
      ++faults;
      CHECK(fault->position + fault->width <= text.size());
      CHECK(fault->width >= 1);
      CHECK_FALSE(fault->reason.empty());
    } else {
      ++molecules;
      const Molecule& found = std::get<Molecule>(parsed);
      CHECK(found.heavy_atom_count() > 0);
      static_cast<void>(found.kind());
    }
  }
  CHECK(molecules > 300);
  CHECK(faults > 3000);
}
