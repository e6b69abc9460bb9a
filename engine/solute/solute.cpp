#include "solute/solute.hpp"

#include <algorithm>

#include <fmt/format.h>

namespace firstcrop {
namespace {

// Without structure or molar mass: what most solids of a preparative laboratory weigh, within a factor
// of 1.5.
constexpr double kAssumedMolarMass = 200;
constexpr double kAssumedMolarMassFactor = 1.5;
// The additive descriptors were calibrated on molecules smaller than this.
constexpr int kLargestKnownMolecule = 60;

Quantity stated(const WrittenQuantity& written, const Dimension& dimension) {
  Quantity out;
  out.value = written.middle();
  if (written.is_range()) {
    out.low = written.low;
    out.high = written.high;
  }
  out.dimension = dimension;
  out.origin = Origin::Given;
  out.source = "solute file";
  return out;
}

bool has(const std::vector<std::string>& tokens, const char* token) {
  return std::find(tokens.begin(), tokens.end(), token) != tokens.end();
}

std::vector<std::string> reasons_outside(const StructureKind& kind) {
  std::vector<std::string> out;
  if (kind.salt) out.emplace_back("a salt");
  if (kind.hydrate) out.emplace_back("a hydrate");
  if (kind.solvate) out.emplace_back("a solvate");
  if (kind.zwitterion) out.emplace_back("a zwitterion");
  if (kind.organometallic) out.emplace_back("an organometallic compound");
  if (kind.mixture) out.emplace_back("a mixture");
  if (kind.polymer) out.emplace_back("a polymer");
  if (kind.inorganic) out.emplace_back("an inorganic solid");
  if (kind.radical) out.emplace_back("a radical");
  return out;
}

void take_structure(Solute& solute, const Molecule& molecule, const GroupCatalogue& groups,
                    const DescriptorScheme& scheme) {
  const StructureKind kind = molecule.kind();
  solute.groups = groups.perceive(molecule);
  solute.groups_known = true;
  solute.specific_groups = groups.most_specific(solute.groups);
  solute.molar_mass = Quantity{molecule.molar_mass_g_mol(), std::nullopt,       std::nullopt,
                               dimension::kMolarMass,       Origin::Calculated, "atomic masses"};
  solute.canonical_smiles = molecule.canonical_smiles();
  solute.canonical_smiles_without_stereo = molecule.canonical_smiles_without_stereo();
  solute.structure_features = scheme.structure_features(molecule);
  solute.group_features = group_features(molecule);
  solute.energetic = has(solute.groups, "energetic");
  solute.outside_model = reasons_outside(kind);
  if (const int bare = scheme.uncovered_heavy_atoms(molecule); bare > 0 && solute.outside_model.empty()) {
    solute.outside_model.push_back(
        fmt::format("{} atom{} of a kind that the model has not met", bare, bare == 1 ? "" : "s"));
  }
  if (molecule.heavy_atom_count() > kLargestKnownMolecule) {
    solute.outside_model.push_back(fmt::format("a molecule of {} heavy atoms", molecule.heavy_atom_count()));
  }
  solute.form = kind.salt ? "salt" : kind.hydrate ? "hydrate" : kind.solvate ? "solvate" : "neutral";
}

}  // namespace

Solute make_solute(const SoluteFile& file, const GroupCatalogue& groups, const DescriptorScheme& scheme) {
  Solute solute;
  solute.name = file.name;
  solute.molar_mass = Quantity{kAssumedMolarMass,
                               kAssumedMolarMass / kAssumedMolarMassFactor,
                               kAssumedMolarMass * kAssumedMolarMassFactor,
                               dimension::kMolarMass,
                               Origin::Assumed,
                               "neither structure nor molar mass stated"};
  if (file.molecule) {
    take_structure(solute, *file.molecule, groups, scheme);
  } else if (file.groups_stated) {
    solute.groups = file.groups;
    solute.groups_known = true;
    solute.specific_groups = groups.most_specific(file.groups);
    solute.group_features = groups.group_features(file.groups);
    if (has(file.groups, "energetic")) solute.energetic = true;
    if (has(file.groups, "zwitterion") || has(file.groups, "amino-acid"))
      solute.outside_model.emplace_back("a zwitterion");
  }
  if (!file.molecule && file.molar_mass) solute.molar_mass = stated(*file.molar_mass, dimension::kMolarMass);
  if (file.melting_point) solute.melting_point = stated(*file.melting_point, dimension::kTemperature);
  if (file.form && *file.form != solute.form) {
    solute.form = *file.form;
    if (solute.form != "neutral" && solute.outside_model.empty())
      solute.outside_model.push_back("a " + solute.form);
  }
  if (file.energetic) solute.energetic = file.energetic;
  return solute;
}

std::optional<Solute> make_impurity(const WrittenImpurity& impurity, const GroupCatalogue& groups,
                                    const DescriptorScheme& scheme) {
  if (!impurity.molecule) return std::nullopt;
  Solute solute;
  solute.name = impurity.name;
  take_structure(solute, *impurity.molecule, groups, scheme);
  return solute;
}

}  // namespace firstcrop
