#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <random>
#include <string>
#include <vector>

#include "trials/next_tube.hpp"
#include "use_exam.hpp"

namespace firstcrop {

/// A laboratory in which a solid dissolves as its measured curve says, and the eye errs by 0.08 log10 a look.
class SimulatedBench {
 public:
  /// The same `seed` gives the same errors in the same order.
  SimulatedBench(const CalibrationTable& table, const ExamSolid& exam, std::uint64_t seed);
  /// The tube as it would be written into the solute file: dissolved cold and hot all, in part (above a fifth
  /// of the charge) or not; where all went, cooled with or without crystals.
  [[nodiscard]] Trial make(SolventId solvent, const Bottle& bottle, const TubeSize& size);

 private:
  [[nodiscard]] double read_log10_molar(const CalibrationCurve& curve, double temperature_k);

  const CalibrationTable* table_;
  const ExamSolid* exam_;
  std::mt19937_64 bits_;
};

/// Where the bench stands after some tubes, and what it does next.
struct TubeStep {
  double usefulness = 0;     ///< of the choice, as measured
  double best_or_close = 0;  ///< as stated: chance that no solvent beats the choice by more than 0.05
  bool done = false;         ///< no tube is worth its while, and the choice was seen in one
  bool pair_first = false;   ///< advised to try a pair
  double promised = 0;       ///< gain by the next tube; 0 where none was made
  double weighed_mg = 0;     ///< for the next tube; 0 where solvent goes into an earlier one
};

/// The tubes of one solid.
struct TubeRun {
  std::string name;
  double random = 0;            ///< mean usefulness of all solvents, as measured
  double best = 0;              ///< the largest
  std::size_t made = 0;         ///< tubes; fewer than asked for where there was none left to propose
  std::vector<TubeStep> steps;  ///< after 0, 1 ... tubes, one more than asked for

  /// Tubes after which the advice is to stop, or all that were made.
  [[nodiscard]] std::size_t tubes_until_stop() const;
  [[nodiscard]] double weighed_mg_until(std::size_t tubes) const;
};

/// Hottest that a flask may get so that the truth is still measured: the median over the solvents of the
/// hottest measurement plus 25 K, at most 110 °C.
[[nodiscard]] double heating_limit_k(const CalibrationTable& table, const ExamSolid& exam);

/// Makes `most` tubes one after another, always the first one proposed; goes on where the advice is to stop.
/// Nothing for a solid that has no solvent that may be tried.
[[nodiscard]] std::optional<TubeRun> run_of_tubes(const CalibrationTable& table, const ExamSolid& exam,
                                                  const KnowledgeBase& knowledge, const RuleBook& book,
                                                  std::size_t most);

/// The table: usefulness of the choice by tubes, the stopping rule, and whether what is stated comes true.
[[nodiscard]] std::string tubes_text(const std::vector<TubeRun>& runs);

/// Makes six tubes for every solid, each by the model of its fold in `folds_folder` (as the command `folds`
/// writes them), and prints the table. `root` is the top of the project.
[[nodiscard]] std::string tubes_text(const CalibrationTable& table, const std::string& root,
                                     const std::string& folds_folder);

}  // namespace firstcrop
