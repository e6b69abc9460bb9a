#include "base/sha256.hpp"

#include <doctest/doctest.h>

namespace firstcrop {

// source: FIPS 180-4 and the example values that NIST publishes beside it
TEST_CASE("the digest of no text is that of the standard") {
  CHECK(sha256_hex("") == "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
}

TEST_CASE("the digest of a text of one block is that of the standard") {
  CHECK(sha256_hex("abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
}

TEST_CASE("the digest of 448 bits, which need a second block for their length, is that of the standard") {
  CHECK(sha256_hex("abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq") ==
        "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1");
}

TEST_CASE("the digest of 896 bits is that of the standard") {
  CHECK(sha256_hex("abcdefghbcdefghicdefghijdefghijkefghijklfghijklmghijklmn"
                   "hijklmnoijklmnopjklmnopqklmnopqrlmnopqrsmnopqrstnopqrstu") ==
        "cf5b16a778af8380036ce59e7b0492370b249b11e8f07a51afac45037afee9d1");
}

TEST_CASE("a million letters give the digest of the standard") {
  CHECK(sha256_hex(std::string(1000000, 'a')) ==
        "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0");
}

TEST_CASE("bytes above 127 and null bytes count like any other") {
  CHECK(sha256_hex(std::string_view("\0", 1)) ==
        "6e340b9cffb37a989ca544e6bb780a2c78901d3fb33738768511a30617afa01d");
  CHECK(sha256_hex("\xbd") == "68325720aabd7c82f30f554b313d0570c95accbb7dc4b5aae11204c08ffe732b");
}

}  // namespace firstcrop
