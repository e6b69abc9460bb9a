#pragma once

// Inside the room `report` only: it brings in the JSON library.

#include <optional>
#include <string>
#include <vector>

#include <nlohmann/json.hpp>

#include "base/finding.hpp"
#include "ranking/rank.hpp"

namespace firstcrop::report {

using Json = nlohmann::ordered_json;

/// What every answer begins with.
struct AnswerHead {
  std::string format;   ///< `firstcrop/rank/1`
  std::string program;  ///< version
  std::string data;     ///< fingerprint of rules and solvents
};

/// Number with four significant digits, which is more than anything here deserves.
[[nodiscard]] Json rounded(double value);
/// The same, null where there is none.
[[nodiscard]] Json optional_number(const std::optional<double>& value);
/// A quantity in the given unit; null where there is none.
[[nodiscard]] Json quantity_json(const std::optional<Quantity>& quantity, const char* unit);
/// A certain value without range.
[[nodiscard]] Json value_json(double canonical, const char* unit, Origin origin);
[[nodiscard]] Json findings_json(const std::vector<Finding>& findings);
[[nodiscard]] Json solute_json(const Inquiry& inquiry);
[[nodiscard]] Json aim_json(const Inquiry& inquiry);
[[nodiscard]] Json head_json(const AnswerHead& head, const Inquiry& inquiry,
                             const std::vector<Finding>& findings);
/// A rule's word on a system.
[[nodiscard]] Json reason_json(const RuleOutcome& outcome, const Catalogue& catalogue);
[[nodiscard]] Json caution_json(const RuleOutcome& outcome, const JudgedSystem& judged,
                                const Library& library);
/// A judged system as `rank` and `why` tell it; `rank` 0 leaves the place out.
[[nodiscard]] Json system_json(const JudgedSystem& judged, const Inquiry& inquiry, std::size_t place);
/// Text of a finished answer.
[[nodiscard]] std::string to_text(const Json& json);

}  // namespace firstcrop::report
