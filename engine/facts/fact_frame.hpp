#pragma once

#include <memory>
#include <vector>

#include "facts/catalogue.hpp"
#include "facts/fact_value.hpp"

namespace firstcrop {

/// The facts of one system: one slot a fact, two for component facts (in a single, `Each` is slot 0 and
/// `Good`, `Poor` are empty; in a pair, slot 0 is the good solvent and slot 1 the poor one).
class FactFrame {
 public:
  FactFrame(const Catalogue& catalogue, std::size_t component_count);

  [[nodiscard]] std::size_t component_count() const { return component_count_; }
  /// Value of a fact; `each` tells which component `Component::Each` means. Unknown where nothing was set.
  [[nodiscard]] const FactValue& get(const FactReference& reference, std::size_t each = 0) const;
  void set(const FactReference& reference, FactValue value, std::size_t each = 0);
  /// Shares a value that many systems have in common.
  void set(const FactReference& reference, std::shared_ptr<const FactValue> value, std::size_t each = 0);
  [[nodiscard]] const Catalogue& catalogue() const { return *catalogue_; }

 private:
  [[nodiscard]] std::size_t slot(const FactReference& reference, std::size_t each) const;
  const Catalogue* catalogue_;
  std::size_t component_count_;
  std::vector<std::shared_ptr<const FactValue>> slots_;
};

}  // namespace firstcrop
