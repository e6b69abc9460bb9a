#pragma once

#include <array>
#include <memory>
#include <string>
#include <vector>

#include "structure/molecule.hpp"

namespace firstcrop {

/// One fragment of the additive scheme for Abraham descriptors: increments are summed over unique matches.
struct AdditiveFragment {
  std::string name;
  std::string smarts;                  ///< empty for the constant
  std::array<double, 5> increments{};  ///< E, S, A, B, L
  bool covers_atoms = true;  ///< a base fragment accounts for the atoms it matches, a correction does not
};

/// Abraham solute descriptors by group additivity (A and B cut at zero) and McGowan's volume
/// (Abraham & McGowan, Chromatographia 1987, 23, 243) in [cm3/mol/100].
struct SoluteDescriptors {
  double e = 0, s = 0, a = 0, b = 0, l = 0, v = 0;
};

/// Number of structural features that the solubility model uses for a full structure, and for groups only.
inline constexpr int kStructureFeatureCount = 39;
inline constexpr int kGroupFeatureCount = 31;

/// The additive scheme of one set of fragments.
class DescriptorScheme {
 public:
  /// Throws Error where brackets and atoms of a pattern do not fit. Patterns are compiled when the first
  /// molecule needs them (the functions below throw Error then); `check_patterns` compiles all.
  explicit DescriptorScheme(std::vector<AdditiveFragment> fragments);
  [[nodiscard]] SoluteDescriptors descriptors(const Molecule& molecule) const;
  /// Heavy atoms that no base fragment covers: the scheme does not know them.
  [[nodiscard]] int uncovered_heavy_atoms(const Molecule& molecule) const;
  /// The 39 features, unscaled, in the order of the model file: E S A B L V, A*B, exact mass/100, TPSA/50,
  /// Crippen log P, donors, acceptors, rotatable bonds, aromatic rings, heavy atoms/10, 21 pattern counts,
  /// rings, fraction sp3, charged atoms minus 2 nitro. TPSA: Ertl, Rohde & Selzer, J. Med. Chem. 2000, 43,
  /// 3714; log P: Wildman & Crippen, J. Chem. Inf. Comput. Sci. 1999, 39, 868.
  [[nodiscard]] std::vector<double> structure_features(const Molecule& molecule) const;
  /// Compiles every pattern; throws Error naming the first that is not valid SMARTS.
  void check_patterns() const;

 private:
  struct Data;
  std::shared_ptr<const Data> data_;
};

/// McGowan's characteristic volume [cm3/mol/100]: a sum over atoms, hydrogens included, less 6.56 per bond
/// (Abraham & McGowan 1987); 25.0 cm3/mol stands for elements outside the table.
[[nodiscard]] double mcgowan_volume(const Molecule& molecule);

/// 29 presences of model groups (0 or 1), number of aromatic rings and of other rings (each at most 3).
[[nodiscard]] std::vector<double> group_features(const Molecule& molecule);
/// Names of the 29 model groups in the order of `group_features`, for solids known by groups only.
[[nodiscard]] const std::vector<std::string>& model_group_names();

}  // namespace firstcrop
