#pragma once

#include <functional>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "input/yaml_reader.hpp"
#include "quantity/quantity.hpp"

namespace firstcrop {

/// A value with the key of its source: `64.5 °C [crc]`.
struct SourcedText {
  std::string text;    ///< without the bracket
  std::string source;  ///< key inside the bracket; empty where none stands
};
[[nodiscard]] SourcedText split_source(std::string_view scalar);

/// Takes a YAML map apart key by key. Every way of being wrong is a finding at its place: a missing key, a
/// key of the wrong kind, a number without unit, `no` or `yes` for a truth value, and, at `finish`, every key
/// that nobody asked for (with the nearest known name).
class Fields {
 public:
  /// `what` names the map in messages ("solute file", "rule `hot-window`").
  Fields(const YamlDocument& document, const YamlNode& map, std::string what, Findings& findings);
  Fields(const Fields&) = delete;
  Fields& operator=(const Fields&) = delete;

  /// False where the node is not a map (a finding was made).
  [[nodiscard]] bool is_map() const { return is_map_; }
  [[nodiscard]] bool has(std::string_view key) const { return node_.is_map() && node_.find(key) != nullptr; }
  [[nodiscard]] const YamlDocument& document() const { return document_; }
  [[nodiscard]] Findings& findings() const { return findings_; }
  [[nodiscard]] const YamlNode& map_node() const { return node_; }

  /// The node of a key, marked as known; null if absent.
  const YamlNode* node(std::string_view key);
  /// As node(), with a finding where it is absent.
  const YamlNode* required_node(std::string_view key, std::string_view help = {});

  std::optional<std::string> text(std::string_view key);
  std::optional<std::string> required_text(std::string_view key, std::string_view help = {});
  /// `true` or `false`; anything else is a finding (`yes`, `no`, `on` each with its own help).
  std::optional<bool> flag(std::string_view key);
  /// Number or range of the given dimension.
  std::optional<WrittenQuantity> quantity(std::string_view key, const Dimension& dimension,
                                          std::string_view example);
  /// One of a closed list of words.
  std::optional<std::string> choice(std::string_view key, const std::vector<std::string>& words);
  /// List of scalars (one scalar counts as a list of one where `accept_single`).
  std::vector<const YamlNode*> scalar_list(std::string_view key, bool accept_single = false);
  /// List of maps.
  std::vector<const YamlNode*> map_list(std::string_view key);

  /// Reads a quantity from any scalar node (not only a direct value of this map).
  std::optional<WrittenQuantity> quantity_from(const YamlNode& scalar, const Dimension& dimension,
                                               std::string_view example);

  Place place_of(const YamlNode& node) const { return document_.place_of(node); }
  void error(const YamlNode& node, std::string message, std::string help = {}) const;

  /// Reports unknown keys. Call once, after all keys were asked for.
  void finish();

 private:
  const YamlDocument& document_;
  const YamlNode& node_;
  std::string what_;
  Findings& findings_;
  bool is_map_;
  std::set<std::string, std::less<>> known_;
};

/// Compulsory first key of every file: `format: firstcrop solute 1`. A finding where it is missing or
/// different.
bool check_format(Fields& fields, std::string_view expected);

}  // namespace firstcrop
