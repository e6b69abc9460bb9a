#include "structure/text_hash.hpp"

#include <doctest/doctest.h>

using namespace firstcrop;

TEST_CASE("FNV-1a agrees with the test values of its authors") {
  // source: Fowler, Noll & Vo, test vectors of the reference code (from memory)
  CHECK(fnv1a_32("") == 0x811c9dc5U);
  CHECK(fnv1a_32("a") == 0xe40c292cU);
  CHECK(fnv1a_32("foobar") == 0xbf9cf968U);
}

TEST_CASE("bytes above 127 count as positive numbers") {
  // The hash of one byte follows from its definition: (offset xor byte) times prime, modulo 2^32.
  CHECK(fnv1a_32("\xff") == static_cast<unsigned int>((0x811c9dc5ULL ^ 0xffULL) * 16777619ULL));
}
