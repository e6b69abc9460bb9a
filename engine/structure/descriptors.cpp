#include "structure/descriptors.hpp"

#include <GraphMol/Descriptors/Crippen.h>
#include <GraphMol/Descriptors/Lipinski.h>
#include <GraphMol/Descriptors/MolDescriptors.h>
#include <GraphMol/Descriptors/MolSurf.h>
#include <GraphMol/GraphMol.h>
#include <RDGeneral/RDLog.h>

#include <algorithm>
#include <cstddef>
#include <set>
#include <utility>

#include "structure/molecule_data.hpp"
#include "structure/pattern_set.hpp"

namespace firstcrop {
namespace {

/// Counted for the solubility model, in the order of its file: carboxylic acid, phenol, aliphatic hydroxyl,
/// amino, amide NH, sulfonamide NH, aromatic NH, amino acid, basic nitrogen, nitro, nitrile, halogen, urea,
/// imide, ester, ketone, ether, sulfonyl, phosphorus, aromatic nitrogen, steroid skeleton.
const std::vector<std::string>& counted_patterns() {
  static const std::vector<std::string> patterns = {
      "[CX3](=O)[OX2H1]",
      "c[OX2H]",
      "[CX4][OX2H]",
      "[NX3;H2;!$(NC=O);!$(NS=O)]",
      "[NX3;H1,H2]C=O",
      "[NX3;H1,H2]S(=O)=O",
      "[nH]",
      "[NX3;!$(NC=[O,N,S]);!$(Nc);!$(N~[!#6])][CX4].[CX3](=O)[OX2H]",
      "[NX3;!$(N-C=[O,N,S]);!$(N-c);!$(N-S);!$(N~[!#6])]",
      "[N+](=O)[O-]",
      "C#N",
      "[F,Cl,Br,I]",
      "NC(=O)N",
      "C(=O)NC(=O)",
      "[CX3](=O)[OX2H0]",
      "[#6][CX3](=O)[#6]",
      "[OX2H0]([#6;!$(C=O)])[#6;!$(C=O)]",
      "S(=O)(=O)",
      "P",
      "n",
      "C1CCC2C(C1)CCC1C2CCC2CCCC12"};
  return patterns;
}
constexpr std::size_t kNitroPattern = 9;

double mcgowan_increment_cm3_mol(int atomic_number) {
  switch (atomic_number) {
    case 1:
      return 8.71;
    case 6:
      return 16.35;
    case 7:
      return 14.39;
    case 8:
      return 12.43;
    case 9:
      return 10.48;
    case 14:
      return 26.83;
    case 15:
      return 24.87;
    case 16:
      return 22.91;
    case 17:
      return 20.95;
    case 35:
      return 26.21;
    case 53:
      return 34.53;
    default:
      return 25.0;
  }
}

std::vector<std::string> patterns_of(const std::vector<AdditiveFragment>& fragments) {
  std::vector<std::string> patterns;
  for (const AdditiveFragment& fragment : fragments) {
    if (!fragment.smarts.empty()) patterns.push_back(fragment.smarts);
  }
  return patterns;
}

}  // namespace

struct DescriptorScheme::Data {
  explicit Data(std::vector<AdditiveFragment> given)
      : fragments(std::move(given)), scheme(patterns_of(fragments)), counted(counted_patterns()) {}
  std::vector<AdditiveFragment> fragments;
  detail::PatternSet scheme;  ///< of the fragments that have a pattern, in their order
  detail::PatternSet counted;
};

DescriptorScheme::DescriptorScheme(std::vector<AdditiveFragment> fragments)
    : data_(std::make_shared<const Data>(std::move(fragments))) {}

SoluteDescriptors DescriptorScheme::descriptors(const Molecule& molecule) const {
  const detail::PatternSearch search(data_->scheme, molecule);
  std::array<double, 5> sums{};
  std::size_t pattern = 0;
  for (const AdditiveFragment& fragment : data_->fragments) {
    const double count = fragment.smarts.empty() ? 1.0 : static_cast<double>(search.count(pattern++));
    for (std::size_t column = 0; column < sums.size(); ++column)
      sums[column] += count * fragment.increments[column];
  }
  return {
      sums[0], sums[1], std::max(sums[2], 0.0), std::max(sums[3], 0.0), sums[4], mcgowan_volume(molecule)};
}

int DescriptorScheme::uncovered_heavy_atoms(const Molecule& molecule) const {
  const detail::PatternSearch search(data_->scheme, molecule);
  std::set<int> covered;
  std::size_t pattern = 0;
  for (const AdditiveFragment& fragment : data_->fragments) {
    if (fragment.smarts.empty()) continue;
    const std::size_t own = pattern++;
    if (!fragment.covers_atoms) continue;
    for (const detail::MatchedAtoms& match : search.matches(own)) covered.insert(match.begin(), match.end());
  }
  int uncovered = 0;
  for (const RDKit::Atom* atom : molecule.data().molecule->atoms()) {
    if (atom->getAtomicNum() > 1 && covered.count(static_cast<int>(atom->getIdx())) == 0) ++uncovered;
  }
  return uncovered;
}

std::vector<double> DescriptorScheme::structure_features(const Molecule& molecule) const {
  namespace chem = RDKit::Descriptors;
  const RDLog::LogStateSetter silence;
  const RDKit::ROMol& structure = *molecule.data().molecule;
  const SoluteDescriptors d = descriptors(molecule);
  std::vector<double> features = {d.e, d.s, d.a, d.b, d.l, d.v, d.a * d.b};
  double log_p = 0.0;
  double refractivity = 0.0;
  chem::calcCrippenDescriptors(structure, log_p, refractivity);
  features.push_back(chem::calcExactMW(structure) / 100.0);
  features.push_back(chem::calcTPSA(structure) / 50.0);
  features.push_back(log_p);
  features.push_back(chem::calcNumHBD(structure));
  features.push_back(chem::calcNumHBA(structure));
  features.push_back(chem::calcNumRotatableBonds(structure));
  features.push_back(chem::calcNumAromaticRings(structure));
  features.push_back(structure.getNumHeavyAtoms() / 10.0);
  const detail::PatternSearch search(data_->counted, molecule);
  std::vector<std::size_t> counts;
  for (std::size_t pattern = 0; pattern < data_->counted.size(); ++pattern)
    counts.push_back(search.count(pattern));
  features.insert(features.end(), counts.begin(), counts.end());
  features.push_back(chem::calcNumRings(structure));
  features.push_back(chem::calcFractionCSP3(structure));
  int charged = 0;
  for (const RDKit::Atom* atom : structure.atoms()) charged += atom->getFormalCharge() != 0 ? 1 : 0;
  features.push_back(charged - 2.0 * static_cast<double>(counts[kNitroPattern]));
  return features;
}

void DescriptorScheme::check_patterns() const {
  data_->scheme.compile_all();
  data_->counted.compile_all();
}

double mcgowan_volume(const Molecule& molecule) {
  constexpr double kPerBond = 6.56;
  const RDKit::ROMol& structure = *molecule.data().molecule;
  double volume = -kPerBond * structure.getNumBonds();
  for (const RDKit::Atom* atom : structure.atoms()) {
    volume += mcgowan_increment_cm3_mol(atom->getAtomicNum());
    volume += static_cast<double>(atom->getTotalNumHs()) * (mcgowan_increment_cm3_mol(1) - kPerBond);
  }
  return volume / 100.0;
}

}  // namespace firstcrop
