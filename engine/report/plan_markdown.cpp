#include <fmt/format.h>

#include "report/plan_report.hpp"

namespace firstcrop {
namespace {

// What Markdown would take for a sign of its own.
std::string plain(const std::string& text) {
  std::string out;
  for (const char letter : text) {
    if (letter == '*' || letter == '_' || letter == '|' || letter == '<' || letter == '`') out += '\\';
    out += letter;
  }
  return out;
}

std::string caution_line(const report::SheetCaution& caution) {
  return fmt::format("- **{}**: {}\n", name_of(caution.level), plain(caution.text));
}

}  // namespace

std::string plan_markdown(const SystemJudge& judge, const BenchPlan& plan) {
  if (!plan.refused_because.empty()) {
    const Library& library = judge.inquiry().knowledge->library;
    return fmt::format("# No bench sheet for {} from {}\n\n{}.\n", plain(judge.inquiry().solute.name),
                       spoken_name(plan.judged.system, library), plain(plan.refused_because));
  }
  const report::Sheet sheet = report::sheet_of(judge, plan);
  std::string out = fmt::format("# {}\n\n| | |\n|---|---|\n", plain(sheet.title));
  for (const auto& [name, line] : sheet.head) out += fmt::format("| {} | {} |\n", name, plain(line));
  out += "\n";
  for (const report::SheetCaution& caution : sheet.always) out += caution_line(caution);
  out += "\n## Steps\n";
  for (std::size_t i = 0; i < sheet.steps.size(); ++i) {
    const report::SheetStep& step = sheet.steps[i];
    out += fmt::format("\n### {}. {}\n\n", i + 1, step.title);
    std::string line;
    for (const std::string* part : {&step.amounts, &step.at, &step.minutes}) {
      if (!part->empty()) line += (line.empty() ? "" : ", ") + plain(*part);
    }
    if (!line.empty()) out += line + "\n\n";
    for (const std::string& sentence : step.sentences) out += "- " + plain(sentence) + "\n";
    for (const report::SheetCaution& caution : step.cautions) out += caution_line(caution);
  }
  out += "\n## Where it goes, on average\n\n| | |\n|---|---|\n";
  for (const auto& [where, mass] : sheet.balance) out += fmt::format("| {} | {} |\n", where, mass);
  out += "\n## If it goes wrong\n\n";
  for (const auto& [seen, advice] : sheet.troubles) out += fmt::format("- **{}**: {}\n", seen, plain(advice));
  return out + "\n" + plain(sheet.result_line) + "\n\n" + sheet.foot + "\n";
}

}  // namespace firstcrop
