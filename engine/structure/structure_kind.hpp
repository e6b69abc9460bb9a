#pragma once

#include "structure/molecule.hpp"

namespace RDKit {
class ROMol;
}

namespace firstcrop::detail {

/// Tells salts, hydrates, mixtures and the other kinds from an ordinary molecule, by the drawing alone.
[[nodiscard]] StructureKind structure_kind(const RDKit::ROMol& record);

}  // namespace firstcrop::detail
