#include "base/sha256.hpp"

#include <array>
#include <bit>
#include <cstdint>

namespace firstcrop {
namespace {

constexpr std::array<std::uint32_t, 64> kRoundConstants{
    0x428a2f98, 0x71374491, 0xb5c0fbcf, 0xe9b5dba5, 0x3956c25b, 0x59f111f1, 0x923f82a4, 0xab1c5ed5,
    0xd807aa98, 0x12835b01, 0x243185be, 0x550c7dc3, 0x72be5d74, 0x80deb1fe, 0x9bdc06a7, 0xc19bf174,
    0xe49b69c1, 0xefbe4786, 0x0fc19dc6, 0x240ca1cc, 0x2de92c6f, 0x4a7484aa, 0x5cb0a9dc, 0x76f988da,
    0x983e5152, 0xa831c66d, 0xb00327c8, 0xbf597fc7, 0xc6e00bf3, 0xd5a79147, 0x06ca6351, 0x14292967,
    0x27b70a85, 0x2e1b2138, 0x4d2c6dfc, 0x53380d13, 0x650a7354, 0x766a0abb, 0x81c2c92e, 0x92722c85,
    0xa2bfe8a1, 0xa81a664b, 0xc24b8b70, 0xc76c51a3, 0xd192e819, 0xd6990624, 0xf40e3585, 0x106aa070,
    0x19a4c116, 0x1e376c08, 0x2748774c, 0x34b0bcb5, 0x391c0cb3, 0x4ed8aa4a, 0x5b9cca4f, 0x682e6ff3,
    0x748f82ee, 0x78a5636f, 0x84c87814, 0x8cc70208, 0x90befffa, 0xa4506ceb, 0xbef9a3f7, 0xc67178f2};

using State = std::array<std::uint32_t, 8>;

void add_block(State& state, const unsigned char* block) {
  std::array<std::uint32_t, 64> schedule{};
  for (std::size_t i = 0; i < 16; ++i) {
    schedule[i] = std::uint32_t{block[4 * i]} << 24U | std::uint32_t{block[4 * i + 1]} << 16U |
                  std::uint32_t{block[4 * i + 2]} << 8U | std::uint32_t{block[4 * i + 3]};
  }
  for (std::size_t i = 16; i < 64; ++i) {
    const std::uint32_t low =
        std::rotr(schedule[i - 15], 7) ^ std::rotr(schedule[i - 15], 18) ^ (schedule[i - 15] >> 3U);
    const std::uint32_t high =
        std::rotr(schedule[i - 2], 17) ^ std::rotr(schedule[i - 2], 19) ^ (schedule[i - 2] >> 10U);
    schedule[i] = schedule[i - 16] + low + schedule[i - 7] + high;
  }
  State work = state;
  for (std::size_t i = 0; i < 64; ++i) {
    const std::uint32_t high = std::rotr(work[4], 6) ^ std::rotr(work[4], 11) ^ std::rotr(work[4], 25);
    const std::uint32_t choice = (work[4] & work[5]) ^ (~work[4] & work[6]);
    const std::uint32_t first = work[7] + high + choice + kRoundConstants[i] + schedule[i];
    const std::uint32_t low = std::rotr(work[0], 2) ^ std::rotr(work[0], 13) ^ std::rotr(work[0], 22);
    const std::uint32_t majority = (work[0] & work[1]) ^ (work[0] & work[2]) ^ (work[1] & work[2]);
    for (std::size_t j = 7; j > 0; --j) work[j] = work[j - 1];
    work[4] += first;
    work[0] = first + low + majority;
  }
  for (std::size_t i = 0; i < 8; ++i) state[i] += work[i];
}

}  // namespace

std::string sha256_hex(std::string_view text) {
  State state{0x6a09e667, 0xbb67ae85, 0x3c6ef372, 0xa54ff53a, 0x510e527f, 0x9b05688c, 0x1f83d9ab, 0x5be0cd19};
  std::string padded(text);
  const std::uint64_t bits = std::uint64_t{text.size()} * 8;
  padded += '\x80';
  while (padded.size() % 64 != 56) padded += '\0';
  for (unsigned shift = 64; shift > 0; shift -= 8) padded += static_cast<char>(bits >> (shift - 8) & 0xFFU);
  for (std::size_t i = 0; i < padded.size(); i += 64) {
    std::array<unsigned char, 64> block{};
    for (std::size_t j = 0; j < 64; ++j) block[j] = static_cast<unsigned char>(padded[i + j]);
    add_block(state, block.data());
  }
  constexpr std::string_view kDigits = "0123456789abcdef";
  std::string out;
  for (const std::uint32_t word : state) {
    for (unsigned shift = 32; shift > 0; shift -= 4) out += kDigits[word >> (shift - 4) & 0xFU];
  }
  return out;
}

}  // namespace firstcrop
