#pragma once

#include <memory>
#include <optional>
#include <string_view>
#include <vector>

#include "facts/fact_graph.hpp"
#include "rules/rule_loader.hpp"

namespace firstcrop {

/// All rules in force, sorted by id, with the limits of the verdict. Copies share the rules. The catalogue
/// must outlive it.
class RuleBook {
 public:
  /// Merges files. An id that stands in two of `files` is a finding; a rule of `additions` is added, or
  /// replaces the one of its id. Limits of additions replace those of the files. The order of files and rules
  /// makes no difference. Also reported: a grade that lacks the sentence for a word it can reach, and what
  /// additions do to the rules that are there (replaced, contradicted, repeated). Nothing is
  /// returned where no file holds the limits.
  [[nodiscard]] static std::optional<RuleBook> build(const Catalogue& catalogue, std::vector<RuleFile> files,
                                                     std::vector<RuleFile> additions, Findings& findings);

  [[nodiscard]] const std::vector<Rule>& rules() const { return *rules_; }
  [[nodiscard]] const Rule* find(std::string_view id) const;
  [[nodiscard]] const VerdictLimits& limits() const { return limits_; }
  [[nodiscard]] const Catalogue& catalogue() const { return *catalogue_; }
  /// The derive rules for the fact graph. What they give is calculated, never measured.
  [[nodiscard]] std::vector<Producer> producers() const;
  /// The facts that must be in a frame before it is judged, explained and described, each once.
  [[nodiscard]] std::vector<FactReference> facts() const;
  /// Whether a rule looks at a fact that the chance rests on, by the index of the rule.
  [[nodiscard]] bool bears_on_chance(std::size_t rule_index) const { return bears_on_chance_[rule_index]; }
  /// The word for a grade: High, Middle or Low.
  [[nodiscard]] Outcome word_for(double grade) const;

 private:
  RuleBook() = default;
  std::shared_ptr<const std::vector<Rule>> rules_;
  std::vector<bool> bears_on_chance_;
  VerdictLimits limits_;
  const Catalogue* catalogue_ = nullptr;
};

}  // namespace firstcrop
