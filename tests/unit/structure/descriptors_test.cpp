#include "structure/descriptors.hpp"

#include <doctest/doctest.h>

#include <cmath>

#include "base/error.hpp"
#include "structure_files.hpp"

using namespace firstcrop;
using structure_files::molecule;

TEST_CASE("McGowan volumes are those of the publication") {
  // source: Abraham & McGowan, Chromatographia 1987, 23, 243; values of V for these liquids, from memory
  CHECK(mcgowan_volume(molecule("c1ccccc1")) == doctest::Approx(0.7164).epsilon(1e-4));
  CHECK(mcgowan_volume(molecule("CCO")) == doctest::Approx(0.4491).epsilon(1e-4));
  CHECK(mcgowan_volume(molecule("O")) == doctest::Approx(0.1673).epsilon(1e-3));
  CHECK(mcgowan_volume(molecule("ClC(Cl)Cl")) == doctest::Approx(0.6167).epsilon(1e-4));
}

TEST_CASE("volume is additive: each methylene adds the same") {
  const double step = mcgowan_volume(molecule("CCCC")) - mcgowan_volume(molecule("CCC"));
  CHECK(step == doctest::Approx(0.1409).epsilon(1e-6));
  CHECK(mcgowan_volume(molecule("CCCCCCCC")) - mcgowan_volume(molecule("CCCCCCC")) == doctest::Approx(step));
}

TEST_CASE(
    "descriptors are the constant and the increments of the matches, acidity and basicity never negative") {
  const DescriptorScheme scheme({{"methyl", "[CX4H3]", {0.1, 0.2, -0.5, 0.3, 1.0}, true},
                                 {"hydroxyl", "[OX2H]", {0.0, 0.0, 0.4, -2.0, 0.5}, true},
                                 {"neighbours", "[CX4][OX2H]", {0.01, 0.0, 0.0, 0.0, 0.0}, false},
                                 {"constant", "", {1.0, 1.0, 0.2, 0.1, 0.0}, false}});
  const SoluteDescriptors ethanol = scheme.descriptors(molecule("CCO"));
  CHECK(ethanol.e == doctest::Approx(1.11));
  CHECK(ethanol.s == doctest::Approx(1.2));
  CHECK(ethanol.a == doctest::Approx(0.1));
  CHECK(ethanol.b == 0.0);
  CHECK(ethanol.l == doctest::Approx(1.5));
  CHECK(scheme.descriptors(molecule("CC")).a == 0.0);
}

TEST_CASE("atoms outside all base fragments are counted, corrections do not cover") {
  const DescriptorScheme scheme({{"methyl", "[CX4H3]", {}, true}, {"any oxygen", "[#6][#8]", {}, false}});
  CHECK(scheme.uncovered_heavy_atoms(molecule("CC")) == 0);
  CHECK(scheme.uncovered_heavy_atoms(molecule("CCO")) == 2);
  const DescriptorScheme full(structure_files::fragments());
  CHECK(full.uncovered_heavy_atoms(molecule("CC(=O)Oc1ccccc1C(=O)O")) == 0);
  CHECK(full.uncovered_heavy_atoms(molecule("C[Se]C")) == 1);
  CHECK(full.uncovered_heavy_atoms(molecule("[Na+].[O-]C(=O)c1ccccc1")) > 0);
}

TEST_CASE("the fragments of the scheme are valid, and a wrong one is refused") {
  const auto fragments = structure_files::fragments();
  CHECK(fragments.size() == 120);
  CHECK_NOTHROW(DescriptorScheme(fragments).check_patterns());
  CHECK_THROWS_AS(DescriptorScheme({{"broken", "[C", {}, true}}), Error);
  CHECK_THROWS_AS(DescriptorScheme({{"broken", "C1CC", {}, true}}).check_patterns(), Error);
}

TEST_CASE("features have their agreed number, and all are finite") {
  const DescriptorScheme scheme(structure_files::fragments());
  for (const char* smiles :
       {"C", "CC(=O)Oc1ccccc1C(=O)O", "[Na+].[Cl-]", "*CC*", "C[Si](C)(C)C", "[U](F)(F)(F)F"}) {
    CAPTURE(smiles);
    const auto features = scheme.structure_features(molecule(smiles));
    CHECK(features.size() == kStructureFeatureCount);
    for (const double feature : features) CHECK(std::isfinite(feature));
    CHECK(group_features(molecule(smiles)).size() == kGroupFeatureCount);
  }
  CHECK(model_group_names().size() == 29);
}

TEST_CASE("features do not depend on how the molecule is written") {
  const DescriptorScheme scheme(structure_files::fragments());
  const auto one = scheme.structure_features(molecule("OC(=O)c1ccccc1OC(C)=O"));
  const auto other = scheme.structure_features(molecule("CC(=O)OC1=CC=CC=C1C(O)=O"));
  for (std::size_t feature = 0; feature < one.size(); ++feature) {
    CAPTURE(feature);
    CHECK(one[feature] == doctest::Approx(other[feature]).epsilon(1e-12));
  }
}

TEST_CASE("ring numbers among the group features stop at three") {
  const auto features = group_features(molecule("c1ccc(-c2ccc(-c3ccc(-c4ccccc4)cc3)cc2)cc1"));
  CHECK(features[29] == 3.0);
  CHECK(group_features(molecule("C1CCC2(CC1)CCC1(CC2)CCC2(CCCCC2)CC1"))[30] == 3.0);
}
