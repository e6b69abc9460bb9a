#include <fmt/format.h>
#include <fmt/ranges.h>

#include "report/plan_report.hpp"
#include "report/table.hpp"

namespace firstcrop {
namespace {

constexpr std::size_t kHeadIndent = 10;
constexpr std::size_t kStepIndent = 3;

std::string caution_text(const report::SheetCaution& caution, std::size_t indent, const Style& style) {
  const std::string level(name_of(caution.level));
  std::string out = wrapped(fmt::format("! {}: {}", level, caution.text), indent, indent + 2);
  if (style.colour) out.replace(out.find(level), level.size(), style.level(caution.level, level));
  return out;
}

std::string step_text(const report::SheetStep& step, std::size_t number, const Style& style) {
  std::vector<std::string> parts;
  for (const std::string* part : {&step.amounts, &step.at, &step.minutes}) {
    if (!part->empty()) parts.push_back(*part);
  }
  const std::string head = padded(fmt::format("{:>2} {}", number, step.title), 15);
  std::string out = style.strong(head) + wrapped(fmt::format("{}", fmt::join(parts, "; ")), 15, 15).substr(15);
  for (const std::string& sentence : step.sentences) out += wrapped("- " + sentence, kStepIndent, kStepIndent + 2);
  for (const report::SheetCaution& caution : step.cautions) out += caution_text(caution, kStepIndent, style);
  return out;
}

std::string balance_text(const report::Sheet& sheet) {
  std::vector<std::string> parts;
  for (const auto& [where, mass] : sheet.balance) parts.push_back(fmt::format("{} {}", where, mass));
  return wrapped(fmt::format("On average: {}", fmt::join(parts, "; ")), 0, 2);
}

}  // namespace

std::string plan_text(const SystemJudge& judge, const BenchPlan& plan, const Style& style) {
  if (!plan.refused_because.empty()) {
    const Library& library = judge.inquiry().knowledge->library;
    return wrapped(fmt::format("No bench sheet for {} from {}: {}.", judge.inquiry().solute.name,
                               spoken_name(plan.judged.system, library), plan.refused_because),
                   0, 2);
  }
  const report::Sheet sheet = report::sheet_of(judge, plan);
  std::string out = style.strong(sheet.title) + "\n";
  for (const auto& [name, line] : sheet.head) out += indented(name, line, kHeadIndent);
  for (const report::SheetCaution& caution : sheet.always) out += caution_text(caution, 0, style);
  out += "\n";
  for (std::size_t i = 0; i < sheet.steps.size(); ++i) out += step_text(sheet.steps[i], i + 1, style);
  out += "\n" + balance_text(sheet);
  out += "\n" + style.strong("If it goes wrong") + "\n";
  for (const auto& [seen, advice] : sheet.troubles) out += wrapped(fmt::format("{}: {}", seen, advice), 2, 4);
  return out + "\n" + sheet.result_line + "\n" + sheet.foot + "\n";
}

}  // namespace firstcrop
