#include "phase/phase_model.hpp"

#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <utility>

#include "library_fixture.hpp"

using namespace firstcrop;
using doctest::Approx;
using phase_fixture::id;
using phase_fixture::shipped;

TEST_CASE("a solvent mixes with itself") {
  CHECK(shipped().one_liquid(id("water"), id("water"), 298.15)->chance == 1);
  CHECK_FALSE(shipped().azeotrope(id("water"), id("water"), 101.325).has_value());
}

TEST_CASE("the order in which a pair is named changes no chance") {
  for (const auto& [a, b] : {std::pair<const char*, const char*>{"hexane", "methanol"},
                             {"water", "1-butanol"},
                             {"benzonitrile", "water"}}) {
    CHECK(shipped().one_liquid(id(a), id(b), 330)->chance ==
          Approx(shipped().one_liquid(id(b), id(a), 330)->chance).epsilon(1e-9));
    CHECK(shipped().one_liquid_at(id(a), id(b), 330, 0.1)->chance ==
          Approx(shipped().one_liquid_at(id(b), id(a), 330, 0.9)->chance).epsilon(1e-9));
  }
}

TEST_CASE("hexane and methanol are two liquids at room temperature and one when warm") {
  CHECK(shipped().one_liquid(id("hexane"), id("methanol"), 298.15)->chance < 0.1);
  CHECK(shipped().one_liquid(id("hexane"), id("methanol"), 318.15)->chance > 0.9);
}

TEST_CASE("a little butanol dissolves in water, much parts") {
  CHECK(shipped().one_liquid_at(id("1-butanol"), id("water"), 298.15, 0.02)->chance > 0.9);
  CHECK(shipped().one_liquid_at(id("1-butanol"), id("water"), 298.15, 0.4)->chance < 0.1);
  CHECK(shipped().one_liquid_at(id("1-butanol"), id("water"), 298.15, 0)->chance == 1);
}

TEST_CASE("mutual solubilities follow the order asked for") {
  const auto straight = shipped().mutual_solubility(id("1-butanol"), id("water"), 298.15);
  const auto turned = shipped().mutual_solubility(id("water"), id("1-butanol"), 298.15);
  REQUIRE(straight.first_in_second_weight_percent);
  CHECK(straight.first_in_second_weight_percent == turned.second_in_first_weight_percent);
  CHECK(straight.second_in_first_weight_percent == turned.first_in_second_weight_percent);
}

TEST_CASE(
    "a published solubility limit stands as it is at its own temperature and moves with the calculated "
    "change") {
  const auto* record = shipped().library().miscibility(id("acetonitrile"), id("heptane"));
  REQUIRE(record != nullptr);
  const auto there = shipped().mutual_solubility(record->first, record->second, record->temperature_k);
  CHECK(there.first_in_second_weight_percent == record->first_in_second_weight_percent);
  const auto hot = shipped().mutual_solubility(record->first, record->second, 343.15);
  CHECK(*hot.first_in_second_weight_percent > 2 * *there.first_in_second_weight_percent);
}

TEST_CASE("volume and mole fractions undo each other") {
  const std::array solvents{id("ethanol"), id("water"), id("toluene")};
  const std::array volumes{0.2, 0.5, 0.3};
  const auto moles = shipped().mole_fractions(solvents, volumes);
  REQUIRE(moles);
  const auto back = shipped().volume_fractions(solvents, *moles);
  for (std::size_t i = 0; i < volumes.size(); ++i) CHECK((*back)[i] == Approx(volumes[i]));
}

TEST_CASE("95 % ethanol is taken apart into ethanol and water, and joined with more of either") {
  const auto composition =
      shipped().composition(std::array{id("ethanol-95"), id("water")}, std::array{0.5, 0.5});
  REQUIRE(composition);
  REQUIRE(composition->components.size() == 2);
  CHECK(composition->components[0] == id("ethanol"));
  CHECK(composition->components[1] == id("water"));
  CHECK(composition->mole_fractions[0] + composition->mole_fractions[1] == Approx(1));
  CHECK(composition->mole_fractions[0] < 0.25);
  CHECK_FALSE(shipped().activity(std::array{id("ethanol-95"), id("water")}).has_value());
}

TEST_CASE("95 % ethanol boils within half a degree of its listed boiling point") {
  const auto boiling = shipped().boiling_point(std::array{id("ethanol-95")}, std::array{1.0}, 101.325);
  REQUIRE(boiling);
  REQUIRE(boiling->point.status == BoilingStatus::Calculated);
  const double listed_k = shipped().library().solvent(id("ethanol-95")).boiling_point_k->value;
  CHECK(std::abs(*boiling->point.temperature_k - listed_k) < 0.5);
}

