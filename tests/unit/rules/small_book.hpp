#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include <doctest/doctest.h>

#include "input/yaml_reader.hpp"
#include "rules/rule_book.hpp"
#include "rules/rule_loader.hpp"

// A small catalogue, rule files as texts, and frames, for the tests of this room.
namespace firstcrop::small {

inline const Catalogue& catalogue() {
  static const Catalogue all = [] {
    Catalogue out;
    const auto temperature = [&out](const char* name) {
      out.add({name, FactType::Number, dimension::kTemperature, "°C", "", {}});
    };
    const auto number = [&out](const char* name, const char* unit) {
      out.add({name, FactType::Number, dimension::kNumber, unit, "", {}});
    };
    const auto flag = [&out](const char* name) { out.add({name, FactType::Flag, {}, "", "", {}}); };
    temperature("solute.melting_point");
    out.add({"solute.form", FactType::Text, {}, "", "", {"neutral", "salt", "hydrate"}});
    out.add({"solute.groups", FactType::Set, {}, "", "", {}});
    number("solute.polarity", "");
    flag("solute.energetic");
    temperature("solvent.boiling_point");
    number("solvent.polarity", "");
    out.add({"solvent.class", FactType::Text, {}, "", "", {"1", "2", "3", "none-known"}});
    out.add({"solvent.peroxides", FactType::Text, {}, "", "", {"A", "B", "none-known"}});
    out.add({"solvent.hazards", FactType::Set, {}, "", "", {}});
    flag("solvent.banned");
    flag("pair.two_phases_hot");
    flag("pair.two_phases_cold");
    temperature("system.boiling_point");
    temperature("system.freezing_point");
    temperature("system.hot_temperature");
    temperature("system.cold_temperature");
    out.add({"system.hot_solubility", FactType::Number, dimension::kConcentration, "mg/mL", "", {}});
    out.add({"system.cold_solubility", FactType::Number, dimension::kConcentration, "mg/mL", "", {}});
    out.add({"system.volume_per_gram", FactType::Number, dimension::kVolumePerMass, "mL/g", "", {}});
    number("system.recovery", "%");
    number("system.polarity", "");
    out.add({"system.note", FactType::Text, {}, "", "", {}});
    flag("system.is_pair");
    flag("system.works");
    temperature("aim.bath_temperature");
    temperature("aim.heating_limit");
    flag("aim.open_flame");
    return out;
  }();
  return all;
}

inline FactReference fact(std::string_view name) {
  const auto found = catalogue().find(name);
  REQUIRE_MESSAGE(found, std::string(name));
  return *found;
}

inline const std::string kVerdict = R"(verdict:
  chance: {of: system.works}
  sound: {score: 0.6, judged: 0.7, weak_grade: 0.3, heavy_weight: 1.5}
  doubtful: {exclusion: 0.1}
  unfit: {exclusion: 0.9, chance: 0.1}
  caution: {probability: 0.1}
  words: {high: 0.75, low: 0.4}
)";

/// A whole rule file of the given rules.
inline std::string file_of(const std::string& rules, bool with_verdict = true) {
  return "format: firstcrop rules 1\n" + (with_verdict ? kVerdict : std::string()) + "rules:\n" + rules;
}

inline RuleFile load(const std::string& text, Findings& findings, const std::string& path = "rules.yaml") {
  const auto document = read_yaml(path, text, findings);
  return document ? load_rules(*document, catalogue(), findings) : RuleFile{};
}

inline std::string all_text(const Findings& findings) {
  std::string out;
  for (const Finding& finding : findings.sorted()) out += to_text(finding) + "\n";
  return out;
}

/// The findings on a file of the given rules, one line each: `line:column message | help`.
inline std::string findings_on(const std::string& rules) {
  Findings findings;
  (void)load(file_of(rules), findings);
  std::string out;
  for (const Finding& finding : findings.sorted()) {
    out += std::to_string(finding.place.line) + ":" + std::to_string(finding.place.column) + " " +
           finding.message + (finding.help.empty() ? "" : " | " + finding.help) + "\n";
  }
  return out;
}

inline RuleBook book_of(const std::string& rules) {
  Findings findings;
  std::vector<RuleFile> files;
  files.push_back(load(file_of(rules), findings));
  auto book = RuleBook::build(catalogue(), std::move(files), {}, findings);
  REQUIRE_MESSAGE(findings.empty(), all_text(findings));
  REQUIRE(book);
  return *book;
}

inline FactValue number(double value, Origin origin = Origin::Given) {
  FactValue out;
  out.value = NumberColumn::of(value);
  out.origin = origin;
  return out;
}
inline FactValue celsius(double value) {
  return number(value + 273.15);
}
inline FactValue column(const ScenarioValues& values, std::uint64_t known = kAllScenarios) {
  FactValue out;
  out.value = NumberColumn::of(values, known);
  out.origin = Origin::Predicted;
  return out;
}
inline FactValue flag(bool value) {
  FactValue out;
  out.value = FlagColumn::of(value);
  return out;
}
inline FactValue flag_mask(std::uint64_t truth, std::uint64_t known = kAllScenarios) {
  FactValue out;
  out.value = FlagColumn::of_mask(truth, known);
  return out;
}
inline FactValue text(std::string value) {
  FactValue out;
  out.value = std::move(value);
  return out;
}
inline FactValue set(std::vector<std::string> members) {
  FactValue out;
  out.value = std::move(members);
  return out;
}
/// The lowest `count` scenarios.
inline std::uint64_t first_scenarios(int count) {
  return count >= 64 ? kAllScenarios : (std::uint64_t{1} << count) - 1;
}

}  // namespace firstcrop::small
