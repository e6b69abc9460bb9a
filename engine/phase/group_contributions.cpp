#include "phase/group_contributions.hpp"

#include <algorithm>
#include <array>
#include <string_view>

#include "input/fields.hpp"
#include "input/yaml_reader.hpp"

namespace firstcrop {

namespace {

constexpr std::string_view kGroupColumns = "subgroup name main_group main_name r q";
constexpr std::string_view kInteractionColumns = "main_i main_j a_ij b_ij c_ij a_ji b_ji c_ji";

void check_columns(Fields& fields, std::string_view expected) {
  const YamlNode* node = fields.required_node("columns", "write `columns: " + std::string(expected) + "`");
  if (node != nullptr && (!node->is_scalar() || node->text != expected))
    fields.error(*node, "these are not the columns of this table",
                 "write `columns: " + std::string(expected) + "`");
}

const YamlNode* table_node(Fields& fields, std::string_view key) {
  const YamlNode* node =
      fields.required_node(key, "write `" + std::string(key) + ": |` and the rows below it");
  if (node == nullptr || node->is_scalar()) return node;
  fields.error(*node, "the rows of a table are one block of text", "write `" + std::string(key) + ": |`");
  return nullptr;
}

std::string_view text_of(const YamlNode* node) {
  return node == nullptr ? std::string_view() : node->text;
}

/// Characters before and in a line of a block of text.
struct LineSpan {
  int offset = 0;
  int width = 1;
};

LineSpan span_of_line(std::string_view text, int number) {
  std::size_t from = 0;
  for (int line = 1; line < number; ++line) {
    const std::size_t end = text.find('\n', from);
    if (end == std::string_view::npos) break;
    from = end + 1;
  }
  const std::size_t length = text.substr(from).find('\n');
  return {character_count(text.substr(0, from)), std::max(1, character_count(text.substr(from, length)))};
}

}  // namespace

std::optional<UnifacParameters> read_group_contributions(std::string path, std::string text,
                                                         Findings& findings) {
  const auto document = read_yaml(std::move(path), std::move(text), findings);
  if (!document) return std::nullopt;
  Findings found;
  Fields file(*document, document->root(), "group contributions", found);
  check_format(file, "firstcrop group contributions 1");
  file.required_node("sources", "say where the numbers come from");
  const YamlNode* groups_node = file.required_node("groups");
  const YamlNode* interactions_node = file.required_node("interactions");
  file.finish();

  std::array<const YamlNode*, 4> tables{};
  if (groups_node != nullptr) {
    Fields fields(*document, *groups_node, "groups", found);
    check_columns(fields, kGroupColumns);
    tables[0] = table_node(fields, "rows");
    fields.finish();
  }
  if (interactions_node != nullptr) {
    Fields fields(*document, *interactions_node, "interactions", found);
    check_columns(fields, kInteractionColumns);
    tables[1] = table_node(fields, "published");
    tables[2] = table_node(fields, "corrected");
    tables[3] = table_node(fields, "completed");
    fields.finish();
  }
  std::optional<UnifacParameters> parameters;
  if (!found.has_errors()) {
    ParsedUnifac parsed =
        parse_unifac({text_of(tables[0]), text_of(tables[1]), text_of(tables[2]), text_of(tables[3])});
    for (UnifacTableFault& fault : parsed.faults) {
      const YamlNode& node = *tables[static_cast<std::size_t>(fault.table)];
      const LineSpan line = span_of_line(node.text, fault.line);
      found.error(document->place_within(node, line.offset, line.width), std::move(fault.message));
    }
    parameters = std::move(parsed.parameters);
  }
  findings.append(found);
  return parameters;
}

std::optional<UnifacParameters> load_group_contributions(const std::string& path, Findings& findings) {
  return read_group_contributions(path, read_file(path), findings);
}

}  // namespace firstcrop
