#pragma once

#include <array>
#include <bit>
#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "quantity/quantity.hpp"

namespace firstcrop {

/// Number of joint scenarios in which every uncertain quantity of a system is drawn.
inline constexpr std::size_t kScenarioCount = 64;
inline constexpr std::uint64_t kAllScenarios = ~std::uint64_t{0};

using ScenarioValues = std::array<double, kScenarioCount>;

/// A number in all scenarios, in canonical units. A certain number is held once.
struct NumberColumn {
  std::uint64_t known = 0;  ///< scenarios in which the value is known
  double certain = 0;       ///< the value where `spread` is empty
  std::shared_ptr<const ScenarioValues> spread;

  [[nodiscard]] static NumberColumn of(double value) { return {kAllScenarios, value, nullptr}; }
  [[nodiscard]] static NumberColumn of(const ScenarioValues& values,
                                       std::uint64_t known_mask = kAllScenarios) {
    return {known_mask, 0, std::make_shared<const ScenarioValues>(values)};
  }
  [[nodiscard]] bool is_certain() const { return spread == nullptr; }
  [[nodiscard]] double at(std::size_t scenario) const { return spread ? (*spread)[scenario] : certain; }
};

/// A flag in all scenarios, in Kleene's three values (S. C. Kleene, J. Symb. Log. 1938, 3, 150): bits of
/// `truth` outside `known` are zero.
struct FlagColumn {
  std::uint64_t truth = 0;
  std::uint64_t known = 0;

  [[nodiscard]] static FlagColumn of(bool value) { return {value ? kAllScenarios : 0, kAllScenarios}; }
  [[nodiscard]] static FlagColumn of_mask(std::uint64_t truth_mask,
                                          std::uint64_t known_mask = kAllScenarios) {
    return {truth_mask & known_mask, known_mask};
  }
  [[nodiscard]] bool is_known() const { return known == kAllScenarios; }
  /// Share of the known scenarios in which it is true; nothing if none is known.
  [[nodiscard]] std::optional<double> probability() const {
    if (known == 0) return std::nullopt;
    return static_cast<double>(std::popcount(truth)) / static_cast<double>(std::popcount(known));
  }
};

struct Unknown {
  std::string reason;  ///< why: "no flash point in the library"
};

/// What one fact is for one system: unknown with a reason, or a value with its origin and source.
struct FactValue {
  std::variant<Unknown, NumberColumn, FlagColumn, std::string, std::vector<std::string>> value;
  Origin origin = Origin::Calculated;
  std::string source;

  [[nodiscard]] bool is_known() const { return !std::holds_alternative<Unknown>(value); }
};

/// A number for people: its median, and the range that holds 80 % (absent where certain), over the scenarios
/// in which it is known. Nothing for what is no number or known in none.
[[nodiscard]] std::optional<Quantity> summary(const FactValue& value, const Dimension& dimension);

}  // namespace firstcrop
