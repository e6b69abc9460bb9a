#pragma once

#include <optional>
#include <string>
#include <vector>

#include "quantity/quantity.hpp"
#include "solute/solute_file.hpp"
#include "structure/descriptors.hpp"
#include "structure/groups.hpp"

namespace firstcrop {

/// What the engine knows of a solid, or of a named impurity: stated, read from the structure, or assumed.
struct Solute {
  std::string name;
  std::vector<std::string> groups;           ///< tokens, parents included
  std::vector<std::string> specific_groups;  ///< those that people are shown
  Quantity molar_mass;                       ///< [g/mol]
  std::optional<Quantity> melting_point;     ///< [K]; nothing where it was not given
  std::vector<double> structure_features;    ///< empty without structure
  std::vector<double> group_features;        ///< empty where neither structure nor groups are known
  std::string canonical_smiles;
  std::string canonical_smiles_without_stereo;
  bool groups_known = false;
  std::string form = "neutral";
  std::optional<bool> energetic;  ///< nothing: cannot be judged
  std::vector<std::string>
      outside_model;  ///< why the solubility model does not know such a solid; empty: it does
};

/// Builds the solid of a solute file.
[[nodiscard]] Solute make_solute(const SoluteFile& file, const GroupCatalogue& groups,
                                 const DescriptorScheme& scheme);

/// Builds a named impurity; nothing where it has no structure.
[[nodiscard]] std::optional<Solute> make_impurity(const WrittenImpurity& impurity,
                                                  const GroupCatalogue& groups,
                                                  const DescriptorScheme& scheme);

}  // namespace firstcrop
