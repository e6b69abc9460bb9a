// What handbooks and journals say of solvents, pairs and reactions, against the records of the library.
#include <algorithm>
#include <cmath>
#include <set>

#include <doctest/doctest.h>

#include "external/csv_table.hpp"
#include "library/library_loader.hpp"
#include "structure/molecule.hpp"

using namespace firstcrop;

namespace {

constexpr double kCelsiusZeroK = 273.15;
constexpr double kGasConstant = 8.314462618e-3;  // kJ/mol/K

const Library& library() {
  static const LoadedLibrary loaded = load_library(std::string(FIRSTCROP_SOURCE_DIR) + "/solvents");
  REQUIRE(loaded.library.has_value());
  return *loaded.library;
}

SolventId solvent(const std::string& id) {
  const auto found = library().find_id(id);
  REQUIRE_MESSAGE(found.has_value(), id);
  return *found;
}

// Whether a row speaks of a solid with these groups where a person stated nothing.
bool speaks_unstated(const Incompatibility& row, const std::set<std::string>& groups) {
  const auto holds = [&groups](const std::string& token) {
    if (groups.contains(token)) return true;
    const Condition* condition = library().condition(token);
    return condition != nullptr && condition->when_unstated == ConditionDefault::Yes;
  };
  for (const std::string& condition : row.conditions) {
    bool any = false;
    for (std::size_t start = 0; start <= condition.size();) {
      const std::size_t end = std::min(condition.find(" or ", start), condition.size());
      any = any || holds(condition.substr(start, end - start));
      start = end + 4;
    }
    if (!any) return false;
  }
  const auto in_groups = [&groups](const std::string& token) { return groups.contains(token); };
  if (std::any_of(row.exceptions.begin(), row.exceptions.end(), in_groups)) return false;
  return row.between_solvents || row.party_b.empty() ||
         std::any_of(row.party_b.begin(), row.party_b.end(), in_groups);
}

std::vector<SolventId> solvents_of(const std::string& system) {
  const std::size_t plus = system.find('+');
  if (plus == std::string::npos) return {solvent(system)};
  return {solvent(system.substr(0, plus)), solvent(system.substr(plus + 1))};
}

}  // namespace

