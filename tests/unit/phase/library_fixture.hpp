#pragma once

#include <stdexcept>
#include <string>

#include "library/library_loader.hpp"
#include "phase/phase_model.hpp"
#include "phase_fixture.hpp"

namespace firstcrop::phase_fixture {

/// The library that the project ships, as liquids.
inline const PhaseModel& shipped() {
  static const PhaseModel model = [] {
    const LoadedLibrary loaded = load_library(std::string(FIRSTCROP_SOURCE_DIR) + "/solvents");
    if (!loaded.library) throw std::runtime_error("the shipped library cannot be read");
    return PhaseModel(*loaded.library, parameters());
  }();
  return model;
}

inline SolventId id(const std::string& name) {
  const auto found = shipped().library().find_id(name);
  if (!found) throw std::runtime_error("no solvent " + name);
  return *found;
}

}  // namespace firstcrop::phase_fixture
