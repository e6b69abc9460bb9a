#pragma once

#include <array>
#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "calibration_table.hpp"
#include "rules/rule_book.hpp"
#include "systems/inquiry.hpp"

namespace firstcrop {

/// From here on a solvent works; written down apart from the rules, so that the exam does not follow them.
inline constexpr double kWorkingUsefulness = 0.6;

/// A solvent with what a measured curve says of it.
struct MeasuredSolvent {
  SolventId solvent;
  double usefulness = 0;  ///< 0 to 1
  std::size_t curve = 0;  ///< in the table
};

/// A solid with measured curves in at least six solvents.
struct ExamSolid {
  std::size_t solid = 0;  ///< in the table
  int fold = 0;
  std::vector<MeasuredSolvent> solvents;
};

/// What a curve gives: the recovery limit from at most 300 mg/mL, times a window that is 0 at 5 mg/mL hot and
/// 1 from 40; 0 where hot and cold lie less than 15 K apart. Hot is 1 K below the boil, 10 K below melting,
/// 110 °C or 25 K above the measurements, whichever is least; cold is 5 °C or 3 K above freezing.
[[nodiscard]] double measured_usefulness(const CalibrationCurve& curve, const CalibrationSolid& solid,
                                         const Solvent& solvent);

/// All solids of the table that can be asked, with their melting point and trusted curves; of several curves
/// in one solvent that of the widest range counts.
[[nodiscard]] std::vector<ExamSolid> exam_solids(const CalibrationTable& table, const Library& library);

/// The library with the model that lacks a fold, as the command `folds` wrote it; throws Error where it
/// cannot be read. `root` is the top of the project.
[[nodiscard]] KnowledgeBase knowledge_without_fold(const std::string& root, const std::string& folds_folder,
                                                   int fold);
/// The shipped rules; throws Error where they hold errors.
[[nodiscard]] RuleBook shipped_book(const std::string& root, const Catalogue& catalogue);

/// The solid as a person would write it down: structure and melting point.
[[nodiscard]] SoluteFile file_of(const CalibrationSolid& solid, const KnowledgeBase& knowledge);
/// A bath of 5 °C, and the solvents that the solid was measured in as the shelf.
[[nodiscard]] AimOptions aim_of(const ExamSolid& exam, const Library& library);
/// The inquiry for a solid that is judged as unknown; throws Error where there is none.
[[nodiscard]] Inquiry inquiry_as_unknown(const SoluteFile& file, const AimOptions& aim,
                                         const KnowledgeBase& knowledge);

/// ln grade of one rule in the scenarios.
struct LogGrade {
  std::size_t rule = 0;  ///< in the book
  std::uint64_t judged = 0;
  double certain = 0;
  std::vector<double> spread;  ///< one a scenario; empty where `certain` holds in all
  [[nodiscard]] double at(std::size_t scenario) const { return spread.empty() ? certain : spread[scenario]; }
};

/// One solvent for one solid, as measured and as the rules see it; no weight enters.
struct ExaminedSolvent {
  std::string name;
  double usefulness = 0;           ///< as measured
  double usual = 0;                ///< habit
  double expected_usefulness = 0;  ///< mean over the scenarios; 0 where unknown
  bool excluded = false;           ///< for sure, by a rule
  std::uint64_t excluded_in =
      0;  ///< scenarios in which an exclusion holds, of one that is not excluded for sure
  FlagColumn works;
  std::vector<LogGrade> grades;
};

struct ExaminedSolid {
  std::string name;
  int fold = 0;
  std::vector<ExaminedSolvent> solvents;
};

/// How rules are weighed.
struct Weighing {
  std::vector<double> weights;  ///< by rule of the book
  double unfit_chance = 0;      ///< below it a solvent stands behind all others
  bool with_exclusions = true;
};
[[nodiscard]] Weighing weighing_of(const RuleBook& book);

/// Probability that the solvent works and no exclusion holds.
[[nodiscard]] std::optional<double> chance_of(const ExaminedSolvent& solvent, bool with_exclusions = true);
/// The score as the engine forms it; nothing for an excluded solvent and where no rule with a weight could
/// judge.
[[nodiscard]] std::optional<double> score_of(const ExaminedSolvent& solvent, const Weighing& weighing);

/// Judges solids as if unknown, each with the solvents it was measured in as the shelf. `judged` is called
/// after each. Throws Error where score or chance, made again from the grades, are not those of the engine.
[[nodiscard]] std::vector<ExaminedSolid> examine(
    const CalibrationTable& table, const std::vector<ExamSolid>& solids, const KnowledgeBase& knowledge,
    const RuleBook& book, const std::function<void()>& judged = [] {});

/// How the choice for one solid turned out.
struct Mark {
  std::size_t pick = 0;  ///< the solvent ranked first
  double first = 0;      ///< its measured usefulness
  double best_of_three = 0;
};
using Order = std::vector<std::size_t>;
[[nodiscard]] Mark mark_of(const ExaminedSolid& solid, const Order& order);
/// Largest value first, by name where two are equal.
[[nodiscard]] Order order_by(const ExaminedSolid& solid,
                             const std::function<double(const ExaminedSolvent&)>& value);
/// As the program ranks: unfit ones behind, each part by score.
[[nodiscard]] Order ranked(const ExaminedSolid& solid, const Weighing& weighing);

/// Whether a chance comes true, over all solids and solvents.
struct ChanceQuarter {
  double stated = 0;  ///< mean
  double seen = 0;    ///< share that works
  std::size_t count = 0;
};
struct ChanceMarks {
  double brier = 0;      ///< mean square of chance less outcome
  double base_rate = 0;  ///< share that works
  std::size_t count = 0;
  std::array<ChanceQuarter, 4> quarters{};
};
[[nodiscard]] ChanceMarks chance_marks(const std::vector<ExaminedSolid>& solids, bool with_exclusions = true);

}  // namespace firstcrop
