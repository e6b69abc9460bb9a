#include "phase/miscibility.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "phase_fixture.hpp"

using namespace firstcrop;
using doctest::Approx;

namespace {

/// The definition of the margin, spelled out over the whole grid.
double margin_on_whole_grid(const BinaryActivity& pair) {
  constexpr int kPoints = 301;
  std::vector<double> ratios;
  for (int i = 0; i < kPoints; ++i) ratios.push_back(pair.log_ratio(-15 + 0.1 * i));
  double least = 1e9;
  for (int i = 0; i < kPoints; ++i) {
    const int before = std::max(i - 1, 0);
    const int after = std::min(i + 1, kPoints - 1);
    least = std::min(
        least, 1 + (ratios[static_cast<std::size_t>(after)] - ratios[static_cast<std::size_t>(before)]) /
                       (0.1 * (after - before)));
  }
  return std::log(std::max(1 - least, 1e-4));
}

MiscibilityRecord record(MiscibilityClass miscibility, PairEvidence evidence, Confidence confidence) {
  MiscibilityRecord made;
  made.miscibility = miscibility;
  made.evidence = evidence;
  made.confidence = confidence;
  return made;
}

const std::vector<std::string> kNames{"water",   "methanol",     "ethanol",     "1-butanol",
                                      "acetone", "chloroform",   "toluene",     "hexane",
                                      "octane",  "acetonitrile", "formic-acid", "pyridine"};

}  // namespace

TEST_CASE("the margin is that of the whole grid, for every two of a dozen liquids and three temperatures") {
  for (std::size_t i = 0; i < kNames.size(); ++i)
    for (std::size_t j = i + 1; j < kNames.size(); ++j)
      for (const double temperature_k : {273.15, 298.15, 350.0}) {
        CAPTURE(kNames[i]);
        CAPTURE(kNames[j]);
        const BinaryActivity pair = phase_fixture::pair(kNames[i], kNames[j], temperature_k);
        CHECK(std::abs(miscibility_margin(pair) - margin_on_whole_grid(pair)) < 1e-9);
      }
}

TEST_CASE("the margin does not depend on the order of the pair") {
  CHECK(miscibility_margin(phase_fixture::pair("hexane", "methanol", 298.15)) ==
        Approx(miscibility_margin(phase_fixture::pair("methanol", "hexane", 298.15))).epsilon(1e-9));
}

TEST_CASE("a mixture of like liquids has the least margin that is told apart") {
  CHECK(miscibility_margin(phase_fixture::pair("hexane", "heptane", 298.15)) == Approx(std::log(1e-4)));
}

TEST_CASE("the chance of two liquids rises with the margin and is even at 0.135") {
  CHECK(chance_of_two_liquids(0.135) == Approx(0.5));
  double before = 0;
  for (double margin = -9; margin < 2; margin += 0.1) {
    const double chance = chance_of_two_liquids(margin);
    CHECK(chance > before);
    before = chance;
  }
}

TEST_CASE("without a record the model speaks alone and is never quite sure") {
  const auto surely_one = one_liquid(nullptr, -5, -5, 298.15);
  const auto surely_two = one_liquid(nullptr, 2, 2, 298.15);
  REQUIRE(surely_one);
  REQUIRE(surely_two);
  CHECK(surely_one->chance == 0.995);
  CHECK(surely_two->chance == 0.02);
  CHECK(surely_one->basis == PhaseBasis::Model);
  CHECK_FALSE(one_liquid(nullptr, std::nullopt, std::nullopt, 298.15).has_value());
}

TEST_CASE("at its own temperature a published record outweighs the model") {
  const double against = 0.3;
  const auto miscible = record(MiscibilityClass::Miscible, PairEvidence::Published, Confidence::High);
  const auto partial = record(MiscibilityClass::Partial, PairEvidence::Published, Confidence::High);
  CHECK(one_liquid(&miscible, against, against, 298.15)->chance ==
        Approx(0.97 + 0.03 * (1 - chance_of_two_liquids(0.3))));
  CHECK(one_liquid(&partial, -against, -against, 298.15)->chance ==
        Approx(0.03 * (1 - chance_of_two_liquids(-0.3))));
  CHECK(one_liquid(&partial, -against, -against, 298.15)->basis == PhaseBasis::RecordAndModel);
}

TEST_CASE("a doubtful published record weighs less") {
  const auto sure = record(MiscibilityClass::Miscible, PairEvidence::Published, Confidence::High);
  const auto doubtful = record(MiscibilityClass::Miscible, PairEvidence::Published, Confidence::Low);
  CHECK(one_liquid(&doubtful, 0.3, 0.3, 298.15)->chance < one_liquid(&sure, 0.3, 0.3, 298.15)->chance);
  CHECK(one_liquid(&doubtful, std::nullopt, std::nullopt, 298.15)->chance == Approx(0.9));
  CHECK(one_liquid(&sure, std::nullopt, std::nullopt, 298.15)->chance == Approx(0.985));
  CHECK(one_liquid(&sure, std::nullopt, std::nullopt, 298.15)->basis == PhaseBasis::Record);
}

