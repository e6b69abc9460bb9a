#include "input/yaml_reader.hpp"

#include <algorithm>
#include <cstdint>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <span>
#include <sstream>

#include <fmt/format.h>
#include <yaml-cpp/eventhandler.h>
#include <yaml-cpp/exceptions.h>
#include <yaml-cpp/parser.h>

#include "base/error.hpp"

namespace firstcrop {
namespace {

constexpr std::size_t kLargestFileBytes = std::size_t{1} << 20U;
constexpr std::size_t kDeepestNesting = 32;
constexpr std::size_t kLongestExcerpt = 120;
constexpr std::size_t kMostFindings = 20;

std::vector<std::size_t> starts_of_lines(std::string_view text) {
  std::vector<std::size_t> starts{0};
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text[i] == '\n') starts.push_back(i + 1);
  }
  return starts;
}

// A text with its line starts: turns byte positions of the parser into lines and columns in characters.
class SourceText {
 public:
  SourceText(std::string_view path, std::string_view text, std::span<const std::size_t> line_starts)
      : path_(path), text_(text), starts_(line_starts) {}

  [[nodiscard]] std::string_view line(int number) const {
    if (number < 1 || static_cast<std::size_t>(number) > starts_.size()) return {};
    const std::size_t from = starts_[static_cast<std::size_t>(number) - 1];
    std::size_t to = static_cast<std::size_t>(number) < starts_.size()
                         ? starts_[static_cast<std::size_t>(number)] - 1
                         : text_.size();
    if (to > from && text_[to - 1] == '\r') --to;
    return text_.substr(from, to - from);
  }
  [[nodiscard]] int line_count() const { return static_cast<int>(starts_.size()); }
  [[nodiscard]] std::size_t offset_of(int number, std::size_t byte_column) const {
    if (number < 1 || static_cast<std::size_t>(number) > starts_.size()) return text_.size();
    return std::min(starts_[static_cast<std::size_t>(number) - 1] + byte_column, text_.size());
  }
  [[nodiscard]] std::string_view text() const { return text_; }
  [[nodiscard]] Place place(int line_number, int column, int width) const {
    Place out{std::string(path_), line_number, column, std::max(width, 1), {}};
    const std::string_view whole = line(line_number);
    if (whole.size() <= kLongestExcerpt) {
      out.excerpt = std::string(whole);
    } else if (static_cast<std::size_t>(column) < kLongestExcerpt - 20) {
      std::size_t cut = kLongestExcerpt;
      while (cut > 0 && (static_cast<unsigned char>(whole[cut]) & 0xC0U) == 0x80U) --cut;
      out.excerpt = std::string(whole.substr(0, cut)) + " ...";
      out.width = std::min(out.width, static_cast<int>(kLongestExcerpt) - column);
    }
    return out;
  }
  [[nodiscard]] Place place_at_byte(std::size_t position, int width) const {
    const auto next = std::upper_bound(starts_.begin(), starts_.end(), position);
    const auto number = static_cast<int>(next - starts_.begin());
    const std::size_t from = starts_[static_cast<std::size_t>(number) - 1];
    return place(number, character_count(text_.substr(from, position - from)) + 1, width);
  }

 private:
  std::string_view path_;
  std::string_view text_;
  std::span<const std::size_t> starts_;
};

