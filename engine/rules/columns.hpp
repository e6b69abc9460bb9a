#pragma once

#include <algorithm>
#include <array>
#include <bit>
#include <cstdint>
#include <numbers>

#include "facts/fact_value.hpp"

namespace firstcrop::detail {

/// Bit k is set where `test(k)` holds.
template <typename Test>
[[nodiscard]] std::uint64_t mask_where(Test test) {
  std::uint64_t out = 0;
  for (std::size_t k = 0; k < kScenarioCount; ++k) out |= std::uint64_t{test(k)} << k;
  return out;
}

[[nodiscard]] inline std::uint64_t mask_of(bool value) {
  return value ? kAllScenarios : 0;
}

inline constexpr std::uint64_t kOneBits = 0x3FF0000000000000U;
inline constexpr std::uint64_t kRootOfHalfBits = 0x3FE6A09E667F3BCDU;
inline constexpr std::uint64_t kExponentBits = 0xFFF0000000000000U;
inline constexpr std::uint64_t kTwoTo52Bits = 0x4330000000000000U;

/// Natural logarithm of a finite positive number that is no subnormal, to 1e-12 absolute. Written without
/// branches, so that compilers run it on several numbers at once: x = m 2^e with m from sqrt(1/2) to sqrt(2),
/// ln m = 2 artanh((m - 1)/(m + 1)), summed to the 13th power of its argument, which is at most 0.172.
[[nodiscard]] inline double fast_log(double x) {
  const auto bits = std::bit_cast<std::uint64_t>(x);
  const std::uint64_t shifted = bits - kRootOfHalfBits + kOneBits;
  // An integer below 2^52 becomes a double by writing it into the digits of 2^52.
  const double exponent =
      std::bit_cast<double>((shifted >> 52U) | kTwoTo52Bits) - (4503599627370496.0 + 1023.0);
  const auto mantissa = std::bit_cast<double>(bits - ((shifted & kExponentBits) - kOneBits));
  const double ratio = (mantissa - 1) / (mantissa + 1);
  const double square = ratio * ratio;
  const double series =
      1 + square * (1.0 / 3 +
                    square * (1.0 / 5 +
                              square * (1.0 / 7 + square * (1.0 / 9 + square * (1.0 / 11 + square / 13)))));
  return exponent * std::numbers::ln2 + 2 * ratio * series;
}

/// fast_log of every value; `out` may be `of`.
inline void log_column(const ScenarioValues& of, ScenarioValues& out) {
  // Blocks of 16 stay in registers; a whole column would not.
  std::array<double, 16> block{};
  for (std::size_t from = 0; from < kScenarioCount; from += block.size()) {
    for (std::size_t k = 0; k < block.size(); ++k) block[k] = of[from + k];
    for (double& value : block) value = fast_log(value);
    for (std::size_t k = 0; k < block.size(); ++k) out[from + k] = block[k];
  }
}

}  // namespace firstcrop::detail
