#include "structure/structure_kind.hpp"

#include <GraphMol/GraphMol.h>
#include <GraphMol/MolOps.h>
#include <GraphMol/SmilesParse/SmilesParse.h>
#include <GraphMol/SmilesParse/SmilesWrite.h>
#include <GraphMol/Substruct/SubstructMatch.h>

#include <algorithm>
#include <array>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "structure/elements.hpp"
#include "structure/repetition.hpp"

namespace firstcrop::detail {
namespace {

using MoleculePointer = boost::shared_ptr<const RDKit::ROMol>;

/// Nitrogen whose lone pair is free: no amide, aniline, enamine, cyanamide, nor bound to a heteroatom; or the
/// doubly bound nitrogen of an amidine or guanidine.
constexpr const char* kStrongBase =
    "[$([NX3;+0;!$(N[C,S,P]=[O,S,N]);!$(Nc);!$(N[!#6;!#1]);!$(N[CX3]=[CX3]);!$(NC#N)]),"
    "$([NX2;+0;!$(N[!#6;!#1])]=[CX3][NX3;!$(N[!#6;!#1]);!$(NC=O)])]";
constexpr const char* kWeakBase = "[$([NX3;+0;!$(N[C,S,P]=[O,S,N]);!$(N[!#6;!#1])]c),$([nX2;+0])]";
constexpr const char* kCarboxylicAcid = "[CX3](=[OX1])[OX2H]";
constexpr const char* kStrongAcid =
    "[$([SX4](=[OX1])(=[OX1])[OX2H]),$([PX4](=[OX1])[OX2H]),$([NX3+](=[OX1])([OX1-])[OX2H]),"
    "$([Cl](~[OX1])(~[OX1])(~[OX1])[OX2H])]";

/// Solvents that are often written beside the solid they crystallise with (general knowledge, memory).
constexpr std::array<std::string_view, 46> kSolvents = {
    "CO",         "CCO",           "CCCO",          "CC(C)O",       "CCCCO",
    "CC(C)CO",    "CC(C)(C)O",     "CC(C)=O",       "CCC(C)=O",     "CC(C)CC(C)=O",
    "CC#N",       "CCOC(C)=O",     "COC(C)=O",      "CC(C)OC(C)=O", "ClCCl",
    "ClC(Cl)Cl",  "ClC(Cl)(Cl)Cl", "ClCCCl",        "C1CCOC1",      "CC1CCCO1",
    "C1COCCO1",   "CCOCC",         "CC(C)OC(C)C",   "COC(C)(C)C",   "COCCOC",
    "COCCO",      "OCCO",          "COc1ccccc1",    "c1ccccc1",     "Cc1ccccc1",
    "Cc1ccccc1C", "Cc1cccc(C)c1",  "Cc1ccc(C)cc1",  "Clc1ccccc1",   "CCCCC",
    "CCCCCC",     "CCCCCCC",       "C1CCCCC1",      "CN(C)C=O",     "CC(=O)N(C)C",
    "CN1CCCC1=O", "CS(C)=O",       "C[N+](=O)[O-]", "CC(=O)O",      "O=CO",
    "c1ccncc1"};

bool matches(const RDKit::ROMol& molecule, const char* smarts) {
  const std::unique_ptr<RDKit::ROMol> pattern(RDKit::SmartsToMol(smarts));
  RDKit::MatchVectType match;
  return RDKit::SubstructMatch(molecule, *pattern, match);
}

/// RDKit's own ranges do not suit the standard algorithms.
std::vector<const RDKit::Atom*> atoms_of(const RDKit::ROMol& molecule) {
  std::vector<const RDKit::Atom*> atoms;
  for (const RDKit::Atom* atom : molecule.atoms()) atoms.push_back(atom);
  return atoms;
}

std::vector<const RDKit::Atom*> neighbours_of(const RDKit::Atom& atom) {
  std::vector<const RDKit::Atom*> neighbours;
  for (const RDKit::Atom* neighbour : atom.getOwningMol().atomNeighbors(&atom))
    neighbours.push_back(neighbour);
  return neighbours;
}

bool has_atom(const RDKit::ROMol& molecule, int atomic_number) {
  const auto atoms = atoms_of(molecule);
  return std::any_of(atoms.begin(), atoms.end(), [atomic_number](const RDKit::Atom* atom) {
    return atom->getAtomicNum() == atomic_number;
  });
}

/// One connected part of the record.
struct Part {
  MoleculePointer molecule;
  int charge = 0;
  bool water = false;
  bool solvent = false;
  bool hydrogen_halide = false;
  bool strong_acid = false;
  bool carboxylic_acid = false;
  bool strong_base = false;
  bool weak_base = false;
  bool in_salt = false;  ///< acid or base of a pair that is a salt though drawn neutral

