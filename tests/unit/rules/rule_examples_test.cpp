// One rule of each kind as people write them: they load without a finding, pass their cases and judge a
// system.

#include <doctest/doctest.h>

#include "rules/judge.hpp"
#include "rules/rule_cases.hpp"
#include "small_book.hpp"

using namespace firstcrop;
using small::fact;

namespace {

const std::string kRules = R"(
- id: boiling-and-melting
  weight: 0.8
  let: {margin: solute.melting_point - system.boiling_point}
  grade: {of: margin, points: [[-60 K, 0.15], [-20 K, 0.45], [0 K, 0.75], [10 K, 0.95], [30 K, 1]]}
  say:
    high: "boils {margin} under the melting point"
    middle: "boils near the melting point"
    low: "boils far over the melting point; saturate at {system.hot_temperature}"
  teach: Hot solvent above the melting point invites oil.
  source: common practice, no source
  cases:
  - {solute.melting_point: 122 °C, system.boiling_point: 78 °C, expect: high, grade: 1}
  - {solute.melting_point: 60 °C, system.boiling_point: 100 °C, expect: low, grade: 0.3}
- id: like-dissolves-like
  when: not measured(system.hot_solubility)   # speaks while nothing is measured
  weight: 1
  grade: {of: abs(solute.polarity - system.polarity), points: [[0, 0.5], [0.15, 1], [0.35, 1], [0.8, 0.1]]}
  say: {high: a step apart, middle: too near or rather far, low: too far}
  source: common practice, no source
  cases:
  - {solute.polarity: 0.35, system.polarity: 0.65, expect: high, grade: 1}
  - {solute.polarity: 0.1, system.polarity: 1, expect: low, grade: 0.1}
  - {system.hot_solubility: 30 mg/mL, expect: not-applicable}
  - {system.hot_solubility: "30 mg/mL [predicted]", expect: unknown, missing: [solute.polarity, system.polarity]}
- id: hot-window
  weight: 1.5
  grade: {of: system.hot_solubility, scale: log, points: [[2 mg/mL, .01], [5 mg/mL, .05], [10 mg/mL, .3], [20 mg/mL, .8],
    [40 mg/mL, 1], [400 mg/mL, 1], [1000 mg/mL, .9]]}
  say: {high: "{system.volume_per_gram}", middle: "{system.volume_per_gram}", low: "{system.volume_per_gram}: too much"}
  source: common practice, no source
  cases:
  - {system.hot_solubility: 100 mg/mL, expect: high, grade: 1}
  - {system.hot_solubility: 3 mg/mL, expect: low, grade: 0.03}
- id: health-hazard
  weight: 2
  grade:
    ladder:
    - [solvent.class == '1', .03]
    - [solvent.hazards meets ('H350'; 'H340'), .15]
    - [solvent.hazards meets ('H360'), .3]
    - [solvent.hazards meets ('H361'; 'H351'; 'H372'), .5]
    - [else, 1]
  say: {high: no grave class, middle: a graver class, low: take another if any will do}
  source: judged
  cases:
  - {solvent.class: '3', solvent.hazards: [H225, H336], expect: high, grade: 1}
  - {solvent.class: '1', solvent.hazards: [H225, H350], expect: low, grade: 0.03}
  - {solvent.hazards: [H350], expect: unknown, missing: solvent.class}
- id: one-liquid
  exclude: {when: pair.two_phases_hot or pair.two_phases_cold, because: "{good} and {poor} form layers"}
  source: common practice, no source
  cases:
  - {pair.two_phases_hot: false, pair.two_phases_cold: true, expect: fires}
  - {pair.two_phases_hot: false, pair.two_phases_cold: false, expect: silent}
  - {pair.two_phases_hot: false, expect: unknown, missing: pair.two_phases_cold}
- id: peroxides
  step: evaporation
  caution:
    when: solvent.peroxides in ('A'; 'B')
    level: danger
    text: "{solvent} forms peroxides: test it; never to dryness"
  source: laboratory practice, memory
  cases:
  - {solvent.peroxides: B, expect: fires}
  - {solvent.peroxides: none-known, expect: silent}
- id: freezes-in-ice
  step: cooling
  advice:
    when: system.freezing_point + 3 K > aim.bath_temperature
    text: "collect at {system.cold_temperature}; {system} freezes at {system.freezing_point}"
  source: common practice, no source
  cases:
  - {system.freezing_point: 6.7 °C, aim.bath_temperature: 5 °C, expect: fires}
  - {system.freezing_point: -114 °C, aim.bath_temperature: 5 °C, expect: silent}
- id: cold-temperature
  derive: {fact: system.cold_temperature, value: max(aim.bath_temperature; system.freezing_point + 3 K)}
  source: judgement
  cases:
  - {aim.bath_temperature: 5 °C, system.freezing_point: 6.5 °C, value: 9.5 °C}
  - {aim.bath_temperature: 5 °C, system.freezing_point: -20 °C, value: 5 °C}
- id: polarity-of-the-solid
  derive:
    fact: solute.polarity
    ladder:
    - [solute.form == 'salt', 0.9]
    - [solute.groups meets ('alcohol'; 'acid'), 0.5]
    - [else, 0.05]
  source: judgement
  cases:
  - {solute.form: salt, value: 0.9}
  - {solute.form: neutral, solute.groups: [acid], value: 0.5}
  - {solute.form: neutral, solute.groups: [], value: 0.05}
)";

