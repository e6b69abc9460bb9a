#include "facts/fact_graph.hpp"

#include <algorithm>

#include <doctest/doctest.h>

#include "base/error.hpp"

using namespace firstcrop;

namespace {

Catalogue catalogue_of_numbers() {
  Catalogue out;
  for (const char* name : {"system.a", "system.b", "system.c", "system.d", "solvent.x", "solvent.y"}) {
    out.add({name, FactType::Number, dimension::kNumber, "", "", {}});
  }
  return out;
}

double value_of(const FactFrame& frame, const char* name, std::size_t each = 0) {
  const auto* number = std::get_if<NumberColumn>(&frame.get(*frame.catalogue().find(name), each).value);
  return number != nullptr ? number->certain : -1;
}

FactValue number(double value) {
  FactValue out;
  out.value = NumberColumn::of(value);
  return out;
}

// Gives `to` the sum of what it needs, plus one.
Producer adder(const Catalogue& catalogue, const std::vector<std::string>& from, const std::string& to) {
  Producer out;
  out.name = "makes " + to;
  for (const std::string& name : from) out.needs.push_back(*catalogue.find(name));
  out.gives = {*catalogue.find(to)};
  out.run = [from, to](FactFrame& frame, std::size_t each) {
    double sum = 1;
    for (const std::string& name : from) sum += value_of(frame, name.c_str(), each);
    frame.set(*frame.catalogue().find(to), number(sum), each);
  };
  return out;
}

std::vector<Producer> chain(const Catalogue& catalogue) {
  std::vector<Producer> out;
  out.push_back(adder(catalogue, {"system.b", "system.c"}, "system.d"));
  out.push_back(adder(catalogue, {"system.b"}, "system.c"));
  out.push_back(adder(catalogue, {}, "system.a"));
  out.push_back(adder(catalogue, {"system.a"}, "system.b"));
  return out;
}

Place written_at(int line) {
  return {"rules.yaml", line, 3, 1, {}};
}

}  // namespace

TEST_CASE("every producer runs after what it needs") {
  const Catalogue catalogue = catalogue_of_numbers();
  Findings findings;
  const auto graph = FactGraph::build(catalogue, chain(catalogue), findings);
  REQUIRE(graph);
  CHECK(findings.empty());
  FactFrame frame(catalogue, 1);
  graph->run(frame);
  CHECK(value_of(frame, "system.a") == 1);
  CHECK(value_of(frame, "system.b") == 2);
  CHECK(value_of(frame, "system.c") == 3);
  CHECK(value_of(frame, "system.d") == 6);
}

TEST_CASE("the order in which producers are handed over makes no difference") {
  const Catalogue catalogue = catalogue_of_numbers();
  std::vector<Producer> producers = chain(catalogue);
  Findings findings;
  const auto first = FactGraph::build(catalogue, producers, findings);
  std::reverse(producers.begin(), producers.end());
  const auto second = FactGraph::build(catalogue, producers, findings);
  REQUIRE((first && second));
  REQUIRE(first->producers().size() == second->producers().size());
  for (std::size_t i = 0; i < first->producers().size(); ++i) {
    CHECK(first->producers()[i].name == second->producers()[i].name);
  }
}

TEST_CASE("only what a wanted fact needs is run") {
  const Catalogue catalogue = catalogue_of_numbers();
  Findings findings;
  const auto graph = FactGraph::build(catalogue, chain(catalogue), findings);
  REQUIRE(graph);
  FactFrame frame(catalogue, 1);
  graph->run_for(frame, {*catalogue.find("system.b")});
  CHECK(value_of(frame, "system.b") == 2);
  CHECK_FALSE(frame.get(*catalogue.find("system.c")).is_known());
  CHECK_FALSE(frame.get(*catalogue.find("system.d")).is_known());
}

TEST_CASE("a wanted fact without a producer is left as it is") {
  const Catalogue catalogue = catalogue_of_numbers();
  Findings findings;
  const auto graph = FactGraph::build(catalogue, {}, findings);
  REQUIRE(graph);
  FactFrame frame(catalogue, 1);
  frame.set(*catalogue.find("system.a"), number(5));
  graph->run_for(frame, {*catalogue.find("system.a")});
  CHECK(value_of(frame, "system.a") == 5);
}

TEST_CASE("a producer of component facts runs once for each solvent") {
  const Catalogue catalogue = catalogue_of_numbers();
  Findings findings;
  const auto graph = FactGraph::build(catalogue, {adder(catalogue, {"solvent.x"}, "solvent.y")}, findings);
  REQUIRE(graph);
  FactFrame frame(catalogue, 2);
  frame.set(*catalogue.find("good.x"), number(10));
  frame.set(*catalogue.find("poor.x"), number(20));
  graph->run(frame);
  CHECK(value_of(frame, "good.y") == 11);
  CHECK(value_of(frame, "poor.y") == 21);
}

