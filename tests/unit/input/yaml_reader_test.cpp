#include "input/yaml_reader.hpp"

#include <string>
#include <utility>

#include <doctest/doctest.h>

#include "base/error.hpp"

namespace firstcrop {
namespace {

// The first finding about a text that must be refused.
Finding refused(const std::string& text) {
  Findings findings;
  const auto document = read_yaml("a.yaml", text, findings);
  CAPTURE(text.substr(0, 200));
  CHECK_FALSE(document);
  REQUIRE(findings.has_errors());
  return findings.sorted().front();
}

YamlDocument accepted(const std::string& text) {
  Findings findings;
  auto document = read_yaml("a.yaml", text, findings);
  for (const Finding& finding : findings.sorted()) MESSAGE(to_text(finding));
  REQUIRE(document);
  return std::move(*document);
}

bool is_at(const Finding& finding, int line, int column) {
  return finding.place.line == line && finding.place.column == column;
}

}  // namespace

TEST_CASE("keys and values keep their places, in characters") {
  const YamlDocument document = accepted("a: 1\n\"°\": {b: x, c: [y, \"°\", z]}\n");
  const YamlNode& root = document.root();
  REQUIRE(root.is_map());
  CHECK(root.entries[1].first.line == 2);
  CHECK(root.entries[1].first.column == 1);
  const YamlNode* list = root.find("°")->find("c");
  REQUIRE(list != nullptr);
  CHECK(list->items[2].text == "z");
  CHECK(list->items[2].column == 25);
  CHECK(document.place_of(list->items[1]).width == 3);
}

TEST_CASE("every scalar stays text: no truth values, no octal numbers, no null") {
  const YamlDocument document = accepted("a: no\nb: yes\nc: 010\nd: ~\ne: 1e3\nf: null\n");
  CHECK(document.root().find("a")->text == "no");
  CHECK(document.root().find("b")->text == "yes");
  CHECK(document.root().find("c")->text == "010");
  CHECK(document.root().find("e")->text == "1e3");
}

TEST_CASE("quotes and blocks are remembered, since `true` in quotes is no flag") {
  const YamlDocument document = accepted("a: \"true\"\nb: true\nc: 'x'\nd: |\n  rows\n  more\n");
  CHECK(document.root().find("a")->quoted);
  CHECK_FALSE(document.root().find("b")->quoted);
  CHECK(document.root().find("c")->quoted);
  CHECK(document.root().find("d")->quoted);
  CHECK(document.root().find("d")->text == "rows\nmore\n");
}

TEST_CASE("a duplicate key is refused, and both places are told") {
  const Finding finding = refused("a: 1\nb: 2\na: 3\n");
  CHECK(is_at(finding, 3, 1));
  REQUIRE(finding.note_place);
  CHECK(finding.note_place->line == 1);
}

TEST_CASE("a duplicate key is refused inside a flow map too") {
  CHECK(is_at(refused("x: {mass: 1 g, mass: 2 g}\n"), 1, 16));
}

TEST_CASE("keys alike in different maps are no duplicates") {
  CHECK(accepted("- {a: 1}\n- {a: 2}\n").root().items.size() == 2);
}

TEST_CASE("text after a list is refused") {
  CHECK(is_at(refused("- ethanol\n- water\nand a word\n"), 3, 1));
}

TEST_CASE("a second document is refused") {
  CHECK(refused("a: 1\n---\nb: 2\n").place.line == 2);
}

TEST_CASE("document marks around the only document are allowed") {
  CHECK(accepted("---\na: 1\n...\n").root().find("a") != nullptr);
}

TEST_CASE("an unterminated quote is refused where it begins") {
  CHECK(is_at(refused("a: 1\nb: \"CCO\n"), 2, 4));
  CHECK(is_at(refused("a: 'it''s\n"), 1, 4));
}

TEST_CASE("a doubled single quote and an escaped double quote do not end the text") {
  CHECK(accepted("a: 'it''s'\n").root().find("a")->text == "it's");
  CHECK(accepted("a: \"say \\\"x\\\"\"\n").root().find("a")->text == "say \"x\"");
}

TEST_CASE("an alias is refused") {
  CHECK(refused("a: *b\n").message.find("alias") != std::string::npos);
  CHECK(refused("a: &b 1\nc: *b\n").place.line == 1);
}

TEST_CASE("an anchor is refused") {
  CHECK(is_at(refused("a: &b 1\n"), 1, 4));
}

TEST_CASE("a tag is refused") {
  CHECK(refused("a: !!float 81\n").message.find("tag") != std::string::npos);
  CHECK(refused("a: !mine {b: 1}\n").message.find("tag") != std::string::npos);
}

TEST_CASE("a list or a map as a key is refused") {
  CHECK(refused("[a, b]: 1\n").place.line == 1);
  CHECK(refused("{a: b}: 1\n").place.line == 1);
}

TEST_CASE("32 levels are read, 33 are refused") {
  CHECK(accepted(std::string(32, '[') + "x" + std::string(32, ']') + "\n").root().is_list());
  const Finding finding = refused(std::string(33, '[') + "x" + std::string(33, ']') + "\n");
  CHECK(is_at(finding, 1, 33));
}

TEST_CASE("an absurd depth is refused without exhausting the stack") {
  refused(std::string(200000, '['));
  refused(std::string(100000, '{'));
}

TEST_CASE("a file of 1 MiB is read, one byte more is refused") {
  const std::string head = "a: 1\n#";
  std::string text = head + std::string((1U << 20U) - head.size() - 1, 'x') + "\n";
  CHECK(text.size() == 1U << 20U);
  CHECK(accepted(text).root().find("a") != nullptr);
  text.insert(head.size(), 1, 'x');
  CHECK(refused(text).place.line == 0);
}

TEST_CASE("bytes that are no UTF-8 are refused where they stand") {
  CHECK(is_at(refused("a: \xff\n"), 1, 4));
  CHECK(is_at(refused("a: 1\nb: °\xc3(\n"), 2, 5));
  CHECK(refused("a: \xc0\xaf\n").message.find("UTF-8") != std::string::npos);
  CHECK(refused("a: \xed\xa0\x80\n").message.find("UTF-8") != std::string::npos);
  CHECK(refused("a: \xe2\x82").message.find("UTF-8") != std::string::npos);
}

TEST_CASE("characters of four bytes are read") {
  CHECK(accepted("a: \xF0\x9F\xA7\xAA\n").root().find("a")->text == "\xF0\x9F\xA7\xAA");
}

TEST_CASE("null bytes and other control characters are refused") {
  CHECK(is_at(refused(std::string("a: x\0y\n", 7)), 1, 5));
  CHECK(refused("a: \x07\n").message.find("control") != std::string::npos);
}

TEST_CASE("a tab in the indentation is refused") {
  CHECK(is_at(refused("a:\n\tb: 1\n"), 2, 1));
}

TEST_CASE("a tab before a comment at the end of a line does no harm") {
  CHECK(accepted("a: 1\t# one\n").root().find("a")->text == "1");
}

TEST_CASE("a file that holds a comma alone is refused at once") {
  CHECK(refused(",").severity == Severity::Error);
  CHECK(refused(",\n,\n").severity == Severity::Error);
}

TEST_CASE("a file without data is refused as empty") {
  CHECK(refused("").message == "the file is empty");
  CHECK(refused("# nothing but this\n").message == "the file is empty");
}

TEST_CASE("a map or list that is never closed is refused") {
  refused("a: {b: 1\n");
  refused("a: [b, c\n");
  refused("a: b]\nc: }\n{");
}

TEST_CASE("a colon inside a text is refused with the advice to quote it") {
  const Finding finding = refused("name: tray 3: vanillin\n");
  CHECK(is_at(finding, 1, 13));
  CHECK(finding.help.find("quote") != std::string::npos);
}

TEST_CASE("an unquoted SMILES that begins with a bracket is told as such") {
  const Finding finding = refused("smiles: [O-][N+](=O)c1ccccc1\n");
  CHECK(finding.message.find("SMILES") != std::string::npos);
  CHECK(is_at(finding, 1, 9));
  CHECK(finding.help == "write `smiles: \"[O-][N+](=O)c1ccccc1\"`");
  CHECK(is_at(refused("a:\n- {b: c, smiles: [O-]C=O, d: e}\n"), 2, 18));
}

TEST_CASE("a value that is not there has its place behind its key or dash, not on the next line") {
  const YamlDocument document = accepted("a:\nb: {c: , d: x}\ne:\n-   # to come\n- y\n");
  CHECK(document.root().find("a")->line == 1);
  CHECK(document.root().find("a")->column == 3);
  CHECK(document.root().find("b")->find("c")->column == 7);
  CHECK(document.root().find("e")->items[0].line == 4);
  CHECK(document.root().find("e")->items[0].column == 1);
  CHECK(accepted("a: null\nb: ~\n").root().find("a")->text == "null");
}

TEST_CASE("a quote or a bracket that is never closed is told where it stands, whatever comes behind") {
  CHECK(is_at(refused("name: \"a jar\nsmiles: \"CCO\"\nnote: \"x\"\n"), 1, 7));
  CHECK(is_at(refused("name: 'a jar\nsmiles: 'CCO'\n"), 1, 7));
  CHECK(is_at(refused("x: {a: 1, b: 2\ny: 3 °C\n"), 1, 4));
  CHECK(is_at(refused("x: [a, b\ny: 3 °C\n"), 1, 4));
  CHECK(is_at(refused("x: {a: [1, 2}\n"), 1, 8));
}

TEST_CASE("text behind a closing quote or bracket is told at it") {
  CHECK(is_at(refused("name: 'Anna's jar'\n"), 1, 12));
  CHECK(is_at(refused("contains: [water] traces\n"), 1, 17));
}

TEST_CASE("brackets in comments, texts and blocks are not taken for open ones") {
  CHECK(is_at(refused("a: 1 # [\nb: \"{\"\nc: |\n  [ {\nd: {e: 1\n"), 5, 4));
}

TEST_CASE("an anchor is told once") {
  Findings findings;
  CHECK_FALSE(read_yaml("a.yaml", "a: &b x\nc: &d [y]\n", findings));
  CHECK(findings.size() == 2);
}

TEST_CASE("a comma that cuts a value is one finding, and the rest of the file is read") {
  const auto cut = [](const std::string& text) {
    Findings findings;
    const auto document = read_yaml("a.yaml", text, findings);
    REQUIRE(document);
    REQUIRE(findings.size() == 1);
    return std::pair{document->root().entries[0].second.cut_by_comma, findings.sorted().front().help};
  };
  CHECK(cut("{at: 25,5 °C, b: x}\n") == std::pair{true, std::string("write a decimal point: `25.5 °C`")});
  CHECK(cut("{a: max(x, 3) > 2}\n").second == "separate arguments by `;`, or quote the whole value");
  CHECK(cut("{a: very dark, nearly black, or so, b: x}\n").second ==
        "quote the whole value: `\"very dark, nearly black\"`");
  CHECK_FALSE(cut("{a: 6 g, insoluble}\n").first);
  CHECK(accepted("{a: x, b: , c: y}\n").root().entries.size() == 3);
}

TEST_CASE("a file cannot begin with a sign that begins nothing") {
  for (const char* text : {", a: b\n", "# x\n\n@a: b\n", "}\n", "%a\n", "`a: b\n", ": x\n", "? x\n"}) {
    CAPTURE(text);
    CHECK(refused(text).message.starts_with("no file begins with"));
  }
}

TEST_CASE("line ends of Windows and a byte order mark change nothing") {
  const YamlDocument document = accepted(
      "\xEF\xBB\xBF"
      "a: 1\r\nb: 22\r\n");
  CHECK(document.root().find("b")->text == "22");
  CHECK(document.place_of(*document.root().find("b")).excerpt == "b: 22");
  CHECK(document.root().entries[0].first.column == 1);
}

TEST_CASE("a part of a plain, a quoted and a block text has its own place") {
  const YamlDocument document = accepted("a: one two\nb: \"one two\"\nc: |\n  first\n  second row\n");
  const Place plain = document.place_within(*document.root().find("a"), 4, 3);
  CHECK(plain.column == 8);
  CHECK(plain.width == 3);
  CHECK(document.place_within(*document.root().find("b"), 4, 3).column == 9);
  const Place row = document.place_within(*document.root().find("c"), 13, 3);
  CHECK(row.line == 5);
  CHECK(row.column == 10);
}

TEST_CASE("a file that is absent or a folder is a fault of the environment") {
  CHECK_THROWS_AS(static_cast<void>(read_file("/no/such/file.yaml")), Error);
  CHECK_THROWS_AS(static_cast<void>(read_file("/")), Error);
}

}  // namespace firstcrop
