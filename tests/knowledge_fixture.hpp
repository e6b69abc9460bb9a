#pragma once

#include <cmath>
#include <optional>
#include <stdexcept>
#include <string>
#include <vector>

#include "facts/fact_frame.hpp"
#include "systems/inquiry.hpp"

namespace firstcrop::fixture {

/// The project's own data folder, read once a program.
inline const KnowledgeBase& knowledge() {
  static const KnowledgeBase base = [] {
    Findings findings;
    auto loaded = load_knowledge({FIRSTCROP_SOURCE_DIR, std::nullopt, {}}, findings);
    if (!loaded) throw std::runtime_error("the data folder holds errors");
    return std::move(*loaded);
  }();
  return base;
}

inline SolventId solvent(const std::string& id, const KnowledgeBase& base = knowledge()) {
  return base.library.find_id(id).value();
}

/// A system as one would type it.
inline System system(const std::string& text, const KnowledgeBase& base = knowledge()) {
  const SystemAnswer answer = parse_system(text, base.library);
  if (!answer.system) throw std::runtime_error(text + ": " + answer.message);
  return answer.system->system;
}

/// A solute file of the given lines; `format` and `name` are put before them.
inline SoluteFile solute(const std::string& lines, const KnowledgeBase& base = knowledge()) {
  Findings findings;
  auto file = read_solute_file("solid.yaml", "format: firstcrop solute 1\nname: the solid\n" + lines,
                               vocabulary_of(base), findings);
  if (!file) throw std::runtime_error(to_text(findings.sorted().front()));
  return std::move(*file);
}

inline Inquiry inquiry(const SoluteFile& file, const AimOptions& options = {}, bool as_unknown = false,
                       const KnowledgeBase& base = knowledge()) {
  Findings findings;
  auto made = make_inquiry(base, file, options, as_unknown, findings);
  if (!made) throw std::runtime_error(to_text(findings.sorted().front()));
  return std::move(*made);
}

/// Mean and standard deviation over the scenarios.
struct Spread {
  double mean = 0;
  double sd = 0;
};
inline Spread spread_of(const ScenarioValues& values) {
  Spread out;
  for (const double value : values) out.mean += value / static_cast<double>(kScenarioCount);
  for (const double value : values) {
    out.sd += (value - out.mean) * (value - out.mean) / static_cast<double>(kScenarioCount);
  }
  out.sd = std::sqrt(out.sd);
  return out;
}

inline double covariance_of(const ScenarioValues& left, const ScenarioValues& right) {
  const double left_mean = spread_of(left).mean;
  const double right_mean = spread_of(right).mean;
  double out = 0;
  for (std::size_t k = 0; k < kScenarioCount; ++k) {
    out += (left[k] - left_mean) * (right[k] - right_mean) / static_cast<double>(kScenarioCount);
  }
  return out;
}

/// The number that a fact holds in every scenario.
inline ScenarioValues values_of(const FactFrame& frame, const std::string& fact, std::size_t each = 0) {
  const auto& column = std::get<NumberColumn>(frame.get(frame.catalogue().find(fact).value(), each).value);
  ScenarioValues out{};
  for (std::size_t k = 0; k < kScenarioCount; ++k) out[k] = column.at(k);
  return out;
}

inline ScenarioValues log10_of(ScenarioValues values) {
  for (double& value : values) value = std::log10(value);
  return values;
}

}  // namespace firstcrop::fixture
