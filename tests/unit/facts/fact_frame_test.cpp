#include "facts/fact_frame.hpp"

#include <doctest/doctest.h>

#include "base/error.hpp"

using namespace firstcrop;

namespace {

struct Setting {
  Catalogue catalogue;
  FactReference each, good, poor, system;

  Setting() {
    catalogue.add({"solvent.boiling_point", FactType::Number, dimension::kTemperature, "°C", "", {}});
    catalogue.add({"system.is_pair", FactType::Flag, {}, "", "", {}});
    each = *catalogue.find("solvent.boiling_point");
    good = *catalogue.find("good.boiling_point");
    poor = *catalogue.find("poor.boiling_point");
    system = *catalogue.find("system.is_pair");
  }
};

FactValue number(double value) {
  FactValue out;
  out.value = NumberColumn::of(value);
  return out;
}

double number_in(const FactFrame& frame, const FactReference& fact, std::size_t which = 0) {
  return std::get<NumberColumn>(frame.get(fact, which).value).certain;
}

}  // namespace

TEST_CASE("in a pair the first component is the good one") {
  const Setting setting;
  FactFrame frame(setting.catalogue, 2);
  frame.set(setting.good, number(350));
  frame.set(setting.poor, number(373));
  CHECK(number_in(frame, setting.each, 0) == 350);
  CHECK(number_in(frame, setting.each, 1) == 373);
}

TEST_CASE("a single has neither good nor poor") {
  const Setting setting;
  FactFrame frame(setting.catalogue, 1);
  frame.set(setting.each, number(350));
  CHECK_FALSE(frame.get(setting.good).is_known());
  CHECK_FALSE(frame.get(setting.poor).is_known());
  CHECK(frame.get(setting.each).is_known());
  CHECK_FALSE(frame.get(setting.each, 1).is_known());
  CHECK_THROWS_AS(frame.set(setting.poor, number(1)), Error);
  CHECK_THROWS_AS(frame.set(setting.each, number(1), 1), Error);
}

TEST_CASE("what was never set is unknown") {
  const Setting setting;
  const FactFrame frame(setting.catalogue, 1);
  CHECK_FALSE(frame.get(setting.system).is_known());
}

TEST_CASE("a value may be shared by many frames") {
  const Setting setting;
  const auto shared = std::make_shared<const FactValue>(number(350));
  FactFrame one(setting.catalogue, 1);
  FactFrame two(setting.catalogue, 1);
  one.set(setting.each, shared);
  two.set(setting.each, shared);
  CHECK(&one.get(setting.each) == &two.get(setting.each));
}

TEST_CASE("a system has one or two solvents") {
  const Setting setting;
  CHECK_THROWS_AS(FactFrame(setting.catalogue, 0), Error);
  CHECK_THROWS_AS(FactFrame(setting.catalogue, 3), Error);
}
