#include "structure/chemistry_fault.hpp"

#include <GraphMol/GraphMol.h>
#include <GraphMol/MolOps.h>
#include <GraphMol/PeriodicTable.h>
#include <GraphMol/SanitException.h>
#include <GraphMol/SmilesParse/SmilesParse.h>
#include <fmt/format.h>

#include <algorithm>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace firstcrop::detail {
namespace {

struct AtomFault {
  unsigned int atom = 0;
  std::string reason;
};

AtomFault valence_fault(RDKit::Atom& atom) {
  const int bonds = atom.calcExplicitValence(false);
  const std::string symbol = atom.getSymbol();
  const auto& allowed =
      RDKit::PeriodicTable::getTable()->getValenceList(static_cast<unsigned int>(atom.getAtomicNum()));
  if (atom.getFormalCharge() == 0 && allowed.size() == 1 && allowed.front() >= 0) {
    return {atom.getIdx(),
            fmt::format("`{}` has {} bonds and takes at most {}", symbol, bonds, allowed.front())};
  }
  const std::string charge =
      atom.getFormalCharge() == 0 ? "" : fmt::format(" and charge {:+}", atom.getFormalCharge());
  return {atom.getIdx(), fmt::format("`{}` with {} bonds{} does not exist", symbol, bonds, charge)};
}

/// The first atom with more bonds than it can have. Looked for before anything else: the general search for
/// problems does not survive some of them.
std::optional<AtomFault> first_valence_fault(RDKit::RWMol molecule) {
  RDKit::MolOps::cleanUp(molecule);
  for (RDKit::Atom* atom : molecule.atoms()) {
    try {
      atom->updatePropertyCache();
    } catch (const RDKit::AtomValenceException&) {
      return valence_fault(*atom);
    }
  }
  return std::nullopt;
}

AtomFault ring_fault(const RDKit::RWMol& molecule, std::vector<unsigned int> atoms) {
  std::sort(atoms.begin(), atoms.end());
  std::string reason = "this aromatic ring has no pattern of alternating double bonds";
  const auto bare_nitrogen = std::find_if(atoms.begin(), atoms.end(), [&](unsigned int index) {
    const RDKit::Atom& atom = *molecule.getAtomWithIdx(index);
    return atom.getAtomicNum() == 7 && atom.getFormalCharge() == 0 && atom.getNumExplicitHs() == 0 &&
           atom.getDegree() == 2;
  });
  if (bare_nitrogen != atoms.end()) {
    return {*bare_nitrogen, reason + "; a ring nitrogen that bears hydrogen is written `[nH]`"};
  }
  return {atoms.empty() ? 0 : atoms.front(), reason};
}

AtomFault outside_ring_fault(const RDKit::Atom& atom) {
  return {atom.getIdx(),
          fmt::format("a lower-case (aromatic) atom outside a ring; write `{}`", atom.getSymbol())};
}

/// An aromatic atom that has no bond at all, on which the general search fails too.
std::optional<AtomFault> lone_aromatic_fault(const RDKit::RWMol& molecule) {
  for (const RDKit::Atom* atom : molecule.atoms()) {
    if (atom->getIsAromatic() && atom->getDegree() == 0) return outside_ring_fault(*atom);
  }
  return std::nullopt;
}

std::optional<AtomFault> atom_fault(const RDKit::RWMol& molecule,
                                    const RDKit::MolSanitizeException& problem) {
  if (const auto* outside = dynamic_cast<const RDKit::AtomKekulizeException*>(&problem)) {
    return outside_ring_fault(*molecule.getAtomWithIdx(outside->getAtomIdx()));
  }
  if (const auto* ring = dynamic_cast<const RDKit::KekulizeException*>(&problem)) {
    return ring_fault(molecule, ring->getAtomIndices());
  }
  if (const auto* other = dynamic_cast<const RDKit::AtomSanitizeException*>(&problem)) {
    return AtomFault{other->getAtomIdx(), "this atom cannot be bound so"};
  }
  return std::nullopt;
}

std::optional<AtomFault> first_fault(const RDKit::RWMol& molecule) {
  std::optional<AtomFault> first = first_valence_fault(molecule);
  if (!first) first = lone_aromatic_fault(molecule);
  if (first) return first;
  for (const auto& problem : RDKit::MolOps::detectChemistryProblems(molecule)) {
    const std::optional<AtomFault> found = atom_fault(molecule, *problem);
    if (found && found->atom < molecule.getNumAtoms() && (!first || found->atom < first->atom)) first = found;
  }
  return first;
}

}  // namespace

SmilesFault chemistry_fault(std::string_view smiles, const SmilesOutline& outline) {
  SmilesFault fault{0, std::max<std::size_t>(smiles.size(), 1),
                    "this structure cannot be understood as a molecule"};
  RDKit::SmilesParserParams parameters;
  parameters.sanitize = false;
  parameters.removeHs = false;
  parameters.allowCXSMILES = false;
  const std::unique_ptr<RDKit::RWMol> molecule(RDKit::SmilesToMol(std::string(smiles), parameters));
  if (!molecule || molecule->getNumAtoms() != outline.atoms.size()) return fault;
  std::optional<AtomFault> first = first_fault(*molecule);
  if (!first) {
    RDKit::MolOps::sanitizeMol(*molecule);
    first = first_fault(*molecule);
  }
  if (first) {
    const AtomPlace& place = outline.atoms[first->atom];
    fault = {place.position, place.width, first->reason};
  }
  return fault;
}

}  // namespace firstcrop::detail