const RuleOutcome& outcome_of(const Judgement& judgement, const std::string& id) {
  for (const RuleOutcome& outcome : judgement.outcomes) {
    if (outcome.rule.text == id) return outcome;
  }
  FAIL("no outcome of " << id);
  return judgement.outcomes.front();
}

}  // namespace

TEST_CASE("one rule of each kind loads and passes its cases") {
  const RuleBook book = small::book_of(kRules);
  CHECK(book.rules().size() == 9);
  Findings findings;
  const CaseCounts counts = run_cases(book, findings);
  CHECK_MESSAGE(findings.empty(), small::all_text(findings));
  CHECK(counts.passed == 23);
  CHECK(counts.failed == 0);
}

TEST_CASE("the rules derive what they need and judge a single") {
  const RuleBook book = small::book_of(kRules);
  Findings findings;
  const auto graph = FactGraph::build(small::catalogue(), book.producers(), findings);
  REQUIRE(graph);
  FactFrame frame(small::catalogue(), 1);
  frame.set(fact("solute.melting_point"), small::celsius(95));
  frame.set(fact("solute.form"), small::text("neutral"));
  frame.set(fact("solute.groups"), small::set({"ketone"}));
  frame.set(fact("solvent.class"), small::text("3"));
  frame.set(fact("solvent.hazards"), small::set({"H225"}));
  frame.set(fact("solvent.peroxides"), small::text("none-known"));
  frame.set(fact("system.boiling_point"), small::celsius(81));
  frame.set(fact("system.freezing_point"), small::celsius(6.7));
  frame.set(fact("aim.bath_temperature"), small::celsius(5));
  frame.set(fact("system.polarity"), small::number(0.25));
  frame.set(fact("system.hot_solubility"), small::number(100, Origin::Predicted));
  frame.set(fact("system.volume_per_gram"), small::number(0.01));
  frame.set(fact("system.works"), small::flag(true));
  graph->run(frame);
  const Judgement judgement = judge(book, frame, {"benzil", "cyclohexane", {"cyclohexane"}});
  CHECK(judgement.verdict == Verdict::Sound);
  CHECK(judgement.judged == 1);
  CHECK(*judgement.score > 0.9);
  CHECK(outcome_of(judgement, "boiling-and-melting").text == "boils 14 K under the melting point");
  CHECK(outcome_of(judgement, "hot-window").text == "10 mL/g");
  CHECK(outcome_of(judgement, "like-dissolves-like").outcome == Outcome::High);
  CHECK(outcome_of(judgement, "one-liquid").outcome == Outcome::NotApplicable);
  CHECK(outcome_of(judgement, "peroxides").outcome == Outcome::Silent);
  CHECK(outcome_of(judgement, "freezes-in-ice").text == "collect at 10 °C; cyclohexane freezes at 7 °C");
}
