#include "systems/system.hpp"

#include <doctest/doctest.h>

#include "knowledge_fixture.hpp"

namespace firstcrop {
namespace {

const Library& library() {
  return fixture::knowledge().library;
}

std::string read(const std::string& text) {
  return name_of(fixture::system(text), library());
}

SystemAnswer refused(const std::string& text) {
  SystemAnswer answer = parse_system(text, library());
  CHECK_FALSE(answer.system);
  CHECK_FALSE(answer.message.empty());
  CHECK_FALSE(answer.help.empty());
  return answer;
}

}  // namespace

TEST_CASE("a solvent is known by id, name, CAS number and alias, in any case") {
  CHECK(read("ethanol") == "ethanol");
  CHECK(read("ETHANOL") == "ethanol");
  CHECK(read("64-17-5") == "ethanol");
  CHECK(read("Ethyl acetate") == "ethyl-acetate");
  CHECK(read("EtOAc") == "ethyl-acetate");
  CHECK(read(" water ") == "water");
}

TEST_CASE("a pair keeps the order and ratio in which it was typed") {
  CHECK(read("ethanol+water@60:40") == "ethanol+water@60:40");
  CHECK(read("water+ethanol@60:40") == "water+ethanol@60:40");
  CHECK(read("ethanol + water @ 1:3") == "ethanol+water@25:75");
  CHECK(read("ethanol+water@1:2") == "ethanol+water@33.3:66.7");
  CHECK(name_without_ratio(fixture::system("ethanol+water@60:40"), library()) == "ethanol+water");
}

TEST_CASE("a pair without ratio says that none was stated") {
  const auto bare = parse_system("ethanol+water", library());
  REQUIRE(bare.system);
  CHECK_FALSE(bare.system->ratio_stated);
  const auto stated = parse_system("ethanol+water@50:50", library());
  REQUIRE(stated.system);
  CHECK(stated.system->ratio_stated);
}

TEST_CASE("a name with a caveat is taken and the caveat handed on") {
  const auto answer = parse_system("denatured alcohol", library());
  REQUIRE(answer.system);
  CHECK(name_of(answer.system->system, library()) == "ethanol-95");
  CHECK_FALSE(answer.system->remark.empty());
  CHECK(parse_system("ethanol", library()).system->remark.empty());
}

TEST_CASE("a pair is of two different solvents, whatever they are called") {
  CHECK(refused("ethanol+ethanol").message.find("twice") != std::string::npos);
  refused("ethanol+EtOH@50:50");
}

TEST_CASE("three solvents are no system") {
  CHECK(refused("ethanol+water+acetone").message == "a system has one or two solvents");
}

TEST_CASE("a slash between two solvents brings the plus sign to mind") {
  CHECK(refused("ethanol/water").help.find("ethanol+water") != std::string::npos);
}

TEST_CASE("a name of several solvents is asked back with all of them") {
  const SystemAnswer ether = refused("ether");
  CHECK(ether.message.find("more than one") != std::string::npos);
  CHECK(ether.help.find("diethyl-ether") != std::string::npos);
  CHECK(ether.help.find("petroleum-ether-40-60") != std::string::npos);
  refused("ether+ethanol@50:50");
}

TEST_CASE("a single solvent takes no ratio") {
  CHECK(refused("ethanol@60:40").message == "a single solvent has no ratio");
}

TEST_CASE("a ratio has two positive parts") {
  for (const char* text : {"ethanol+water@", "ethanol+water@60", "ethanol+water@60:", "ethanol+water@0:100",
                           "ethanol+water@-1:2", "ethanol+water@a:b", "ethanol+water@60:40:10"}) {
    INFO(std::string(text));
    CHECK(refused(text).message.find("ratio") != std::string::npos);
  }
}

TEST_CASE("a missing or misspelt name is refused with what to write") {
  refused("");
  refused("+");
  refused("ethanol+");
  refused("+water");
  CHECK(refused("ethanoll").help.find("ethanol") != std::string::npos);
  CHECK(refused("aqueous ethanol").help.find("ethanol+water") != std::string::npos);
}

TEST_CASE("evidence of a pair is found from either order and any ratio") {
  CHECK(evidence_key(fixture::system("ethanol+water@60:40"), library()) ==
        evidence_key(fixture::system("water+ethanol@10:90"), library()));
  CHECK(evidence_key(fixture::system("ethanol+water@60:40"), library()) !=
        evidence_key(fixture::system("ethanol"), library()));
}

}  // namespace firstcrop
