#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "base/finding.hpp"
#include "facts/fact_frame.hpp"

namespace firstcrop {

/// Something that produces facts: arithmetic in C++ or a `derive` rule. Every fact has exactly one producer.
/// A producer that gives facts of `Component::Each`, and then no others, runs once a component.
struct Producer {
  std::string name;
  std::vector<FactReference> needs;
  std::vector<FactReference> gives;
  std::function<void(FactFrame& frame, std::size_t each)> run;
  Place place;  ///< where a derive rule stands; empty for arithmetic
};

/// Producers sorted once so that each runs after what it needs (Boost.Graph topological sort).
class FactGraph {
 public:
  /// A fact with two producers, and a cycle (its path is printed), are findings; nothing is returned then.
  /// The order in which producers are handed over makes no difference. Throws Error for a producer that gives
  /// both component facts and others, or `good.` and `poor.` facts.
  [[nodiscard]] static std::optional<FactGraph> build(const Catalogue& catalogue,
                                                      std::vector<Producer> producers, Findings& findings);
  /// Runs every producer on the frame, in order.
  void run(FactFrame& frame) const;
  /// Runs only the producers on which the given facts depend.
  void run_for(FactFrame& frame, const std::vector<FactReference>& wanted) const;
  [[nodiscard]] const std::vector<Producer>& producers() const { return producers_; }

 private:
  using Bits = std::vector<std::uint64_t>;
  void run_one(std::size_t index, FactFrame& frame) const;

  std::vector<Producer> producers_;  // in an order in which they can run
  std::vector<Bits> required_;       // of each producer: itself and all that must run before it
  std::vector<std::size_t> producer_of_fact_;
};

}  // namespace firstcrop
