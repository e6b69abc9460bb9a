#include "phase/group_contributions.hpp"

#include <doctest/doctest.h>

#include <algorithm>

#include "base/error.hpp"
#include "phase_fixture.hpp"

using namespace firstcrop;

namespace {

std::string file_with(const std::string& published) {
  return "format: firstcrop group contributions 1\n"
         "sources: {published: a book}\n"
         "groups:\n"
         "  columns: subgroup name main_group main_name r q\n"
         "  rows: |\n"
         "    1 CH3 1 CH2 0.6 1.1\n"
         "    16 H2O 7 H2O 1.7 2.4\n"
         "interactions:\n"
         "  columns: main_i main_j a_ij b_ij c_ij a_ji b_ji c_ji\n"
         "  published: |\n"
         "    " +
         published +
         "\n"
         "  corrected: \"\"\n"
         "  completed: \"\"\n";
}

}  // namespace

TEST_CASE("the shipped group contributions are complete: every two main groups have an interaction") {
  const UnifacParameters& parameters = phase_fixture::parameters();
  CHECK(parameters.subgroup_count() == 113);
  std::vector<int> main_groups;
  for (int number = 1; number < 200; ++number)
    if (const UnifacSubgroup* subgroup = parameters.subgroup(number))
      main_groups.push_back(subgroup->main_group);
  for (const int i : main_groups)
    for (const int j : main_groups) {
      CAPTURE(i);
      CAPTURE(j);
      CHECK(parameters.interaction(i, j).has_value());
    }
}

TEST_CASE("a file with good rows gives its numbers") {
  Findings findings;
  const auto parameters =
      read_group_contributions("groups.yaml", file_with("1 7 1300 -3.5 0.001 -17 8.4 -0.009"), findings);
  CHECK(findings.empty());
  REQUIRE(parameters);
  CHECK(parameters->interaction(1, 7)->a_k == 1300);
}

TEST_CASE("a wrong row is found at its line of the file") {
  Findings findings;
  CHECK_FALSE(
      read_group_contributions("groups.yaml", file_with("1 7 thirteen -3.5 0.001 -17 8.4 -0.009"), findings));
  const auto sorted = findings.sorted();
  REQUIRE(sorted.size() == 1);
  CHECK(sorted[0].place.line == 11);
  CHECK(sorted[0].message.find("thirteen") != std::string::npos);
}

TEST_CASE("other columns than those of the format are refused") {
  std::string text = file_with("1 7 1300 -3.5 0.001 -17 8.4 -0.009");
  const std::string columns = "columns: subgroup name";
  text.replace(text.find(columns), columns.size(), "columns: name subgroup");
  Findings findings;
  CHECK_FALSE(read_group_contributions("groups.yaml", text, findings));
  REQUIRE(findings.size() == 1);
  CHECK(findings.sorted()[0].place.line == 4);
}

TEST_CASE("a missing table is a finding") {
  std::string text = file_with("1 7 1300 -3.5 0.001 -17 8.4 -0.009");
  text.erase(text.find("  completed"));
  Findings findings;
  CHECK_FALSE(read_group_contributions("groups.yaml", text, findings));
  CHECK(findings.has_errors());
}

TEST_CASE("a file that is not there is a fault of the environment") {
  Findings findings;
  CHECK_THROWS_AS((void)load_group_contributions("/nowhere/groups.yaml", findings), Error);
}
