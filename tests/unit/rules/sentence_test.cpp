#include "rules/sentence.hpp"

#include <doctest/doctest.h>

#include "small_book.hpp"

using namespace firstcrop;
using small::fact;

namespace {

const Names kNames{"benzil", "ethanol+water 80:20", {"ethanol", "water"}};

CheckedLets lets() {
  std::vector<TextFault> faults;
  auto margin = parse_expression("solute.melting_point - system.boiling_point", faults);
  const auto type = check_types(*margin, small::catalogue(), {}, faults);
  REQUIRE(type);
  CheckedLets out;
  out.emplace("margin", std::pair{*margin, *type});
  return out;
}

Sentence sentence_of(const std::string& text) {
  std::vector<TextFault> faults;
  const auto out = Sentence::parse(text, small::catalogue(), lets(), faults);
  REQUIRE_MESSAGE(out, text);
  return *out;
}

TextFault fault_of(const std::string& text) {
  std::vector<TextFault> faults;
  CHECK_FALSE(Sentence::parse(text, small::catalogue(), lets(), faults));
  REQUIRE(faults.size() == 1);
  return faults.front();
}

}  // namespace

TEST_CASE("names stand in a sentence where its braces are") {
  const FactFrame frame(small::catalogue(), 2);
  const Sentence sentence = sentence_of("{solute} in {system}: {good}, then {poor}; this one is {solvent}");
  CHECK(sentence.render(frame, 0, kNames) ==
        "benzil in ethanol+water 80:20: ethanol, then water; this one is ethanol");
  CHECK(sentence.render(frame, 1, kNames).ends_with("this one is water"));
  CHECK(sentence.written().starts_with("{solute} in"));
}

TEST_CASE("facts and lets carry their units") {
  FactFrame frame(small::catalogue(), 1);
  frame.set(fact("solute.melting_point"), small::celsius(122));
  frame.set(fact("system.boiling_point"), small::celsius(78));
  frame.set(fact("system.recovery"), small::number(0.87));
  CHECK(sentence_of("boils at {system.boiling_point}, {margin} below").render(frame, 0, kNames) ==
        "boils at 78 °C, 44 K below");
  CHECK(sentence_of("{system.recovery}").render(frame, 0, kNames) == "87 %");
}

TEST_CASE("an uncertain number shows the range that holds 80 percent") {
  FactFrame frame(small::catalogue(), 1);
  ScenarioValues values{};
  for (std::size_t k = 0; k < kScenarioCount; ++k) values[k] = 0.004 + 0.0001 * static_cast<double>(k);
  frame.set(fact("system.volume_per_gram"), small::column(values));
  CHECK(sentence_of("{system.volume_per_gram}").render(frame, 0, kNames) == "4.6-9.7 mL/g");
}

TEST_CASE("an instruction can take one end of the range, and what is certain has one value at both") {
  FactFrame frame(small::catalogue(), 1);
  ScenarioValues values{};
  for (std::size_t k = 0; k < kScenarioCount; ++k) values[k] = 0.004 + 0.0001 * static_cast<double>(k);
  frame.set(fact("system.volume_per_gram"), small::column(values));
  frame.set(fact("solute.melting_point"), small::celsius(122));
  frame.set(fact("system.boiling_point"), small::celsius(78));
  CHECK(sentence_of("take {system.volume_per_gram|high} or more").render(frame, 0, kNames) ==
        "take 9.7 mL/g or more");
  CHECK(sentence_of("{system.volume_per_gram|low}").render(frame, 0, kNames) == "4.6 mL/g");
  CHECK(sentence_of("{margin|low} to {margin|high}").render(frame, 0, kNames) == "44 K to 44 K");
  CHECK(sentence_of("{system.hot_temperature|low}").render(frame, 0, kNames) == "unknown");
}

TEST_CASE("an end belongs to a number, and is low or high") {
  CHECK(fault_of("at {system.boiling_point|most}").message == "after `|` stands the end of a range");
  CHECK(fault_of("at {system.boiling_point|most}").help == "write `|low` or `|high`");
  CHECK(fault_of("it {system.is_pair|low}").message == "`system.is_pair` is no number and has no ends");
  CHECK(fault_of("in {solvent|high}").message == "`solvent` is no number and has no ends");
  CHECK(fault_of("at {nothing|low}").message == "`nothing` is neither a fact nor a `let`");
}

TEST_CASE("a probability stands only where an exclusion is merely possible") {
  const TextFault fault = fault_of("they part ({probability})");
  CHECK(fault.message == "`{probability}` has no meaning here");
  CHECK(fault.help == "it belongs into the `perhaps` of an exclusion");
  std::vector<TextFault> faults;
  const auto perhaps =
      Sentence::parse("may part ({probability})", small::catalogue(), lets(), faults, SentencePlace::Perhaps);
  REQUIRE(perhaps);
  CHECK(perhaps->render(FactFrame(small::catalogue(), 1), 0, kNames, 0.125) == "may part (12 %)");
}

TEST_CASE("flags, texts and sets read as words, and what is unknown says so") {
  FactFrame frame(small::catalogue(), 1);
  frame.set(fact("system.is_pair"), small::flag(false));
  frame.set(fact("system.works"), small::flag_mask(small::first_scenarios(16)));
  frame.set(fact("solute.form"), small::text("salt"));
  frame.set(fact("solvent.hazards"), small::set({"H225", "H336"}));
  frame.set(fact("solute.groups"), small::set({}));
  CHECK(sentence_of("{system.is_pair}").render(frame, 0, kNames) == "no");
  CHECK(sentence_of("{system.works}").render(frame, 0, kNames) == "yes by 25 %");
  CHECK(sentence_of("{solute.form}").render(frame, 0, kNames) == "salt");
  CHECK(sentence_of("{solvent.hazards}").render(frame, 0, kNames) == "H225, H336");
  CHECK(sentence_of("{solute.groups}").render(frame, 0, kNames) == "none");
  CHECK(sentence_of("{system.boiling_point}").render(frame, 0, kNames) == "unknown");
  CHECK(sentence_of("{margin}").render(frame, 0, kNames) == "unknown");
}

TEST_CASE("a wrong brace is told with its place") {
  const TextFault unknown = fault_of("boils {margn} below");
  CHECK(unknown.message == "`margn` is neither a fact nor a `let`");
  CHECK(unknown.help == "did you mean `{margin}`?");
  CHECK(unknown.offset == 6);
  CHECK(unknown.width == 7);
  CHECK(fault_of("at {system.boilingpoint}").help == "did you mean `{system.boiling_point}`?");
  CHECK(fault_of("at {weather}").help ==
        "braces hold a fact, a `let`, or one of solute, solvent, good, poor, system");
  CHECK(fault_of("ab } cd").message == "a closing brace without its opening one");
  CHECK(fault_of("°C {system").message == "this brace is never closed");
  CHECK(fault_of("°C {system").offset == 3);
}
