#include "input/fields.hpp"

#include <string>

#include <doctest/doctest.h>

namespace firstcrop {
namespace {

// A map of the test with everything that was found wrong about it.
class Written {
 public:
  explicit Written(const std::string& text)
      : document_(read(text)), fields(document_, document_.root(), "a jar", findings) {}

  [[nodiscard]] Finding only() const {
    const auto all = findings.sorted();
    REQUIRE(all.size() == 1);
    return all.front();
  }

 private:
  static YamlDocument read(const std::string& text) {
    Findings own;
    auto document = read_yaml("a.yaml", text, own);
    REQUIRE(document);
    return std::move(*document);
  }
  YamlDocument document_;

 public:
  Findings findings;
  Fields fields;
};

}  // namespace

TEST_CASE("the source of a value stands in brackets at its end") {
  CHECK(split_source("64.5 °C [crc]").text == "64.5 °C");
  CHECK(split_source("64.5 °C [crc]").source == "crc");
  CHECK(split_source(" x [a b] ").source == "a b");
  CHECK(split_source("64.5 °C").source.empty());
  CHECK(split_source("a [b] c").text == "a [b] c");
  CHECK(split_source("]").text == "]");
}

TEST_CASE("known keys are silent, unknown keys are told with the nearest name") {
  Written written("name: x\nmeltingpoint: 81\n");
  CHECK(written.fields.text("name") == "x");
  CHECK_FALSE(written.fields.text("melting_point"));
  written.fields.finish();
  CHECK(written.only().place.line == 2);
  CHECK(written.only().help == "did you mean `melting_point`?");
}

TEST_CASE("an unknown key that resembles nothing is told with the keys that are known") {
  Written written("supplier: x\n");
  CHECK_FALSE(written.fields.text("name"));
  written.fields.finish();
  CHECK(written.only().help == "known keys: name");
}

TEST_CASE("half a value that a comma cut is not told again") {
  Written written("{at: 25,5 °C, because: x}\n");
  CHECK_FALSE(written.fields.quantity("at", dimension::kTemperature, "25 °C"));
  CHECK(written.fields.text("because"));
  written.fields.finish();
  CHECK(written.findings.empty());
}

TEST_CASE("a missing compulsory key is told with its help") {
  Written written("a: x\n");
  CHECK(written.fields.text("a"));
  CHECK_FALSE(written.fields.required_text("name", "add it"));
  CHECK(written.only().help == "add it");
}

TEST_CASE("what should be a map and is not is told once, and nothing else") {
  Written written("- x\n");
  CHECK_FALSE(written.fields.is_map());
  CHECK_FALSE(written.fields.required_text("name"));
  written.fields.finish();
  CHECK(written.only().message.find("must be a map") != std::string::npos);
}

TEST_CASE("an empty value is not a text") {
  Written written("name:\n");
  CHECK_FALSE(written.fields.text("name"));
  CHECK(written.only().message == "`name` is empty");
}

TEST_CASE("a list for a text is told with the advice to quote it") {
  Written written("smiles: [Na]\n");
  CHECK_FALSE(written.fields.text("smiles"));
  CHECK(written.only().help.find("quote") != std::string::npos);
}

TEST_CASE("only `true` and `false` are truth values") {
  Written written("a: true\nb: false\n");
  CHECK(written.fields.flag("a") == true);
  CHECK(written.fields.flag("b") == false);
  CHECK_FALSE(written.fields.flag("c"));
  CHECK(written.findings.empty());
}

TEST_CASE("`yes` and `no` are refused, each with what to write instead") {
  for (const char* word : {"yes", "Yes", "on", "y"}) {
    CAPTURE(word);
    Written written(std::string("a: ") + word + "\n");
    CHECK_FALSE(written.fields.flag("a"));
    CHECK(written.only().help == "write `true`");
  }
  for (const char* word : {"no", "NO", "off", "n"}) {
    CAPTURE(word);
    Written written(std::string("a: ") + word + "\n");
    CHECK_FALSE(written.fields.flag("a"));
    CHECK(written.only().help == "write `false`");
  }
}

TEST_CASE("a truth value in quotes, a number or a list is none") {
  for (const char* text : {"a: \"true\"\n", "a: 1\n", "a: [true]\n", "a: True\n"}) {
    CAPTURE(text);
    Written written(text);
    CHECK_FALSE(written.fields.flag("a"));
    CHECK(written.findings.size() == 1);
  }
}

TEST_CASE("a number without unit is told with the number and its unit") {
  Written written("m: 73\n");
  CHECK_FALSE(written.fields.quantity("m", dimension::kTemperature, "122 °C"));
  CHECK(written.only().message == "a temperature needs its unit");
  CHECK(written.only().help == "write `73 °C`");
  CHECK(written.only().place.width == 2);
}

TEST_CASE("a temperature in Fahrenheit is converted in the help") {
  for (const char* text : {"m: 178 °F\n", "m: 178 F\n", "m: 178 Fahrenheit\n"}) {
    CAPTURE(text);
    Written written(text);
    CHECK_FALSE(written.fields.quantity("m", dimension::kTemperature, "122 °C"));
    CHECK(written.only().help == "write `81 °C`");
  }
}

TEST_CASE("a range in another scale is converted at both ends") {
  Written written("m: 170 to 176 °F\n");
  CHECK_FALSE(written.fields.quantity("m", dimension::kTemperature, "122 °C"));
  CHECK(written.only().help == "write `77 to 80 °C` for 170 to 176 °F");
}

TEST_CASE("a temperature in kelvin is converted in the help") {
  for (const char* text : {"m: 355 K\n", "m: 355 kelvin\n", "m: 355 °K\n"}) {
    CAPTURE(text);
    Written written(text);
    CHECK_FALSE(written.fields.quantity("m", dimension::kTemperature, "122 °C"));
    CHECK(written.only().message == "temperatures are in °C, not in kelvin");
    CHECK(written.only().help == "write `82 °C`");
  }
}

TEST_CASE("a decimal comma is told with the point") {
  Written written("m: 83,5 to 84,5 °C\n");
  CHECK_FALSE(written.fields.quantity("m", dimension::kTemperature, "122 °C"));
  CHECK(written.only().help == "write `83.5 to 84.5 °C`");
}

TEST_CASE("a misspelt unit is told with the nearest unit of that kind") {
  Written written("m: 6 mg/ml\n");
  CHECK_FALSE(written.fields.quantity("m", dimension::kConcentration, "30 mg/mL"));
  CHECK(written.only().help == "did you mean `mg/mL`?");
}

TEST_CASE("a unit of another kind, a backward range and no number at all are three findings") {
  Written written("a: 6 mL\nb: 7 to 6 g\nc: heavy\nd: [1 g]\n");
  for (const char* key : {"a", "b", "c", "d"}) {
    CHECK_FALSE(written.fields.quantity(key, dimension::kMass, "4 g"));
  }
  CHECK(written.findings.size() == 4);
}

TEST_CASE("an absent quantity is silent") {
  Written written("a: 1 g\n");
  CHECK_FALSE(written.fields.quantity("b", dimension::kMass, "4 g"));
  CHECK(written.findings.empty());
}

TEST_CASE("a word outside a closed list is told with the nearest or with the list") {
  const std::vector<std::string> words{"purity", "yield"};
  Written near("w: purty\n");
  CHECK_FALSE(near.fields.choice("w", words));
  CHECK(near.only().help == "did you mean `purity`?");
  Written far("w: colour\n");
  CHECK_FALSE(far.fields.choice("w", words));
  CHECK(far.only().help == "one of: purity, yield");
  Written good("w: yield\n");
  CHECK(good.fields.choice("w", words) == "yield");
}

TEST_CASE("a list of words holds words only") {
  Written good("l: [a, b]\n");
  CHECK(good.fields.scalar_list("l").size() == 2);
  CHECK(good.findings.empty());
  Written nested("l: [a, [b]]\n");
  CHECK(nested.fields.scalar_list("l").size() == 1);
  CHECK(nested.findings.size() == 1);
}

TEST_CASE("one word counts as a list only where that is said") {
  Written written("l: a\n");
  CHECK(written.fields.scalar_list("l", true).size() == 1);
  CHECK(written.findings.empty());
  CHECK(written.fields.scalar_list("l").empty());
  CHECK(written.findings.size() == 1);
}

TEST_CASE("a list of maps is told where it is a map or holds a word") {
  Written map("l: {a: 1}\n");
  CHECK(map.fields.map_list("l").empty());
  CHECK(map.findings.size() == 1);
  Written good("l:\n- {a: 1}\n- {a: 2}\n");
  CHECK(good.fields.map_list("l").size() == 2);
  CHECK(good.findings.empty());
}

TEST_CASE("the format must be the one that is expected") {
  Written good("format: firstcrop solute 1\n");
  CHECK(check_format(good.fields, "firstcrop solute 1"));
  Written other("format: firstcrop solute 2\n");
  CHECK_FALSE(check_format(other.fields, "firstcrop solute 1"));
  CHECK(other.only().help == "write `format: firstcrop solute 1`");
  Written none("name: x\n");
  CHECK_FALSE(check_format(none.fields, "firstcrop solute 1"));
  CHECK(none.findings.size() == 1);
}

}  // namespace firstcrop
