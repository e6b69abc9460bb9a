#include "systems/inquiry.hpp"

#include <algorithm>
#include <string>

#include <doctest/doctest.h>

#include "knowledge_fixture.hpp"
#include "solubility/prior.hpp"

namespace firstcrop {
namespace {

std::vector<Finding> findings_of(const std::string& lines) {
  Findings findings;
  static_cast<void>(read_solute_file("solid.yaml", "format: firstcrop solute 1\nname: the solid\n" + lines,
                                     vocabulary_of(fixture::knowledge()), findings));
  return findings.sorted();
}

bool is_energetic(const std::string& smiles) {
  const auto parsed = parse_smiles(smiles);
  const auto tokens = fixture::knowledge().library.groups().perceive(std::get<Molecule>(parsed));
  return std::find(tokens.begin(), tokens.end(), "energetic") != tokens.end();
}

}  // namespace

TEST_CASE("names of solvents are told together with all else that is wrong with a file") {
  const auto findings = findings_of(
      "melting_point: 81\n"
      "known:\n- {system: ethanoll, at: 25 °C, solubility: 30 mg/mL}\n"
      "- {system: ethanol+water, at: 25 °C, solubility: 30 mg/mL}\n"
      "published:\n- {system: tolune, outcome: work}\n"
      "trials:\n- {system: heptan, mass: 50 mg, volume: 0.5 mL, hot: all}\n"
      "aim: {shelf: [ethanol, watr], bottle: {tetrahydrofurane: old}}\n");
  REQUIRE(findings.size() == 8);
  const std::vector<int> lines{3, 5, 6, 8, 8, 10, 11, 11};
  for (std::size_t i = 0; i < lines.size(); ++i) CHECK(findings[i].place.line == lines[i]);
}

TEST_CASE("a shelf of the file is a name of ours or a solvent") {
  CHECK(findings_of("aim: {shelf: teaching}\n").empty());
  CHECK(findings_of("aim: {shelf: [ethanol]}\n").empty());
  CHECK(findings_of("aim: {shelf: [teaching, ethanol]}\n").size() == 1);
}

TEST_CASE("without observations the posterior is the prior, with and without the scatter of the laboratory") {
  const Inquiry inquiry = fixture::inquiry(fixture::solute("smiles: \"COc1cc(C=O)ccc1O\"\n"));
  const Posterior& posterior = inquiry.posterior;
  REQUIRE(posterior.without_scatter.solvent_count == posterior.state.solvent_count);
  CHECK(posterior.converged);
  CHECK(posterior.without_scatter.laboratory_sd == 0);
  const double scatter = posterior.state.laboratory_sd;
  CHECK(scatter > 0);
  for (std::size_t i = 0; i < posterior.state.solvent_count; ++i) {
    CHECK(posterior.without_scatter.covariance(i, i) == doctest::Approx(inquiry.prior.covariance(i, i)));
    CHECK(posterior.state.covariance(i, i) ==
          doctest::Approx(inquiry.prior.covariance(i, i) + scatter * scatter));
  }
}

TEST_CASE("observations that could not be taken in are told at the first of them, and nothing else is") {
  SoluteFile file;
  file.path = "solid.yaml";
  StatedValue known;
  known.place = Place{"solid.yaml", 4, 3, 1, "- {system: ethanol}"};
  file.known.push_back(known);
  Posterior posterior;
  ObservationReport report;
  report.place = 4;
  report.surprise = 9;
  posterior.reports.push_back(report);
  Findings findings;
  report_learning(posterior, file, findings);
  REQUIRE(findings.size() == 1);
  CHECK_FALSE(findings.has_errors());
  CHECK(findings.sorted()[0].place == known.place);
  CHECK(findings.sorted()[0].message.find("none was taken in") != std::string::npos);

  posterior.converged = true;
  Findings surprised;
  report_learning(posterior, file, surprised);
  REQUIRE(surprised.size() == 1);
  CHECK(surprised.sorted()[0].place == known.place);
  CHECK(surprised.sorted()[0].message.find("disagrees") != std::string::npos);
}

TEST_CASE("solids that detonate are no examples of what the solute is like") {
  const KnowledgeBase& knowledge = fixture::knowledge();
  int hidden = 0;
  for (const char* smiles :
       {"O=[N+]([O-])c1cn[nH]c1", "Cc1ccc([N+](=O)[O-])cc1[N+](=O)[O-]", "O=[N+]([O-])c1ccccc1-c1ccccc1",
        "Nc1ncccc1[N+](=O)[O-]", "O=[N+]([O-])c1nonc1", "CN(C)N=O",
        "Cc1c([N+](=O)[O-])cc([N+](=O)[O-])cc1[N+](=O)[O-]"}) {
    CAPTURE(smiles);
    const Inquiry inquiry = fixture::inquiry(fixture::solute(std::string("smiles: \"") + smiles + "\"\n"));
    SoluteInput input;
    input.structure_features = inquiry.solute.structure_features;
    const auto all = predict(knowledge.model, input).similar;
    hidden += static_cast<int>(std::count_if(
        all.begin(), all.end(), [](const SimilarSolid& solid) { return is_energetic(solid.smiles); }));
    for (const SimilarSolid& solid : inquiry.prior.similar) {
      CAPTURE(solid.name);
      CHECK_FALSE(is_energetic(solid.smiles));
      CHECK_FALSE(solid.name.empty());
    }
  }
  CHECK(hidden > 0);
}

TEST_CASE("a solid without a name is told by its SMILES") {
  const std::string smiles = "O=C(/C=C/c1ccc(-c2cccc([N+](=O)[O-])c2)o1)CO";
  const Inquiry inquiry = fixture::inquiry(fixture::solute("smiles: \"" + smiles + "\"\n"));
  REQUIRE_FALSE(inquiry.prior.similar.empty());
  CHECK(inquiry.prior.similar[0].name == inquiry.prior.similar[0].smiles);
}

TEST_CASE("explosive rings that carry nitro groups are energetic") {
  for (const char* smiles :
       {"O=[N+]([O-])c1cccc([N+](=O)[O-])c1[N+](=O)[O-]", "O=[N+]([O-])c1c[nH]nc1[N+](=O)[O-]",
        "O=[N+]([O-])c1cc([N+](=O)[O-])[nH]n1", "O=[N+]([O-])c1nc[nH]c1[N+](=O)[O-]",
        "O=[N+]([O-])c1nonc1-c1no[n+]([O-])c1-c1nonc1[N+](=O)[O-]"}) {
    CAPTURE(smiles);
    CHECK(is_energetic(smiles));
  }
  for (const char* smiles : {"O=C(O)c1cc([N+](=O)[O-])cc([N+](=O)[O-])c1O", "O=[N+]([O-])c1cn[nH]c1"}) {
    CAPTURE(smiles);
    CHECK_FALSE(is_energetic(smiles));
  }
}

}  // namespace firstcrop
