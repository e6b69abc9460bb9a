#pragma once

namespace RDKit {
class ROMol;
}

namespace firstcrop::detail {

/// Share of the heavy atoms, 0 to 1, whose surroundings out to three bonds occur five times and more: above
/// 0.8 for chains of one repeating unit and for cyclodextrins, below 0.6 for fats of the same size, below 0.2
/// for peptides and large natural products (own trial on ten structures).
[[nodiscard]] double repeated_share(const RDKit::ROMol& molecule);

}  // namespace firstcrop::detail
