#include "library/block_table.hpp"

#include <doctest/doctest.h>

using namespace firstcrop;

namespace {

struct Read {
  explicit Read(const std::string& text)
      : document(*read_yaml("t.yaml", text, findings)), fields(document, document.root(), "file", findings) {}
  Findings findings;
  YamlDocument document;
  Fields fields;
  [[nodiscard]] std::string text() const {
    std::string out;
    for (const Finding& finding : findings.sorted()) out += to_text(finding);
    return out;
  }
};

}  // namespace

TEST_SUITE("block table") {
  TEST_CASE("cells stand between bars, empty ones too") {
    Read read("columns: a | b | c\nrows: |\n  one |  | three\n");
    const BlockTable table(read.fields, "rows", "columns", "a | b | c");
    REQUIRE(table.rows().size() == 1);
    const auto cells = table.cells(table.rows()[0], 3);
    REQUIRE(cells.has_value());
    CHECK(*cells == std::vector<std::string>{"one", "", "three"});
    CHECK(read.findings.empty());
  }

  TEST_CASE(
      "a line that begins with a bar goes on with the columns, one that begins with a plus with the text") {
    Read read("rows: |\n  one | two |\n  | four\n  + some text\n  + and more\n  next | a | b | c\n");
    const BlockTable table(read.fields, "rows");
    REQUIRE(table.rows().size() == 2);
    const auto cells = table.cells(table.rows()[0], 4);
    REQUIRE(cells.has_value());
    CHECK(*cells == std::vector<std::string>{"one", "two", "", "four"});
    CHECK(table.rows()[0].text == "some text and more");
    CHECK(table.rows()[1].text.empty());
  }

  TEST_CASE("a row with too few columns is found at its line") {
    Read read("rows: |\n  a | b\n  only\n");
    const BlockTable table(read.fields, "rows");
    CHECK_FALSE(table.cells(table.rows()[1], 2).has_value());
    CHECK(read.text().find("t.yaml:3:3: error: this row has 1 columns, not 2") != std::string::npos);
  }

  TEST_CASE("the caret stands under the word at fault, counted in characters") {
    Read read("rows: |\n  ärger wrong\n");
    const BlockTable table(read.fields, "rows");
    table.error(table.rows()[0], "wrong", "no");
    const Place place = read.findings.sorted()[0].place;
    CHECK(place.line == 2);
    CHECK(place.column == 9);
    CHECK(place.width == 5);
  }

  TEST_CASE("words leave the rest of the row as a note") {
    Read read("rows: |\n  a b -  some note; here\n  + goes on\n");
    const BlockTable table(read.fields, "rows");
    const auto parts = table.words(table.rows()[0], 3);
    REQUIRE(parts.has_value());
    CHECK(parts->words == std::vector<std::string>{"a", "b", "-"});
    CHECK(parts->rest == "some note; here goes on");
  }

  TEST_CASE("a heading other than the expected one is refused, and no row is read") {
    Read read("columns: a b\nrows: |\n  1 2\n");
    const BlockTable table(read.fields, "rows", "columns", "b a");
    CHECK(table.rows().empty());
    CHECK(read.text().find("these are not the columns expected here") != std::string::npos);
  }

  TEST_CASE("a missing table is a finding") {
    Read read("other: 1\n");
    const BlockTable table(read.fields, "rows");
    CHECK(table.rows().empty());
    CHECK(read.text().find("lacks the key `rows`") != std::string::npos);
  }

  TEST_CASE("names stand behind the first colon") {
    Read read("rows: |\n  head of it: one; two, three; VM&P\n");
    const BlockTable table(read.fields, "rows");
    const auto list = table.named_list(table.rows()[0]);
    REQUIRE(list.has_value());
    CHECK(list->head == "head of it");
    CHECK(list->names == std::vector<std::string>{"one", "two, three", "VM&P"});
  }

  TEST_CASE("only decimal numbers are numbers") {
    CHECK(read_number("-1.5e-3") == doctest::Approx(-0.0015));
    CHECK(read_number("+2") == doctest::Approx(2.0));
    for (const char* wrong : {"", "-", "inf", "nan", "0x10", "1 ", "1a", "--1", "1e999"})
      CHECK_FALSE(read_number(wrong));
  }
}
