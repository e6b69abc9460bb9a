#include "systems/providers.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "knowledge_fixture.hpp"
#include "systems/fact_list.hpp"
#include "systems/frames.hpp"

namespace firstcrop {
namespace {

const std::string kBenzoicAcid = "smiles: \"O=C(O)c1ccccc1\"\nmelting_point: 122 °C\n";

// Works out the facts of a system between two temperatures that rules would otherwise choose.
class Bench {
 public:
  explicit Bench(const std::string& lines)
      : inquiry_(fixture::inquiry(fixture::solute(lines))), frames_(catalogue_, inquiry_) {
    Findings findings;
    graph_ =
        FactGraph::build(catalogue_, make_providers(catalogue_, inquiry_, Precision::Scenarios), findings);
    REQUIRE(graph_);
    REQUIRE(findings.empty());
  }
  Bench(const Bench&) = delete;
  Bench& operator=(const Bench&) = delete;

  [[nodiscard]] FactFrame between(const std::string& system, double cold_k, double hot_k) const {
    FactFrame frame = frames_.frame_for(fixture::system(system));
    const auto put = [&](const char* fact, double temperature_k) {
      frame.set(catalogue_.find(fact).value(), {NumberColumn::of(temperature_k), Origin::Calculated, {}});
    };
    put("system.hot_temperature", hot_k);
    put("system.saturation_temperature", hot_k);
    put("system.cold_temperature", cold_k);
    // Rules derive the volume; 10 mL/g here.
    put("system.volume_per_gram", 0.01);
    graph_->run(frame);
    return frame;
  }
  [[nodiscard]] const FactValue& value(const FactFrame& frame, const std::string& fact) const {
    return frame.get(catalogue_.find(fact).value());
  }

