#include "solute/solute_file.hpp"

#include <algorithm>
#include <string>

#include <doctest/doctest.h>

#include "structure_files.hpp"

namespace firstcrop {
namespace {

const std::string kHead = "format: firstcrop solute 1\nname: crude vanillin, tray 3\n";
const std::string kSmiles = "smiles: \"COc1cc(C=O)ccc1O\"\n";

struct Read {
  std::optional<SoluteFile> file;
  Findings findings;
};

Read read(const std::string& text) {
  static const GroupCatalogue groups = structure_files::catalogue();
  const SoluteVocabulary vocabulary{&groups, {"water", "acid-traces"}, {"chlorinated", "carcinogenic"}};
  Read out;
  out.file = read_solute_file("a.yaml", text, vocabulary, out.findings);
  return out;
}

SoluteFile accepted(const std::string& lines) {
  Read out = read(kHead + lines);
  for (const Finding& finding : out.findings.sorted()) MESSAGE(to_text(finding));
  REQUIRE(out.file);
  return std::move(*out.file);
}

// The finding about a file that must have exactly one error.
Finding refused(const std::string& lines) {
  const Read out = read(kHead + lines);
  CAPTURE(lines);
  CHECK_FALSE(out.file);
  const auto all = out.findings.sorted();
  REQUIRE(all.size() == 1);
  CHECK(all.front().severity == Severity::Error);
  return all.front();
}

}  // namespace

TEST_CASE("format and name are enough") {
  const SoluteFile file = accepted("");
  CHECK(file.name == "crude vanillin, tray 3");
  CHECK_FALSE(file.molecule);
  CHECK_FALSE(file.groups_stated);
  CHECK_FALSE(file.melting_point);
  CHECK_FALSE(file.energetic);
  CHECK(file.trials.empty());
}

TEST_CASE("what is left out is absent, not nought or no") {
  const SoluteFile file = accepted(kSmiles);
  CHECK_FALSE(file.crude_mass);
  CHECK_FALSE(file.aim.open_flame);
  CHECK_FALSE(file.aim.bath_temperature);
  CHECK_FALSE(file.decomposes_at.none_known);
  CHECK_FALSE(file.decomposes_at.temperature);
}

TEST_CASE("without format or name a file is refused") {
  CHECK_FALSE(read("name: x\n").file);
  CHECK_FALSE(read("format: firstcrop solute 1\n").file);
  CHECK_FALSE(read("format: firstcrop solute 2\nname: x\n").file);
}

TEST_CASE("a quoted SMILES is read as a structure") {
  const SoluteFile file = accepted(kSmiles);
  REQUIRE(file.molecule);
  CHECK(file.molecule->molar_mass_g_mol() == doctest::Approx(152.15).epsilon(1e-4));
  CHECK(file.smiles == "COc1cc(C=O)ccc1O");
}

TEST_CASE("a fault in a SMILES is marked at its letter") {
  CHECK(refused("smiles: \"COc1cc(C=O)ccc1Q\"\n").place.column == 25);
  CHECK(refused("smiles: COc1cc(C=O)ccc1Q\n").place.column == 24);
}

TEST_CASE("groups are taken with their parents, by token or by another name") {
  const SoluteFile file = accepted("groups: [carboxamide]\n");
  CHECK(file.groups_stated);
  CHECK(std::find(file.groups.begin(), file.groups.end(), "primary-amide") != file.groups.end());
  const SoluteFile anilide = accepted("groups: [anilide]\n");
  CHECK(std::find(anilide.groups.begin(), anilide.groups.end(), "secondary-amide") != anilide.groups.end());
}

TEST_CASE("structure and groups together are refused") {
  CHECK(refused(kSmiles + "groups: [aldehyde]\n").place.line == 4);
}

TEST_CASE("a molar mass that contradicts the structure is refused, rounding is not") {
  CHECK(refused(kSmiles + "molar_mass: 180.2 g/mol\n").message.find("152.15") != std::string::npos);
  CHECK(accepted(kSmiles + "molar_mass: 152 g/mol\n").molar_mass);
}

TEST_CASE("a melting point is kept in kelvin, a range with both ends") {
  CHECK(accepted("melting_point: 81 °C\n").melting_point->low == doctest::Approx(354.15));
  const SoluteFile file = accepted("crude_melting_range: 74 to 79 °C\n");
  CHECK(file.crude_melting_range->low == doctest::Approx(347.15));
  CHECK(file.crude_melting_range->high == doctest::Approx(352.15));
}

TEST_CASE("a crude that melts far higher than the pure solid is a warning only") {
  const Read out = read(kHead + "melting_point: 81 °C\ncrude_melting_range: 95 to 99 °C\n");
  CHECK(out.file);
  REQUIRE(out.findings.size() == 1);
  CHECK(out.findings.sorted().front().severity == Severity::Warning);
}

TEST_CASE("`none-known` and a temperature of decomposition are different answers") {
  CHECK(accepted("decomposes_at: none-known\n").decomposes_at.none_known);
  const SoluteFile file = accepted("decomposes_at: 180 °C\n");
  CHECK_FALSE(file.decomposes_at.none_known);
  CHECK(file.decomposes_at.temperature->low == doctest::Approx(453.15));
}

TEST_CASE("shares of the crude are fractions") {
  const SoluteFile file = accepted("crude: {mass: 6.0 g, insoluble: 0 to 2 %, moisture: 0.05}\n");
  CHECK(file.crude_mass->low == doctest::Approx(6000));
  CHECK(file.insoluble->high == doctest::Approx(0.02));
  CHECK(file.moisture->low == doctest::Approx(0.05));
}

TEST_CASE("an impurity may be a name alone") {
  const SoluteFile file =
      accepted("impurities:\n- {name: tar}\n- {name: phenol, smiles: \"Oc1ccccc1\", share: 3 %}\n");
  REQUIRE(file.impurities.size() == 2);
  CHECK_FALSE(file.impurities[0].molecule);
  CHECK(file.impurities[1].molecule);
  CHECK(file.impurities[1].share->middle() == doctest::Approx(0.03));
}

TEST_CASE("impurities cannot make up the whole crude") {
  refused("impurities:\n- {name: a, share: 60 %}\n- {name: b, share: 45 %}\n");
}

TEST_CASE("a solubility is read by mass or by amount, per solvent or per solution") {
  const SoluteFile file = accepted(
      "known:\n- {system: water, at: 25 °C, solubility: 1 g/100mL, spread: 20 %}\n"
      "- {system: water, at: 25 °C, solubility: 0.066 mol/L, per: solution}\n");
  REQUIRE(file.known.size() == 2);
  CHECK(file.known[0].solubility->low == doctest::Approx(10));
  CHECK_FALSE(file.known[0].per_solution);
  CHECK(file.known[0].spread == doctest::Approx(0.2));
  CHECK(file.known[1].per_solution);
  CHECK(file.known[1].solubility->unit.dimension == dimension::kMolarConcentration);
}

TEST_CASE("a solubility without temperature, or of nought, is refused") {
  refused("known:\n- {system: water, solubility: 10 mg/mL}\n");
  refused("known:\n- {system: water, at: 25 °C, solubility: 0 mg/mL}\n");
  refused("known:\n- {system: water, at: 25 °C}\n");
}

TEST_CASE("a tube keeps what was seen, and what was not looked at stays absent") {
  const SoluteFile file = accepted(
      "trials:\n- {tube: 010, system: water, mass: 50 mg, volume: 2 mL, cold: part, hot: all, hot_at: "
      "boil}\n");
  REQUIRE(file.trials.size() == 1);
  const Trial& tube = file.trials.front();
  CHECK(tube.tube == "010");
  CHECK(tube.cold == SeenDissolved::Part);
  CHECK(tube.hot == SeenDissolved::All);
  CHECK_FALSE(tube.hot_at);
  CHECK_FALSE(tube.cooled);
  CHECK_FALSE(tube.doubtful);
}

TEST_CASE("a tube without a number is called by its place in the list") {
  const SoluteFile file = accepted(
      "trials:\n- {system: water, mass: 50 mg, volume: 2 mL, cold: none}\n"
      "- {system: water, mass: 50 mg, volume: 2 mL, cold: none}\n");
  CHECK(file.trials[0].tube == "1");
  CHECK(file.trials[1].tube == "2");
}

TEST_CASE("a tube that says nothing, or contradicts itself, is refused") {
  refused("trials:\n- {system: water, mass: 50 mg, volume: 2 mL}\n");
  refused("trials:\n- {system: water, mass: 50 mg, volume: 2 mL, cold: all, hot: part}\n");
}

TEST_CASE("a tube needs mass and volume") {
  CHECK(refused("trials:\n- {system: water, volume: 2 mL, cold: all}\n").message.find("mass") !=
        std::string::npos);
  CHECK(refused("trials:\n- {system: water, mass: 50 mg, cold: all}\n").message.find("volume") !=
        std::string::npos);
}

TEST_CASE("truth values of the aim are `true` and `false` only") {
  CHECK(accepted("aim: {open_flame: true}\n").aim.open_flame == true);
  CHECK(refused("aim: {open_flame: no}\n").help == "write `false`");
  CHECK(refused("energetic: yes\n").help == "write `true`");
}

TEST_CASE("bans and residues come from the vocabulary of the library") {
  CHECK(accepted("aim: {ban: [chlorinated]}\n").aim.ban.front().text == "chlorinated");
  CHECK(refused("aim: {ban: [clorinated]}\n").help == "did you mean `chlorinated`?");
  CHECK(refused("contains: [acid-trace]\n").help == "did you mean `acid-traces`?");
}

TEST_CASE("temperatures of the aim must be those of a laboratory") {
  refused("aim: {room_temperature: 295 °C}\n");
  refused("aim: {bath_temperature: 60 °C}\n");
  refused("aim: {heating_limit: 500 °C}\n");
}

TEST_CASE("all mistakes of a file are told in one run, in the order of the lines") {
  const Read out = read(kHead + "melting_point: 81\nenergetic: no\ncolor: brown\naim: {want: purty}\n");
  CHECK_FALSE(out.file);
  const auto all = out.findings.sorted();
  REQUIRE(all.size() == 4);
  for (std::size_t i = 0; i < all.size(); ++i) CHECK(all[i].place.line == static_cast<int>(i) + 3);
}

TEST_CASE("findings of earlier files do not hinder a good one") {
  const GroupCatalogue groups = structure_files::catalogue();
  Findings findings;
  CHECK_FALSE(read_solute_file("a.yaml", "name: x\n", {&groups, {}, {}}, findings));
  CHECK(read_solute_file("b.yaml", kHead, {&groups, {}, {}}, findings));
  CHECK(findings.has_errors());
}

}  // namespace firstcrop