TEST_CASE("a fact of the good solvent waits for the producer of both") {
  const Catalogue catalogue = catalogue_of_numbers();
  Findings findings;
  const auto graph = FactGraph::build(
      catalogue, {adder(catalogue, {"good.y"}, "system.a"), adder(catalogue, {"solvent.x"}, "solvent.y")},
      findings);
  REQUIRE(graph);
  FactFrame frame(catalogue, 2);
  frame.set(*catalogue.find("good.x"), number(10));
  frame.set(*catalogue.find("poor.x"), number(20));
  graph->run_for(frame, {*catalogue.find("system.a")});
  CHECK(value_of(frame, "system.a") == 12);
}

TEST_CASE("a circle is a finding that prints its way") {
  const Catalogue catalogue = catalogue_of_numbers();
  std::vector<Producer> producers;
  producers.push_back(adder(catalogue, {"system.c"}, "system.a"));
  producers.push_back(adder(catalogue, {"system.a"}, "system.b"));
  producers.push_back(adder(catalogue, {"system.b"}, "system.c"));
  producers[1].place = written_at(7);
  Findings findings;
  CHECK_FALSE(FactGraph::build(catalogue, producers, findings));
  REQUIRE(findings.size() == 1);
  const Finding finding = findings.sorted().front();
  CHECK(finding.message ==
        "facts need each other in a circle: `makes system.a` needs `system.c`, `makes system.c` needs "
        "`system.b`, `makes system.b` needs `system.a`");
  CHECK(finding.place == written_at(7));
}

TEST_CASE("a fact that needs itself is a circle") {
  const Catalogue catalogue = catalogue_of_numbers();
  Findings findings;
  CHECK_FALSE(FactGraph::build(catalogue, {adder(catalogue, {"system.a"}, "system.a")}, findings));
  CHECK(findings.size() == 1);
}

TEST_CASE("two circles are two findings") {
  const Catalogue catalogue = catalogue_of_numbers();
  std::vector<Producer> producers;
  producers.push_back(adder(catalogue, {"system.b"}, "system.a"));
  producers.push_back(adder(catalogue, {"system.a"}, "system.b"));
  producers.push_back(adder(catalogue, {"system.d"}, "system.c"));
  producers.push_back(adder(catalogue, {"system.c"}, "system.d"));
  Findings findings;
  CHECK_FALSE(FactGraph::build(catalogue, producers, findings));
  CHECK(findings.size() == 2);
}

TEST_CASE("a fact has one producer") {
  const Catalogue catalogue = catalogue_of_numbers();
  std::vector<Producer> producers{adder(catalogue, {}, "system.a"), adder(catalogue, {}, "system.a")};
  producers[1].name = "rule other";
  producers[1].place = written_at(3);
  Findings findings;
  CHECK_FALSE(FactGraph::build(catalogue, producers, findings));
  REQUIRE(findings.size() == 1);
  const Finding finding = findings.sorted().front();
  CHECK(finding.message == "`system.a` has two producers: `makes system.a` and `rule other`");
  CHECK(finding.place == written_at(3));
}

TEST_CASE("two rules for one fact are told with both places") {
  const Catalogue catalogue = catalogue_of_numbers();
  std::vector<Producer> producers{adder(catalogue, {}, "system.a"), adder(catalogue, {}, "system.a")};
  producers[0].name = "rule one";
  producers[1].name = "rule two";
  producers[0].place = written_at(3);
  producers[1].place = written_at(9);
  Findings findings;
  CHECK_FALSE(FactGraph::build(catalogue, producers, findings));
  const Finding finding = findings.sorted().front();
  CHECK(finding.place == written_at(9));
  REQUIRE(finding.note_place);
  CHECK(*finding.note_place == written_at(3));
}

TEST_CASE("a producer cannot give facts of one solvent, nor mix scopes") {
  const Catalogue catalogue = catalogue_of_numbers();
  Findings findings;
  Producer mixed = adder(catalogue, {}, "system.a");
  mixed.gives.push_back(*catalogue.find("solvent.x"));
  CHECK_THROWS_AS((void)FactGraph::build(catalogue, {mixed}, findings), Error);
  Producer half = adder(catalogue, {}, "system.a");
  half.gives = {*catalogue.find("good.x")};
  CHECK_THROWS_AS((void)FactGraph::build(catalogue, {half}, findings), Error);
}
