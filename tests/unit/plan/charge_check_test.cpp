#include "plan/charge_check.hpp"

#include <doctest/doctest.h>

#include <functional>
#include <string>

namespace firstcrop {
namespace {

// The options that are complained about when one thing of a sound charge is changed.
std::string complaints(const std::function<void(ChargeAmounts&)>& change) {
  ChargeAmounts charge;
  charge.crude_mg = 5000;
  charge.hot_mg_ml = 92;
  charge.cold_mg_ml = 8;
  change(charge);
  Findings findings;
  check_charge(charge, findings);
  std::string out;
  for (const Finding& finding : findings.sorted()) {
    CHECK_FALSE(finding.help.empty());
    out += (out.empty() ? "" : " ") + finding.place.path;
  }
  return out;
}

}  // namespace

TEST_CASE("a sound charge passes") {
  CHECK(complaints([](ChargeAmounts&) {}).empty());
  CHECK(complaints([](ChargeAmounts& charge) { charge.cold_mg_ml = charge.hot_mg_ml; }).empty());
  CHECK(complaints([](ChargeAmounts& charge) { charge.cold_mg_ml = 0; }).empty());
  CHECK(complaints([](ChargeAmounts& charge) { charge.impurity_mg = 0; }).empty());
}

TEST_CASE("what has a solution in numbers but none at the bench passes: it is answered and told") {
  CHECK(complaints([](ChargeAmounts& charge) { charge.volume_ml = 10; }).empty());
  CHECK(complaints([](ChargeAmounts& charge) { charge.isolated_mg = 6000; }).empty());
}

TEST_CASE("zero and negative amounts are refused") {
  CHECK(complaints([](ChargeAmounts& charge) { charge.crude_mg = 0; }) == "--mass");
  CHECK(complaints([](ChargeAmounts& charge) { charge.crude_mg = -1; }) == "--mass");
  CHECK(complaints([](ChargeAmounts& charge) { charge.isolated_mg = 0; }) == "--isolated");
  CHECK(complaints([](ChargeAmounts& charge) { charge.volume_ml = 0; }) == "--volume");
  CHECK(complaints([](ChargeAmounts& charge) { charge.hot_mg_ml = 0; }) == "--hot");
  CHECK(complaints([](ChargeAmounts& charge) { charge.cold_mg_ml = -2; }) == "--cold");
}

TEST_CASE("a purity above 100 %, and parts larger than the whole, are refused") {
  CHECK(complaints([](ChargeAmounts& charge) { charge.impurity_mg = -50; }) == "--impurity-mass");
  CHECK(complaints([](ChargeAmounts& charge) { charge.impurity_mg = 5000; }) == "--impurity-mass");
  CHECK(complaints([](ChargeAmounts& charge) { charge.insoluble_mg = 6000; }) == "--insoluble");
}

TEST_CASE("more dissolving cold than hot is refused") {
  CHECK(complaints([](ChargeAmounts& charge) { charge.cold_mg_ml = 93; }) == "--cold");
  CHECK(complaints([](ChargeAmounts& charge) {
          charge.impurity_mg = 100;
          charge.impurity_hot_mg_ml = 5;
          charge.impurity_cold_mg_ml = 6;
        }) == "--impurity-cold");
}

TEST_CASE("a wash larger than the liquor is refused, and a liquor that would have to grow") {
  CHECK(complaints([](ChargeAmounts& charge) { charge.wash_volume_ml = 60; }) == "--wash-volume");
  CHECK(complaints([](ChargeAmounts& charge) { charge.boil_down_to_ml = 60; }) == "--boil-down-to");
}

TEST_CASE("all faults are told together") {
  CHECK(complaints([](ChargeAmounts& charge) {
          charge.crude_mg = -5;
          charge.cold_mg_ml = 100;
        }) == "--cold --mass");
}

}  // namespace firstcrop
