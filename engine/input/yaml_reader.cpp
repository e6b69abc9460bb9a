#include "input/yaml_reader.hpp"

#include <algorithm>
#include <cstdint>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <sstream>

#include <fmt/format.h>
#include <yaml-cpp/eventhandler.h>
#include <yaml-cpp/exceptions.h>
#include <yaml-cpp/parser.h>

#include "base/error.hpp"
#include "input/source_text.hpp"
#include "input/yaml_faults.hpp"

namespace firstcrop {
namespace {

constexpr std::size_t kLargestFileBytes = std::size_t{1} << 20U;
constexpr std::size_t kDeepestNesting = 32;
constexpr std::size_t kMostFindings = 20;

bool check_characters(const SourceText& source, Findings& findings) {
  const std::string_view text = source.text();
  for (std::size_t i = 0; i < text.size();) {
    const std::size_t length = utf8_sequence_length(text, i);
    if (length == 0) {
      // The excerpt would repeat the broken bytes, so it is left out.
      Place place = source.place_at_byte(i, 1);
      place.excerpt.clear();
      findings.error(place, "the text is not valid UTF-8 from here on", "save the file as UTF-8");
      return false;
    }
    const auto letter = static_cast<unsigned char>(text[i]);
    if (length == 1 && letter < 0x20 && letter != '\t' && letter != '\n' && letter != '\r') {
      Place place = source.place_at_byte(i, 1);
      place.excerpt.clear();
      findings.error(place,
                     fmt::format("a control character (code {}) stands here", static_cast<int>(letter)),
                     "delete it; a text file holds letters, digits, signs, spaces and line ends only");
      return false;
    }
    i += length;
  }
  for (int number = 1; number <= source.line_count(); ++number) {
    const std::string_view line = source.line(number);
    const std::size_t indent = line.find_first_not_of(" \t");
    const std::size_t tab = line.find('\t');
    if (tab != std::string_view::npos && indent != std::string_view::npos && tab < indent) {
      findings.error(source.place(number, static_cast<int>(tab) + 1, 1), "a tab stands in the indentation",
                     "indent with spaces");
      return false;
    }
  }
  return true;
}

// Builds the tree from parser events and refuses what plain data never needs.
class TreeBuilder : public YAML::EventHandler {
 public:
  TreeBuilder(const SourceText& source, Findings& findings) : source_(source), findings_(findings) {}

  void OnDocumentStart(const YAML::Mark&) override {}
  void OnDocumentEnd() override {}
  void OnNull(const YAML::Mark& mark, YAML::anchor_t anchor) override {
    check_plain(mark, "?", anchor);
    add(empty_node(mark));
  }
  void OnAlias(const YAML::Mark& mark, YAML::anchor_t) override {
    refuse(mark, "an alias (`*name`) is not understood here", "write the value again, or quote the text");
    add(node_at(mark, YamlNode::Kind::Scalar));
  }
  void OnScalar(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor,
                const std::string& value) override {
    check_plain(mark, tag, anchor);
    YamlNode node = node_at(mark, YamlNode::Kind::Scalar);
    node.text = value;
    node.quoted = tag == "!";
    check_closing_quote(node);
    add(std::move(node));
  }
  void OnSequenceStart(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor,
                       YAML::EmitterStyle::value) override {
    check_plain(mark, tag, anchor);
    open(node_at(mark, YamlNode::Kind::List));
  }
  void OnSequenceEnd() override { close(); }
  void OnMapStart(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor,
                  YAML::EmitterStyle::value style) override {
    check_plain(mark, tag, anchor);
    open(node_at(mark, YamlNode::Kind::Map), style == YAML::EmitterStyle::Flow);
  }
  void OnMapEnd() override { close(); }
  // A node with an anchor hands it over besides, so this is the one place that tells.
  void OnAnchor(const YAML::Mark& mark, const std::string&) override {
    refuse(mark, "an anchor (`&name`) is not understood here", "write the value in full, or quote the text");
  }

  [[nodiscard]] bool has_root() const { return has_root_; }
  [[nodiscard]] YamlNode take_root() { return std::move(root_); }
  [[nodiscard]] bool refused() const { return refused_; }

 private:
  struct Open {
    YamlNode node;
    std::optional<YamlNode> pending_key;
    bool in_flow = false;
  };