TEST_CASE("the model carries a published record to other temperatures in the right direction") {
  const auto miscible = record(MiscibilityClass::Miscible, PairEvidence::Published, Confidence::High);
  const auto partial = record(MiscibilityClass::Partial, PairEvidence::Published, Confidence::High);
  double one_before = 1;
  double two_before = 1;
  for (const double margin : {-0.2, -0.1, 0.0, 0.1, 0.2, 0.3}) {
    const double from_one = one_liquid(&miscible, -0.1, margin, 273.15)->chance;
    const double from_two = one_liquid(&partial, 0.2, margin, 273.15)->chance;
    CHECK(from_one <= one_before);
    CHECK(from_two <= two_before);
    one_before = from_one;
    two_before = from_two;
  }
  CHECK(one_before < 0.2);
  CHECK(one_liquid(&partial, 0.2, -0.2, 350)->chance > 0.9);
}

TEST_CASE("what mixes at 25 °C is not parted by warming on a calculation alone") {
  const auto miscible = record(MiscibilityClass::Miscible, PairEvidence::Published, Confidence::High);
  const double here = one_liquid(&miscible, 0.1, 0.1, 298.15)->chance;
  for (const double margin : {0.1, 0.2, 0.4}) CHECK(one_liquid(&miscible, 0.1, margin, 340)->chance > here - 0.03);
  CHECK(one_liquid(&miscible, 0.1, 0.4, 278)->chance < 0.1);
}

TEST_CASE("a calculation that the record proves wrong by far is no more sure of the cold") {
  const auto miscible = record(MiscibilityClass::Miscible, PairEvidence::Published, Confidence::High);
  const double at_edge = one_liquid(&miscible, 0.135, 0.145, 278.15)->chance;
  CHECK(one_liquid(&miscible, 0.335, 0.345, 278.15)->chance > at_edge - 0.03);
  CHECK(one_liquid(&miscible, 0.335, 0.535, 278.15)->chance < 0.2);
}

TEST_CASE("two liquids at 25 °C say little of the boil where nothing is calculated") {
  const auto partial = record(MiscibilityClass::Partial, PairEvidence::Published, Confidence::High);
  const auto immiscible = record(MiscibilityClass::Immiscible, PairEvidence::Published, Confidence::High);
  CHECK(one_liquid(&partial, std::nullopt, std::nullopt, 298.15)->chance == Approx(0.015));
  CHECK(one_liquid(&partial, std::nullopt, std::nullopt, 278.15)->chance == Approx(0.015));
  CHECK(one_liquid(&partial, std::nullopt, std::nullopt, 340)->chance > 0.2);
  CHECK(one_liquid(&immiscible, std::nullopt, std::nullopt, 340)->chance <
        one_liquid(&partial, std::nullopt, std::nullopt, 340)->chance);
}

TEST_CASE("an upper critical temperature decides alone, less sharply where it is remembered") {
  auto pair = record(MiscibilityClass::Partial, PairEvidence::Published, Confidence::High);
  pair.upper_critical_temperature_k = 306.85;
  CHECK(one_liquid(&pair, 0.5, 0.5, 306.85)->chance == Approx(0.5));
  CHECK(one_liquid(&pair, 0.5, 0.5, 318.15)->chance > 0.99);
  CHECK(one_liquid(&pair, 0.5, 0.5, 298.15)->chance < 0.02);
  CHECK(one_liquid(&pair, 0.5, 0.5, 298.15)->basis == PhaseBasis::CriticalTemperature);
  const double published = one_liquid(&pair, 0.5, 0.5, 298.15)->chance;
  pair.upper_critical_from_memory = true;
  CHECK(one_liquid(&pair, 0.5, 0.5, 298.15)->chance > published);
}

TEST_CASE("what was inferred from classes speaks only where nothing can be calculated") {
  const auto guess = record(MiscibilityClass::Immiscible, PairEvidence::ByClass, Confidence::Medium);
  CHECK(one_liquid(&guess, -3, -3, 298.15)->basis == PhaseBasis::Model);
  CHECK(one_liquid(&guess, std::nullopt, std::nullopt, 298.15)->basis == PhaseBasis::Class);
  CHECK(one_liquid(&guess, std::nullopt, std::nullopt, 298.15)->chance == Approx(0.12));
  const auto weak_guess = record(MiscibilityClass::Miscible, PairEvidence::ByClass, Confidence::Low);
  CHECK(one_liquid(&weak_guess, std::nullopt, std::nullopt, 298.15)->chance == Approx(0.7));
}

TEST_CASE("well below a solubility limit even liquids that part are one") {
  const MutualSolubility limits{7.4, 20.0};
  const double everywhere = 0.02;
  CHECK(chance_of_one_liquid_at(everywhere, limits, 1) > 0.99);
  CHECK(chance_of_one_liquid_at(everywhere, limits, 95) > 0.98);
  CHECK(chance_of_one_liquid_at(everywhere, limits, 50) < 0.15);
  CHECK(chance_of_one_liquid_at(everywhere, limits, 7.4) ==
        Approx(everywhere + (1 - everywhere) * 0.5).epsilon(0.02));
  CHECK(chance_of_one_liquid_at(everywhere, {}, 1) == everywhere);
}

TEST_CASE("the chance at a composition is never below the chance everywhere") {
  for (const double everywhere : {0.0, 0.3, 1.0})
    for (double percent = 0.5; percent < 100; percent += 5)
      CHECK(chance_of_one_liquid_at(everywhere, {2.0, std::nullopt}, percent) >= everywhere);
}