// Length of the well-formed UTF-8 sequence at `position`, 0 where it is not one (Unicode Standard, table
// 3-7).
std::size_t utf8_sequence_length(std::string_view text, std::size_t position) {
  const auto byte = [&text](std::size_t i) -> unsigned {
    return i < text.size() ? static_cast<unsigned char>(text[i]) : 0U;
  };
  const auto is_tail = [&byte](std::size_t i) { return (byte(i) & 0xC0U) == 0x80U; };
  const unsigned first = byte(position);
  if (first < 0x80U) return 1;
  if (first >= 0xC2U && first <= 0xDFU) return is_tail(position + 1) ? 2 : 0;
  if (first >= 0xE0U && first <= 0xEFU) {
    const unsigned second = byte(position + 1);
    const unsigned low = first == 0xE0U ? 0xA0U : 0x80U;
    const unsigned high = first == 0xEDU ? 0x9FU : 0xBFU;
    return second >= low && second <= high && is_tail(position + 2) ? 3 : 0;
  }
  if (first >= 0xF0U && first <= 0xF4U) {
    const unsigned second = byte(position + 1);
    const unsigned low = first == 0xF0U ? 0x90U : 0x80U;
    const unsigned high = first == 0xF4U ? 0x8FU : 0xBFU;
    return second >= low && second <= high && is_tail(position + 2) && is_tail(position + 3) ? 4 : 0;
  }
  return 0;
}

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
    add(node_at(mark, YamlNode::Kind::Scalar));
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
                  YAML::EmitterStyle::value) override {
    check_plain(mark, tag, anchor);
    open(node_at(mark, YamlNode::Kind::Map));
  }
  void OnMapEnd() override { close(); }
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
    if (anchor != 0) refuse(mark, "an anchor (`&name`) is not understood here", "write the value in full");
    if (!tag.empty() && tag != "?" && tag != "!") {
      refuse(mark, "a tag (`!name`) is not understood here", "leave the tag out, or quote the text");
    }
  }
  void check_closing_quote(const YamlNode& node) {
    const std::string_view line = source_.line(node.line);
    std::size_t byte = 0;
    for (int column = 1; byte < line.size() && column < node.column; ++column) {
      byte += utf8_sequence_length(line, byte);
    }
    std::size_t i = source_.offset_of(node.line, byte);
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
  void open(YamlNode node) {
    if (stack_.size() >= kDeepestNesting && !too_deep_) {
      too_deep_ = true;
      refuse_at(source_.place(node.line, node.column, 1),
                fmt::format("lists and maps are nested more than {} deep", kDeepestNesting),
                "write it flatter");
      too_deep_reported_ = true;
    }
    if (too_deep_) return;
    stack_.push_back(Open{std::move(node), std::nullopt});
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

// A SMILES that begins with `[` reads as a list when it is not quoted.
bool is_unquoted_smiles(std::string_view line) {
  const std::size_t key = line.find("smiles:");
  if (key == std::string_view::npos) return false;
  const std::size_t value = line.find_first_not_of(' ', key + 7);
  return value != std::string_view::npos && line[value] == '[';
}

std::pair<std::string, std::string> in_plain_words(const std::string& message, std::string_view line) {
  if (is_unquoted_smiles(line))
    return {"a SMILES that begins with `[` must be quoted", "write it as `smiles: \"[...]\"`"};
  const auto has = [&message](std::string_view part) { return message.find(part) != std::string::npos; };
  if (has("illegal map value")) {
    return {"a `: ` stands where no key can be", "quote a text that holds `: `"};
  }
  if (has("end of map flow not found") || has("end of map")) {
    return {"this map is not closed, or a line is indented unlike its neighbours",
            "close `{` with `}`; indent keys of one map alike"};
  }
  if (has("end of sequence flow not found") || has("end of sequence")) {
    return {"this list is not closed, or a line is indented unlike its neighbours",
            "close `[` with `]`; a SMILES that begins with `[` must be quoted"};
  }
  if (has("unknown escape character") || has("bad character found while scanning hex number")) {
    return {"this backslash is not understood between double quotes", "use single quotes"};
  }
  if (has("illegal EOF")) return {"the file ends inside a value", "close the quote, list or map"};
  if (has("block entry") || has("illegal block entry")) {
    return {"a `- ` stands where no list can be", "start the list on a line of its own"};
  }
  if (has("unknown token") || has("cannot start any token") || has("scanning a simple key")) {
    return {"this sign cannot begin a value", "quote the text"};
  }
  if (has("anchor") || has("alias")) return {"an anchor or alias is not understood here", "quote the text"};
  if (has("unbalanced") || has("flow end"))
    return {"a closing bracket without its opening one", "quote the text"};
  return {"the text cannot be read as YAML here", "check indentation, colons and quotes around this place"};
}

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
  std::size_t byte = 0;
  for (int column = 1; byte < line.size() && column < node.column; ++column) {
    byte += std::max<std::size_t>(utf8_sequence_length(line, byte), 1);
  }
  const char first = byte < line.size() ? line[byte] : ' ';
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
      const std::string_view whole = source.line(line);
      const auto [message, help] = in_plain_words(fault.msg, whole);
      const auto bytes = std::min(static_cast<std::size_t>(std::max(fault.mark.column, 0)), whole.size());
      findings.error(source.place(line, character_count(whole.substr(0, bytes)) + 1, 1), message, help);
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