  YamlNode node_at(const YAML::Mark& mark, YamlNode::Kind kind) const {
    YamlNode node;
    node.kind = kind;
    node.line = std::max(mark.line, 0) + 1;
    const std::string_view line = source_.line(node.line);
    const auto bytes = std::min(static_cast<std::size_t>(std::max(mark.column, 0)), line.size());
    node.column = character_count(line.substr(0, bytes)) + 1;
    return node;
  }
  // The parser places a value that is not there at whatever comes next, often a line below.
  YamlNode empty_node(const YAML::Mark& mark) const {
    YamlNode node = node_at(mark, YamlNode::Kind::Scalar);
    const std::size_t here = source_.offset_of_character(node.line, node.column);
    const std::string_view rest = source_.text().substr(here);
    const std::string_view written = rest.substr(0, rest.find_first_of(" ,:]}\r\n"));
    if (written == "~" || written == "null" || written == "Null" || written == "NULL") {
      node.text = written;
      return node;
    }
    if (!stack_.empty() && stack_.back().pending_key) {
      const YamlNode& key = *stack_.back().pending_key;
      node.line = key.line;
      node.column = key.column + character_count(key.text) + (key.quoted ? 2 : 0) + 1;
      return node;
    }
    std::string_view line = source_.line(node.line);
    if (line.find_first_not_of(' ') + 1 < static_cast<std::size_t>(node.column)) return node;
    for (int number = node.line - 1; number > 0; --number) {
      line = source_.line(number);
      const std::size_t last = line.substr(0, line.find('#')).find_last_not_of(' ');
      if (last == std::string_view::npos) continue;
      node.line = number;
      node.column = character_count(line.substr(0, last + 1));
      break;
    }
    return node;
  }
  // `{at: 25,5 °C}`: the comma of a value ends it, and what follows is a key without a colon.
  bool is_rest_of_value(const Open& parent, const YamlNode& value) const {
    const YamlNode& key = *parent.pending_key;
    if (!parent.in_flow || parent.node.entries.empty() || key.quoted || key.text.empty() ||
        !value.is_scalar() || value.quoted || !value.text.empty()) {
      return false;
    }
    const YamlNode& before = parent.node.entries.back().second;
    if (!before.is_scalar() || before.quoted || before.text.empty()) return false;
    const std::size_t from = source_.offset_of_character(key.line, key.column);
    const std::size_t next = source_.text().find_first_of(":,}", from);
    return next != std::string_view::npos && source_.text()[next] != ':';
  }
  void tell_cut(YamlNode& before, const YamlNode& rest) {
    if (before.cut_by_comma) return;
    const std::string part = rest.text.substr(0, 60);
    const Place place = source_.place(rest.line, rest.column, character_count(rest.text));
    const std::string quoted = fmt::format("\"{}, {}\"", before.text.substr(0, 60), part);
    const auto is_digit = [](char letter) { return letter >= '0' && letter <= '9'; };
    const bool is_one_word = std::all_of(rest.text.begin(), rest.text.end(), [](char letter) {
      return (letter >= 'a' && letter <= 'z') || letter == '_';
    });
    if (++cuts_ > kMostFindings) return;
    if (is_one_word) {
      findings_.error(place, fmt::format("`{}` stands here without a value", part),
                      fmt::format("write `{}: ...`; or, if it belongs to the value before, quote that: `{}`",
                                  part, quoted));
      return;
    }
    before.cut_by_comma = true;
    std::string help = fmt::format("quote the whole value: `{}`", quoted);
    if (is_digit(before.text.back()) && is_digit(rest.text.front())) {
      help = fmt::format("write a decimal point: `{}.{}`", before.text, part);
    } else if (before.text.find('(') != std::string::npos || rest.text.find(')') != std::string::npos) {
      help = "separate arguments by `;`, or quote the whole value";
    }
    findings_.error(place, fmt::format("a comma cut the value before this: `{}` was read as a key", part),
                    std::move(help));
  }
  void refuse_at(const Place& place, std::string message, std::string help) {
    if (refused_ && too_deep_reported_) return;
    refused_ = true;
    if (++refusals_ <= kMostFindings) findings_.error(place, std::move(message), std::move(help));
  }
  void refuse(const YAML::Mark& mark, std::string message, std::string help) {
    const YamlNode node = node_at(mark, YamlNode::Kind::Scalar);
    refuse_at(source_.place(node.line, node.column, 1), std::move(message), std::move(help));
  }
  void check_plain(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor) {
    if (anchor != 0) refused_ = true;
    if (!tag.empty() && tag != "?" && tag != "!") {
      refuse(mark, "a tag (`!name`) is not understood here", "leave the tag out, or quote the text");
    }
  }
  void check_closing_quote(const YamlNode& node) {
    std::size_t i = source_.offset_of_character(node.line, node.column);
    const std::string_view text = source_.text();
    if (!node.quoted || i >= text.size() || (text[i] != '"' && text[i] != '\'')) return;
    const char quote = text[i];
    for (++i; i < text.size(); ++i) {
      if (quote == '"' && text[i] == '\\') {
        ++i;
      } else if (text[i] == quote) {
        if (quote == '"' || i + 1 >= text.size() || text[i + 1] != '\'') return;
        ++i;
      }
    }
    refuse_at(source_.place(node.line, node.column, 1), "this quote is never closed",
              fmt::format("close it with `{}`", quote));
  }
  void add(YamlNode node) {
    if (too_deep_) return;
    if (stack_.empty()) {
      if (!has_root_) root_ = std::move(node);
      has_root_ = true;
      return;
    }
    Open& parent = stack_.back();
    if (parent.node.is_list()) {
      parent.node.items.push_back(std::move(node));
      return;
    }
    if (!parent.pending_key) {
      if (!node.is_scalar()) {
        refuse_at(source_.place(node.line, node.column, 1), "a key must be a plain word, not a list or a map",
                  "quote a text that begins with `[` or `{`");
        node = YamlNode{};
      }
      parent.pending_key = std::move(node);
      return;
    }
    if (is_rest_of_value(parent, node)) {
      tell_cut(parent.node.entries.back().second, *parent.pending_key);
      parent.pending_key.reset();
      return;
    }
    const YamlNode& key = *parent.pending_key;
    const auto twin = std::find_if(parent.node.entries.begin(), parent.node.entries.end(),
                                   [&key](const auto& entry) { return entry.first.text == key.text; });
    if (twin != parent.node.entries.end()) {
      refused_ = true;
      Finding finding;
      finding.place = source_.place(key.line, key.column, character_count(key.text));
      finding.message = fmt::format("the key `{}` stands twice", key.text);
      finding.help = "keep one of the two";
      finding.note = "it stands here first";
      finding.note_place = source_.place(twin->first.line, twin->first.column, character_count(key.text));
      if (++refusals_ <= kMostFindings) findings_.add(std::move(finding));
    } else {
      parent.node.entries.push_back(YamlEntry{std::move(*parent.pending_key), std::move(node)});
    }
    parent.pending_key.reset();
  }
  void open(YamlNode node, bool in_flow = false) {
    if (stack_.size() >= kDeepestNesting && !too_deep_) {
      too_deep_ = true;
      refuse_at(source_.place(node.line, node.column, 1),
                fmt::format("lists and maps are nested more than {} deep", kDeepestNesting),
                "write it flatter");
      too_deep_reported_ = true;
    }
    if (too_deep_) return;
    stack_.push_back(Open{std::move(node), std::nullopt, in_flow});
  }
  void close() {
    if (too_deep_ || stack_.empty()) return;
    YamlNode node = std::move(stack_.back().node);
    stack_.pop_back();
    add(std::move(node));
  }

