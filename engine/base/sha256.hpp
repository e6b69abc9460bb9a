#pragma once

#include <string>
#include <string_view>

namespace firstcrop {

/// SHA-256 of a text as 64 hexadecimal digits (FIPS 180-4). Used as a fingerprint of data, not for secrecy.
[[nodiscard]] std::string sha256_hex(std::string_view text);

}  // namespace firstcrop
