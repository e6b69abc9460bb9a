#include "library/incompatibility.hpp"

#include <algorithm>

#include "temporary_library.hpp"

using namespace firstcrop;

namespace {

const Incompatibility& row(const std::string& id) {
  const auto& rows = project_library().incompatibilities();
  const auto found =
      std::find_if(rows.begin(), rows.end(), [&id](const Incompatibility& r) { return r.id == id; });
  REQUIRE_MESSAGE(found != rows.end(), id);
  return *found;
}

SolventId solvent(const std::string& id) {
  return *project_library().find_id(id);
}

}  // namespace

TEST_SUITE("incompatibility") {
  TEST_CASE("a class comes to its solvents, an exclamation mark takes one out") {
    const Incompatibility& active_ester = row("sg020");
    CHECK(active_ester.concerns(solvent("ethanol")));
    CHECK(active_ester.concerns(solvent("water")));
    CHECK_FALSE(active_ester.concerns(solvent("2-propanol")));
    CHECK_FALSE(active_ester.concerns(solvent("acetone")));
    CHECK(row("sg020b").concerns(solvent("2-propanol")));
  }

  TEST_CASE("`any` is every solvent") {
    CHECK(row("sg111").solvents.size() == project_library().solvents().size());
  }

  TEST_CASE("two solvents meet in either order, but not one with itself") {
    const Incompatibility& haloform = row("ss001");
    CHECK(haloform.between_solvents);
    CHECK(haloform.concerns(solvent("chloroform"), solvent("acetone")));
    CHECK(haloform.concerns(solvent("acetone"), solvent("chloroform")));
    CHECK_FALSE(haloform.concerns(solvent("acetone"), solvent("acetone")));
    CHECK_FALSE(haloform.concerns(solvent("acetone"), solvent("ethanol")));
  }

  TEST_CASE("conditions and exceptions are kept apart") {
    const Incompatibility& ester = row("sg007");
    CHECK(ester.conditions == std::vector<std::string>{"acid-traces or long-reflux"});
    CHECK(std::find(ester.exceptions.begin(), ester.exceptions.end(), "zwitterion") !=
          ester.exceptions.end());
    CHECK(ester.party_b == std::vector<std::string>{"carboxylic-acid"});
    CHECK(ester.severity == ReactionSeverity::Caution);
  }

  TEST_CASE(
      "rows of amines speak neither for zwitterions nor for ammonium salts, unless they are dangerous") {
    for (const Incompatibility& r : project_library().incompatibilities()) {
      if (r.between_solvents || r.severity == ReactionSeverity::Dangerous) continue;
      const bool amine = std::any_of(r.party_b.begin(), r.party_b.end(), [](const std::string& group) {
        return group == "primary-amine" || group == "secondary-amine" || group == "tertiary-amine";
      });
      if (!amine) continue;
      for (const char* exempt : {"zwitterion", "amino-acid", "ammonium-salt"}) {
        CHECK_MESSAGE(std::find(r.exceptions.begin(), r.exceptions.end(), exempt) != r.exceptions.end(),
                      r.id);
      }
    }
  }

  TEST_CASE("no solvent pair of the common shelf is dangerous or reacts") {
    const Shelf shelf = *project_library().shelf("common");
    for (const Incompatibility& r : project_library().incompatibilities()) {
      if (!r.between_solvents || r.severity < ReactionSeverity::Reacts) continue;
      for (const SolventId a : shelf.solvents) {
        for (const SolventId b : shelf.solvents) CHECK_FALSE(r.concerns(a, b));
      }
    }
  }

  TEST_CASE("severities are named as in the file") {
    CHECK(name_of(ReactionSeverity::Caution) == "caution");
    CHECK(name_of(ReactionSeverity::Degrades) == "degrades");
    CHECK(name_of(ReactionSeverity::Reacts) == "reacts");
    CHECK(name_of(ReactionSeverity::Dangerous) == "dangerous");
  }
}
