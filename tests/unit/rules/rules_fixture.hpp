#pragma once

#include <optional>
#include <string>
#include <vector>

#include "facts/fact_frame.hpp"
#include "input/yaml_reader.hpp"
#include "rules/judge.hpp"
#include "rules/rule_book.hpp"

namespace firstcrop::test {

/// A small catalogue without any chemistry: the engine knows none.
inline const Catalogue& catalogue() {
  static const Catalogue all = [] {
    Catalogue out;
    out.add({"system.temperature", FactType::Number, dimension::kTemperature, "°C", "a temperature", {}});
    out.add({"system.limit", FactType::Number, dimension::kTemperature, "°C", "another temperature", {}});
    out.add({"system.content", FactType::Number, dimension::kConcentration, "mg/mL", "a content", {}});
    out.add({"system.share", FactType::Number, dimension::kNumber, "%", "a share", {}});
    out.add({"system.size", FactType::Number, dimension::kNumber, "", "a size", {}});
    out.add({"system.derived", FactType::Number, dimension::kNumber, "", "for derive rules", {}});
    out.add({"system.works", FactType::Flag, dimension::kNumber, "", "the chance", {}});
    out.add({"system.red", FactType::Flag, dimension::kNumber, "", "a flag", {}});
    out.add({"system.blue", FactType::Flag, dimension::kNumber, "", "a flag", {}});
    out.add({"system.kind", FactType::Text, dimension::kNumber, "", "a word", {"hard", "soft"}});
    out.add({"system.marks", FactType::Set, dimension::kNumber, "", "words", {}});
    out.add({"solvent.size", FactType::Number, dimension::kNumber, "", "of a component", {}});
    out.add({"pair.gap", FactType::Number, dimension::kTemperatureDifference, "K", "of a pair", {}});
    return out;
  }();
  return all;
}

inline const char* verdict_text() {
  return "format: firstcrop rules 1\nverdict:\n  chance: {of: system.works}\n"
         "  sound: {score: 0.6, judged: 0.7, weak_grade: 0.3, heavy_weight: 1.5}\n  doubtful: {exclusion: "
         "0.1}\n"
         "  unfit: {exclusion: 0.9, chance: 0.1}\n  caution: {probability: 0.1}\n  words: {high: 0.75, low: "
         "0.4}\n";
}

inline RuleFile file_of(const std::string& text, Findings& findings) {
  const auto document = read_yaml("rules.yaml", text, findings);
  return document ? load_rules(*document, catalogue(), findings) : RuleFile{};
}

inline std::optional<RuleBook> book_of(const std::vector<std::string>& texts, Findings& findings) {
  std::vector<RuleFile> files{file_of(verdict_text(), findings)};
  for (const std::string& text : texts)
    files.push_back(file_of("format: firstcrop rules 1\nrules:\n" + text, findings));
  return RuleBook::build(catalogue(), std::move(files), {}, findings);
}

inline void set(FactFrame& frame, const char* fact, FactValue value, std::size_t each = 0) {
  frame.set(catalogue().find(fact).value(), std::move(value), each);
}
inline FactValue number(double value) {
  return {NumberColumn::of(value), Origin::Given, {}};
}
inline FactValue flag(bool value) {
  return {FlagColumn::of(value), Origin::Given, {}};
}

}  // namespace firstcrop::test
