#include "systems/borrowed_traits.hpp"

#include <doctest/doctest.h>
#include <unistd.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <string>

#include "knowledge_fixture.hpp"
#include "solubility/prior.hpp"
#include "systems/solubility_rows.hpp"

namespace firstcrop {
namespace {

// The record of a library solvent without what the model wants of it.
Solvent as_users(const std::string& id) {
  Solvent out = fixture::knowledge().library.solvent(fixture::solvent(id));
  out.id += "-own";
  out.abraham.reset();
  out.hansen_d = out.hansen_p = out.hansen_h = std::nullopt;
  return out;
}

BorrowedTraits borrowed(const Solvent& solvent, const std::string& left_out) {
  const KnowledgeBase& base = fixture::knowledge();
  return borrow_traits(solvent, base.library, base.phase.parameters(), base.model, fixture::solvent(left_out)).value();
}

std::string id_of(SolventId solvent) {
  return fixture::knowledge().library.solvent(solvent).id;
}

KnowledgeBase with_own(const std::string& records) {
  const std::string name = "firstcrop-borrowed-traits-" + std::to_string(getpid()) + ".yaml";
  const std::string path = (std::filesystem::temp_directory_path() / name).string();
  std::ofstream(path) << "format: firstcrop solvents 1\nsolvents:\n" << records;
  Findings findings;
  auto loaded = load_knowledge({FIRSTCROP_SOURCE_DIR, std::nullopt, {path}}, findings);
  std::filesystem::remove(path);
  for (const Finding& finding : findings.sorted()) FAIL_CHECK(to_text(finding));
  REQUIRE(loaded.has_value());
  return std::move(*loaded);
}

}  // namespace

TEST_CASE("an alkane borrows from alkanes, an alcohol from alcohols") {
  const BorrowedTraits alkane = borrowed(as_users("heptane"), "heptane");
  CHECK(alkane.traits.hydrocarbon_share > 0.9);
  const BorrowedTraits alcohol = borrowed(as_users("1-butanol"), "1-butanol");
  for (std::size_t i = 0; i < 2; ++i) {
    const std::string lender = id_of(alcohol.lenders.at(i).first);
    CAPTURE(lender);
    CHECK(lender.find("ol") != std::string::npos);
  }
  double sum = 0;
  for (const auto& [solvent, weight] : alcohol.lenders) sum += weight;
  CHECK(sum == doctest::Approx(1));
}

TEST_CASE("the less a record holds, the wider the spread, and the keys that would help are named") {
  Solvent known = as_users("ethyl-acetate");
  const BorrowedTraits much = borrowed(known, "ethyl-acetate");
  known.classes.clear();
  known.unifac.reset();
  known.polarity.reset();
  known.molar_volume_ml_mol.reset();
  known.log_kow = known.dipole_d = known.refractive_index = std::nullopt;
  const BorrowedTraits little = borrowed(known, "ethyl-acetate");
  CHECK(little.traits.borrowed_variance > much.traits.borrowed_variance);
  CHECK(little.compared == std::vector<std::string>{"boiling point", "permittivity"});
  for (const char* key : {"smiles", "polarity", "classes", "density", "hansen", "log_kow"})
    CHECK(std::find(little.helpful.begin(), little.helpful.end(), key) != little.helpful.end());
}

TEST_CASE("a solvent with borrowed traits is judged as assumed, with a wider range than its lender") {
  const KnowledgeBase base = with_own(
      "- id: own-ester\n  name: own ester\n  smiles: \"CCC(=O)OC\"\n  boiling_point: 80 °C\n  density: 0.915 g/mL\n"
      "- id: own-bottle\n  name: own bottle\n  boiling_point: 80 °C\n  permittivity: 6\n");
  const SolventId ester = fixture::solvent("own-ester", base);
  const SolventId bottle = fixture::solvent("own-bottle", base);
  REQUIRE(base.in_model(ester).has_value());
  REQUIRE(base.in_model(bottle).has_value());
  CHECK(base.is_borrowed({ester}));
  CHECK_FALSE(base.is_borrowed({fixture::solvent("ethanol", base)}));
  CHECK(*base.molar_volume_ml_mol(ester) == doctest::Approx(88.11 / 0.915).epsilon(1e-3));
  CHECK(*base.molar_volume_ml_mol(bottle) > 50);
  const Inquiry inquiry = fixture::inquiry(fixture::solute("smiles: \"COc1cc(C=O)ccc1O\"\nmelting_point: 82 °C\n", base),
                                           {}, true, base);
  const SolubilityRow row = solubility_at(inquiry, System{{ester}, 1}, 298.15);
  REQUIRE(row.solubility.has_value());
  CHECK(row.solubility->origin == Origin::Assumed);
  const SolubilityRow lender = solubility_at(inquiry, fixture::system("methyl-acetate", base), 298.15);
  CHECK(row.log10_molar->sd > lender.log10_molar->sd);
  CHECK(std::abs(row.log10_molar->mean - lender.log10_molar->mean) < 0.5);
  const SolubilityRow unknown = solubility_at(inquiry, System{{bottle}, 1}, 298.15);
  CHECK(unknown.log10_molar->sd > row.log10_molar->sd);
}

TEST_CASE("all other numbers are the same with and without a person's own solvent") {
  const KnowledgeBase base = with_own("- id: own-bottle\n  name: own bottle\n  boiling_point: 80 °C\n  permittivity: 6\n");
  const std::string solid = "smiles: \"COc1cc(C=O)ccc1O\"\nmelting_point: 82 °C\n";
  const Inquiry with = fixture::inquiry(fixture::solute(solid, base), {}, true, base);
  const Inquiry without = fixture::inquiry(fixture::solute(solid), {}, true);
  for (std::size_t i = 0; i < without.prior.mean.size(); ++i) {
    CHECK(with.prior.mean[i] == doctest::Approx(without.prior.mean[i]));
    CHECK(with.prior.covariance(i, i) == doctest::Approx(without.prior.covariance(i, i)));
  }
}

}  // namespace firstcrop
