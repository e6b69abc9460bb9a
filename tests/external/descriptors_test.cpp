#include "structure/descriptors.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <string>
#include <vector>

#include "csv_table.hpp"
#include "structure_files.hpp"

using namespace firstcrop;

namespace {

const std::array<std::string, 6> kNames = {"e", "s", "a", "b", "l", "v"};

std::array<double, 6> as_array(const SoluteDescriptors& d) {
  return {d.e, d.s, d.a, d.b, d.l, d.v};
}

}  // namespace

TEST_CASE("Abraham descriptors agree with an independent calculation of the additive scheme") {
  const DescriptorScheme scheme(structure_files::fragments());
  const auto rows = read_csv_table("descriptor_vectors.csv");
  CHECK(rows.size() == 40);
  for (const auto& row : rows) {
    CAPTURE(row.at("smiles"));
    const Molecule molecule = structure_files::molecule(row.at("smiles"));
    const auto values = as_array(scheme.descriptors(molecule));
    for (std::size_t column = 0; column < kNames.size(); ++column) {
      CAPTURE(kNames[column]);
      CHECK(std::abs(values[column] - number(row, kNames[column])) < 0.002);
    }
    CHECK(scheme.uncovered_heavy_atoms(molecule) == std::stoi(row.at("uncovered")));
  }
}

TEST_CASE("half of the published descriptors lie within one standard deviation of the scheme's fit") {
  // As the increments file states them; McGowan volumes are arithmetic and agree to the last digit printed.
  const std::array<double, 6> fit_deviation = {0.09, 0.19, 0.06, 0.12, 0.32, 0.0001};
  const DescriptorScheme scheme(structure_files::fragments());
  std::array<std::vector<double>, 6> differences;
  for (const auto& row : read_csv_table("descriptor_vectors.csv")) {
    const auto values = as_array(scheme.descriptors(structure_files::molecule(row.at("smiles"))));
    for (std::size_t column = 0; column < kNames.size(); ++column) {
      const std::string& published = row.at("published_" + kNames[column]);
      if (!published.empty()) differences[column].push_back(std::abs(values[column] - std::stod(published)));
    }
  }
  for (std::size_t column = 0; column < kNames.size(); ++column) {
    std::vector<double>& sorted = differences[column];
    REQUIRE(sorted.size() == 35);
    std::sort(sorted.begin(), sorted.end());
    CAPTURE(kNames[column]);
    CAPTURE(sorted.back());
    CHECK(sorted[sorted.size() / 2] < fit_deviation[column]);
  }
}

TEST_CASE("features of the solubility model agree with the Python build of the structure library") {
  const DescriptorScheme scheme(structure_files::fragments());
  const auto rows = read_csv_table("structure_features.csv");
  CHECK(rows.size() == 39);
  const std::vector<std::string> first = {
      "e",          "s",    "a",     "b",      "l",         "v",         "ab",
      "exact_mass", "tpsa", "log_p", "donors", "acceptors", "rotatable", "aromatic_rings",
      "heavy_atoms"};
  std::vector<std::string> columns = first;
  for (int count = 1; count <= 21; ++count) columns.push_back("count_" + std::to_string(count));
  columns.insert(columns.end(), {"rings", "fraction_sp3", "charged"});
  REQUIRE(columns.size() == kStructureFeatureCount);
  for (const auto& row : rows) {
    CAPTURE(row.at("smiles"));
    const Molecule molecule = structure_files::molecule(row.at("smiles"));
    const std::vector<double> features = scheme.structure_features(molecule);
    REQUIRE(features.size() == columns.size());
    for (std::size_t column = 0; column < columns.size(); ++column) {
      CAPTURE(columns[column]);
      CHECK(std::abs(features[column] - number(row, columns[column])) < 1e-9);
    }
    const std::vector<double> groups = group_features(molecule);
    REQUIRE(groups.size() == kGroupFeatureCount);
    for (std::size_t group = 0; group < 29; ++group) {
      CAPTURE(model_group_names()[group]);
      CHECK(groups[group] == number(row, "group_" + std::to_string(group + 1)));
    }
    CHECK(groups[29] == number(row, "group_aromatic_rings"));
    CHECK(groups[30] == number(row, "group_other_rings"));
  }
}
