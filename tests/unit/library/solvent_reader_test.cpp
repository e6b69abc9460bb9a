#include "library/solvent_reader.hpp"

#include <algorithm>

#include "temporary_library.hpp"

using namespace firstcrop;

namespace {

const Solvent& record(const std::string& id) {
  return project_library().solvent(*project_library().find_id(id));
}

}  // namespace

TEST_SUITE("solvent records") {
  TEST_CASE("values arrive in the units that their names say") {
    const Solvent& methanol = record("methanol");
    CHECK(methanol.boiling_point_k->value == doctest::Approx(337.8).epsilon(1e-3));
    CHECK(methanol.molar_mass_g_mol->value == doctest::Approx(32.042));
    CHECK(methanol.density_25c_g_ml->value == doctest::Approx(0.787).epsilon(2e-3));
    CHECK(methanol.viscosity_mpa_s->value == doctest::Approx(0.544).epsilon(2e-2));
    CHECK(methanol.dipole_d->value == doctest::Approx(1.70).epsilon(1e-2));
    CHECK(methanol.enthalpy_of_vaporization_kj_mol->value == doctest::Approx(35.21).epsilon(1e-3));
    CHECK(methanol.lower_flammable_limit.value < methanol.upper_flammable_limit.value);
    CHECK(methanol.upper_flammable_limit.value == doctest::Approx(0.36));
    CHECK(methanol.q3c_limit_ppm.value == doctest::Approx(3000));
    CHECK(methanol.q3c_daily_mg.value == doctest::Approx(30));
    CHECK(methanol.osha_limit_ppm.value == doctest::Approx(200));
    CHECK(methanol.hansen_h->value == doctest::Approx(22.3));
    REQUIRE(methanol.abraham.has_value());
    CHECK(methanol.abraham->size() == 6);
    CHECK(methanol.abraham_spread > 0);
  }

  TEST_CASE("molar volume, vapour pressure and temperature class are computed from the record") {
    for (const Solvent& s : project_library().solvents()) {
      REQUIRE(s.molar_volume_ml_mol.has_value());
      CHECK(s.molar_volume_ml_mol->value ==
            doctest::Approx(s.molar_mass_g_mol->value / s.density_25c_g_ml->value));
      if (s.antoine)
        CHECK(s.vapour_pressure_25c_kpa->value == doctest::Approx(s.antoine->pressure_kpa(298.15)));
    }
    CHECK(record("carbon-disulfide").temperature_class.value == "T6");
    CHECK(record("diethyl-ether").temperature_class.value == "T4");
    CHECK(record("acetone").temperature_class.value == "T1");
    CHECK(record("water").temperature_class.knowledge == Knowledge::NoneKnown);
    CHECK(record("cyclopentanone").temperature_class.knowledge == Knowledge::Unknown);
  }

  TEST_CASE("none known is told from not checked") {
    CHECK(record("chloroform").flash_point_k.knowledge == Knowledge::NoneKnown);
    CHECK(holds(record("dichloromethane").flash_point_k.basis, "vapour burns"));
    CHECK(record("methanol").iarc_group.knowledge == Knowledge::Unknown);
    CHECK(record("methanol").peroxide_class.knowledge == Knowledge::Unknown);
    CHECK(record("diisopropyl-ether").peroxide_class.value == "A");
    CHECK(record("water").hazard_statements.knowledge == Knowledge::NoneKnown);
    CHECK(record("water").q3c_class.value == "not-listed");
    CHECK(record("benzene").q3c_daily_mg.knowledge == Knowledge::NoneKnown);
    CHECK(record("formamide").autoignition_k.knowledge == Knowledge::Unknown);
  }

  TEST_CASE("groups that only hint are marked, and mean counts are kept") {
    CHECK(record("benzonitrile").unifac->hint_only);
    CHECK(record("petroleum-ether-40-60").unifac->stand_in);
    CHECK_FALSE(record("petroleum-ether-40-60").unifac->hint_only);
    CHECK_FALSE(record("ethanol").unifac->stand_in);
    const auto& counts = record("ethanol-95").unifac->counts;
    CHECK(counts.at(14) + counts.at(16) == doctest::Approx(1));
  }

  TEST_CASE("mixtures are told from compounds") {
    const auto& solvents = project_library().solvents();
    CHECK(std::count_if(solvents.begin(), solvents.end(), [](const Solvent& s) { return s.is_mixture; }) ==
          5);
  }

  TEST_CASE("what was recalled keeps saying so") {
    CHECK(holds(record("cyclopentyl-methyl-ether").density_25c_g_ml->source, "memory"));
    CHECK(holds(project_library().source_text(record("cyclopentyl-methyl-ether").density_25c_g_ml->source),
                "recalled"));
  }
}
