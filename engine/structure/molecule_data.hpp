#pragma once

#include <memory>

#include "structure/molecule.hpp"

namespace RDKit {
class ROMol;
}

namespace firstcrop {

/// What a molecule holds inside this room; no other room includes this header.
struct Molecule::Data {
  std::shared_ptr<const RDKit::ROMol> molecule;  ///< sanitized, hydrogens implicit; never null
};

}  // namespace firstcrop
