#include "structure/smarts_outline.hpp"

#include <doctest/doctest.h>

#include <string>
#include <vector>

using namespace firstcrop::detail;

namespace {

std::string links(std::string_view smarts) {
  const auto outline = outline_smarts(smarts);
  REQUIRE(outline.has_value());
  std::string text;
  for (const PatternLink& link : outline->links) {
    text += std::to_string(link.first) + link.bond + std::to_string(link.second) + ' ';
  }
  return text;
}

}  // namespace

TEST_CASE("atoms of a pattern are listed without its recursive parts") {
  const auto outline = outline_smarts("[CX3;$([CX3][#6]),$([CX3H1])](=[OX1])Clc");
  REQUIRE(outline.has_value());
  const std::vector<std::string_view> expected = {"CX3;$([CX3][#6]),$([CX3H1])", "OX1", "Cl", "c"};
  CHECK(outline->atoms == expected);
}

TEST_CASE("bonds join neighbours through branches and rings") {
  CHECK(links("CC") == "011 ");
  CHECK(links("C=C#N") == "0=1 1#2 ");
  CHECK(links("C(=O)-N:c") == "0=1 0-2 2:3 ");
  CHECK(links("C(C(N)O)S") == "011 112 113 014 ");
  CHECK(links("c1ccc1") == "011 112 213 0~3 ");
  CHECK(links("C%12CC%12") == "011 112 0~2 ");
}

TEST_CASE("bonds of several kinds are not judged, and a dot parts molecules") {
  CHECK(links("C=,:C") == "0~1 ");
  CHECK(links("C!@C") == "0~1 ");
  CHECK(links("C~C") == "0~1 ");
  CHECK(links("[#7].[Cl]") == "");
}

TEST_CASE("brackets that do not fit are refused") {
  CHECK_FALSE(outline_smarts("").has_value());
  CHECK_FALSE(outline_smarts("[C").has_value());
  CHECK_FALSE(outline_smarts("C(C").has_value());
  CHECK_FALSE(outline_smarts("C)C").has_value());
}
