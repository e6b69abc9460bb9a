#include "phase/unifac_parameters.hpp"

#include <doctest/doctest.h>

#include <algorithm>

using namespace firstcrop;

namespace {

constexpr std::string_view kGroups =
    "1 CH3 1 CH2 0.6 1.1\n"
    "2 CH2 1 CH2 0.6 0.7\n"
    "16 H2O 7 H2O 1.7 2.4\n";
constexpr std::string_view kInteraction = "1 7 1300 -3.5 0.001 -17 8.4 -0.009\n";

bool has_fault(const ParsedUnifac& parsed, UnifacTable table, int line) {
  return std::any_of(parsed.faults.begin(), parsed.faults.end(), [&](const UnifacTableFault& fault) {
    return fault.table == table && fault.line == line;
  });
}

}  // namespace

TEST_CASE("one row holds both directions of an interaction") {
  const auto parsed = parse_unifac({kGroups, kInteraction, "", ""});
  REQUIRE(parsed.faults.empty());
  const auto forward = parsed.parameters->interaction(1, 7);
  const auto backward = parsed.parameters->interaction(7, 1);
  REQUIRE(forward);
  REQUIRE(backward);
  CHECK(forward->a_k == 1300);
  CHECK(forward->c_per_k == 0.001);
  CHECK(backward->b == 8.4);
  CHECK_FALSE(forward->completed);
}

TEST_CASE("a main group does not interact with itself") {
  const auto parsed = parse_unifac({kGroups, kInteraction, "", ""});
  REQUIRE(parsed.parameters);
  const auto itself = parsed.parameters->interaction(7, 7);
  REQUIRE(itself);
  CHECK(itself->a_k == 0);
  CHECK(itself->b == 0);
}

TEST_CASE("a pair without a row has no interaction, which is not the same as a zero one") {
  const auto parsed = parse_unifac({kGroups, "", "", ""});
  REQUIRE(parsed.parameters);
  CHECK_FALSE(parsed.parameters->interaction(1, 7).has_value());
  CHECK_FALSE(parsed.parameters->interaction(1, 99).has_value());
  CHECK(parsed.parameters->subgroup(3) == nullptr);
  CHECK(parsed.parameters->subgroup(-1) == nullptr);
}

TEST_CASE("filled-in interactions are told apart from published ones") {
  const auto parsed = parse_unifac({kGroups, "", "", kInteraction});
  REQUIRE(parsed.parameters);
  CHECK(parsed.parameters->interaction(7, 1)->completed);
}

TEST_CASE("all faults of the tables are reported at their lines, and then there are no parameters") {
  const auto parsed =
      parse_unifac({"1 CH3 1 CH2 0.6 1.1\n"
                    "1 CH3 1 CH2 0.6 1.1\n"
                    "2 CH2 1 CH2 0 0.7\n"
                    "3 CH 1 CH2 0.6\n"
                    "16 H2O 7 H2O 1.7 2.4\n",
                    "1 7 1300 -3.5 0.001 -17 8.4 -0.009\n"
                    "\n"
                    "7 1 1300 -3.5 0.001 -17 8.4 -0.009\n"
                    "1 8 1300 -3.5 0.001 -17 8.4 -0.009\n"
                    "1 1 1300 -3.5 0.001 -17 8.4 -0.009\n"
                    "1 7 13x0 -3.5 0.001 -17 8.4 -0.009\n"
                    "1 7 1300 -3.5 0.001 -17 8.4\n"
                    "1 7 1300 -3.5 0.001 -17 8.4 1 1\n",
                    "", "1 7 1e999 0 0 0 0 0\n"});
  CHECK_FALSE(parsed.parameters.has_value());
  CHECK(parsed.faults.size() == 10);
  for (const int line : {2, 3, 4}) CHECK(has_fault(parsed, UnifacTable::Groups, line));
  for (const int line : {3, 4, 5, 6, 7, 8}) CHECK(has_fault(parsed, UnifacTable::Published, line));
  CHECK(has_fault(parsed, UnifacTable::Completed, 1));
}

TEST_CASE("tables without groups are a fault") {
  CHECK_FALSE(parse_unifac({"", "", "", ""}).parameters.has_value());
}
