// Where the time of `rank` goes: reading files, structure, solubility, phases and rules, and the whole
// process. Never a test: it measures and asserts nothing.

#include <sys/resource.h>

#include <cstdlib>
#include <string>

#include <benchmark/benchmark.h>

#include "input/yaml_reader.hpp"
#include "ranking/rank.hpp"
#include "ranking/rule_files.hpp"
#include "solubility/prior.hpp"
#include "solute/solute.hpp"
#include "systems/fact_list.hpp"
#include "systems/system_phases.hpp"

namespace {

using namespace firstcrop;

const std::string kData = FIRSTCROP_SOURCE_DIR;
const std::string kSolute = kData + "/examples/flask-3.yaml";

KnowledgeBase knowledge() {
  Findings findings;
  return load_knowledge({kData, std::nullopt, {}}, findings).value();
}

SoluteFile solute_file(const KnowledgeBase& base) {
  Findings findings;
  return read_solute_file(kSolute, read_file(kSolute), vocabulary_of(base), findings).value();
}

void read_library(benchmark::State& state) {
  for (auto _ : state) benchmark::DoNotOptimize(knowledge());
}
BENCHMARK(read_library)->Unit(benchmark::kMillisecond);

void read_rules(benchmark::State& state) {
  const Catalogue catalogue = make_catalogue();
  for (auto _ : state) {
    Findings findings;
    benchmark::DoNotOptimize(load_rule_book(kData + "/rules", {}, catalogue, findings));
  }
}
BENCHMARK(read_rules)->Unit(benchmark::kMillisecond);

void structure(benchmark::State& state) {
  const KnowledgeBase base = knowledge();
  for (auto _ : state) {
    const SoluteFile file = solute_file(base);
    benchmark::DoNotOptimize(make_solute(file, base.library.groups(), base.library.descriptor_scheme()));
  }
}
BENCHMARK(structure)->Unit(benchmark::kMillisecond);

void solubility_in_all_solvents(benchmark::State& state) {
  const KnowledgeBase base = knowledge();
  const SoluteFile file = solute_file(base);
  const Solute solute = make_solute(file, base.library.groups(), base.library.descriptor_scheme());
  SoluteInput input;
  input.structure_features = solute.structure_features;
  input.melting_point_k = solute.melting_point->value;
  input.molar_mass_g_mol = solute.molar_mass.value;
  for (auto _ : state) benchmark::DoNotOptimize(predict(base.model, input));
}
BENCHMARK(solubility_in_all_solvents)->Unit(benchmark::kMillisecond);

void phases_of_one_pair(benchmark::State& state) {
  const KnowledgeBase base = knowledge();
  const System pair{{*base.library.find_id("ethanol"), *base.library.find_id("heptane")}, 0.3};
  for (auto _ : state) benchmark::DoNotOptimize(phases_of(pair, 278.15, base));
}
BENCHMARK(phases_of_one_pair)->Unit(benchmark::kMicrosecond);

void boiling_point_of_one_pair(benchmark::State& state) {
  const KnowledgeBase base = knowledge();
  const System pair{{*base.library.find_id("ethanol"), *base.library.find_id("water")}, 0.6};
  for (auto _ : state) benchmark::DoNotOptimize(boiling_point_of(pair, 101.325, base));
}
BENCHMARK(boiling_point_of_one_pair)->Unit(benchmark::kMicrosecond);

/// Everything that ranking needs, loaded once.
struct Loaded {
  Catalogue catalogue = make_catalogue();
  KnowledgeBase base = knowledge();
  Findings findings;
  RuleBook book = load_rule_book(kData + "/rules", {}, catalogue, findings).value();
  Inquiry inquiry = make_inquiry(base, solute_file(base), {}, false, findings).value();
  SystemJudge judge = SystemJudge::create(catalogue, inquiry, book, findings).value();
};

void one_rule_on_one_system(benchmark::State& state) {
  const Loaded loaded;
  const JudgedSystem judged = loaded.judge.judge(System{{*loaded.base.library.find_id("ethanol")}, 1});
  for (auto _ : state) benchmark::DoNotOptimize(judge(loaded.book, judged.frame));
  state.counters["us_per_rule"] =
      benchmark::Counter(static_cast<double>(loaded.book.rules().size()) * 1e-6,
                         benchmark::Counter::kIsIterationInvariantRate | benchmark::Counter::kInvert);
}
BENCHMARK(one_rule_on_one_system)->Unit(benchmark::kMicrosecond);

void rank_common_shelf_with_pairs(benchmark::State& state) {
  const Loaded loaded;
  for (auto _ : state) benchmark::DoNotOptimize(rank(loaded.judge, {}));
}
BENCHMARK(rank_common_shelf_with_pairs)->Unit(benchmark::kMillisecond);

void whole_process(benchmark::State& state) {
  const std::string command = std::string(FIRSTCROP_PROGRAM) + " rank " + kSolute + " > /dev/null";
  for (auto _ : state) benchmark::DoNotOptimize(std::system(command.c_str()));
  rusage usage{};
  getrusage(RUSAGE_CHILDREN, &usage);
  state.counters["peak_MB"] = static_cast<double>(usage.ru_maxrss) / 1024;
}
BENCHMARK(whole_process)->Unit(benchmark::kMillisecond)->UseRealTime();

}  // namespace

BENCHMARK_MAIN();
