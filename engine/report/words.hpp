#pragma once

#include <optional>
#include <string>
#include <vector>

#include "ranking/rank.hpp"

namespace firstcrop {

/// How a text report may look.
struct Style {
  bool colour = false;  ///< on a terminal, unless NO_COLOR is set
  [[nodiscard]] std::string strong(const std::string& text) const;
  [[nodiscard]] std::string verdict(Verdict verdict, const std::string& text) const;
  [[nodiscard]] std::string level(CautionLevel level, const std::string& text) const;
};

/// A fact of a judged system as a quantity in canonical units; nothing where it is unknown or no number.
[[nodiscard]] std::optional<Quantity> quantity_of(const JudgedSystem& judged, const char* fact);
/// The range, or the value where it is certain, with unit: `6.2-14 mL/g`; `?` where unknown.
[[nodiscard]] std::string shown(const std::optional<Quantity>& quantity, const char* unit);
/// As above without the unit.
[[nodiscard]] std::string shown_bare(const std::optional<Quantity>& quantity, const char* unit);
/// `ethanol + water 60:40` for people.
[[nodiscard]] std::string spoken_name(const System& system, const Library& library);
/// What the solubilities of a system rest on: `predicted`, `1 tube`, the source of a value.
[[nodiscard]] std::string known_by(const JudgedSystem& judged, const Inquiry& inquiry);
/// The sentence that says most about the verdict.
[[nodiscard]] std::string main_reason(const JudgedSystem& judged);
/// Percent without decimals: `72 %`.
[[nodiscard]] std::string percent(double share);
/// Place of a step of a caution or advice in the order of the work; what holds always comes last.
[[nodiscard]] int place_in_work(const std::string& step);
/// What a person should know of the solid before reading: melting point, mass, what it was predicted from.
[[nodiscard]] std::vector<std::string> heading(const Inquiry& inquiry);

/// A range of volumes per volume to one digit, which is all that a cloud point deserves: `0.07 to 1`.
[[nodiscard]] std::string cloud_words(const Quantity& ratio);

/// Of a solvent whose traits were borrowed: from which solvents, by which properties, and how unsure that is.
[[nodiscard]] std::string borrowed_line(SolventId solvent, const BorrowedTraits& lent, const Library& library);
/// The measured solids that the prediction leans on most: `like 3-methylbenzoic acid (0.94), measured in ...`.
[[nodiscard]] std::vector<std::string> like_lines(const Inquiry& inquiry);

}  // namespace firstcrop