  const SourceText& source_;
  Findings& findings_;
  std::vector<Open> stack_;
  YamlNode root_;
  bool has_root_ = false;
  bool refused_ = false;
  bool too_deep_ = false;
  bool too_deep_reported_ = false;
  std::size_t refusals_ = 0;
  std::size_t cuts_ = 0;
};

// Looks whether anything but blanks, comments and document marks stands behind the first document.
class TailWatcher : public YAML::EventHandler {
 public:
  std::optional<YAML::Mark> first;
  void note(const YAML::Mark& mark) {
    if (!first) first = mark;
  }
  void OnDocumentStart(const YAML::Mark& mark) override { note(mark); }
  void OnDocumentEnd() override {}
  void OnNull(const YAML::Mark&, YAML::anchor_t) override {}
  void OnAlias(const YAML::Mark&, YAML::anchor_t) override {}
  void OnScalar(const YAML::Mark&, const std::string&, YAML::anchor_t, const std::string&) override {}
  void OnSequenceStart(const YAML::Mark&, const std::string&, YAML::anchor_t,
                       YAML::EmitterStyle::value) override {}
  void OnSequenceEnd() override {}
  void OnMapStart(const YAML::Mark&, const std::string&, YAML::anchor_t, YAML::EmitterStyle::value) override {
  }
  void OnMapEnd() override {}
};

}  // namespace

const YamlNode* YamlNode::find(std::string_view key) const {
  for (const auto& [name, value] : entries) {
    if (name.text == key) return &value;
  }
  return nullptr;
}

YamlDocument::YamlDocument(std::string path, std::string text, YamlNode root)
    : path_(std::move(path)),
      text_(std::move(text)),
      line_starts_(starts_of_lines(text_)),
      root_(std::move(root)) {}

Place YamlDocument::place_of(const YamlNode& node) const {
  if (!node.is_scalar()) return SourceText(path_, text_, line_starts_).place(node.line, node.column, 1);
  const SourceText source(path_, text_, line_starts_);
  const std::string_view line = source.line(node.line);
  const int room = std::max(character_count(line) - node.column + 1, 1);
  const int length = character_count(node.text.substr(0, node.text.find('\n')));
  return source.place(node.line, node.column, std::min(room, length + (node.quoted ? 2 : 0)));
}

Place YamlDocument::place_within(const YamlNode& node, int offset, int width) const {
  const SourceText source(path_, text_, line_starts_);
  const std::string_view line = source.line(node.line);
  const std::size_t start_of_node = source.offset_of_character(node.line, node.column);
  const char first = start_of_node < text_.size() ? text_[start_of_node] : ' ';
  if (node.quoted && (first == '|' || first == '>')) {
    std::size_t end = 0;
    for (int passed = 0; end < node.text.size() && passed < offset; ++passed) {
      end += std::max<std::size_t>(utf8_sequence_length(node.text, end), 1);
    }
    const std::string_view before = std::string_view(node.text).substr(0, end);
    const auto lines = static_cast<int>(std::count(before.begin(), before.end(), '\n'));
    const std::size_t last = before.rfind('\n');
    const int within = character_count(last == std::string_view::npos ? before : before.substr(last + 1));
    std::size_t indent = 0;
    for (int number = node.line + 1; number <= source.line_count(); ++number) {
      const std::size_t start = source.line(number).find_first_not_of(' ');
      if (start == std::string_view::npos) continue;
      indent = start;
      break;
    }
    return source.place(node.line + 1 + lines, static_cast<int>(indent) + within + 1, width);
  }
  const int column = node.column + (node.quoted ? 1 : 0) + offset;
  // A scalar folded over several lines has no simple place behind its first line.
  if (column > character_count(line) + 1) return place_of(node);
  return source.place(node.line, column, width);
}

std::optional<YamlDocument> read_yaml(std::string path, std::string text, Findings& findings) {
  if (text.starts_with("\xEF\xBB\xBF")) text.erase(0, 3);
  if (text.size() > kLargestFileBytes) {
    findings.error(Place{path, 0, 0, 1, {}},
                   fmt::format("the file is larger than {} bytes", kLargestFileBytes),
                   "such a file is never so long; is it the right one?");
    return std::nullopt;
  }
  const std::vector<std::size_t> line_starts = starts_of_lines(text);
  const SourceText source(path, text, line_starts);
  if (!check_characters(source, findings)) return std::nullopt;
  if (auto fault = fault_of_first_sign(source)) {
    findings.add(std::move(*fault));
    return std::nullopt;
  }

  TreeBuilder builder(source, findings);
  try {
    std::istringstream stream(text);
    YAML::Parser parser(stream);
    if (!parser.HandleNextDocument(builder) || !builder.has_root()) {
      if (!builder.refused()) findings.error(Place{path, 0, 0, 1, {}}, "the file is empty", {});
      return std::nullopt;
    }
    TailWatcher tail;
    if (!builder.refused() && parser.HandleNextDocument(tail)) {
      const int line = tail.first ? tail.first->line + 1 : source.line_count();
      findings.error(source.place(std::max(line, 1), 1, 1), "something stands behind the end of the data",
                     "one file holds one map; check the indentation of this line");
      return std::nullopt;
    }
  } catch (const YAML::ParserException& fault) {
    if (!builder.refused()) {
      const int line = std::clamp(fault.mark.line + 1, 1, source.line_count());
      const auto bytes =
          std::min(static_cast<std::size_t>(std::max(fault.mark.column, 0)), source.line(line).size());
      findings.add(explain_yaml_fault(source, source.offset_of(line, bytes), fault.msg));
    }
    return std::nullopt;
  } catch (const YAML::Exception&) {
    if (!builder.refused()) {
      findings.error(Place{path, 0, 0, 1, {}}, "the text cannot be read as YAML",
                     "lists and maps may be nested too deep");
    }
    return std::nullopt;
  }
  if (builder.refused()) return std::nullopt;
  YamlNode root = builder.take_root();
  return YamlDocument(std::move(path), std::move(text), std::move(root));
}

std::string read_file(const std::string& path) {
  std::error_code status;
  if (std::filesystem::is_directory(path, status))
    throw Error(fmt::format("cannot read {}: it is a folder", path));
  std::ifstream file(path, std::ios::binary);
  if (!file) throw Error(fmt::format("cannot read {}: no such file, or no permission", path));
  std::string text{std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
  if (file.bad()) throw Error(fmt::format("cannot read {}: the disk reports a fault", path));
  return text;
}

}  // namespace firstcrop
