#pragma once

#include <string>
#include <utility>
#include <vector>

#include "plan/bench_plan.hpp"
#include "report/words.hpp"

namespace firstcrop {

/// The bench sheet as text of 100 columns, one page for an ordinary run.
[[nodiscard]] std::string plan_text(const SystemJudge& judge, const BenchPlan& plan, const Style& style);
/// The same for printing.
[[nodiscard]] std::string plan_markdown(const SystemJudge& judge, const BenchPlan& plan);
[[nodiscard]] std::string plan_json(const SystemJudge& judge, const BenchPlan& plan, const std::string& version,
                                    const std::string& data_fingerprint, const std::vector<Finding>& findings);

namespace report {

/// A caution; where it holds for both solvents alike it names both.
struct SheetCaution {
  CautionLevel level = CautionLevel::Note;
  std::string text;
};
/// What text and Markdown share: every line of the sheet in words.
struct SheetStep {
  std::string title;    ///< `dissolve`
  std::string amounts;  ///< `19-43 mL ethanol`
  std::string at;       ///< `77 °C`
  std::string minutes;  ///< `10-20 min`
  std::vector<std::string> sentences;
  std::vector<SheetCaution> cautions;
};
struct Sheet {
  std::string title;
  std::vector<std::pair<std::string, std::string>> head;  ///< verdict, expectation, vessel, time
  std::vector<SheetCaution> always;
  std::vector<SheetStep> steps;
  std::vector<std::pair<std::string, std::string>> balance;   ///< where, mass
  std::vector<std::pair<std::string, std::string>> troubles;  ///< seen, what to do
  std::string result_line;
  std::string foot;
};
/// `judge` must be the one that made the plan.
[[nodiscard]] Sheet sheet_of(const SystemJudge& judge, const BenchPlan& plan);

}  // namespace report
}  // namespace firstcrop
