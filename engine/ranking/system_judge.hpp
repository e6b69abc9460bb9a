#pragma once

#include <memory>
#include <optional>
#include <string>

#include "rules/judge.hpp"
#include "systems/frames.hpp"
#include "systems/inquiry.hpp"

namespace firstcrop {

/// Volume fractions of the good solvent between which the ratio of a pair may lie.
struct RatioWindow {
  double from = 0;
  double to = 1;
};

/// A system with its facts and what the rules said of it; of a pair the good solvent stands first.
struct JudgedSystem {
  System system;
  FactFrame frame;
  Judgement judgement;
  std::optional<RatioWindow> window;  ///< of a pair
};

/// A pair with the ratio that solubility and the chance of one liquid make best, and their product there at
/// the means.
struct ChosenPair {
  System system;
  RatioWindow window;
  double usefulness = 0;
};

/// Judges systems for one inquiry with one rule book. Catalogue, inquiry and book must outlive it.
class SystemJudge {
 public:
  /// Nothing where rules and arithmetic together do not form an order (a finding tells why).
  [[nodiscard]] static std::optional<SystemJudge> create(const Catalogue& catalogue, const Inquiry& inquiry,
                                                         const RuleBook& book, Findings& findings);

  /// Puts the better solvent of a pair first.
  [[nodiscard]] System with_good_first(System system) const;
  /// The best ratio of two solvents in tens of percent, or 5 % of one of them.
  [[nodiscard]] ChosenPair choose_ratio(SolventId first, SolventId second) const;
  /// Verdict, score and chance.
  [[nodiscard]] JudgedSystem judge(const System& system) const;
  /// Fills in what every rule said.
  void explain(JudgedSystem& judged) const;
  [[nodiscard]] Names names_of(const System& system) const;

  [[nodiscard]] const Inquiry& inquiry() const { return *inquiry_; }
  [[nodiscard]] const RuleBook& book() const { return *book_; }
  [[nodiscard]] const Catalogue& catalogue() const { return *catalogue_; }

 private:
  SystemJudge(const Catalogue& catalogue, const Inquiry& inquiry, const RuleBook& book, FactGraph exact,
              FactGraph central);

  const Catalogue* catalogue_;
  const Inquiry* inquiry_;
  const RuleBook* book_;
  std::shared_ptr<const FrameMaker> frames_;
  FactGraph exact_;
  FactGraph central_;
  std::vector<FactReference> wanted_;
};

}  // namespace firstcrop
