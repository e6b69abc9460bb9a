#include "structure/molecule.hpp"

#include <GraphMol/Descriptors/MolDescriptors.h>
#include <GraphMol/GraphMol.h>
#include <GraphMol/MolHash/MolHash.h>
#include <GraphMol/MolOps.h>
#include <GraphMol/MolStandardize/Charge.h>
#include <GraphMol/SanitException.h>
#include <GraphMol/SmilesParse/SmilesParse.h>
#include <GraphMol/SmilesParse/SmilesWrite.h>
#include <RDGeneral/RDLog.h>

#include <exception>
#include <utility>

#include "structure/chemistry_fault.hpp"
#include "structure/molecule_data.hpp"
#include "structure/smiles_scanner.hpp"
#include "structure/structure_kind.hpp"

namespace firstcrop {
namespace {

/// The sanitized molecule, or null where the text is not one. A few odd texts (a lower-case boron outside a
/// ring) pass once but not twice, and would fail in later steps.
std::shared_ptr<const RDKit::ROMol> read_molecule(const std::string& smiles) {
  RDKit::SmilesParserParams parameters;
  parameters.allowCXSMILES = false;
  try {
    const std::shared_ptr<const RDKit::RWMol> molecule(RDKit::SmilesToMol(smiles, parameters));
    if (!molecule) return nullptr;
    RDKit::RWMol again(*molecule);
    RDKit::MolOps::sanitizeMol(again);
    return molecule;
  } catch (const std::exception&) {
    return nullptr;
  }
}

SmilesFault find_chemistry_fault(std::string_view smiles, const detail::SmilesOutline& outline) {
  try {
    return detail::chemistry_fault(smiles, outline);
  } catch (const std::exception&) {
    return {0, smiles.size(), "this structure cannot be understood as a molecule"};
  }
}

}  // namespace

Molecule::Molecule(std::shared_ptr<const Data> data) : data_(std::move(data)) {}

std::string Molecule::canonical_smiles() const {
  return RDKit::MolToSmiles(*data_->molecule);
}

std::string Molecule::canonical_smiles_without_stereo() const {
  constexpr bool kWithStereo = false;
  return RDKit::MolToSmiles(*data_->molecule, kWithStereo);
}

std::string Molecule::tautomer_key() const {
  RDKit::RWMol copy(*data_->molecule);
  RDKit::MolOps::removeStereochemistry(copy);
  return RDKit::MolHash::MolHash(&copy, RDKit::MolHash::HashFunction::HetAtomTautomer);
}

std::optional<Molecule> Molecule::neutral_parent() const {
  const RDLog::LogStateSetter silence;
  try {
    std::shared_ptr<const RDKit::ROMol> largest;
    for (const auto& part : RDKit::MolOps::getMolFrags(*data_->molecule)) {
      bool has_carbon = false;
      for (const RDKit::Atom* atom : part->atoms()) has_carbon = has_carbon || atom->getAtomicNum() == 6;
      if (has_carbon && (!largest || part->getNumHeavyAtoms() > largest->getNumHeavyAtoms())) {
        largest = std::make_shared<const RDKit::ROMol>(*part);
      }
    }
    if (!largest) return std::nullopt;
    const std::shared_ptr<const RDKit::ROMol> neutral(RDKit::MolStandardize::Uncharger().uncharge(*largest));
    if (RDKit::MolToSmiles(*neutral) == canonical_smiles()) return std::nullopt;
    return Molecule(std::make_shared<const Data>(Data{neutral}));
  } catch (const std::exception&) {
    return std::nullopt;
  }
}

std::string Molecule::formula() const {
  return RDKit::Descriptors::calcMolFormula(*data_->molecule);
}

double Molecule::molar_mass_g_mol() const {
  return RDKit::Descriptors::calcAMW(*data_->molecule);
}

int Molecule::heavy_atom_count() const {
  return static_cast<int>(data_->molecule->getNumHeavyAtoms());
}

StructureKind Molecule::kind() const {
  return detail::structure_kind(*data_->molecule);
}

std::variant<Molecule, SmilesFault> parse_smiles(std::string_view smiles) {
  const auto scanned = detail::scan_smiles(smiles);
  if (const auto* fault = std::get_if<SmilesFault>(&scanned)) return *fault;
  // Restores the state of RDKit's logs when it goes out of scope.
  const RDLog::LogStateSetter silence;
  const std::shared_ptr<const RDKit::ROMol> molecule = read_molecule(std::string(smiles));
  if (!molecule) return find_chemistry_fault(smiles, std::get<detail::SmilesOutline>(scanned));
  if (molecule->getNumHeavyAtoms() == 0) {
    return SmilesFault{0, smiles.size(), "a structure needs an atom besides hydrogen and attachment points"};
  }
  return Molecule(std::make_shared<const Molecule::Data>(Molecule::Data{molecule}));
}

}  // namespace firstcrop
