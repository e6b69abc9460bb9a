#include "calibration_table.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <string_view>
#include <variant>

#include "base/error.hpp"
#include "input/csv.hpp"
#include "structure/molecule.hpp"

namespace firstcrop {
namespace {

template <typename Kernel, std::size_t size>
Kernel kernel_named(const std::array<std::string_view, size>& names, const std::string& name) {
  const auto found = std::find(names.begin(), names.end(), name);
  if (found == names.end()) throw Error(fmt::format("no kernel is called `{}`", name));
  return static_cast<Kernel>(found - names.begin());
}

Molecule molecule_of(const std::string& smiles) {
  const auto parsed = parse_smiles(smiles);
  if (const auto* fault = std::get_if<SmilesFault>(&parsed)) {
    throw Error(fmt::format("{}: {}", smiles, fault->reason));
  }
  return std::get<Molecule>(parsed);
}

void read_similarity_weights(const std::string& root, CalibrationTable& table) {
  const CsvTable weights = read_csv(root + "/tests/calibration/similarity-weights.csv");
  for (const auto& row : weights.rows) {
    table.similarity_weights.features.push_back(required_csv_number(row[weights.column("weight")]));
  }
  if (weights.rows.size() != kStructureFeatureCount + 1 ||
      weights.rows.back()[weights.column("feature")] != "melting-point") {
    throw Error("similarity-weights.csv: expected a row for each feature, then `melting-point`");
  }
  table.similarity_weights.melting_point = table.similarity_weights.features.back();
  table.similarity_weights.features.pop_back();
}

void read_melting_point_process(const std::string& root, CalibrationTable& table) {
  const CsvTable numbers = read_csv(root + "/tests/calibration/melting-point-process.csv");
  MeltingPointProcess& process = table.melting_point_process;
  const std::array<std::pair<std::string_view, double*>, 4> fields{{{"constant", &process.constant},
                                                                    {"linear", &process.linear},
                                                                    {"similarity", &process.similarity},
                                                                    {"noise", &process.noise_variance}}};
  for (const auto& [name, value] : fields) {
    const auto row = std::find_if(numbers.rows.begin(), numbers.rows.end(), [&](const auto& candidate) {
      return candidate[numbers.column("kernel")] == name;
    });
    if (row == numbers.rows.end()) throw Error(fmt::format("no `{}` in melting-point-process.csv", name));
    *value = required_csv_number((*row)[numbers.column("variance")]);
  }
}

}  // namespace

VarianceTable CalibrationTable::variances_of(const std::string& mode) const {
  VarianceTable out{};
  for (const KernelVariance& entry : variances) {
    if (entry.mode != mode) continue;
    out[static_cast<std::size_t>(entry.solid)][static_cast<std::size_t>(entry.solvent)] = entry.variance;
  }
  return out;
}

double CalibrationTable::noise_of(const std::string& mode) const {
  const auto found =
      std::find_if(noise.begin(), noise.end(), [&](const auto& entry) { return entry.first == mode; });
  if (found == noise.end()) throw Error(fmt::format("no noise of `{}` in variances.csv", mode));
  return found->second;
}

std::size_t CalibrationTable::solvent_index(const std::string& id) const {
  const auto found =
      std::find_if(solvents.begin(), solvents.end(), [&](const SolventTraits& s) { return s.id == id; });
  if (found == solvents.end()) throw Error(fmt::format("no solvent `{}` in solvents.csv", id));
  return static_cast<std::size_t>(found - solvents.begin());
}

CalibrationTable read_calibration_table(const std::string& root, const DescriptorScheme& scheme) {
  CalibrationTable table;
  std::map<std::string, std::size_t> numbers;
  const CsvTable solids = read_csv(root + "/solvents/solids.csv");
  for (const auto& row : solids.rows) {
    CalibrationSolid solid;
    numbers.emplace(row[solids.column("solid")], table.solids.size());
    solid.name = row[solids.column("name")];
    solid.melting_point_k = csv_number(row[solids.column("melting_point_k")]);
    const Molecule molecule = molecule_of(row[solids.column("smiles")]);
    solid.canonical_smiles = molecule.canonical_smiles();
    solid.canonical_smiles_without_stereo = molecule.canonical_smiles_without_stereo();
    solid.molar_mass_g_mol = molecule.molar_mass_g_mol();
    solid.structure_features = scheme.structure_features(molecule);
    solid.group_features = group_features(molecule);
    // The model file holds four decimals; fitting on the same digits keeps fit and file in step.
    for (double& feature : solid.structure_features) feature = std::round(feature * 1e4) / 1e4;
    table.solids.push_back(std::move(solid));
  }
  const CsvTable solvents = read_csv(root + "/tests/calibration/solvents.csv");
  for (const auto& row : solvents.rows) {
    SolventTraits traits;
    const auto number = [&](std::string_view column) {
      return required_csv_number(row[solvents.column(column)]);
    };
    traits.id = row[solvents.column("solvent")];
    traits.abraham = {number("c"), number("e"), number("s"), number("a"), number("b"), number("l")};
    traits.hansen_sqrt_mpa = {number("hansen_d"), number("hansen_p"), number("hansen_h")};
    traits.molar_volume_ml_mol = number("molar_volume_ml_mol");
    traits.hydrocarbon_share = number("hydrocarbon_share");
    traits.water = number("water") != 0;
    table.solvents.push_back(std::move(traits));
  }
  const CsvTable curves = read_csv(root + "/solvents/solubility-curves.csv");
  for (const auto& row : curves.rows) {
    const auto solid = numbers.find(row[curves.column("solid")]);
    if (solid == numbers.end()) {
      throw Error(fmt::format("solubility-curves.csv: no solid `{}`", row[curves.column("solid")]));
    }
    table.curves.push_back(
        {solid->second, row[curves.column("solvent")], csv_number(row[curves.column("level")]),
         csv_number(row[curves.column("enthalpy_kj_mol")]), !row[curves.column("doubt")].empty(),
         required_csv_number(row[curves.column("coldest_k")]),
         required_csv_number(row[curves.column("hottest_k")])});
    (void)table.solvent_index(table.curves.back().solvent);
  }
  const CsvTable variances = read_csv(root + "/tests/calibration/variances.csv");
  for (const auto& row : variances.rows) {
    const std::string& mode = row[variances.column("mode")];
    const std::string& solid_kernel = row[variances.column("solid_kernel")];
    const double variance = required_csv_number(row[variances.column("variance")]);
    if (solid_kernel == "noise") {
      table.noise.emplace_back(mode, variance);
      continue;
    }
    table.variances.push_back(
        {mode, kernel_named<SolidKernel>(kSolidKernelNames, solid_kernel),
         kernel_named<SolventKernel>(kSolventKernelNames, row[variances.column("solvent_kernel")]),
         variance});
  }
  read_similarity_weights(root, table);
  read_melting_point_process(root, table);
  return table;
}

}  // namespace firstcrop
