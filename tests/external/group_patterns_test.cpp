#include <doctest/doctest.h>

#include <algorithm>
#include <map>
#include <set>
#include <string>
#include <vector>

#include "csv_table.hpp"
#include "structure/groups.hpp"
#include "structure_files.hpp"

using namespace firstcrop;
using structure_files::parted;

TEST_CASE("every group pattern meets the compounds that hold the group and no other") {
  const GroupCatalogue catalogue = structure_files::catalogue();
  const auto rows = read_csv_table("group_patterns.csv");
  CHECK(rows.size() == 1332);
  for (const auto& row : rows) {
    CAPTURE(row.at("name"));
    CAPTURE(row.at("smiles"));
    CAPTURE(row.at("token"));
    const auto found = catalogue.perceive(structure_files::molecule(row.at("smiles")));
    const bool matched = std::find(found.begin(), found.end(), row.at("token")) != found.end();
    CHECK(matched == (row.at("expected") == "match"));
  }
}

TEST_CASE("every group has at least two compounds that hold it and two that do not") {
  std::map<std::string, int> with;
  std::map<std::string, int> without;
  for (const auto& row : read_csv_table("group_patterns.csv")) {
    ++(row.at("expected") == "match" ? with : without)[row.at("token")];
  }
  for (const GroupDefinition& definition : structure_files::definitions()) {
    CAPTURE(definition.token);
    CHECK(with[definition.token] >= 2);
    CHECK(without[definition.token] >= 2);
  }
}

TEST_CASE("known compounds show the groups that a chemist sees, and the most telling of them") {
  const GroupCatalogue catalogue = structure_files::catalogue();
  const auto rows = read_csv_table("perceived_groups.csv");
  CHECK(rows.size() == 105);
  for (const auto& row : rows) {
    CAPTURE(row.at("name"));
    const auto found = catalogue.perceive(structure_files::molecule(row.at("smiles")));
    std::vector<std::string> shown;
    for (const std::string& token : found) {
      if (catalogue.find(token)->shown) shown.push_back(token);
    }
    CHECK(shown == parted(row.at("groups"), ';'));
    CHECK(catalogue.most_specific(found) == parted(row.at("most_specific"), ';'));
  }
}

TEST_CASE("a structure that holds a group holds its parents too") {
  const GroupCatalogue catalogue = structure_files::catalogue();
  std::set<std::string> tried;
  for (const auto& row : read_csv_table("group_patterns.csv")) {
    if (!tried.insert(row.at("smiles")).second) continue;
    CAPTURE(row.at("smiles"));
    const auto found = catalogue.perceive(structure_files::molecule(row.at("smiles")));
    CHECK(catalogue.with_parents(found) == found);
  }
}
