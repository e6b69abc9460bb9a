// The groups by which the solubility model knows a solid whose structure is not given.
#include <GraphMol/Descriptors/MolDescriptors.h>
#include <GraphMol/GraphMol.h>

#include <algorithm>
#include <array>
#include <string_view>

#include "structure/descriptors.hpp"
#include "structure/molecule_data.hpp"
#include "structure/pattern_set.hpp"

namespace firstcrop {
namespace {

struct ModelGroup {
  std::string_view name;
  std::string_view smarts;
};

/// The order is that of the features in the model file. Some patterns misread chemistry (a formamide counts
/// as an aldehyde); the model was fitted with them, so they stay.
constexpr std::array<ModelGroup, 29> kModelGroups = {{
    {"carboxylic acid", "[CX3](=O)[OX2H1,OX1-]"},
    {"phenol", "c[OX2H]"},
    {"alcohol", "[CX4][OX2H]"},
    {"primary amine", "[NX3;H2][CX4]"},
    {"secondary or tertiary amine", "[NX3;H1,H0;!$(NC=[O,S,N]);!$(Nc);!$(NS=O);!$(N~[!#6])]([CX4])[CX4]"},
    {"aromatic amine", "[NX3;!$(NC=O);!$(NS=O);!$(N=*);!$([N+])]c"},
    {"primary amide", "[NX3;H2]C(=O)[#6]"},
    {"secondary amide", "[NX3;H1]C(=O)[#6]"},
    {"tertiary amide", "[NX3;H0]C(=O)[#6]"},
    {"urea or carbamate", "[NX3]C(=O)[NX3,OX2]"},
    {"imide", "C(=O)[NX3]C(=O)"},
    {"ester", "[#6][CX3](=O)[OX2;H0][#6]"},
    {"ketone or quinone", "[#6][CX3](=O)[#6]"},
    {"aldehyde", "[CX3H1]=O"},
    {"ether", "[OX2;H0]([#6;!$(C=O)])[#6;!$(C=O)]"},
    {"nitro", "[N+](=O)[O-]"},
    {"nitrile", "C#N"},
    {"sulfonamide", "S(=O)(=O)[NX3]"},
    {"sulfone or sulfoxide", "[#6][SX4,SX3](=O)[#6]"},
    {"sulfide or thiol", "[SX2]"},
    {"sulfonic or phosphoric acid", "[S,P](=O)[OX2H]"},
    {"fluorine", "[F]"},
    {"chlorine", "[Cl]"},
    {"bromine or iodine", "[Br,I]"},
    {"pyridine-type nitrogen", "[nX2]"},
    {"pyrrole-type NH", "[nH]"},
    {"imine, oxime, hydrazone or azo", "[NX2]=[CX3,NX2]"},
    {"alkene", "[CX3]=[CX3]"},
    {"amino acid (zwitterion)", "[NX3;!$(NC=O);!$(Nc)][CX4][CX3](=O)[OX2H]"},
}};

}  // namespace

std::vector<double> group_features(const Molecule& molecule) {
  constexpr unsigned int kMostRings = 3;
  std::vector<std::string> patterns;
  patterns.reserve(kModelGroups.size());
  for (const ModelGroup& group : kModelGroups) patterns.emplace_back(group.smarts);
  const detail::PatternSet set(patterns);
  detail::PatternSearch search(set, molecule);
  std::vector<double> features;
  for (std::size_t group = 0; group < kModelGroups.size(); ++group)
    features.push_back(search.occurs(group) ? 1.0 : 0.0);
  const RDKit::ROMol& structure = *molecule.data().molecule;
  const unsigned int aromatic = RDKit::Descriptors::calcNumAromaticRings(structure);
  const unsigned int other = RDKit::Descriptors::calcNumRings(structure) - aromatic;
  features.push_back(std::min(aromatic, kMostRings));
  features.push_back(std::min(other, kMostRings));
  return features;
}

const std::vector<std::string>& model_group_names() {
  static const std::vector<std::string> names = [] {
    std::vector<std::string> result;
    result.reserve(kModelGroups.size());
    for (const ModelGroup& group : kModelGroups) result.emplace_back(group.name);
    return result;
  }();
  return names;
}

}  // namespace firstcrop
