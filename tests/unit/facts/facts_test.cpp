#include <doctest/doctest.h>

#include <cmath>

#include "facts/fact_graph.hpp"
#include "facts/scenarios.hpp"

using namespace firstcrop;

namespace {

Catalogue small_catalogue() {
  Catalogue out;
  out.add({"system.one", FactType::Number, dimension::kNumber, "", "one", {}});
  out.add({"system.two", FactType::Number, dimension::kNumber, "", "two", {}});
  out.add({"solvent.size", FactType::Number, dimension::kNumber, "", "size", {}});
  return out;
}

}  // namespace

TEST_CASE("scenarios have mean 0 and covariance I, and are the same every time") {
  const Scenarios scores(20, 4);
  for (std::size_t i = 0; i < 20; ++i) {
    for (std::size_t j = 0; j <= i; ++j) {
      double sum = 0;
      double product = 0;
      for (std::size_t k = 0; k < kScenarioCount; ++k) {
        sum += scores.joint(i)[k];
        product += scores.joint(i)[k] * scores.joint(j)[k];
      }
      CHECK(std::abs(sum) < 1e-9);
      CHECK(product / kScenarioCount == doctest::Approx(i == j ? 1.0 : 0.0).epsilon(1e-9));
    }
  }
  const Scenarios again(20, 4);
  CHECK(again.joint(7) == scores.joint(7));
  CHECK(again.extra(3) == scores.extra(3));
}

TEST_CASE("good and poor are the two components of a pair, and a single has neither") {
  const Catalogue catalogue = small_catalogue();
  FactFrame pair(catalogue, 2);
  const FactReference each = catalogue.find("solvent.size").value();
  pair.set(each, {NumberColumn::of(1), Origin::Given, {}}, 0);
  pair.set(each, {NumberColumn::of(2), Origin::Given, {}}, 1);
  CHECK(std::get<NumberColumn>(pair.get(catalogue.find("good.size").value()).value).certain == 1);
  CHECK(std::get<NumberColumn>(pair.get(catalogue.find("poor.size").value()).value).certain == 2);
  const FactFrame single(catalogue, 1);
  CHECK_FALSE(single.get(catalogue.find("good.size").value()).is_known());
  CHECK(catalogue.name_of(catalogue.find("poor.size").value()) == "poor.size");
  CHECK(catalogue.nearest("system.tow").value() == "system.two");
}

TEST_CASE("producers run after what they need, whatever order they are handed over in") {
  const Catalogue catalogue = small_catalogue();
  const FactReference one = catalogue.find("system.one").value();
  const FactReference two = catalogue.find("system.two").value();
  Producer later{"later",
                 {one},
                 {two},
                 [&](FactFrame& frame, std::size_t) {
                   const double value = std::get<NumberColumn>(frame.get(one).value).certain;
                   frame.set(two, {NumberColumn::of(value + 1), Origin::Calculated, {}});
                 },
                 {}};
  Producer earlier{"earlier",
                   {},
                   {one},
                   [&](FactFrame& frame, std::size_t) {
                     frame.set(one, {NumberColumn::of(41), Origin::Calculated, {}});
                   },
                   {}};
  Findings findings;
  const auto graph = FactGraph::build(catalogue, {later, earlier}, findings);
  REQUIRE(graph);
  FactFrame frame(catalogue, 1);
  graph->run_for(frame, {two});
  CHECK(std::get<NumberColumn>(frame.get(two).value).certain == 42);
}

TEST_CASE("a fact with two producers is a finding") {
  const Catalogue catalogue = small_catalogue();
  const FactReference one = catalogue.find("system.one").value();
  const Producer producer{"a", {}, {one}, [](FactFrame&, std::size_t) {}, {}};
  const Producer twin{"b", {}, {one}, [](FactFrame&, std::size_t) {}, {}};
  Findings findings;
  CHECK_FALSE(FactGraph::build(catalogue, {producer, twin}, findings));
  CHECK(findings.has_errors());
}

TEST_CASE("the range of a number holds 80 % of its scenarios") {
  ScenarioValues values{};
  for (std::size_t k = 0; k < kScenarioCount; ++k) values[k] = static_cast<double>(k);
  const auto quantity = summary({NumberColumn::of(values), Origin::Predicted, {}}, dimension::kNumber);
  REQUIRE(quantity);
  CHECK(quantity->value == doctest::Approx(31.5));
  CHECK(*quantity->high - *quantity->low == doctest::Approx(0.8 * 63).epsilon(0.03));
  CHECK_FALSE(summary({Unknown{"x"}, Origin::Predicted, {}}, dimension::kNumber));
}
