#pragma once

#include <cstdint>
#include <string_view>

namespace firstcrop {

/// 32-bit FNV-1a hash of a text (Fowler, Noll & Vo, 1991). Used on canonical SMILES without stereo marks to
/// part the measured solids into folds that stay the same on every machine: `fnv1a_32(smiles) % 5`.
[[nodiscard]] constexpr std::uint32_t fnv1a_32(std::string_view text) {
  constexpr std::uint32_t kOffset = 2166136261U;
  constexpr std::uint32_t kPrime = 16777619U;
  std::uint32_t hash = kOffset;
  for (const char character : text) {
    hash ^= static_cast<unsigned char>(character);
    hash *= kPrime;
  }
  return hash;
}

}  // namespace firstcrop
