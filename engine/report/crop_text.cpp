#include <fmt/format.h>

#include "report/crop_report.hpp"
#include "report/table.hpp"

namespace firstcrop {
namespace {

std::string line(const char* what, const std::optional<Quantity>& quantity, const std::string& how) {
  if (!quantity) return {};
  return indented(fmt::format("  {:<20}{:<14}", what, shown(quantity, "%")), how, 36);
}

// Near the pure solid whole per cents say too little.
std::string purity_words(const Quantity& purity) {
  const auto shown_share = [](double share) {
    return share > 0.9 ? fmt::format("{:.1f}", share * 100) : fmt::format("{:.0f}", share * 100);
  };
  if (!purity.low || !purity.high) return shown_share(purity.value) + " %";
  return fmt::format("{}-{} %", shown_share(*purity.low), shown_share(*purity.high));
}

std::string what_was_stated(const SoluteFile& file) {
  const bool impurities = !file.impurities.empty();
  return fmt::format("less the {}{}{} stated (given)", file.insoluble ? "insoluble matter" : "",
                     file.insoluble && impurities ? " and the " : "", impurities ? "impurities" : "");
}

std::string melting_words(const CropJudgement& judgement, const Inquiry& inquiry) {
  const WrittenQuantity& range = *judgement.crop.melting_range_k;
  std::string out = fmt::format("melts at {}", show_range(range.low, range.high, *find_unit("°C")));
  if (judgement.depression_k) {
    const double below = *judgement.depression_k;
    out += below >= 0 ? fmt::format("; clear {:.1f} K below the pure solid ({})", below,
                                    show(inquiry.melting_point_k, *find_unit("°C")))
                      : fmt::format("; clear {:.1f} K above the pure solid ({})", -below,
                                    show(inquiry.melting_point_k, *find_unit("°C")));
  }
  if (judgement.gain_k) out += fmt::format("; {:+.1f} K against the crude", *judgement.gain_k);
  return out;
}

}  // namespace

std::string crop_text(const SystemJudge& judge, const CropJudgement& judgement, const Style& style) {
  const Inquiry& inquiry = judge.inquiry();
  const Unit gram = *find_unit("g");
  std::string out = style.strong(inquiry.solute.name) + "\n";
  out += fmt::format("  {} from {} of crude\n", show(judgement.crop.crop_mg, gram), show(judgement.crop.crude_mg, gram));
  if (judgement.crop.melting_range_k) out += wrapped(melting_words(judgement, inquiry), 2, 4);
  out += "\n" + line("recovery", judgement.recovery, "crop over crude");
  out += line("of the product", judgement.recovery_of_pure, "product in the crop over product in the crude (predicted)");
  out += line("product in crude", judgement.pure_share,
              judgement.pure_share && judgement.pure_share->origin == Origin::Given
                  ? what_was_stated(inquiry.file)
                  : std::string("from the melting range of the crude (predicted)"));
  if (judgement.limit)
    out += line("limit", judgement.limit,
                fmt::format("of the product, from {} {} ({})",
                            spoken_name(*judgement.crop.system, inquiry.knowledge->library),
                            judgement.crop.volume_ml ? "in " + show(*judgement.crop.volume_ml, *find_unit("mL"))
                                                     : std::string("at minimum volume"),
                            name_of(judgement.limit->origin)));
  if (judgement.purity)
    out += indented(fmt::format("  {:<20}{:<14}", "purity, by mole", purity_words(*judgement.purity)),
                    "from the clear point (predicted)", 36);
  for (const std::string& missing : judgement.missing) out += wrapped("not judged: " + missing, 2, 4);
  if (!judgement.next.empty()) out += "\nWhat next\n";
  for (const RuleOutcome& outcome : judgement.next) {
    const bool warns = outcome.kind == RuleKind::Caution;
    const std::string head = warns                       ? std::string(name_of(outcome.level))
                             : outcome.step == "always" ? std::string()
                                                        : outcome.step;
    out += indented(style.level(warns ? outcome.level : CautionLevel::Note, fmt::format("  {:<12}", head)), outcome.text,
                    14);
  }
  return out + "\nRanges hold 8 times in 10.\n";
}

}  // namespace firstcrop
