#pragma once

#include <stdexcept>
#include <string>

#include "library/library_loader.hpp"
#include "phase/group_contributions.hpp"
#include "phase/phase_model.hpp"

namespace firstcrop::phase_tables {

inline const UnifacParameters& shipped_parameters() {
  static const UnifacParameters parameters = [] {
    Findings findings;
    auto read = load_group_contributions(
        std::string(FIRSTCROP_SOURCE_DIR) + "/solvents/group-contributions.yaml", findings);
    if (!read) throw std::runtime_error("the shipped group contributions cannot be read");
    return *read;
  }();
  return parameters;
}

inline const PhaseModel& shipped_model() {
  static const PhaseModel model = [] {
    const LoadedLibrary loaded = load_library(std::string(FIRSTCROP_SOURCE_DIR) + "/solvents");
    if (!loaded.library) throw std::runtime_error("the shipped library cannot be read");
    return PhaseModel(*loaded.library, shipped_parameters());
  }();
  return model;
}

inline SolventId id(const std::string& name) {
  const auto found = shipped_model().library().find_id(name);
  if (!found) throw std::runtime_error("no solvent " + name);
  return *found;
}

}  // namespace firstcrop::phase_tables
