#include "facts/catalogue.hpp"

#include <doctest/doctest.h>

#include "base/error.hpp"

using namespace firstcrop;

namespace {

Catalogue small_catalogue() {
  Catalogue out;
  out.add({"solute.melting_point", FactType::Number, dimension::kTemperature, "°C", "melts", {}});
  out.add({"solvent.boiling_point", FactType::Number, dimension::kTemperature, "°C", "boils", {}});
  out.add({"system.is_pair", FactType::Flag, {}, "", "two solvents", {}});
  return out;
}

}  // namespace

TEST_CASE("a fact is found by its name and keeps its description") {
  const Catalogue catalogue = small_catalogue();
  const auto found = catalogue.find("solute.melting_point");
  REQUIRE(found);
  CHECK(found->component == Component::None);
  CHECK(catalogue.info(found->fact).shown_unit == "°C");
  CHECK(catalogue.name_of(*found) == "solute.melting_point");
}

TEST_CASE("good and poor name the component facts of solvent") {
  const Catalogue catalogue = small_catalogue();
  const auto each = catalogue.find("solvent.boiling_point");
  const auto good = catalogue.find("good.boiling_point");
  const auto poor = catalogue.find("poor.boiling_point");
  REQUIRE((each && good && poor));
  CHECK(each->fact == good->fact);
  CHECK(each->component == Component::Each);
  CHECK(good->component == Component::Good);
  CHECK(catalogue.name_of(*poor) == "poor.boiling_point");
  CHECK(catalogue.is_component(each->fact));
  CHECK_FALSE(catalogue.is_component(catalogue.find("system.is_pair")->fact));
}

TEST_CASE("good and poor have no facts of the system") {
  const Catalogue catalogue = small_catalogue();
  CHECK_FALSE(catalogue.find("good.is_pair"));
  CHECK_FALSE(catalogue.find("boiling_point"));
  CHECK_FALSE(catalogue.find(""));
}

TEST_CASE("the nearest name mends a slip of the pen, or of the scope") {
  const Catalogue catalogue = small_catalogue();
  CHECK(catalogue.nearest("solute.meltingpoint") == "solute.melting_point");
  CHECK(catalogue.nearest("poor.boilingpoint") == "poor.boiling_point");
  CHECK(catalogue.nearest("mixture.melting_point") == "solute.melting_point");
  CHECK_FALSE(catalogue.nearest("weather"));
  CHECK_FALSE(catalogue.nearest("plan.colour_of_the_cap"));
}

TEST_CASE("a second fact of one name is a fault of the program") {
  Catalogue catalogue = small_catalogue();
  CHECK_THROWS_AS(catalogue.add({"system.is_pair", FactType::Flag, {}, "", "", {}}), Error);
  CHECK(catalogue.size() == 3);
}
