#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "input/yaml_reader.hpp"

namespace firstcrop {

/// Reads the part of YAML that nearly all files of ours keep to, many times faster than the full parser: block maps and
/// lists, flow maps and lists, plain scalars, quotes without escapes, blocks by `|` and `>`. Nothing where the text
/// holds anything else or has a fault, for the full parser to read or to explain. The text must be valid UTF-8.
[[nodiscard]] std::optional<YamlNode> read_plain_yaml(std::string_view text);

/// read_yaml by the full parser only, whatever the text; tests compare the two.
[[nodiscard]] std::optional<YamlDocument> read_full_yaml(std::string path, std::string text, Findings& findings);

}  // namespace firstcrop
