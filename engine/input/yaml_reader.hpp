#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "base/finding.hpp"

namespace firstcrop {

struct YamlEntry;

/// One node of a YAML tree in which every key and scalar keeps its place. Only plain data: no tags, anchors,
/// aliases, no typed scalars; every scalar is text, and `quoted` tells whether quotes or a block made it so.
struct YamlNode {
  enum class Kind { Scalar, List, Map };
  Kind kind = Kind::Scalar;
  int line = 1;      ///< from 1
  int column = 1;    ///< from 1, in characters
  std::string text;  ///< of a scalar
  bool quoted = false;
  /// An unquoted comma in a flow map ended it too early, which a finding tells already: `text` is a part only.
  bool cut_by_comma = false;
  std::vector<YamlNode> items;     ///< of a list
  std::vector<YamlEntry> entries;  ///< of a map; keys are scalars

  [[nodiscard]] bool is_scalar() const { return kind == Kind::Scalar; }
  [[nodiscard]] bool is_list() const { return kind == Kind::List; }
  [[nodiscard]] bool is_map() const { return kind == Kind::Map; }
  /// Value of a key of a map, or null.
  [[nodiscard]] const YamlNode* find(std::string_view key) const;
};

/// A key of a map with its value.
struct YamlEntry {
  YamlNode first;
  YamlNode second;
};

/// A YAML text together with its tree; knows how to make places for findings.
class YamlDocument {
 public:
  YamlDocument(std::string path, std::string text, YamlNode root);
  [[nodiscard]] const std::string& path() const { return path_; }
  [[nodiscard]] const YamlNode& root() const { return root_; }
  /// Place of a node: caret under its whole text where it stands on one line.
  [[nodiscard]] Place place_of(const YamlNode& node) const;
  /// Place of a part of a scalar's text: `offset` and `width` in characters from its start.
  [[nodiscard]] Place place_within(const YamlNode& node, int offset, int width) const;

 private:
  std::string path_;
  std::string text_;
  std::vector<std::size_t> line_starts_;
  YamlNode root_;
};

/// Reads one YAML document. Refuses, each with a finding: aliases, anchors, tags, duplicate keys, non-scalar
/// keys, a second document, text behind the document, unterminated quotes, depth above 32, more than 1 MiB,
/// invalid UTF-8, tabs as indentation, null bytes. Returns nothing where any of these was found. A value that a
/// comma cut is an error too, but the rest of the text can be read and checked.
[[nodiscard]] std::optional<YamlDocument> read_yaml(std::string path, std::string text, Findings& findings);

/// Reads a whole file. Throws Error where it cannot be read.
[[nodiscard]] std::string read_file(const std::string& path);

}  // namespace firstcrop
