#pragma once

#include <string>
#include <vector>

#include "use_exam.hpp"

namespace firstcrop {

/// Mean of paired differences and its standard error.
struct PairedChange {
  double mean = 0;
  double standard_error = 0;
};
[[nodiscard]] PairedChange paired_change(const std::vector<double>& before, const std::vector<double>& after);

/// Rules that share one free multiplier.
struct FreeNumber {
  std::string name;
  std::vector<std::string> rules;  ///< ids
};
/// The numbers that may be chosen by the exam: rules of solubility, temperature and habit. What it cannot see
/// the worth of (hazard, inertness, drying, freezing, oiling, pairs, salts) is not free.
[[nodiscard]] const std::vector<FreeNumber>& free_numbers();
/// The same with habit in two: how usual a solvent is, and the ladders of classes and polarity.
[[nodiscard]] const std::vector<FreeNumber>& finer_numbers();

/// The weighing with every rule of `ids` multiplied; throws Error where the book has none of an id.
[[nodiscard]] Weighing multiplied(Weighing weighing, const RuleBook& book,
                                  const std::vector<std::string>& ids, double multiplier);

/// The same with a multiplier for each number.
[[nodiscard]] Weighing multiplied(Weighing weighing, const RuleBook& book,
                                  const std::vector<FreeNumber>& numbers,
                                  const std::vector<double>& multipliers);

/// Multipliers chosen by coordinate search: one number at a time over 0, 0.5, 1 and 2, best first, until none
/// gains. What is maximized is the mean of the first pick and the best of three; a gain below 0.0005 is none.
[[nodiscard]] std::vector<double> chosen_multipliers(const std::vector<ExaminedSolid>& solids,
                                                     const RuleBook& book,
                                                     const std::vector<FreeNumber>& numbers);

/// Tables: how the shipped weights do beside simple orders, what each rule is worth, whether the chance comes
/// true, and what multipliers chosen on four folds give on the fifth.
[[nodiscard]] std::string weights_text(const std::vector<ExaminedSolid>& solids, const RuleBook& book);

/// Judges every solid by the model of its fold in `folds_folder` (as the command `folds` writes them), and
/// prints the tables. `root` is the top of the project.
[[nodiscard]] std::string weights_text(const CalibrationTable& table, const std::string& root,
                                       const std::string& folds_folder);

}  // namespace firstcrop
