#include "systems/solubility_rows.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <string>

#include "knowledge_fixture.hpp"

namespace firstcrop {
namespace {

const std::string kFluorene = "smiles: \"C1c2ccccc2-c2ccccc21\"\nmelting_point: 115 °C\n";
constexpr double kRoomK = 298.15;

System single(const char* id) {
  return System{{fixture::solvent(id)}, 1};
}
System pair(const char* good, const char* poor, double fraction) {
  return System{{fixture::solvent(good), fixture::solvent(poor)}, fraction};
}

double log10_width(const SolubilityRow& row) {
  return std::log10(*row.solubility->high / *row.solubility->low);
}

}  // namespace

TEST_CASE("a solid of the tables has measured and predicted rows, told apart") {
  const Inquiry inquiry = fixture::inquiry(fixture::solute(kFluorene));
  REQUIRE(inquiry.known);
  const SolubilityRow measured = solubility_at(inquiry, single("ethanol"), kRoomK);
  const SolubilityRow predicted = solubility_at(inquiry, single("dimethyl-sulfoxide"), kRoomK);
  CHECK(measured.solubility->origin == Origin::Measured);
  CHECK(predicted.solubility->origin == Origin::Predicted);
  CHECK(log10_width(measured) < log10_width(predicted));
}

TEST_CASE("the measured curve is what is shown: level and slope") {
  const Inquiry inquiry = fixture::inquiry(fixture::solute(kFluorene));
  for (const MeasuredCurve& curve : inquiry.known->curves) {
    if (!curve.level || !curve.enthalpy_kj_mol || curve.solvent != "toluene") continue;
    const SolubilityRow at_room = solubility_at(inquiry, single("toluene"), kRoomK);
    CHECK(at_room.log10_molar->mean == doctest::Approx(*curve.level).epsilon(0.1));
    const SolubilityRow warm = solubility_at(inquiry, single("toluene"), 323.15);
    const double rise = warm.log10_molar->mean - at_room.log10_molar->mean;
    CHECK(rise == doctest::Approx(*curve.enthalpy_kj_mol * tau(323.15)).epsilon(0.2));
  }
}

TEST_CASE("as unknown the tables are not asked, and the ranges are wider") {
  const Inquiry known = fixture::inquiry(fixture::solute(kFluorene));
  const Inquiry unknown = fixture::inquiry(fixture::solute(kFluorene), {}, true);
  CHECK_FALSE(unknown.known);
  const SolubilityRow row = solubility_at(unknown, single("ethanol"), kRoomK);
  CHECK(row.solubility->origin == Origin::Predicted);
  CHECK(log10_width(row) > log10_width(solubility_at(known, single("ethanol"), kRoomK)));
}

TEST_CASE("a melting point that the file does not state is taken from the tables") {
  const Inquiry inquiry = fixture::inquiry(fixture::solute("smiles: \"C1c2ccccc2-c2ccccc21\"\n"));
  CHECK(inquiry.melting_point_origin == Origin::Published);
  CHECK(inquiry.melting_point_sd_k == 0);
  CHECK(inquiry.melting_point_k == doctest::Approx(388).epsilon(0.01));
}

TEST_CASE("a melting point far from the published one is told") {
  Findings findings;
  const auto made = make_inquiry(
      fixture::knowledge(),
      fixture::solute("smiles: \"C1c2ccccc2-c2ccccc21\"\nmelting_point: 80 °C\n"), {}, false, findings);
  REQUIRE(made);
  REQUIRE(findings.sorted().size() == 1);
  const Finding finding = findings.sorted().front();
  CHECK(finding.severity == Severity::Warning);
  CHECK(finding.place.line == 4);
  CHECK(finding.message.find("fluorene") != std::string::npos);
}

TEST_CASE("published systems count as evidence, the file's own word outranks them") {
  const Inquiry inquiry = fixture::inquiry(fixture::solute(kFluorene));
  const SystemEvidence* methanol = inquiry.evidence_of(single("methanol"));
  REQUIRE(methanol != nullptr);
  CHECK(methanol->outcome == "works");
  CHECK(methanol->outcome_from_tables);
  const Inquiry told = fixture::inquiry(
      fixture::solute(kFluorene + "published:\n- {system: methanol, outcome: oils, source: own notebook}\n"));
  CHECK(told.evidence_of(single("methanol"))->outcome == "oils");
  CHECK_FALSE(told.evidence_of(single("methanol"))->outcome_from_tables);
}

TEST_CASE("a temperature outside the liquid range is told, not refused") {
  const Inquiry inquiry = fixture::inquiry(fixture::solute(kFluorene));
  CHECK(solubility_at(inquiry, single("diethyl-ether"), 333.15).remark == "above its boiling point");
  CHECK(solubility_at(inquiry, single("cyclohexane"), 275.15).remark == "below its freezing point");
  CHECK(solubility_at(inquiry, single("1-octanol"), 395.15).remark == "the solid is molten");
  CHECK(solubility_at(inquiry, single("ethanol"), kRoomK).remark.empty());
}

TEST_CASE("a mixture lies between its ends, near each of them at its edge") {
  const Inquiry inquiry = fixture::inquiry(fixture::solute(kFluorene));
  const double good = solubility_at(inquiry, single("ethanol"), 333.15).solubility->value;
  const double poor = solubility_at(inquiry, single("water"), 333.15).solubility->value;
  const double near_good =
      solubility_at(inquiry, pair("ethanol", "water", 0.999), 333.15).solubility->value;
  const double near_poor =
      solubility_at(inquiry, pair("ethanol", "water", 0.001), 333.15).solubility->value;
  const double middle = solubility_at(inquiry, pair("ethanol", "water", 0.5), 333.15).solubility->value;
  CHECK(near_good == doctest::Approx(good).epsilon(0.1));
  CHECK(near_poor == doctest::Approx(poor).epsilon(0.2));
  CHECK(middle < good);
  CHECK(middle > poor);
}

TEST_CASE("the spread for machines leaves out the scatter of a laboratory") {
  const Inquiry inquiry = fixture::inquiry(fixture::solute(kFluorene), {}, true);
  const SolubilityRow row = solubility_at(inquiry, single("heptane"), kRoomK);
  REQUIRE(row.log10_molar);
  const auto index = inquiry.knowledge->in_model(fixture::solvent("heptane"));
  const Moments with_scatter = log10_molar_moments(inquiry.posterior.state, *index, kRoomK);
  CHECK(row.log10_molar->mean == doctest::Approx(with_scatter.mean));
  CHECK(row.log10_molar->sd * row.log10_molar->sd + kLaboratorySd * kLaboratorySd ==
        doctest::Approx(with_scatter.sd * with_scatter.sd).epsilon(1e-6));
}

TEST_CASE("a much poorer solvent clouds the hot solution, a like one does not") {
  const Inquiry inquiry = fixture::inquiry(fixture::solute(kFluorene));
  const auto water = cloud_volume(inquiry, pair("ethanol", "water", 0.5), 345.15);
  REQUIRE(water);
  CHECK(*water->low > 0);
  CHECK(*water->high > *water->low);
  CHECK_FALSE(cloud_volume(inquiry, pair("ethanol", "1-propanol", 0.5), 345.15));
}

TEST_CASE("a hot residue of a crude that holds dirt says little") {
  const std::string tube =
      "trials:\n- {tube: 1, system: heptane, mass: 100 mg, volume: 1 mL, hot: part, cooled: crystals}\n";
  const Inquiry clean = fixture::inquiry(fixture::solute(kFluorene + tube), {}, true);
  const Inquiry dirty = fixture::inquiry(
      fixture::solute(kFluorene + "crude: {mass: 2 g, insoluble: 2 to 5 %}\n" + tube), {}, true);
  const Inquiry untried = fixture::inquiry(fixture::solute(kFluorene), {}, true);
  const auto hot = [](const Inquiry& inquiry) {
    return solubility_at(inquiry, single("heptane"), 365.15).log10_molar->mean;
  };
  CHECK(std::abs(hot(dirty) - hot(untried)) <= std::abs(hot(clean) - hot(untried)) + 1e-9);
}

}  // namespace firstcrop