  [[nodiscard]] bool acid() const { return hydrogen_halide || strong_acid || carboxylic_acid; }
};

Part describe(MoleculePointer molecule) {
  Part part;
  for (const RDKit::Atom* atom : molecule->atoms()) part.charge += atom->getFormalCharge();
  const RDKit::Atom& first = *molecule->getAtomWithIdx(0);
  if (molecule->getNumAtoms() == 1 && part.charge == 0) {
    const int number = first.getAtomicNum();
    part.water = number == 8 && first.getTotalNumHs() == 2;
    part.hydrogen_halide =
        first.getTotalNumHs() == 1 && (number == 9 || number == 17 || number == 35 || number == 53);
  }
  if (molecule->getNumAtoms() <= 8) {
    const std::string smiles = RDKit::MolToSmiles(*molecule);
    part.solvent = std::find(kSolvents.begin(), kSolvents.end(), smiles) != kSolvents.end();
  }
  if (has_atom(*molecule, 7)) {
    part.strong_base = matches(*molecule, kStrongBase);
    part.weak_base = matches(*molecule, kWeakBase);
  }
  if (has_atom(*molecule, 8)) {
    part.carboxylic_acid = matches(*molecule, kCarboxylicAcid);
    part.strong_acid = matches(*molecule, kStrongAcid);
  }
  part.molecule = std::move(molecule);
  return part;
}

/// How readily a part takes a proton, in ranks of our own; 0: not at all.
int base_rank(const Part& part) {
  if (part.water || part.hydrogen_halide) return 0;
  if (part.strong_base) return 5;
  if (part.weak_base) return 4;
  const bool nitrogen = has_atom(*part.molecule, 7);
  if (!part.solvent) return nitrogen ? 3 : 2;
  return nitrogen ? 1 : 0;
}

/// The least rank that the acid turns into a salt: a hydrogen halide any, a carboxylic acid strong bases
/// only.
int least_base_rank(const Part& acid) {
  if (acid.hydrogen_halide) return 1;
  return acid.strong_acid ? 4 : 5;
}

/// Finds acids and bases that are salts though drawn neutral: each acid goes to the strongest bases of the
/// record.
void mark_salt_pairs(std::vector<Part>& parts) {
  for (Part& acid : parts) {
    if (!acid.acid() || (acid.strong_base && !acid.hydrogen_halide)) continue;
    int strongest = 0;
    for (const Part& base : parts) {
      if (&base != &acid) strongest = std::max(strongest, base_rank(base));
    }
    if (strongest < least_base_rank(acid)) continue;
    acid.in_salt = true;
    for (Part& base : parts) {
      if (&base != &acid && base_rank(base) == strongest) base.in_salt = true;
    }
  }
}

/// Charges of both signs that no bond joins, as nitro groups, N-oxides, azides and ylides have them.
bool has_separate_charges(const RDKit::ROMol& molecule) {
  std::array<bool, 2> alone = {false, false};
  for (const RDKit::Atom* atom : molecule.atoms()) {
    const int charge = atom->getFormalCharge();
    if (charge == 0) continue;
    const auto neighbours = neighbours_of(*atom);
    const bool paired = std::any_of(
        neighbours.begin(), neighbours.end(),
        [charge](const RDKit::Atom* neighbour) { return neighbour->getFormalCharge() * charge < 0; });
    if (!paired) alone[charge > 0 ? 1 : 0] = true;
  }
  return alone[0] && alone[1];
}

bool is_zwitterion(const Part& part) {
  if (has_separate_charges(*part.molecule)) return true;
  if (part.in_salt || part.charge != 0) return false;
  if (part.strong_base && part.acid()) return true;
  return part.weak_base && matches(*part.molecule, "[SX4](=[OX1])(=[OX1])[OX2H]");
}

bool is_ionic_bond(const RDKit::Atom& metal, const RDKit::Atom& other) {
  return is_alkali_or_alkaline_earth(metal.getAtomicNum()) && other.getAtomicNum() != 6;
}

/// A carbon anion as organometallic ions have it: cyanides and ylides apart.
bool is_carbanion(const RDKit::Atom& atom) {
  if (atom.getAtomicNum() != 6 || atom.getFormalCharge() >= 0) return false;
  const auto neighbours = neighbours_of(atom);
  return std::none_of(neighbours.begin(), neighbours.end(), [](const RDKit::Atom* neighbour) {
    return neighbour->getAtomicNum() == 7 || neighbour->getFormalCharge() > 0;
  });
}

bool is_bare_cation(const RDKit::Atom& atom) {
  return is_metal(atom.getAtomicNum()) && atom.getDegree() == 0 && atom.getFormalCharge() > 0;
}

/// A metal with a bond that is not ionic, or without bond and charge.
bool is_covalent_or_free_metal(const RDKit::Atom& atom) {
  if (!is_metal(atom.getAtomicNum())) return false;
  const auto neighbours = neighbours_of(atom);
  if (neighbours.empty()) return !is_bare_cation(atom);
  return std::any_of(neighbours.begin(), neighbours.end(),
                     [&atom](const RDKit::Atom* neighbour) { return !is_ionic_bond(atom, *neighbour); });
}

/// Covalent or free metal, metal cation beside a carbanion, or a metalloid in a part that holds carbon.
bool is_organometallic(const std::vector<Part>& parts) {
  bool bare_cation = false;
  bool carbanion = false;
  for (const Part& part : parts) {
    const bool organic = has_atom(*part.molecule, 6);
    for (const RDKit::Atom* atom : atoms_of(*part.molecule)) {
      if (is_metalloid(atom->getAtomicNum()) && organic) return true;
      if (is_covalent_or_free_metal(*atom)) return true;
      bare_cation |= is_bare_cation(*atom);
      carbanion |= is_carbanion(*atom);
    }
  }
  return bare_cation && carbanion;
}

/// A metal of the first two groups whose bonds are all drawn though they are ionic, as in `[Na]OC(C)=O`.
bool has_ionic_bond(const RDKit::ROMol& molecule) {
  const auto atoms = atoms_of(molecule);
  return std::any_of(atoms.begin(), atoms.end(), [](const RDKit::Atom* atom) {
    return is_alkali_or_alkaline_earth(atom->getAtomicNum()) && atom->getDegree() > 0 &&
           !is_covalent_or_free_metal(*atom);
  });
}

bool is_radical(const RDKit::ROMol& molecule) {
  const auto atoms = atoms_of(molecule);
  return std::any_of(atoms.begin(), atoms.end(), [](const RDKit::Atom* atom) {
    return atom->getNumRadicalElectrons() > 0 && !is_metal(atom->getAtomicNum());
  });
}

bool is_polymer(const RDKit::ROMol& molecule) {
  constexpr unsigned int kMostAtomsOfAMolecule = 70;
  constexpr double kRepeatedShare = 0.7;
  if (has_atom(molecule, 0)) return true;
  return molecule.getNumHeavyAtoms() > kMostAtomsOfAMolecule && repeated_share(molecule) > kRepeatedShare;
}

/// Salt, hydrate, solvate and mixture: what the parts are to one another.
void judge_company(const std::vector<Part>& parts, StructureKind& kind) {
  const auto is_body = [](const Part& part) { return !part.water && (!part.solvent || part.in_salt); };
  const bool only_liquids = std::none_of(parts.begin(), parts.end(), is_body);
  std::ptrdiff_t plain = 0;
  for (const Part& part : parts) {
    if (part.charge != 0 || part.in_salt || has_ionic_bond(*part.molecule)) kind.salt = true;
    if (parts.size() == 1) continue;
    if (part.water) {
      kind.hydrate = std::any_of(parts.begin(), parts.end(), [](const Part& other) { return !other.water; });
    } else if (part.solvent && !part.in_salt && !only_liquids) {
      kind.solvate = true;
    } else if (part.charge == 0 && !part.in_salt) {
      ++plain;
    }
  }
  kind.mixture = plain > 1 || (plain == 1 && kind.salt);
}

}  // namespace

StructureKind structure_kind(const RDKit::ROMol& record) {
  std::vector<Part> parts;
  constexpr bool kSanitizeAgain = false;
  for (const auto& molecule : RDKit::MolOps::getMolFrags(record, kSanitizeAgain))
    parts.push_back(describe(molecule));
  mark_salt_pairs(parts);

  StructureKind kind;
  judge_company(parts, kind);
  kind.organometallic = is_organometallic(parts);
  kind.inorganic = !has_atom(record, 6);
  for (const Part& part : parts) {
    kind.zwitterion |= is_zwitterion(part);
    kind.polymer |= is_polymer(*part.molecule);
    kind.radical |= is_radical(*part.molecule);
  }
  return kind;
}

}  // namespace firstcrop::detail
