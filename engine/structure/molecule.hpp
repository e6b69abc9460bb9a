#pragma once

#include <cstddef>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

namespace firstcrop {

/// Why a SMILES (Weininger, J. Chem. Inf. Comput. Sci. 1988, 28, 31) could not be read, and where.
struct SmilesFault {
  std::size_t position = 0;  ///< character from 0 at which reading failed
  std::size_t width = 1;
  std::string reason;  ///< in words a chemist understands
};

/// What a structure is besides an ordinary neutral molecule: outside what the solubility model knows.
struct StructureKind {
  bool salt = false;     ///< separate ions, or an acid-base pair written as `.Cl`
  bool hydrate = false;  ///< water written beside the solid
  bool solvate = false;  ///< a common solvent written beside the solid
  bool zwitterion =
      false;  ///< charges of both signs in one molecule, nitro and the like apart, or an amino acid
  bool organometallic = false;  ///< a metal or metalloid atom
  bool mixture = false;         ///< several neutral molecules
  bool polymer = false;         ///< attachment points (`*`) or more than 70 heavy atoms of repeating units
  bool inorganic = false;       ///< no carbon
  bool radical = false;
  [[nodiscard]] bool ordinary() const {
    return !salt && !hydrate && !solvate && !zwitterion && !organometallic && !mixture && !polymer &&
           !inorganic && !radical;
  }
};

/// A molecule; a value type that hides the structure library.
class Molecule {
 public:
  struct Data;
  explicit Molecule(std::shared_ptr<const Data> data);

  [[nodiscard]] std::string canonical_smiles() const;                 ///< with stereo marks
  [[nodiscard]] std::string canonical_smiles_without_stereo() const;  ///< key for matching solids
  /// The same for all tautomers that differ by hydrogens on heteroatoms (amide and imidic acid, tetrazoles,
  /// pyridones), stereo marks left out. Keto and enol differ.
  [[nodiscard]] std::string tautomer_key() const;
  /// The largest part that holds carbon, charges made up by hydrogens: the acid or base of a salt, the solid of
  /// a hydrate. Nothing where that is the molecule itself.
  [[nodiscard]] std::optional<Molecule> neutral_parent() const;
  [[nodiscard]] std::string formula() const;
  [[nodiscard]] double molar_mass_g_mol() const;  ///< average atomic masses
  [[nodiscard]] int heavy_atom_count() const;
  [[nodiscard]] StructureKind kind() const;
  [[nodiscard]] const Data& data() const { return *data_; }

 private:
  std::shared_ptr<const Data> data_;
};

/// Reads a SMILES. Never throws for what a person wrote; RDKit's own messages never reach the terminal.
[[nodiscard]] std::variant<Molecule, SmilesFault> parse_smiles(std::string_view smiles);

}  // namespace firstcrop
