#include "structure/atom_condition.hpp"

#include <doctest/doctest.h>

#include <string_view>

using namespace firstcrop::detail;

namespace {

bool may_match(std::string_view smarts_atom, const AtomFacts& atom) {
  const auto condition = AtomCondition::parse(smarts_atom);
  REQUIRE(condition.has_value());
  return condition->may_match(atom);
}

const AtomFacts kMethyl{6, false, 1, 4, 3, 0};
const AtomFacts kAromaticNitrogen{7, true, 2, 2, 0, 0};
const AtomFacts kAmmonium{7, false, 4, 4, 0, 1};
const AtomFacts kOxide{8, false, 1, 1, 0, -1};

}  // namespace

TEST_CASE("elements, aromaticity, connections, hydrogens and charge are judged") {
  CHECK(may_match("C", kMethyl));
  CHECK(may_match("CX4", kMethyl));
  CHECK(may_match("#6", kMethyl));
  CHECK(may_match("CH3", kMethyl));
  CHECK(may_match("CX4;H3,H4", kMethyl));
  CHECK_FALSE(may_match("c", kMethyl));
  CHECK_FALSE(may_match("CX3", kMethyl));
  CHECK_FALSE(may_match("CX4;H2", kMethyl));
  CHECK_FALSE(may_match("N,O,S", kMethyl));
  CHECK(may_match("n,o,s", kAromaticNitrogen));
  CHECK(may_match("nX2", kAromaticNitrogen));
  CHECK_FALSE(may_match("N", kAromaticNitrogen));
  CHECK(may_match("NX4+", kAmmonium));
  CHECK(may_match("NX4;+", kAmmonium));
  CHECK_FALSE(may_match("NX4;+0", kAmmonium));
  CHECK_FALSE(may_match("NX4+;!H0", kAmmonium));
  CHECK(may_match("OX1-", kOxide));
  CHECK_FALSE(may_match("OX1--", kOxide));
  CHECK_FALSE(may_match("OX0-2", kOxide));
  CHECK(may_match("F,Cl,Br,I,O;D1", kOxide));
}

TEST_CASE("negation turns a judgement round") {
  CHECK_FALSE(may_match("!#6", kMethyl));
  CHECK(may_match("!#7", kMethyl));
  CHECK(may_match("#7,#8;!+", kOxide));
  CHECK_FALSE(may_match("#8;!-", kOxide));
}

TEST_CASE("what a quick look cannot judge is taken as met") {
  CHECK(may_match("$(CC=O)", kMethyl));
  CHECK(may_match("CX4;!$(C[F,Cl])", kMethyl));
  CHECK(may_match("C;R", kMethyl));
  CHECK(may_match("C;!R", kMethyl));
  CHECK(may_match("13C@@v4x2r5^3", kMethyl));
  CHECK(may_match("*", kOxide));
  CHECK(may_match("a", kMethyl));
  CHECK(may_match("H", kMethyl));
}

TEST_CASE("a malformed atom is refused") {
  CHECK_FALSE(AtomCondition::parse("").has_value());
  CHECK_FALSE(AtomCondition::parse("C,").has_value());
  CHECK_FALSE(AtomCondition::parse("#").has_value());
  CHECK_FALSE(AtomCondition::parse("$(C").has_value());
}