TEST_SUITE("library facts") {
  TEST_CASE("vapour pressures and densities away from the fitted point agree with handbooks") {
    for (const CsvRow& row : read_csv_table("library_numbers.csv")) {
      CAPTURE(row.at("solvent"));
      CAPTURE(row.at("quantity"));
      CAPTURE(row.at("at_c"));
      const Solvent& s = library().solvent(solvent(row.at("solvent")));
      const double temperature_k = number(row, "at_c") + kCelsiusZeroK;
      const bool pressure = row.at("quantity") == "vapour_pressure";
      const double found =
          pressure ? s.antoine->pressure_kpa(temperature_k) : s.density->density_g_ml(temperature_k);
      CHECK(found == doctest::Approx(number(row, "value")).epsilon(number(row, "tolerance_percent") / 100));
    }
  }

  // Clausius and Clapeyron: the slope of the vapour pressure is the heat of vaporization, less 3 to 6 % for
  // the gas imperfection at one atmosphere. The dimerised vapours of the two acids break it.
  TEST_CASE("heats of vaporization follow from the slope of the vapour pressure") {
    for (const Solvent& s : library().solvents()) {
      if (s.id == "acetic-acid" || s.id == "formic-acid") continue;
      CAPTURE(s.id);
      const double t = s.boiling_point_k->value;
      const double slope = std::log(10.0) * s.antoine->b * std::pow(t / (t + s.antoine->c), 2);
      CHECK(s.enthalpy_of_vaporization_kj_mol->value ==
            doctest::Approx(0.955 * kGasConstant * slope).epsilon(0.10));
    }
  }

  TEST_CASE(
      "a liquid takes more heat to vaporize at 25 °C than at its boiling point, dimerised vapours apart") {
    for (const Solvent& s : library().solvents()) {
      if (s.id == "acetic-acid" || s.id == "formic-acid") continue;
      CAPTURE(s.id);
      CHECK(s.enthalpy_of_vaporization_25c_kj_mol->value > s.enthalpy_of_vaporization_kj_mol->value);
    }
  }

  // The vapour over a liquid at its closed-cup flash point is about the lower flammable limit. Carbon
  // disulfide flashes lower than listed; the open-cup value of formamide is no such flash point.
  TEST_CASE("the vapour at the flash point is near the lower flammable limit") {
    int compared = 0;
    int within_a_factor_of_two = 0;
    for (const Solvent& s : library().solvents()) {
      const bool known = s.flash_point_k.knowledge == Knowledge::Value &&
                         s.lower_flammable_limit.knowledge == Knowledge::Value &&
                         s.flash_point_k.basis.starts_with("closed cup");
      if (!known || s.id == "carbon-disulfide") continue;
      const double share = s.antoine->pressure_kpa(s.flash_point_k.value) / 101.325;
      const double ratio = share / s.lower_flammable_limit.value;
      ++compared;
      if (ratio > 0.5 && ratio < 2) ++within_a_factor_of_two;
      CAPTURE(s.id);
      CHECK(ratio > 0.4);
      CHECK(ratio < 2.5);
    }
    CHECK(compared >= 60);
    CHECK(within_a_factor_of_two >= compared * 9 / 10);
  }

  TEST_CASE("miscibilities, critical temperatures and azeotropes are those in print") {
    for (const CsvRow& row : read_csv_table("library_pairs.csv")) {
      CAPTURE(row.at("first"));
      CAPTURE(row.at("second"));
      CAPTURE(row.at("fact"));
      const SolventId first = solvent(row.at("first"));
      const SolventId second = solvent(row.at("second"));
      if (row.at("fact") == "azeotrope") {
        const AzeotropeRecord* record = library().azeotrope(first, second);
        REQUIRE(record != nullptr);
        const std::string& value = row.at("value");
        CHECK(record->temperature_k - kCelsiusZeroK == doctest::Approx(std::stod(value)).epsilon(1e-3));
        CHECK(record->first_weight_percent == doctest::Approx(std::stod(value.substr(value.find('/') + 1))));
        continue;
      }
      const MiscibilityRecord* record = library().miscibility(first, second);
      REQUIRE(record != nullptr);
      if (row.at("fact") == "ucst") {
        REQUIRE(record->upper_critical_temperature_k.has_value());
        CHECK(*record->upper_critical_temperature_k - kCelsiusZeroK == doctest::Approx(number(row, "value")));
        CHECK_FALSE(record->upper_critical_from_memory);
      } else {
        CHECK(name_of(record->miscibility) == row.at("fact"));
      }
    }
  }

  TEST_CASE("pairs that split in an ice bath though they mix at 25 °C carry their critical temperature") {
    int found = 0;
    for (const MiscibilityRecord& record : library().miscibilities()) {
      if (record.miscibility != MiscibilityClass::Miscible || !record.upper_critical_temperature_k) continue;
      if (*record.upper_critical_temperature_k > 278.15) ++found;
    }
    CHECK(found >= 5);
  }

  TEST_CASE("reactions on record are as grave as their sources say") {
    for (const CsvRow& row : read_csv_table("library_reactions.csv")) {
      CAPTURE(row.at("solvent"));
      CAPTURE(row.at("with"));
      const SolventId first = solvent(row.at("solvent"));
      const auto second = library().find_id(row.at("with"));
      std::string gravest = "none";
      ReactionSeverity worst = ReactionSeverity::Caution;
      for (const Incompatibility& reaction : library().incompatibilities()) {
        const auto& groups = reaction.party_b;
        const bool speaks = second
                                ? reaction.between_solvents && reaction.concerns(first, *second)
                                : !reaction.between_solvents && reaction.concerns(first) &&
                                      std::find(groups.begin(), groups.end(), row.at("with")) != groups.end();
        if (!speaks || (gravest != "none" && reaction.severity <= worst)) continue;
        worst = reaction.severity;
        gravest = std::string(name_of(worst));
      }
      CHECK(gravest == row.at("severity"));
    }
  }

  TEST_CASE("published working recrystallizations are never forbidden, and hardly one raises an alarm") {
    int alarms = 0;
    for (const CsvRow& row : read_csv_table("working_systems.csv")) {
      CAPTURE(row.at("compound"));
      CAPTURE(row.at("system"));
      const auto read = parse_smiles(row.at("smiles"));
      const Molecule* molecule = std::get_if<Molecule>(&read);
      REQUIRE(molecule != nullptr);
      const auto perceived = library().groups().perceive(*molecule);
      const std::set<std::string> groups(perceived.begin(), perceived.end());
      const std::vector<SolventId> solvents = solvents_of(row.at("system"));
      bool alarm = false;
      for (const Incompatibility& reaction : library().incompatibilities()) {
        const bool concerned = reaction.between_solvents
                                   ? solvents.size() == 2 && reaction.concerns(solvents[0], solvents[1])
                                   : std::any_of(solvents.begin(), solvents.end(),
                                                 [&reaction](SolventId id) { return reaction.concerns(id); });
        if (!concerned || !speaks_unstated(reaction, groups)) continue;
        CAPTURE(reaction.id);
        CHECK(reaction.severity < ReactionSeverity::Reacts);
        alarm = true;
      }
      if (alarm) ++alarms;
    }
    CHECK(alarms <= 1);
  }

  TEST_CASE("no compound of the library is named by a group of its own that reacts with it") {
    // A solvent is stable in itself: its structure, taken as a solid, meets no row of the same solvent.
    for (const Solvent& s : library().solvents()) {
      CAPTURE(s.id);
      const auto read = parse_smiles(s.smiles);
      const Molecule* molecule = std::get_if<Molecule>(&read);
      REQUIRE(molecule != nullptr);
      const auto perceived = library().groups().perceive(*molecule);
      const std::set<std::string> groups(perceived.begin(), perceived.end());
      for (const Incompatibility& reaction : library().incompatibilities()) {
        if (reaction.between_solvents || !reaction.concerns(solvent(s.id))) continue;
        if (!speaks_unstated(reaction, groups)) continue;
        CAPTURE(reaction.id);
        CHECK(reaction.severity < ReactionSeverity::Dangerous);
      }
    }
  }
}
