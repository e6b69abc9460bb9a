#include "input/plain_yaml.hpp"

#include <filesystem>

#include <doctest/doctest.h>

namespace firstcrop {
namespace {

void flatten(const YamlNode& node, std::string& out) {
  out += std::to_string(node.line) + ":" + std::to_string(node.column) + (node.quoted ? "q" : "") +
         (node.cut_by_comma ? "c" : "") + (node.is_scalar() ? "=" + node.text : node.is_list() ? "[" : "{") + "\n";
  for (const YamlNode& item : node.items) flatten(item, out);
  for (const YamlEntry& entry : node.entries) {
    flatten(entry.first, out);
    flatten(entry.second, out);
  }
  out += ";";
}

std::string flat(const std::optional<YamlNode>& node) {
  std::string out;
  if (node) flatten(*node, out);
  return out;
}

std::string full(const std::string& text) {
  Findings findings;
  const auto document = read_full_yaml("test.yaml", text, findings);
  return document ? flat(document->root()) : "not read";
}

}  // namespace

TEST_CASE("all files of ours read the same by both parsers, and the large ones by the short way") {
  std::size_t short_way = 0;
  std::size_t read = 0;
  for (const char* folder : {"/rules", "/solvents", "/examples", "/tests"}) {
    const std::string path = FIRSTCROP_SOURCE_DIR + std::string(folder);
    for (const auto& entry : std::filesystem::recursive_directory_iterator(path)) {
      if (entry.path().extension() != ".yaml") continue;
      const std::string text = read_file(entry.path().string());
      // What read_yaml takes off or refuses before either parser sees it.
      const std::string name = entry.path().filename().string();
      if (name == "byte-order-mark.yaml" || name == "control-character.yaml" || name == "invalid-utf8.yaml") continue;
      const auto plain = read_plain_yaml(text);
      INFO(entry.path().string());
      ++read;
      if (plain) CHECK(flat(plain) == full(text));
      if (plain) ++short_way;
      if (std::string(folder) == "/rules" || std::string(folder) == "/solvents") CHECK(plain.has_value());
    }
  }
  MESSAGE(short_way << " of " << read << " files are plain");
  CHECK(2 * short_way > read);
}

TEST_CASE("what is not plain, or wrong, is left to the full parser, and the rest reads the same") {
  for (const char* text :
       {"a: 1\n", "a:\n- 1\n- 2\nb: x\n", "a:\n  - b: 1\n    c: 2\n  - b: 3\n", "a: [1, {b: 2}, [3, 4]]\n",
        "a: {b: c d,\n  e: f\n    g, h: \"i, j\"}\n", "a: x y\n  z w\nb: 1\n", "a: |\n  x\n   y\n\n  z\nb: 1\n",
        "a: 'x'\n", "a: 1 # no\nb: 2\n", "# no\na: 1\n\n# no\nb:\n  c: 1\n", "ä: {ö: ü, é: [è]}\n",
        "- a\n- b c\n  d\n", "a:\n  x y\n  z\n", "- {a: 1}\n- [b]\n- \"c\"\n", "a: x#y\n", "a: x: y\n",
        "a: http://b\n", "a: {b: http://c, d: 12:30}\n", "a:b: c\n", "a: {b: 1,}\n", "a: {}\n", "a: []\n",
        "a:\nb: 1\n", "a: ~\n", "a: &x 1\n", "a: *x\n", "a: !t x\n", "a: >\n  x\n", "a: \"x\\ny\"\n", "a: 'x''y'\n",
        "a: \"x\n  y\"\n", "a: x\n\n  y\n", "a: 1\n b: 2\n", "a: 1\na: 2\n", "a: {b, c: 1}\n", "a: {b: 1\n",
        "a: [1, 2\n", "a: \"x\n", "? a\n: b\n", "a: 1\n---\nb: 2\n", "a: - b\n", "- - a\n", "a: [x: 1]\n",
        "a: {\"b\": 1}\n", "\"a\": 1\n", "a: {b: x?y}\n", "a: {b: [c d\n  e, f]}\n", "a: {b: c\n  , d: e}\n",
        "a: |\n\n  x\n", "a: |-\n  x\n", "a: |\n  x", "a: x", " a: 1\n", "a: x\n# no\n  y\n", "a: {b: c # no\n}\n",
        "a:\n- 1\n  b: 2\n", "a: -1\n", "a: ?x\n", "a: :x\n", "a: {b: -1, c: -}\n", "a: x,y\n", "a: [x y, z]  \n",
        "a: \"x\" y\n", "a: [1] 2\n", "a: [1]#x\n", "a: {b:c}\n", "a: {b: c:d}\n", "a: {b: :c}\n",
        "a: |\n  x\n # no\nb: 1\n", "a: null\n", "null: 1\n", "a : 1\n", "a: |\n  x\n \n     \n  y\n", "a: 'it''s'\n",
        "a: it's\n", "a: {b: it's, c: \"d\"e}\n", "-1: 2\n", "-: 2\n", "a:\n    b\nc: 1\n", "a:\n- b: c\n- d\n",
        "a: @x\n", "a: `x`\n", "a: %x\n", "a: x %y @z\n", "- a: |\n    x\n  b: 1\n- a: 2\n", "a: \"\"\n", "a: ''\n",
        "a: {b: \"\"}\n", "a: [\n  1,\n  2\n]\n", "a: >-\n  x\n  y\nb: 1\n", "a: >\n  x\n\n  y\n",
        "a: >\n  x\n   y\n", "a: |-\n  x\n\n  y\n\n", "a: |+\n  x\n\n", "a: >  \n  x\n", "a: \"x  \n    y\" # z\n",
        "a: \"x\n\n  y\"\n", "a: {b: \"c\n  d\", e: 'f\n g'}\n", "a: \"\n  x\"\n", "a: \"x\ny\"\n",
        "- >-\n  x\n  y: z\n", "a: \"x \\\n  y\"\n"}) {
    const auto plain = read_plain_yaml(text);
    INFO(text);
    if (plain) CHECK(flat(plain) == full(text));
  }
  CHECK(read_plain_yaml("a: {b: c d,\n  e: f\n    g, h: \"i, j\"}\n"));
  CHECK(read_plain_yaml("a: |\n  x\n   y\n\n  z\nb: 1\n"));
  CHECK_FALSE(read_plain_yaml("a: 1\na: 2\n"));
}

}  // namespace firstcrop
