#include "report/check_text.hpp"

#include <algorithm>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "report/json_tools.hpp"

namespace firstcrop {
namespace {

std::string counted(std::size_t count, const char* word) {
  return fmt::format("{} {}{}", count, word, count == 1 ? "" : "s");
}

}  // namespace

std::string check_text(const std::vector<Finding>& findings, const CaseCounts& cases,
                       const std::vector<std::string>& checked) {
  std::string out;
  for (const Finding& finding : findings) out += to_text(finding);
  const auto errors =
      static_cast<std::size_t>(std::count_if(findings.begin(), findings.end(), [](const Finding& finding) {
        return finding.severity == Severity::Error;
      }));
  if (!out.empty()) out += "\n";
  out += fmt::format("Checked {}: {}, {}", fmt::join(checked, ", "), counted(errors, "error"),
                     counted(findings.size() - errors, "warning"));
  if (cases.passed + cases.failed > 0)
    out += fmt::format("; {} of rules passed, {} failed", counted(cases.passed, "case"), cases.failed);
  return out + ".\n";
}

std::string check_json(const std::vector<Finding>& findings, const CaseCounts& cases,
                       const std::string& version) {
  return report::to_text(report::Json{{"format", "firstcrop/check/1"},
                                      {"program", version},
                                      {"findings", report::findings_json(findings)},
                                      {"cases", {{"passed", cases.passed}, {"failed", cases.failed}}}});
}

}  // namespace firstcrop
