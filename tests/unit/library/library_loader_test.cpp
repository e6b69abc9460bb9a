#include "library/library_loader.hpp"

#include <algorithm>
#include <map>

#include "base/error.hpp"
#include "temporary_library.hpp"

using namespace firstcrop;

TEST_SUITE("library loader") {
  TEST_CASE("the folder of the project is read without a finding") {
    const LoadedLibrary loaded = load_library(library_folder());
    for (const Finding& finding : loaded.findings.sorted()) FAIL_CHECK(to_text(finding));
    REQUIRE(loaded.library.has_value());
    CHECK(loaded.library->solvents().size() == 85);
    CHECK(loaded.library->miscibilities().size() == 85 * 84 / 2);
    CHECK(loaded.library->azeotropes().size() == 221);
    CHECK(loaded.library->incompatibilities().size() == 294);
    CHECK(loaded.library->groups().definitions().size() == 252);
  }

  TEST_CASE("solvents stand in the order of their ids") {
    const auto& solvents = project_library().solvents();
    CHECK(std::is_sorted(solvents.begin(), solvents.end(),
                         [](const Solvent& a, const Solvent& b) { return a.id < b.id; }));
  }

  TEST_CASE("a missing folder or file is an error of the environment, no finding") {
    CHECK_THROWS_AS((void)load_library("/nowhere/at/all"), Error);
    const TemporaryLibrary folder;
    folder.remove("azeotropes.yaml");
    CHECK_THROWS_AS((void)load_library(folder.folder()), Error);
  }

  TEST_CASE("a number without its unit is found at its place") {
    const TemporaryLibrary folder;
    folder.replace("ethers.yaml", "boiling_point: 34.4 °C [crc]", "boiling_point: 34.4 [crc]");
    const std::string findings = folder.findings();
    CHECK(holds(findings, "a temperature needs its unit"));
    CHECK(holds(findings, "help: write `34.4 °C`"));
    CHECK(holds(findings, "ethers.yaml:13:18: error"));
  }

  TEST_CASE("a value of the wrong dimension is found") {
    const TemporaryLibrary folder;
    folder.replace("ethers.yaml", "density: 0.708 g/mL", "density: 0.708 kJ/mol");
    CHECK(holds(folder.findings(), "`kJ/mol` is not a unit of"));
  }

  TEST_CASE("an unknown key suggests the nearest one") {
    const TemporaryLibrary folder;
    folder.replace("ethers.yaml", "  viscosity: 0.2254", "  viscosty: 0.2254");
    const std::string findings = folder.findings();
    CHECK(holds(findings, "solvent `diethyl-ether` has no key `viscosty`"));
    CHECK(holds(findings, "did you mean `viscosity`?"));
  }

  TEST_CASE("a value without a source, or with one that nobody explains, is found") {
    const TemporaryLibrary folder;
    folder.replace("ethers.yaml", "log_kow: 0.89 [crc]", "log_kow: 0.89");
    folder.replace("ethers.yaml", "[poling]", "[polling]");
    const std::string findings = folder.findings();
    CHECK(holds(findings, "this value has no source"));
    CHECK(holds(findings, "the source `polling` is not explained"));
    CHECK(holds(findings, "did you mean `poling`?"));
  }

  TEST_CASE("a library record must say something under every safety key") {
    const TemporaryLibrary folder;
    folder.replace("ethers.yaml", "  iarc_group: unknown\n", "");
    const std::string findings = folder.findings();
    CHECK(holds(findings, "solvent `diethyl-ether` lacks the key `iarc_group`"));
    CHECK(holds(findings, "`unknown` (not checked)"));
  }

  TEST_CASE("two records with one id are found, with the place of the first") {
    const TemporaryLibrary folder;
    folder.replace("ethers.yaml", "- id: diisopropyl-ether", "- id: diethyl-ether");
    const std::string findings = folder.findings();
    CHECK(holds(findings, "the id `diethyl-ether` is taken"));
    CHECK(holds(findings, "it was used here first"));
  }

  TEST_CASE("an id with capitals or blanks is refused") {
    const TemporaryLibrary folder;
    folder.replace("ethers.yaml", "- id: anisole", "- id: Anisole");
    CHECK(holds(folder.findings(), "`Anisole` is not an id"));
  }

  TEST_CASE("a word that no hazard key knows is refused") {
    const TemporaryLibrary folder;
    folder.replace("ethers.yaml", "signal_word: Danger", "signal_word: Peril");
    folder.replace("ethers.yaml", "hazard_statements: H224 H302", "hazard_statements: R12 H302");
    const std::string findings = folder.findings();
    CHECK(holds(findings, "`signal_word` cannot be `Peril`"));
    CHECK(holds(findings, "`R12` does not belong under `hazard_statements`"));
  }

  TEST_CASE("flammable limits and ICH entries that make no sense are refused") {
    const TemporaryLibrary folder;
    folder.replace("ethers.yaml", "flammable_limits: 1.7 % to 39.2 %", "flammable_limits: 39.2 % to 1.7 %");
    folder.replace("ethers.yaml", "q3c: class 3 limit", "q3c: class 4 limit");
    const std::string findings = folder.findings();
    CHECK(holds(findings, "the flammable limits are not understood"));
    CHECK(holds(findings, "the ICH Q3C entry is not understood"));
  }

  TEST_CASE("equations without their range are refused") {
    const TemporaryLibrary folder;
    folder.replace("ethers.yaml", "-41.95 from 229.71 K to 328.31 K", "-41.95");
    folder.replace("ethers.yaml", "abraham: 0.2909 -0.4193", "abraham: 0.2909");
    const std::string findings = folder.findings();
    CHECK(holds(findings, "the range of temperatures is not understood"));
    CHECK(holds(findings, "`abraham` begins with 6 numbers"));
  }

  TEST_CASE("a pair that has no record, or two, is found") {
    TemporaryLibrary folder;
    folder.replace("miscibility.yaml", "  ethanol water miscible", "  ethanol toluene miscible");
    const std::string findings = folder.findings();
    CHECK(holds(findings, "ethanol + toluene stands twice"));
    CHECK(holds(findings, "1 pairs of solvents have no record, the first is ethanol + water"));
  }

  TEST_CASE("an unknown id in a table suggests the nearest one") {
    const TemporaryLibrary folder;
    folder.replace("azeotropes.yaml", "  ethanol toluene", "  ethanol tolune");
    folder.replace("shelves.yaml", "    heptane |", "    heptan |");
    const std::string findings = folder.findings();
    CHECK(holds(findings, "no solvent has the id `tolune`"));
    CHECK(holds(findings, "did you mean `toluene`?"));
    CHECK(holds(findings, "no solvent has the id `heptan`"));
  }

  TEST_CASE("a pair out of alphabetical order is refused") {
    const TemporaryLibrary folder;
    folder.replace("azeotropes.yaml", "  ethanol toluene", "  toluene ethanol");
    CHECK(holds(folder.findings(), "`toluene` comes behind `ethanol` in the alphabet"));
  }

  TEST_CASE("a triangle row of the wrong length is refused") {
    const TemporaryLibrary folder;
    folder.replace("miscibility.yaml", "\n  xylenes ", "\n  xylenes a");
    CHECK(holds(folder.findings(), "letters stand here"));
  }

  TEST_CASE("rows of incompatibilities that name nothing known are refused") {
    const TemporaryLibrary folder;
    folder.replace("incompatibilities.yaml", "class:alcohols | acid-chloride |",
                   "class:alcohol | acid-chlorid |");
    folder.replace("incompatibilities.yaml", "acid-traces or long-reflux", "acid-trace or long-reflux");
    folder.replace("incompatibilities.yaml", "sg002 | reacts", "sg001 | react");
    const std::string findings = folder.findings();
    CHECK(holds(findings, "no solvent or class is called `class:alcohol`"));
    CHECK(holds(findings, "did you mean `class:alcohols`?"));
    CHECK(holds(findings, "did you mean `acid-chloride`?"));
    CHECK(holds(findings, "no condition is called `acid-trace`"));
    CHECK(holds(findings, "the row `sg001` stands twice"));
    CHECK(holds(findings, "did you mean `reacts`?"));
  }

  TEST_CASE("a name that would mean two things is refused") {
    const TemporaryLibrary folder;
    folder.replace("names.yaml", "  ethanol: EtOH;", "  ethanol: EtOH; MEOH;");
    CHECK(holds(folder.findings(), "stands twice"));
  }

  TEST_CASE("a shelf, a habit or a condition that stands twice is refused") {
    const TemporaryLibrary folder;
    folder.replace("shelves.yaml", "    methanol |", "    water |");
    folder.append("habits.yaml", "  water 0.5 1\n");
    folder.replace("shelves.yaml", "default: common", "default: usual");
    const std::string findings = folder.findings();
    CHECK(holds(findings, "`water` stands twice on this shelf"));
    CHECK(holds(findings, "`water` stands twice\n"));
    CHECK(holds(findings, "no shelf is called `usual`"));
  }

  TEST_CASE("a source, a group or a condition that stands twice or makes no sense is refused") {
    const TemporaryLibrary folder;
    folder.append("sources.yaml", "  crc: again\n  two words: a key with a blank\n  no colon here\n");
    folder.replace("conditions.yaml", "  base-traces | residue", "  acid-traces | residu");
    folder.replace("groups.yaml", "  phenol | phenol | c[OX2H]", "  phenol | phenol | c[OX2H");
    folder.replace("descriptor-increments.yaml", "| 3400 | -0.06411", "| 3400 | few");
    const std::string findings = folder.findings();
    CHECK(holds(findings, "the source `crc` stands twice"));
    CHECK(holds(findings, "the key `two words` holds a blank"));
    CHECK(holds(findings, "a colon and a blank must part the key from its meaning"));
    CHECK(holds(findings, "the condition `acid-traces` stands twice"));
    CHECK(holds(findings, "did you mean `residue`?"));
    CHECK(holds(findings, "groups.yaml: error"));
    CHECK(holds(findings, "`few` is not a number"));
  }

  TEST_CASE("names, habits and azeotropes that make no sense are refused") {
    const TemporaryLibrary folder;
    folder.replace("names.yaml", "  limonene | racemic", "  limonene racemic");
    folder.append("habits.yaml", "  ethanol+anisole 0.1 0\n  anisole+benzene 1.5 0\n");
    folder.replace("azeotropes.yaml", "  ethanol toluene 76.7 68 minimum published",
                   "  ethanol toluene - 68 lowest print");
    folder.replace("miscibility.yaml", "\n  xylenes a", "\n  xylenes ?");
    folder.replace("incompatibilities.yaml", "class:alcohols !tert-butanol", "methanol !methanol");
    folder.replace("shelves.yaml", "source: judgement", "source: hearsay");
    const std::string findings = folder.findings();
    CHECK(holds(findings, "an id and a caveat are expected"));
    CHECK(holds(findings, "`ethanol` comes behind `anisole` in the alphabet"));
    CHECK(holds(findings, "habit lies between 0 and 1"));
    CHECK(holds(findings, "an azeotrope needs its boiling temperature"));
    CHECK(holds(findings, "`lowest` is not expected here"));
    CHECK(holds(findings, "`print` is not expected here"));
    CHECK(holds(findings, "the letter `?` means nothing here"));
    CHECK(holds(findings, "this party comes to no solvent at all"));
    CHECK(holds(findings, "the source `hearsay` is not explained"));
  }

  TEST_CASE("a row without its text, its source or its names is refused") {
    const TemporaryLibrary folder;
    folder.replace("incompatibilities.yaml", "  + Forms the ester and hydrogen chloride, with heat.\n", "");
    folder.replace("incompatibilities.yaml", "chlorosilane phosphorus-chloride |  |  | memory",
                   "chlorosilane |  |  |");
    folder.replace("names.yaml", "  ethanol: EtOH;", "  ethanol EtOH;");
    const std::string findings = folder.findings();
    CHECK(holds(findings, "this row does not say what happens"));
    CHECK(holds(findings, "this row has no source"));
    CHECK(holds(findings, "a colon and a blank must part the head of this row from its names"));
  }

  TEST_CASE("all faults of all files are found in one run") {
    const TemporaryLibrary folder;
    folder.replace("ethers.yaml", "log_kow: 0.89 [crc]", "log_kow: 0.89");
    folder.replace("azeotropes.yaml", "  ethanol toluene", "  ethanol tolune");
    folder.replace("names.yaml", "  ethanol: EtOH;", "  ethnol: EtOH;");
    const std::string findings = folder.findings();
    CHECK(holds(findings, "ethers.yaml"));
    CHECK(holds(findings, "azeotropes.yaml"));
    CHECK(holds(findings, "names.yaml"));
  }

  TEST_CASE("a file of another format is not taken for solvents, a misspelt one is told") {
    const TemporaryLibrary folder;
    folder.replace("ethers.yaml", "format: firstcrop solvents 1", "format: firstcrop solvent 1");
    CHECK(holds(folder.findings(), "write `format: firstcrop solvents 1`"));
  }
}

