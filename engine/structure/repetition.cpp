#include "structure/repetition.hpp"

#include <GraphMol/GraphMol.h>

#include <algorithm>
#include <cstddef>
#include <map>
#include <utility>
#include <vector>

namespace firstcrop::detail {
namespace {

/// Label of the atom before, then labels of its bonds and of the atoms at their ends, in order.
using Surroundings = std::pair<std::size_t, std::vector<std::pair<int, std::size_t>>>;

std::vector<std::size_t> atom_labels(const RDKit::ROMol& molecule) {
  std::vector<std::size_t> labels;
  for (const RDKit::Atom* atom : molecule.atoms()) {
    const auto number = static_cast<std::size_t>(atom->getAtomicNum());
    const auto hydrogens = static_cast<std::size_t>(atom->getTotalNumHs());
    const int shifted_charge = atom->getFormalCharge() + 20;
    const auto charge = static_cast<std::size_t>(shifted_charge);
    labels.push_back(((number * 16 + hydrogens) * 64 + charge) * 16 + atom->getDegree());
  }
  return labels;
}

std::vector<std::size_t> refined(const RDKit::ROMol& molecule, const std::vector<std::size_t>& labels) {
  std::map<Surroundings, std::size_t> known;
  std::vector<std::size_t> result;
  for (const RDKit::Atom* atom : molecule.atoms()) {
    Surroundings here{labels[atom->getIdx()], {}};
    for (const RDKit::Bond* bond : molecule.atomBonds(atom)) {
      here.second.emplace_back(static_cast<int>(bond->getBondType()),
                               labels[bond->getOtherAtomIdx(atom->getIdx())]);
    }
    std::sort(here.second.begin(), here.second.end());
    result.push_back(known.emplace(std::move(here), known.size()).first->second);
  }
  return result;
}

}  // namespace

double repeated_share(const RDKit::ROMol& molecule) {
  constexpr int kReach = 3;
  constexpr int kOften = 5;
  std::vector<std::size_t> labels = atom_labels(molecule);
  for (int round = 0; round < kReach; ++round) labels = refined(molecule, labels);
  std::map<std::size_t, int> occurrences;
  for (const std::size_t label : labels) ++occurrences[label];
  int repeated = 0;
  for (const auto& [label, count] : occurrences) repeated += count >= kOften ? count : 0;
  return labels.empty() ? 0.0 : static_cast<double>(repeated) / static_cast<double>(labels.size());
}

}  // namespace firstcrop::detail
