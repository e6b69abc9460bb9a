#include "rules/type_check.hpp"

#include <doctest/doctest.h>

#include "small_book.hpp"

using namespace firstcrop;

namespace {

const NamedTypes kLets{{"margin", ValueType{FactType::Number, dimension::kTemperatureDifference}},
                       {"broken", std::nullopt}};

std::optional<ValueType> type_of(const std::string& text, std::vector<TextFault>& faults) {
  auto parsed = parse_expression(text, faults);
  REQUIRE_MESSAGE(parsed, text);
  return check_types(*parsed, small::catalogue(), kLets, faults);
}

ValueType good(const std::string& text) {
  std::vector<TextFault> faults;
  const auto type = type_of(text, faults);
  REQUIRE_MESSAGE(type, (text + ": " + (faults.empty() ? "" : faults.front().message)));
  return *type;
}

std::string bad(const std::string& text) {
  std::vector<TextFault> faults;
  CHECK_FALSE(type_of(text, faults));
  std::string out;
  for (const TextFault& fault : faults) {
    out += (out.empty() ? "" : "\n") + fault.message + (fault.help.empty() ? "" : " | " + fault.help);
  }
  return out;
}

ValueType number(const Dimension& dimension) {
  return {FactType::Number, dimension};
}

}  // namespace

TEST_CASE("temperatures and their differences are kept apart") {
  CHECK(good("system.boiling_point - solute.melting_point") == number(dimension::kTemperatureDifference));
  CHECK(good("system.boiling_point - 5 °C") == number(dimension::kTemperatureDifference));
  CHECK(good("system.boiling_point + 5 K") == number(dimension::kTemperature));
  CHECK(good("5 K + system.boiling_point") == number(dimension::kTemperature));
  CHECK(good("system.boiling_point - 5 K") == number(dimension::kTemperature));
  CHECK(good("min(system.boiling_point - 1 K; aim.heating_limit)") == number(dimension::kTemperature));
  CHECK(good("margin * 2") == number(dimension::kTemperatureDifference));
  CHECK(good("-margin") == number(dimension::kTemperatureDifference));
  CHECK(good("abs(margin)") == number(dimension::kTemperatureDifference));
  CHECK(bad("system.boiling_point + solute.melting_point") ==
        "a temperature and a temperature cannot be added | differences of temperatures are in K: T - T = K, "
        "T + "
        "K = T");
  CHECK(bad("5 K - system.boiling_point") ==
        "a temperature difference and a temperature cannot be subtracted | differences of temperatures are "
        "in K: "
        "T - T = K, T + K = T");
  CHECK(bad("system.boiling_point * 2") ==
        "a temperature and a number cannot be multiplied | differences of temperatures are in K: T - T = K, "
        "T + K "
        "= T");
  CHECK(bad("-system.boiling_point") ==
        "a temperature has neither sign nor size | take the difference of two temperatures");
  CHECK(bad("abs(system.boiling_point)") ==
        "a temperature has neither sign nor size | take the difference of two temperatures");
}

TEST_CASE("products and quotients carry their dimensions") {
  CHECK(good("system.hot_solubility / system.cold_solubility") == number(dimension::kNumber));
  CHECK(good("system.hot_solubility * system.volume_per_gram") == number(dimension::kNumber));
  CHECK(good("1 / system.hot_solubility") == number(dimension::kVolumePerMass));
  CHECK(good("log10(system.hot_solubility / 5 mg/mL)") == number(dimension::kNumber));
  CHECK(good("system.recovery + 5 %") == number(dimension::kNumber));
  CHECK(bad("log10(system.hot_solubility)") ==
        "a logarithm of a mass per volume | divide by a quantity of the same kind first");
}

TEST_CASE("only equal dimensions are compared, and a bare number gets its unit in the help") {
  CHECK(good("system.hot_solubility < 5 g/L").type == FactType::Flag);
  CHECK(good("system.recovery >= 50 %").type == FactType::Flag);
  CHECK(good("system.polarity == 0.5").type == FactType::Flag);
  CHECK(bad("system.boiling_point < 100") ==
        "a temperature is compared with a number | write the number with its unit: `100 °C`");
  CHECK(bad("margin < 5") ==
        "a temperature difference is compared with a number | write the number with its unit: `5 K`");
  CHECK(bad("system.boiling_point < 100 K") ==
        "a temperature is compared with a temperature difference | °C is a temperature, K a difference of "
        "temperatures");
  CHECK(bad("margin + 5") ==
        "a temperature difference and a number cannot be added | write the number with its unit: `5 K`");
  CHECK(bad("system.hot_solubility < system.volume_per_gram") ==
        "a mass per volume is compared with a volume per mass");
}