namespace {

const std::string kOwnSolvent =
    "format: firstcrop solvents 1\n"
    "solvents:\n"
    "- id: allyl-alcohol\n"
    "  name: allyl alcohol\n"
    "  boiling_point: 97 °C [label]\n"
    "  classes: alcohols hydroxylic\n";

}  // namespace

TEST_SUITE("users' solvents") {
  TEST_CASE("id, name and boiling point are enough; all else is unknown") {
    const LoadedLibrary loaded = add_solvents(project_library(), "own.yaml", kOwnSolvent);
    for (const Finding& finding : loaded.findings.sorted()) FAIL_CHECK(to_text(finding));
    REQUIRE(loaded.library.has_value());
    const auto id = loaded.library->find_id("allyl-alcohol");
    REQUIRE(id.has_value());
    const Solvent& solvent = loaded.library->solvent(*id);
    CHECK(solvent.from_user);
    CHECK(solvent.boiling_point_k->value == doctest::Approx(370.15));
    CHECK(solvent.boiling_point_k->source == "label");
    CHECK_FALSE(solvent.density_25c_g_ml.has_value());
    CHECK(solvent.flash_point_k.knowledge == Knowledge::Unknown);
    CHECK(solvent.q3c_class.knowledge == Knowledge::Unknown);
    CHECK(loaded.library->find("Allyl Alcohol").solvent == id);
    CHECK(project_library().solvents().size() + 1 == loaded.library->solvents().size());
  }

  TEST_CASE("a pair with a user's solvent has no record, and the library's pairs stay") {
    const LoadedLibrary loaded = add_solvents(project_library(), "own.yaml", kOwnSolvent);
    const auto own = *loaded.library->find_id("allyl-alcohol");
    const auto water = *loaded.library->find_id("water");
    const auto ethanol = *loaded.library->find_id("ethanol");
    CHECK(loaded.library->miscibility(own, water) == nullptr);
    CHECK(loaded.library->azeotrope(own, water) == nullptr);
    CHECK(loaded.library->usual(own, water) == doctest::Approx(0.05));
    CHECK(loaded.library->miscibility(ethanol, water) != nullptr);
  }

  TEST_CASE("rows of a class speak of a user's solvent of that class") {
    const LoadedLibrary loaded = add_solvents(project_library(), "own.yaml", kOwnSolvent);
    const auto own = *loaded.library->find_id("allyl-alcohol");
    const auto& rows = loaded.library->incompatibilities();
    const auto acid_chloride =
        std::find_if(rows.begin(), rows.end(), [](const Incompatibility& row) { return row.id == "sg001"; });
    REQUIRE(acid_chloride != rows.end());
    CHECK(acid_chloride->concerns(own));
  }

  TEST_CASE("an id of the library cannot be taken, nor one twice") {
    std::string text = kOwnSolvent;
    text.replace(text.find("allyl-alcohol"), 13, "ethanol");
    const LoadedLibrary taken = add_solvents(project_library(), "own.yaml", text);
    CHECK_FALSE(taken.library.has_value());
    CHECK(holds(to_text(taken.findings.sorted()[0]), "own.yaml:3:7: error: the id `ethanol` is taken"));
    const LoadedLibrary twice =
        add_solvents(project_library(), "own.yaml",
                     kOwnSolvent + "- id: allyl-alcohol\n  name: again\n  boiling_point: 90 °C\n");
    CHECK_FALSE(twice.library.has_value());
    CHECK(holds(to_text(twice.findings.sorted()[0]), "it was used here first"));
  }

  TEST_CASE("each compulsory key that is missing is told, and a missing unit too") {
    const LoadedLibrary loaded = add_solvents(
        project_library(), "own.yaml", "format: firstcrop solvents 1\nsolvents:\n- id: x\n  density: 0.9\n");
    CHECK_FALSE(loaded.library.has_value());
    std::string findings;
    for (const Finding& finding : loaded.findings.sorted()) findings += to_text(finding);
    CHECK(holds(findings, "solvent `x` lacks the key `name`"));
    CHECK(holds(findings, "solvent `x` lacks the key `boiling_point`"));
    CHECK(holds(findings, "needs its unit"));
  }

  TEST_CASE("a value without a source is the user's own word") {
    const LoadedLibrary loaded =
        add_solvents(project_library(), "own.yaml",
                     "format: firstcrop solvents 1\nsolvents:\n- id: x\n  name: x\n  boiling_point: 90 °C\n");
    REQUIRE(loaded.library.has_value());
    CHECK(loaded.library->solvents().back().boiling_point_k->source == "own.yaml");
  }

  TEST_CASE("groups are taken by name or number, or from the structure where nobody wrote them") {
    const SubgroupNames names{{"CH3", 1}, {"CH2", 2}, {"CH", 3}, {"CH3COO", 21}, {"CHO", 20}, {"CHO", 26},
                              {"OH(P)", 14}, {"OH(S)", 81}};
    const std::string head = "format: firstcrop solvents 1\nsolvents:\n- id: x\n  name: x\n  boiling_point: 90 °C\n";
    const auto record = [&](const std::string& lines) {
      const LoadedLibrary loaded = add_solvents(project_library(), "own.yaml", head + lines, names);
      for (const Finding& finding : loaded.findings.sorted()) FAIL_CHECK(to_text(finding));
      REQUIRE(loaded.library.has_value());
      return loaded.library->solvents().back();
    };
    using Counts = std::map<int, double>;
    CHECK(record("  groups: {CH3: 2, ch2: 1, CH: 1, 21: 1}\n").unifac->counts ==
          Counts{{1, 2}, {2, 1}, {3, 1}, {21, 1}});
    const Solvent drawn = record("  smiles: \"CCC(=O)OC\"\n");
    CHECK(drawn.unifac->counts == Counts{{1, 2}, {22, 1}});
    CHECK(drawn.unifac->remark == "assigned from the SMILES");
    CHECK(drawn.molar_mass_g_mol->value == doctest::Approx(88.11).epsilon(1e-4));
    CHECK(record("  smiles: \"CCC(=O)OC\"\n  groups: {CH3: 1}\n").unifac->counts == Counts{{1, 1}});
    const Solvent trifluoroethanol = record("  smiles: \"FC(F)(F)CO\"\n");
    CHECK_FALSE(trifluoroethanol.unifac.has_value());
    CHECK(holds(trifluoroethanol.unifac_missing, "F"));
    CHECK(holds(record("").unifac_missing, "neither `groups` nor `smiles`"));
    CHECK(holds(record("  smiles: \"CCO\"\n  mixture: with a denaturant\n").unifac_missing, "mixture"));

    std::string findings;
    for (const Finding& finding :
         add_solvents(project_library(), "own.yaml", head + "  groups: {CH3COOO: 1, CHO: 1, OH: 1, CH3: 0}\n", names)
             .findings.sorted())
      findings += to_text(finding);
    CHECK(holds(findings, "`CH3COOO` is not a group of modified UNIFAC"));
    CHECK(holds(findings, "did you mean `CH3COO`?"));
    CHECK(holds(findings, "2 groups are named `CHO`"));
    CHECK(holds(findings, "20 or 26"));
    CHECK(holds(findings, "write OH(P) or OH(S)"));
    CHECK(holds(findings, "the count of `CH3` is a number above 0"));
  }

  TEST_CASE("an impossible value is refused") {
    const LoadedLibrary loaded = add_solvents(
        project_library(), "own.yaml",
        "format: firstcrop solvents 1\nsolvents:\n- id: x\n  name: x\n  boiling_point: 90 °C\n"
        "  density: -0.9 g/mL\n  usual: 3\n  unifac: 1:x\n  antoine: 5 -100 20 from 280 K to 370 K\n");
    std::string findings;
    for (const Finding& finding : loaded.findings.sorted()) findings += to_text(finding);
    CHECK(holds(findings, "`density` must be above zero"));
    CHECK(holds(findings, "`usual` lies between 0 and 1"));
    CHECK(holds(findings, "`1:x` is not a group with its count"));
    CHECK(holds(findings, "such an equation does not rise with temperature"));
  }
}
