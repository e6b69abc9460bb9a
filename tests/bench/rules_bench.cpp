// How long one rule takes on one system, and a whole book on one system.

#include <benchmark/benchmark.h>

#include <cmath>
#include <stdexcept>

#include "input/yaml_reader.hpp"
#include "rules/judge.hpp"
#include "rules/rule_run.hpp"

namespace {

using namespace firstcrop;

const char* const kRules = R"(format: firstcrop rules 1
verdict:
  chance: {of: system.works}
  sound: {score: 0.6, judged: 0.7, weak_grade: 0.3, heavy_weight: 1.5}
  doubtful: {exclusion: 0.1}
  unfit: {exclusion: 0.9, chance: 0.1}
  caution: {probability: 0.1}
  words: {high: 0.75, low: 0.4}
rules:
- id: certain
  weight: 1
  grade: {of: solute.melting_point - system.boiling_point, points: [[-60 K, .15], [-20 K, .45], [0 K, .75], [30 K, 1]]}
  say: {high: a, middle: b, low: c}
  source: s
  cases: []
- id: uncertain
  weight: 1
  grade: {of: system.wet_melting_point - system.boiling_point, points: [[-60 K, .15], [-20 K, .45], [0 K, .75], [30 K, 1]]}
  say: {high: a, middle: b, low: c}
  source: s
  cases: []
- id: uncertain-logarithmic
  weight: 1
  grade: {of: system.hot_solubility, scale: log, points: [[2 mg/mL, .01], [5 mg/mL, .05], [10 mg/mL, .3],
    [20 mg/mL, .8], [40 mg/mL, 1], [400 mg/mL, 1], [1000 mg/mL, .9]]}
  say: {high: a, middle: b, low: c}
  source: s
  cases: []
- id: ladder-of-hazards
  weight: 1
  grade:
    ladder:
    - [solvent.class == '1', .03]
    - [solvent.hazards meets ('H350'; 'H340'), .15]
    - [solvent.hazards meets ('H361'; 'H351'; 'H372'), .5]
    - [else, 1]
  say: {high: a, middle: b, low: c}
  source: s
  cases: []
- id: uncertain-exclusion
  exclude: {when: system.wet_melting_point < system.boiling_point - 15 K and not system.is_pair, because: x}
  source: s
  cases: []
)";

struct Setting {
  Catalogue catalogue;
  std::optional<RuleBook> book;
  std::optional<FactFrame> frame;

  Setting() {
    for (const char* name : {"solute.melting_point", "system.boiling_point", "system.wet_melting_point"}) {
      catalogue.add({name, FactType::Number, dimension::kTemperature, "°C", "", {}});
    }
    catalogue.add({"system.hot_solubility", FactType::Number, dimension::kConcentration, "mg/mL", "", {}});
    catalogue.add({"solvent.class", FactType::Text, {}, "", "", {}});
    catalogue.add({"solvent.hazards", FactType::Set, {}, "", "", {}});
    catalogue.add({"system.is_pair", FactType::Flag, {}, "", "", {}});
    catalogue.add({"system.works", FactType::Flag, {}, "", "", {}});
    Findings findings;
    const auto document = read_yaml("bench.yaml", kRules, findings);
    if (!document) throw std::runtime_error("the rules of the benchmark cannot be read");
    std::vector<RuleFile> files;
    files.push_back(load_rules(*document, catalogue, findings));
    book = RuleBook::build(catalogue, std::move(files), {}, findings);
    if (!book || findings.has_errors()) throw std::runtime_error("the rules of the benchmark are wrong");
    frame.emplace(catalogue, 1);
    ScenarioValues melting{};
    ScenarioValues solubility{};
    for (std::size_t k = 0; k < kScenarioCount; ++k) {
      melting[k] = 340 + 20 * std::sin(7.0 * static_cast<double>(k));
      solubility[k] = std::exp(3 + 1.5 * std::sin(11.0 * static_cast<double>(k)));
    }
    set("solute.melting_point", NumberColumn::of(380.0));
    set("system.boiling_point", NumberColumn::of(351.0));
    set("system.wet_melting_point", NumberColumn::of(melting));
    set("system.hot_solubility", NumberColumn::of(solubility));
    set("solvent.class", std::string("3"));
    set("solvent.hazards", std::vector<std::string>{"H225", "H319", "H336"});
    set("system.is_pair", FlagColumn::of(false));
    set("system.works", FlagColumn::of(true));
  }
  void set(const char* name, decltype(FactValue::value) value) {
    FactValue fact;
    fact.value = std::move(value);
    frame->set(*catalogue.find(name), std::move(fact));
  }
};

void grade_once(benchmark::State& state, const char* id) {
  const Setting setting;
  Workspace workspace;
  detail::GradeRun run;
  const Rule& rule = *setting.book->find(id);
  for (auto step : state) {
    detail::run_grade(rule, *setting.frame, workspace, run);
    benchmark::DoNotOptimize(run.mean());
  }
}

void exclude_once(benchmark::State& state) {
  const Setting setting;
  Workspace workspace;
  const Rule& rule = *setting.book->find("uncertain-exclusion");
  for (auto step : state) {
    benchmark::DoNotOptimize(detail::run_condition(rule, *setting.frame, 0, workspace));
  }
}

// Five rules with the score and the verdict.
void judge_once(benchmark::State& state) {
  const Setting setting;
  for (auto step : state) benchmark::DoNotOptimize(judge(*setting.book, *setting.frame));
}

BENCHMARK_CAPTURE(grade_once, certain, "certain");
BENCHMARK_CAPTURE(grade_once, uncertain, "uncertain");
BENCHMARK_CAPTURE(grade_once, uncertain_logarithmic, "uncertain-logarithmic");
BENCHMARK_CAPTURE(grade_once, ladder_of_hazards, "ladder-of-hazards");
BENCHMARK(exclude_once);
BENCHMARK(judge_once);

}  // namespace

BENCHMARK_MAIN();
