#include <doctest/doctest.h>

#include <cmath>
#include <fstream>
#include <map>
#include <optional>
#include <sstream>
#include <string>
#include <tuple>
#include <variant>

#include "csv_table.hpp"
#include "solubility/prior.hpp"
#include "structure/descriptors.hpp"
#include "structure_files.hpp"

namespace firstcrop {
namespace {

SolubilityModel shipped() {
  std::ifstream file(std::string(FIRSTCROP_SOURCE_DIR) + "/solvents/solubility-model.txt", std::ios::binary);
  std::stringstream content;
  content << file.rdbuf();
  const auto parsed = SolubilityModel::parse(content.str());
  REQUIRE(std::holds_alternative<SolubilityModel>(parsed));
  return std::get<SolubilityModel>(parsed);
}

ModelMode mode_named(const std::string& name) {
  if (name == "structure") return ModelMode::Structure;
  if (name == "groups") return ModelMode::Groups;
  if (name == "melting-point") return ModelMode::MeltingPoint;
  REQUIRE(name == "nothing");
  return ModelMode::Nothing;
}

}  // namespace

TEST_CASE(
    "the shipped model foretells, in all four modes, what another implementation of its equations does") {
  const SolubilityModel model = shipped();
  const DescriptorScheme scheme(structure_files::fragments());
  std::map<std::string, std::size_t> solvents;
  for (std::size_t s = 0; s < model.solvent_ids().size(); ++s) solvents[model.solvent_ids()[s]] = s;
  const std::size_t ethanol = solvents.at("ethanol");

  std::map<std::tuple<std::string, std::string, std::string>, SolubilityPrior> priors;
  const auto rows = read_csv_table("solubility_shipped_reference.csv");
  REQUIRE(rows.size() > 200);
  for (const auto& row : rows) {
    const std::tuple key(row.at("mode"), row.at("smiles"), row.at("melting_point_k"));
    auto found = priors.find(key);
    if (found == priors.end()) {
      const ModelMode mode = mode_named(row.at("mode"));
      SoluteInput input;
      if (mode == ModelMode::Structure || mode == ModelMode::Groups) {
        const Molecule molecule = structure_files::molecule(row.at("smiles"));
        if (mode == ModelMode::Structure) input.structure_features = scheme.structure_features(molecule);
        if (mode == ModelMode::Groups) input.group_features = group_features(molecule);
        input.canonical_smiles = molecule.canonical_smiles();
        input.canonical_smiles_without_stereo = molecule.canonical_smiles_without_stereo();
      }
      if (!row.at("melting_point_k").empty()) input.melting_point_k = std::stod(row.at("melting_point_k"));
      found = priors.emplace(key, predict(model, input)).first;
      CHECK(found->second.mode == mode);
    }
    const SolubilityPrior& prior = found->second;
    const std::size_t s = solvents.at(row.at("solvent"));
    INFO(row.at("mode"), " ", row.at("name"), " ", row.at("solvent"));
    CHECK(std::abs(prior.mean[s] - std::stod(row.at("mean"))) < 0.002);
    CHECK(std::abs(std::sqrt(prior.covariance(s, s)) - std::stod(row.at("sd"))) < 0.002);
    CHECK(std::abs(prior.covariance(s, ethanol) - std::stod(row.at("covariance_with_ethanol"))) < 0.002);
  }
}

}  // namespace firstcrop
