#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "base/finding.hpp"
#include "library/library.hpp"
#include "library/sourced_scalar.hpp"
#include "phase/phase_model.hpp"
#include "solubility/model_file.hpp"
#include "systems/borrowed_traits.hpp"

namespace firstcrop {

/// Everything that the data folder and the user's own solvent files hold, apart from rules.
struct KnowledgeBase {
  Library library;
  PhaseModel phase;
  SolubilityModel model;
  std::string solids_folder;  ///< holds the tables of known solids, read when a solid is looked up
  std::vector<std::optional<std::size_t>> model_index;  ///< by solvent: its place in the model, if it has one

  std::map<std::size_t, BorrowedTraits> borrowed;  ///< by solvent: of a person's own solvents that lack traits

  [[nodiscard]] std::optional<std::size_t> in_model(SolventId solvent) const {
    return model_index[solvent.index];
  }
  /// At 25 °C; of a solvent with borrowed traits perhaps that of its lenders.
  [[nodiscard]] std::optional<double> molar_volume_ml_mol(SolventId solvent) const;
  /// The model knows one of the solvents by what others lent it.
  [[nodiscard]] bool is_borrowed(const std::vector<SolventId>& solvents) const;
};

/// Where to read from.
struct KnowledgeFiles {
  std::string data_folder;                ///< holds solvents/ and rules/
  std::optional<std::string> model_file;  ///< another fitted model
  std::vector<std::string> solvent_files;
};

/// Names that `groups` of a person's own solvents may hold.
[[nodiscard]] SubgroupNames subgroup_names(const UnifacParameters& parameters);

/// Reads all of it. Nothing where anything was wrong; the findings say what. Throws Error where a file of the
/// data folder cannot be read or the fitted model is damaged.
[[nodiscard]] std::optional<KnowledgeBase> load_knowledge(const KnowledgeFiles& files, Findings& findings);

}  // namespace firstcrop
