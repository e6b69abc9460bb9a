#include "library/library.hpp"

#include <algorithm>

#include "temporary_library.hpp"

using namespace firstcrop;

namespace {

std::string id_of(const std::string& name) {
  const NameAnswer answer = project_library().find(name);
  return answer.solvent ? project_library().solvent(*answer.solvent).id : "";
}

SolventId id(const std::string& text) {
  const auto found = project_library().find_id(text);
  REQUIRE_MESSAGE(found.has_value(), text);
  return *found;
}

}  // namespace

TEST_SUITE("library") {
  TEST_CASE("ids, names, numbers and aliases find a solvent, whatever their case") {
    CHECK(id_of("methanol") == "methanol");
    CHECK(id_of("ETHYL ACETATE") == "ethyl-acetate");
    CHECK(id_of("Ethyl-Acetate") == "ethyl-acetate");
    CHECK(id_of("141-78-6") == "ethyl-acetate");
    CHECK(id_of("EtOH") == "ethanol");
    CHECK(id_of("MTBE") == "tert-butyl-methyl-ether");
    CHECK(id_of("dcm") == "dichloromethane");
    CHECK(id_of("pet-ether").empty());
    CHECK(id_of("ÄTHANOL") == "ethanol");
    CHECK(id_of("1,2-dichloroethane") == "1-2-dichloroethane");
  }

  TEST_CASE("an ambiguous name asks which solvent is meant") {
    const NameAnswer answer = project_library().find("ether");
    CHECK_FALSE(answer.solvent.has_value());
    CHECK(answer.choices == std::vector<std::string>{"diethyl-ether", "petroleum-ether-40-60"});
  }

  TEST_CASE("a number that several cuts share asks which is meant") {
    CHECK(project_library().find("8032-32-4").choices.size() == 3);
  }

  TEST_CASE("a name with a caveat gives the nearest record and says so") {
    const NameAnswer answer = project_library().find("IMS");
    REQUIRE(answer.solvent.has_value());
    CHECK(project_library().solvent(*answer.solvent).id == "ethanol-95");
    CHECK(holds(answer.remark, "ask for its composition"));
  }

  TEST_CASE("what is no solvent says why") {
    const NameAnswer answer = project_library().find("brine");
    CHECK_FALSE(answer.solvent.has_value());
    CHECK(answer.choices.empty());
    CHECK(holds(answer.remark, "washing only"));
  }

  TEST_CASE("an unknown name suggests the nearest one, and none where nothing is near") {
    CHECK(project_library().find("ethyl acetat").nearest == "ethyl-acetate");
    CHECK_FALSE(project_library().find("unobtainium oxide").nearest.has_value());
  }

  TEST_CASE("every id, full name and single number leads back to its own record") {
    for (const Solvent& solvent : project_library().solvents()) {
      CHECK(id_of(solvent.id) == solvent.id);
      const NameAnswer by_name = project_library().find(solvent.name);
      CHECK_MESSAGE((by_name.solvent && project_library().solvent(*by_name.solvent).id == solvent.id),
                    solvent.name);
    }
  }

  TEST_CASE("the common shelf is the default and `all` holds every solvent") {
    CHECK(project_library().default_shelf_name() == "common");
    const auto common = project_library().shelf("common");
    REQUIRE(common.has_value());
    CHECK(common->solvents.size() == common->reasons.size());
    CHECK(std::find(common->solvents.begin(), common->solvents.end(), id("ethanol")) !=
          common->solvents.end());
    CHECK(std::find(common->solvents.begin(), common->solvents.end(), id("benzene")) ==
          common->solvents.end());
    CHECK(project_library().shelf("all")->solvents.size() == project_library().solvents().size());
    CHECK_FALSE(project_library().shelf("cellar").has_value());
    CHECK(project_library().shelf_names().back() == "all");
  }

  TEST_CASE("the record of a pair is the same in both orders, and a solvent is no pair with itself") {
    for (const char* other : {"water", "heptane", "ethanol-95"}) {
      const auto* record = project_library().miscibility(id("ethanol"), id(other));
      REQUIRE(record != nullptr);
      CHECK(record == project_library().miscibility(id(other), id("ethanol")));
    }
    CHECK(project_library().miscibility(id("water"), id("water")) == nullptr);
    CHECK(project_library().azeotrope(id("ethanol"), id("water")) ==
          project_library().azeotrope(id("water"), id("ethanol")));
    CHECK(project_library().azeotrope(id("ethanol"), id("methanol")) == nullptr);
  }

  TEST_CASE("a habit that is not listed counts as the stated default") {
    CHECK(project_library().habit(id("water")).usual == 1);
    CHECK(project_library().usual(id("ethanol"), id("water")) == 1);
    CHECK(project_library().usual(id("water"), id("ethanol")) == 1);
    CHECK(project_library().usual(id("formamide"), id("anisole")) == doctest::Approx(0.05));
    CHECK(project_library().habit(id("ethanol"), id("water")).published_working == 21);
  }

  TEST_CASE("source keys are explained one by one, with their place") {
    CHECK(holds(project_library().source_text("poling"), "Properties of Gases and Liquids"));
    const std::string two = project_library().source_text("icsc sds-78:78_131");
    CHECK(holds(two, "International Chemical Safety Cards"));
    CHECK(holds(two, "(78_131)"));
    CHECK(project_library().source_text("label of the bottle") == "label of the bottle");
  }

  TEST_CASE("what the crude may contain and the classes that may be banned are offered as words") {
    const auto words = project_library().residue_words();
    CHECK(std::find(words.begin(), words.end(), "acid-traces") != words.end());
    CHECK(std::find(words.begin(), words.end(), "water") != words.end());
    const auto classes = project_library().class_names();
    CHECK(std::is_sorted(classes.begin(), classes.end()));
    CHECK(std::find(classes.begin(), classes.end(), "chlorinated") != classes.end());
    REQUIRE(project_library().condition("long-reflux") != nullptr);
    CHECK(project_library().condition("long-reflux")->when_unstated == ConditionDefault::No);
    CHECK(project_library().condition("nonsense") == nullptr);
  }
}
