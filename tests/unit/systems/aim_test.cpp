#include "systems/aim.hpp"

#include <doctest/doctest.h>

#include <algorithm>

#include "knowledge_fixture.hpp"

namespace firstcrop {
namespace {

const Library& library() {
  return fixture::knowledge().library;
}

Aim made(const SoluteFile& file, const AimOptions& options = {}) {
  Findings findings;
  Aim aim = make_aim(file, options, library(), findings);
  CHECK(findings.empty());
  return aim;
}

std::vector<Finding> faults(const SoluteFile& file, const AimOptions& options = {}) {
  Findings findings;
  static_cast<void>(make_aim(file, options, library(), findings));
  CHECK(findings.has_errors());
  return findings.sorted();
}

bool holds(const Shelf& shelf, const std::string& id) {
  return std::find(shelf.solvents.begin(), shelf.solvents.end(), fixture::solvent(id)) !=
         shelf.solvents.end();
}

}  // namespace

TEST_CASE("who says nothing wants purity, has the common shelf, a 5 °C bath and heats to 110 °C") {
  const Aim aim = made(SoluteFile{});
  CHECK(aim.want == "purity");
  CHECK(aim.shelf.name == library().default_shelf_name());
  CHECK(aim.shelf.solvents.size() > 10);
  CHECK(aim.heating_limit_k == doctest::Approx(383.15));
  CHECK(aim.bath_temperature_k == doctest::Approx(278.15));
  CHECK(aim.room_temperature_k == doctest::Approx(298.15));
  CHECK(aim.altitude_m == 0);
  CHECK(aim.mass_mg == 1000);
  CHECK_FALSE(aim.mass_given);
  CHECK_FALSE(aim.open_flame);
  CHECK(aim.peroxide_test == "not-tested");
}

TEST_CASE("the file outranks the defaults") {
  const Aim aim =
      made(fixture::solute("crude: {mass: 2.5 g}\n"
                           "aim:\n  want: yield\n  shelf: [water, ethanol]\n"
                           "  heating_limit: 90 °C\n  bath_temperature: -10 °C\n  altitude: 1500 m\n"));
  CHECK(aim.want == "yield");
  REQUIRE(aim.shelf.solvents.size() == 2);
  CHECK(holds(aim.shelf, "ethanol"));
  CHECK(aim.heating_limit_k == doctest::Approx(363.15));
  CHECK(aim.bath_temperature_k == doctest::Approx(263.15));
  CHECK(aim.altitude_m == doctest::Approx(1500));
  CHECK(aim.mass_mg == doctest::Approx(2500));
  CHECK(aim.mass_given);
}

TEST_CASE("options outrank the file") {
  AimOptions options;
  options.want = "large-crystals";
  options.shelf = "teaching";
  options.heating_limit_k = 353.15;
  options.bath_temperature_k = 283.15;
  options.altitude_m = 200;
  options.mass_mg = 70;
  const Aim aim =
      made(fixture::solute("crude: {mass: 2.5 g}\n"
                           "aim:\n  want: yield\n  shelf: [water, methanol]\n"
                           "  heating_limit: 90 °C\n  bath_temperature: -10 °C\n  altitude: 1500 m\n"),
           options);
  CHECK(aim.want == "large-crystals");
  CHECK(aim.shelf.name == "teaching");
  CHECK_FALSE(holds(aim.shelf, "methanol"));
  CHECK(aim.heating_limit_k == doctest::Approx(353.15));
  CHECK(aim.bath_temperature_k == doctest::Approx(283.15));
  CHECK(aim.altitude_m == doctest::Approx(200));
  CHECK(aim.mass_mg == doctest::Approx(70));
}

TEST_CASE("a shelf is a name, or solvents parted by commas, each once") {
  AimOptions options;
  options.shelf = "water,ethanol,EtOH";
  const Aim aim = made(SoluteFile{}, options);
  CHECK(aim.shelf.solvents.size() == 2);
  CHECK(holds(aim.shelf, "water"));
  CHECK(holds(aim.shelf, "ethanol"));
}

TEST_CASE("solvents left out are not on the shelf") {
  AimOptions options;
  options.without = {"ethanol", "MeOH"};
  const Aim aim = made(SoluteFile{}, options);
  CHECK_FALSE(holds(aim.shelf, "ethanol"));
  CHECK_FALSE(holds(aim.shelf, "methanol"));
  CHECK(aim.shelf.solvents.size() + 2 == made(SoluteFile{}).shelf.solvents.size());
}

TEST_CASE("an unknown shelf is a finding that names the nearest") {
  AimOptions options;
  options.shelf = "teachin";
  const auto findings = faults(SoluteFile{}, options);
  REQUIRE(findings.size() == 1);
  CHECK(findings[0].place.path == "--shelf");
  CHECK(findings[0].help.find("teaching") != std::string::npos);
}

TEST_CASE("every unknown solvent is a finding at its place") {
  AimOptions options;
  options.shelf = "water,ethanoll,heptanne";
  CHECK(faults(SoluteFile{}, options).size() == 2);

  AimOptions without;
  without.without = {"ethanoll"};
  CHECK(faults(SoluteFile{}, without)[0].place.path == "--without");

  AimOptions file;
  file.shelf = "my-shelf.yaml";
  file.shelf_file = {{"water", Place{"my-shelf.yaml", 1, 3, 5, "- water"}},
                     {"ethanoll", Place{"my-shelf.yaml", 2, 3, 8, "- ethanoll"}}};
  const auto in_file = faults(SoluteFile{}, file);
  REQUIRE(in_file.size() == 1);
  CHECK(in_file[0].place == file.shelf_file[1].place);
}

TEST_CASE("an empty shelf is a finding") {
  AimOptions options;
  options.shelf = "water";
  options.without = {"water"};
  CHECK(faults(SoluteFile{}, options)[0].message == "no solvent is left on the shelf");
}

TEST_CASE("a bath hardly colder than the heating limit is a finding") {
  AimOptions options;
  options.heating_limit_k = 310;
  options.bath_temperature_k = 300;
  CHECK(faults(SoluteFile{}, options)[0].place.path == "--bath");
  const auto in_file = faults(fixture::solute("aim: {heating_limit: 40 °C, bath_temperature: 30 °C}\n"));
  CHECK(in_file[0].place.path == "solid.yaml");
  CHECK(in_file[0].place.line == 3);
  options.bath_temperature_k = 290;
  made(SoluteFile{}, options);
}

}  // namespace firstcrop
