#pragma once

#include <compare>
#include <cstdint>
#include <functional>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "quantity/unit.hpp"

namespace firstcrop {

enum class FactType { Number, Flag, Text, Set };

/// Which solvent of a system a component fact speaks of. `Each` is `solvent.x`: a rule over it is judged once
/// a component. In a single, `Good` and `Poor` do not exist.
enum class Component : std::uint8_t { None, Each, Good, Poor };

struct FactId {
  std::uint16_t index = 0;
  friend auto operator<=>(const FactId&, const FactId&) = default;
};

/// A fact as an expression names it: `good.boiling_point` is the component fact `solvent.boiling_point` of
/// `Good`.
struct FactReference {
  FactId fact;
  Component component = Component::None;
  friend auto operator<=>(const FactReference&, const FactReference&) = default;
};

/// One named, typed, dimensioned question that rules can ask.
struct FactInfo {
  std::string name;  ///< `system.hot_temperature`; component facts begin with `solvent.`
  FactType type = FactType::Number;
  Dimension dimension;             ///< of numbers
  std::string shown_unit;          ///< symbol; `%` for fractions, empty for plain numbers, flags, texts, sets
  std::string meaning;             ///< one phrase for `firstcrop rules --facts`
  std::vector<std::string> words;  ///< closed list of values of a text fact; empty if open
};

/// All facts by name. Grows only while it is built.
class Catalogue {
 public:
  /// Adds a fact; throws Error where the name is taken.
  FactId add(FactInfo info);
  [[nodiscard]] const FactInfo& info(FactId id) const;
  [[nodiscard]] std::size_t size() const { return facts_.size(); }
  [[nodiscard]] const std::vector<FactInfo>& facts() const { return facts_; }
  /// Resolves `scope.name`; `good.` and `poor.` resolve to facts of `solvent.`.
  [[nodiscard]] std::optional<FactReference> find(std::string_view name) const;
  /// The nearest known spelling, `good.`/`poor.` forms included.
  [[nodiscard]] std::optional<std::string> nearest(std::string_view name) const;
  /// The name as written: `poor.boiling_point` for a component reference.
  [[nodiscard]] std::string name_of(const FactReference& reference) const;
  /// True for facts that stand once a component (`solvent.`).
  [[nodiscard]] bool is_component(FactId id) const;

 private:
  std::vector<FactInfo> facts_;
  std::map<std::string, FactId, std::less<>> by_name_;
};

}  // namespace firstcrop