 private:
  Catalogue catalogue_ = make_catalogue();
  Inquiry inquiry_;
  FrameMaker frames_;
  std::optional<FactGraph> graph_;
};

double chance_of(const FactValue& flag) {
  return std::get<FlagColumn>(flag.value).probability().value();
}

}  // namespace

TEST_CASE("the weakest tube that oiled is told of its own system, unless one as strong crystallized") {
  const std::string oil = "trials:\n- {tube: 1, system: water, mass: 50 mg, volume: 1 mL, hot: all, cooled: oil}\n"
                          "- {tube: 2, system: water, mass: 50 mg, volume: 2 mL, hot: all, cooled: cloud}\n"
                          "- {tube: 3, system: \"ethanol+water@60:40\", mass: 60 mg, volume: 1 mL, cooled: oil}\n"
                          "- {tube: 4, system: heptane, mass: 60 mg, volume: 1 mL, cooled: oil, doubtful: true}\n";
  const auto is_unknown = [](const FactValue& value) { return std::holds_alternative<Unknown>(value.value); };
  const auto told = [](const Bench& bench, const std::string& system) {
    return bench.value(bench.between(system, 278.15, 345), "system.tube_oiled");
  };
  const Bench bench(kBenzoicAcid + oil);
  CHECK(std::get<NumberColumn>(told(bench, "water").value).certain == doctest::Approx(25));
  const FactFrame frame = bench.between("water", 278.15, 345);
  CHECK(std::get<std::string>(bench.value(frame, "system.oiled_tube").value) == "tube 2");
  CHECK(std::get<NumberColumn>(told(bench, "ethanol+water@60:40").value).certain == doctest::Approx(60));
  CHECK(std::get<NumberColumn>(told(bench, "water+ethanol@40:60").value).certain == doctest::Approx(60));
  CHECK(is_unknown(told(bench, "ethanol+water@20:80")));
  CHECK(is_unknown(told(bench, "heptane")));
  CHECK(is_unknown(told(bench, "ethanol")));
  const Bench cured(kBenzoicAcid + oil + "- {tube: 5, system: water, mass: 50 mg, volume: 1 mL, cooled: crystals}\n");
  CHECK(is_unknown(told(cured, "water")));
}

TEST_CASE("hot dissolves more than cold") {
  const Bench bench(kBenzoicAcid);
  for (const char* system : {"water", "ethanol", "heptane", "toluene", "ethanol+water@50:50"}) {
    INFO(std::string(system));
    const FactFrame frame = bench.between(system, 278.15, 345);
    const auto hot = fixture::values_of(frame, "system.hot_solubility");
    const auto cold = fixture::values_of(frame, "system.cold_solubility");
    const auto room = fixture::values_of(frame, "system.room_solubility");
    CHECK(fixture::spread_of(fixture::log10_of(hot)).mean > fixture::spread_of(fixture::log10_of(room)).mean);
    CHECK(fixture::spread_of(fixture::log10_of(room)).mean >
          fixture::spread_of(fixture::log10_of(cold)).mean);
    for (const double level : cold) CHECK(level > 0);
  }
}

TEST_CASE("hot and cold solubility share their errors: their ratio is known better than either") {
  const Bench bench(kBenzoicAcid);
  // Not hot ethanol: it dissolves so much that the ceiling of what is told per mL narrows its spread.
  for (const char* system : {"water", "cyclohexane", "heptane", "ethanol+water@30:70"}) {
    INFO(std::string(system));
    const FactFrame frame = bench.between(system, 278.15, 345);
    const auto hot = fixture::log10_of(fixture::values_of(frame, "system.hot_solubility"));
    const auto cold = fixture::log10_of(fixture::values_of(frame, "system.cold_solubility"));
    ScenarioValues ratio{};
    for (std::size_t k = 0; k < kScenarioCount; ++k) ratio[k] = hot[k] - cold[k];
    const double spread = fixture::spread_of(ratio).sd;
    CHECK(spread > 0.01);
    CHECK(spread < fixture::spread_of(hot).sd);
    CHECK(spread < fixture::spread_of(cold).sd);
  }
}

TEST_CASE("the spread told of a system is that of its cold solubility") {
  const Bench bench(kBenzoicAcid);
  const FactFrame frame = bench.between("water", 278.15, 345);
  CHECK(fixture::values_of(frame, "system.solubility_spread")[0] ==
        doctest::Approx(
            fixture::spread_of(fixture::log10_of(fixture::values_of(frame, "system.cold_solubility"))).sd));
}

TEST_CASE("a known value makes a solubility measured, draws it near and narrows it") {
  const Bench before(kBenzoicAcid);
  const Bench after(
      kBenzoicAcid +
      "known:\n- {system: heptane, at: 25 °C, solubility: 30 mg/mL, per: solvent, source: paper}\n");
  const auto room = [](const Bench& bench) {
    return fixture::spread_of(fixture::log10_of(
        fixture::values_of(bench.between("heptane", 278.15, 345), "system.room_solubility")));
  };
  const double told = std::log10(30.0);
  CHECK(std::abs(room(after).mean - told) < 0.6 * std::abs(room(before).mean - told));
  CHECK(room(after).sd < room(before).sd);

  const FactFrame then = before.between("heptane", 278.15, 345);
  const FactFrame now = after.between("heptane", 278.15, 345);
  CHECK(before.value(then, "system.cold_solubility").origin == Origin::Predicted);
  CHECK(after.value(now, "system.cold_solubility").origin == Origin::Measured);
  CHECK(after.value(now, "system.cold_solubility").source.find("paper") != std::string::npos);
}

TEST_CASE("a known value in one solvent teaches about its neighbours, which stay predicted") {
  const Bench before(kBenzoicAcid);
  const Bench after(
      kBenzoicAcid +
      "known:\n- {system: heptane, at: 25 °C, solubility: 30 mg/mL, per: solvent, source: paper}\n");
  const FactFrame then = before.between("cyclohexane", 283.15, 345);
  const FactFrame now = after.between("cyclohexane", 283.15, 345);
  CHECK(fixture::spread_of(fixture::log10_of(fixture::values_of(now, "system.room_solubility"))).mean >
        fixture::spread_of(fixture::log10_of(fixture::values_of(then, "system.room_solubility"))).mean +
            0.05);
  CHECK(after.value(now, "system.cold_solubility").origin == Origin::Predicted);
}

TEST_CASE("water and heptane are two layers, ethanol and water one liquid") {
  const Bench bench(kBenzoicAcid);
  const FactFrame layers = bench.between("heptane+water@50:50", 278.15, 345);
  CHECK(chance_of(bench.value(layers, "pair.two_phases_hot")) > 0.95);
  CHECK(chance_of(bench.value(layers, "pair.two_phases_cold")) > 0.95);
  const FactFrame liquid = bench.between("ethanol+water@50:50", 278.15, 345);
  CHECK(chance_of(bench.value(liquid, "pair.two_phases_hot")) < 0.05);
  CHECK(chance_of(bench.value(liquid, "pair.two_phases_cold")) < 0.05);
  CHECK(std::get<std::string>(bench.value(liquid, "pair.phase_evidence").value) == "published");
}

TEST_CASE("the facts of pairs are left unset for a single solvent") {
  const Bench bench(kBenzoicAcid);
  const FactFrame frame = bench.between("water", 278.15, 345);
  for (const char* fact : {"pair.two_phases_hot", "pair.two_phases_cold", "pair.contrast", "pair.reaction"}) {
    CHECK_FALSE(bench.value(frame, fact).is_known());
  }
}

TEST_CASE("contrast is that of the two solvents alone") {
  const Bench bench(kBenzoicAcid);
  const FactFrame frame = bench.between("ethanol+water@50:50", 278.15, 345);
  const auto contrast = fixture::values_of(frame, "pair.contrast");
  const auto good = fixture::log10_of(fixture::values_of(frame, "solvent.cold_solubility", 0));
  const auto poor = fixture::log10_of(fixture::values_of(frame, "solvent.cold_solubility", 1));
  for (std::size_t k = 0; k < kScenarioCount; ++k) CHECK(contrast[k] == doctest::Approx(good[k] - poor[k]));
  CHECK(fixture::spread_of(contrast).mean > 1);
}

TEST_CASE("a boiling point follows the pressure: lower on a mountain") {
  const Bench sea(kBenzoicAcid);
  const Bench mountain(kBenzoicAcid + "aim:\n  altitude: 3000 m\n");
  const auto boils = [](const Bench& bench, const char* system) {
    return fixture::values_of(bench.between(system, 278.15, 330), "system.boiling_point")[0];
  };
  CHECK(boils(sea, "water") == doctest::Approx(373.15).epsilon(0.002));
  CHECK(boils(mountain, "water") < boils(sea, "water") - 7);
  CHECK(boils(mountain, "water") > boils(sea, "water") - 13);
  CHECK(boils(sea, "ethanol+water@50:50") > boils(sea, "ethanol"));
  CHECK(boils(sea, "ethanol+water@50:50") < boils(sea, "water"));
}

TEST_CASE("a wet melting point that was seen is taken as given, and none lies above the dry one") {
  const Bench seen(kBenzoicAcid + "known:\n- {system: water, wet_melting_point: 90 °C, source: seen}\n");
  const FactFrame frame = seen.between("water", 278.15, 345);
  CHECK(fixture::values_of(frame, "system.wet_melting_point")[0] == doctest::Approx(363.15));
  CHECK(seen.value(frame, "system.wet_melting_point").origin == Origin::Given);
  CHECK(chance_of(seen.value(frame, "system.second_liquid_foreseen")) == 1);
  const Bench foretold(kBenzoicAcid);
  for (const char* system : {"water", "heptane", "ethanol+water@40:60"}) {
    for (const double wet :
         fixture::values_of(foretold.between(system, 278.15, 345), "system.wet_melting_point")) {
      CHECK(wet < 395.15);
    }
  }
}

TEST_CASE("impurities are held by a share between none and all; without one the share is unknown") {
  const Bench with(kBenzoicAcid +
                   "impurities:\n- {name: benzaldehyde, smiles: \"O=Cc1ccccc1\", share: 3 %}\n");
  for (const double held : fixture::values_of(with.between("water", 278.15, 345), "system.impurity_held")) {
    CHECK(held >= 0);
    CHECK(held <= 1);
  }
  const Bench without(kBenzoicAcid);
  CHECK_FALSE(without.value(without.between("water", 278.15, 345), "system.impurity_held").is_known());
}

}  // namespace firstcrop
