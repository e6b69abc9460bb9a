#include <fmt/format.h>

#include "report/amounts_report.hpp"
#include "report/table.hpp"

namespace firstcrop {

std::string amounts_text(const AmountsAnswer& answer, const Style& style) {
  Table table({{grams(answer.charge.crude_mg) + (answer.balance.product_mg == answer.charge.crude_mg ? "" : " crude")},
               {""},
               {"sum"}});
  const std::vector<SumLine> lines = sum_of(answer);
  for (const SumLine& line : lines) table.add({"  " + line.what, line.value, line.sum});
  std::string out = lines.empty() ? grams(answer.charge.crude_mg) + "\n" : table.to_text();
  if (lines.empty()) out += "  nothing follows from a mass alone: type --hot, --cold, --volume or --isolated\n";
  const std::vector<AmountsRemark> remarks = remarks_on(answer);
  if (!remarks.empty()) out += "\n";
  for (const AmountsRemark& remark : remarks) out += wrapped(remark.text, 0, 2);
  if (!answer.claims.empty()) out += "\n";
  for (const ClaimDiagnosis& claim : answer.claims) {
    out += style.strong("Claim ") + wrapped(sentence_on(claim), 0, 2, kPageWidth - 6);
  }
  out += "\nNothing is assumed that was not typed: no reserve, no liquor in the cake, no loss.\n";
  return out;
}

}  // namespace firstcrop