TEST_CASE("solvents with groups as a hint only boil ideally and are no subject of the model") {
  CHECK_FALSE(shipped().activity(std::array{id("formamide"), id("water")}).has_value());
  CHECK_FALSE(shipped().margin(id("formamide"), id("water"), 298.15).has_value());
  const auto boiling =
      shipped().boiling_point(std::array{id("formamide"), id("water")}, std::array{0.5, 0.5}, 101.325);
  REQUIRE(boiling);
  CHECK(boiling->point.status == BoilingStatus::Ideal);
}

TEST_CASE("a boiling curve agrees with its single points, also across a gap and for a solvent taken apart") {
  const std::array<double, 4> fractions{0.0, 0.3, 0.8, 1.0};
  for (const auto& [a, b] :
       {std::pair<const char*, const char*>{"1-butanol", "water"}, {"toluene", "ethanol-95"}}) {
    const auto curve = shipped().boiling_curve(id(a), id(b), fractions, 90);
    REQUIRE(curve.size() == fractions.size());
    for (std::size_t i = 0; i < fractions.size(); ++i) {
      const auto single =
          shipped().boiling_point(std::array{id(a), id(b)}, std::array{fractions[i], 1 - fractions[i]}, 90);
      CHECK(*curve[i].point.temperature_k == Approx(*single->point.temperature_k).epsilon(1e-10));
    }
  }
}

TEST_CASE("a listed azeotrope is told as listed at one atmosphere and moved on a mountain") {
  const auto listed = shipped().azeotrope(id("water"), id("ethanol"), 101.325);
  REQUIRE(listed);
  CHECK(listed->basis == PairAzeotrope::Basis::Table);
  REQUIRE(listed->record != nullptr);
  CHECK(listed->temperature_k == listed->record->temperature_k);
  REQUIRE(listed->first_fraction);
  CHECK(*listed->first_fraction < 0.2);
  const auto high = shipped().azeotrope(id("water"), id("ethanol"), 70);
  REQUIRE(high);
  CHECK(high->basis == PairAzeotrope::Basis::TableMoved);
  CHECK(high->temperature_k < listed->temperature_k - 5);
}

TEST_CASE("a listed azeotrope that the calculation does not find is moved along the vapour pressures") {
  const auto at_sea = shipped().azeotrope(id("diethyl-ether"), id("water"), 101.325);
  const auto high = shipped().azeotrope(id("diethyl-ether"), id("water"), 80);
  REQUIRE(at_sea);
  REQUIRE(high);
  CHECK(high->basis == PairAzeotrope::Basis::TableMoved);
  // Nearly all ether: it moves as ether does.
  const auto ether = shipped().vapour_pressure(id("diethyl-ether"));
  const double ether_change_k = *ether->boiling_temperature_k(80) - *ether->boiling_temperature_k(101.325);
  CHECK(high->temperature_k - at_sea->temperature_k == Approx(ether_change_k).epsilon(0.05));
}

TEST_CASE("an azeotrope that is not listed is a hint") {
  REQUIRE(shipped().library().azeotrope(id("acetonitrile"), id("isooctane")) == nullptr);
  const auto found = shipped().azeotrope(id("acetonitrile"), id("isooctane"), 101.325);
  REQUIRE(found);
  CHECK(found->basis == PairAzeotrope::Basis::Calculated);
  CHECK_FALSE(shipped().azeotrope(id("petroleum-ether-60-80"), id("ethanol"), 101.325).has_value());
}

TEST_CASE("water in ethanol raises the flash point; a solvent that does not burn has none") {
  const auto diluted = shipped().flash_point(std::array{id("ethanol"), id("water")}, std::array{0.4, 0.6});
  REQUIRE(diluted);
  REQUIRE(diluted->temperature_k);
  CHECK(*diluted->temperature_k > shipped().library().solvent(id("ethanol")).flash_point_k.value + 10);
  const auto none =
      shipped().flash_point(std::array{id("water"), id("dichloromethane")}, std::array{0.5, 0.5});
  REQUIRE(none);
  CHECK(none->status == FlashStatus::NothingBurns);
}

TEST_CASE("the gravest reaction between two solvents is found in either order") {
  const auto* reaction = shipped().gravest_reaction(id("acetone"), id("chloroform"));
  REQUIRE(reaction != nullptr);
  CHECK(reaction->severity == ReactionSeverity::Dangerous);
  CHECK(reaction == shipped().gravest_reaction(id("chloroform"), id("acetone")));
  CHECK(shipped().gravest_reaction(id("hexane"), id("heptane")) == nullptr);
}
