#include "structure/repetition.hpp"

#include <doctest/doctest.h>

#include <string>

#include "structure/molecule_data.hpp"
#include "structure_files.hpp"

using namespace firstcrop;

namespace {

double share(const std::string& smiles) {
  return detail::repeated_share(*structure_files::molecule(smiles).data().molecule);
}

}  // namespace

TEST_CASE("chains of equal units repeat themselves, small molecules do not") {
  std::string styrene = "C";
  for (int unit = 0; unit < 10; ++unit) styrene += "CC(c1ccccc1)";
  CHECK(share(styrene) > 0.8);
  CHECK(share("CC(=O)Oc1ccccc1C(=O)O") == 0.0);
}

TEST_CASE("a fat of polymer size stays below the chains") {
  const std::string acyl = "C(=O)" + std::string(21, 'C');
  const double fat = share(acyl + "OCC(O" + acyl + ")CO" + acyl);
  CHECK(fat > 0.0);
  CHECK(fat < 0.6);
}
