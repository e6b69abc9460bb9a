#pragma once

#include <cstddef>
#include <cstdint>

namespace firstcrop {

/// A stream of random bits that is the same on every machine and in every run (G. Steele, D. Lea, C. Flood, ACM
/// SIGPLAN Not. 2014, 49 (10), 453).
class SplitMix {
 public:
  std::uint64_t next() {
    state_ += 0x9E3779B97F4A7C15U;
    std::uint64_t bits = state_;
    bits = (bits ^ (bits >> 30U)) * 0xBF58476D1CE4E5B9U;
    bits = (bits ^ (bits >> 27U)) * 0x94D049BB133111EBU;
    return bits ^ (bits >> 31U);
  }
  /// From 0 up to but not including `limit`; unbiased enough, for the range is tiny against 2^64.
  std::size_t below(std::size_t limit) { return static_cast<std::size_t>(next() % limit); }

 private:
  std::uint64_t state_ = 0;
};

}  // namespace firstcrop