TEST_CASE("unknown facts and names are told with the nearest one") {
  CHECK(bad("system.boilingpoint < 5 °C") ==
        "there is no fact `system.boilingpoint` | did you mean `system.boiling_point`?");
  CHECK(bad("weather.sunny") == "there is no fact `weather.sunny` | `firstcrop rules --facts` lists them");
  CHECK(bad("margn > 3 K") == "`margn` is neither a fact nor a `let` | did you mean `margin`?");
  CHECK(bad("elephant") ==
        "`elephant` is neither a fact nor a `let` | a fact is written `scope.name`, a text in quotes: "
        "`'elephant'`");
  CHECK(bad("freezing_point < 5 °C") ==
        "`freezing_point` is neither a fact nor a `let` | name its scope: `system.freezing_point`");
  CHECK(
      bad("polarity < 1") ==
      "`polarity` is neither a fact nor a `let` | name its scope: `solute.polarity` or `solvent.polarity` or "
      "`system.polarity`");
  CHECK(bad("broken > 3").empty());
}

TEST_CASE("every fault of an expression is told, not only the first") {
  const std::string faults = bad("system.boilingpoint < 5 °C and system.polarty > 1");
  CHECK(faults.find("boilingpoint") != std::string::npos);
  CHECK(faults.find("polarty") != std::string::npos);
}

TEST_CASE("texts are compared with words that their fact can take") {
  CHECK(good("solute.form == 'salt'").type == FactType::Flag);
  CHECK(good("solute.form in ('salt'; 'hydrate')").type == FactType::Flag);
  CHECK(good("system.note == 'anything'").type == FactType::Flag);
  CHECK(bad("solute.form == 'sallt'") == "`solute.form` is never `'sallt'` | did you mean `'salt'`?");
  CHECK(bad("solute.form in ('salt'; 'gas')") ==
        "`solute.form` is never `'gas'` | it is one of: neutral, salt, hydrate");
  CHECK(bad("solute.form == salt") == "a text stands in quotes | write `'salt'`");
  CHECK(bad("solute.form == 5") == "a text is compared with a number");
  CHECK(bad("solute.form < 'salt'") == "a number is expected, this is a text");
}

TEST_CASE("sets are compared by meets, texts looked up by in") {
  CHECK(good("solvent.hazards meets ('H225'; 'H301')").type == FactType::Flag);
  CHECK(good("solvent.class in solute.groups").type == FactType::Flag);
  CHECK(good("solvent.hazards meets solute.groups").type == FactType::Flag);
  CHECK(bad("solvent.hazards in ('H225')") ==
        "a text stands before `in`, this is a set | two sets are compared by `meets`");
  CHECK(bad("solvent.class meets ('1')") ==
        "a set stands before `meets`, this is a text | a text is looked up by `in`");
  CHECK(bad("solvent.class in solute.form") ==
        "a set is expected here, this is a text | write e.g. `('A'; 'B')`");
  CHECK(bad("solvent.hazards == solute.groups") ==
        "sets are not compared by `==` and `!=` | write `set meets ('A'; 'B')`");
}

TEST_CASE("flags stand alone") {
  CHECK(good("system.is_pair and not solute.energetic").type == FactType::Flag);
  CHECK(bad("system.is_pair == true") ==
        "flags are not compared by `==` and `!=` | write the flag alone, or `not` before it");
  CHECK(bad("system.is_pair and system.polarity") ==
        "a condition is expected, this is a number | compare the number with something");
  CHECK(bad("not solute.form") == "a condition is expected, this is a text");
  CHECK(bad("system.is_pair + 1") == "a number is expected, this is a flag");
}

TEST_CASE("functions take what they can use") {
  CHECK(good("first(solvent.class; 'none-known')").type == FactType::Text);
  CHECK(good("first(system.is_pair; false)").type == FactType::Flag);
  CHECK(good("known(system.hot_solubility)").type == FactType::Flag);
  CHECK(good("known(system.hot_solubility / system.cold_solubility)").type == FactType::Flag);
  CHECK(good("measured(system.hot_solubility)").type == FactType::Flag);
  CHECK(bad("min(system.boiling_point; 5 K)") ==
        "the values of `min` must be alike: a temperature difference stands beside a temperature");
  CHECK(bad("first(system.is_pair; 1)") ==
        "the values of `first` must be alike: a number stands beside a flag");
  CHECK(bad("max(solute.form; solvent.class)") == "a number is expected, this is a text");
  CHECK(bad("measured(margin)") ==
        "`measured` asks about one fact | write `measured(system.hot_solubility)`");
}

TEST_CASE("the facts and names of an expression are listed once each") {
  std::vector<TextFault> faults;
  auto parsed =
      parse_expression("system.polarity > 1 or margin > 2 K or system.polarity < margin / 1 K", faults);
  REQUIRE(parsed);
  REQUIRE(check_types(*parsed, small::catalogue(), kLets, faults));
  CHECK(facts_of(*parsed) == std::vector<FactReference>{small::fact("system.polarity")});
  CHECK(names_in(*parsed) == std::vector<std::string>{"margin"});
}
