// What pairs cost: all miscibilities of the library, one bubble point, the study of one pair, and one update by five
// observations. Never a test: it measures and asserts nothing.

#include <array>
#include <string>
#include <vector>

#include <benchmark/benchmark.h>

#include "input/yaml_reader.hpp"
#include "phase/boiling_down.hpp"
#include "solubility/curve.hpp"
#include "solubility/posterior.hpp"
#include "solubility/prior.hpp"
#include "systems/knowledge_base.hpp"

namespace {

using namespace firstcrop;

const std::string kData = FIRSTCROP_SOURCE_DIR;

const KnowledgeBase& knowledge() {
  static const KnowledgeBase base = [] {
    Findings findings;
    return load_knowledge({kData, std::nullopt, {}}, findings).value();
  }();
  return base;
}

SolventId id(const char* name) {
  return *knowledge().library.find_id(name);
}

void all_pairs_at_three_temperatures(benchmark::State& state) {
  const PhaseModel& phase = knowledge().phase;
  const std::size_t count = knowledge().library.solvents().size();
  for (auto _ : state) {
    double sum = 0;
    for (std::size_t a = 0; a < count; ++a) {
      for (std::size_t b = a + 1; b < count; ++b) {
        for (const double temperature : {278.15, 298.15, 338.15}) {
          const auto one = phase.one_liquid(SolventId{a}, SolventId{b}, temperature);
          sum += one ? one->chance : 0;
        }
      }
    }
    benchmark::DoNotOptimize(sum);
  }
}
BENCHMARK(all_pairs_at_three_temperatures)->Unit(benchmark::kMillisecond);

void one_bubble_point(benchmark::State& state) {
  const std::array<SolventId, 2> solvents{id("ethanol"), id("water")};
  const auto liquid = knowledge().phase.boiling_liquid(solvents);
  const std::array<double, 2> fractions{0.4, 0.6};
  for (auto _ : state) benchmark::DoNotOptimize(liquid->bubble_point(fractions, kStandardPressureKpa));
}
BENCHMARK(one_bubble_point)->Unit(benchmark::kMicrosecond);

void boil_half_away(benchmark::State& state) {
  const std::array<SolventId, 2> solvents{id("ethanol"), id("water")};
  const std::array<double, 2> fractions{0.5, 0.5};
  const std::array<double, 1> shares{0.5};
  for (auto _ : state) {
    benchmark::DoNotOptimize(boil_down(knowledge().phase, solvents, fractions, kStandardPressureKpa, shares));
  }
}
BENCHMARK(boil_half_away)->Unit(benchmark::kMillisecond);

void update_by_five_observations(benchmark::State& state) {
  SoluteInput solute;
  solute.melting_point_k = 400;
  solute.molar_mass_g_mol = 180;
  const SolubilityState start =
      initial_state(predict(knowledge().model, solute), knowledge().model.enthalpy(), 180);
  std::vector<Observation> observations;
  for (std::size_t solvent = 0; solvent < 5; ++solvent) {
    Observation one;
    one.weights = {{solvent, 1.0}};
    one.temperature_k = 298.15;
    one.low = start.mean[solvent] - 0.3;
    observations.push_back(one);
  }
  for (auto _ : state) benchmark::DoNotOptimize(update(start, observations));
}
BENCHMARK(update_by_five_observations)->Unit(benchmark::kMicrosecond);

}  // namespace

BENCHMARK_MAIN();
