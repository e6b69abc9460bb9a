#include "report/crop_report.hpp"
#include "report/json_tools.hpp"

namespace firstcrop {

using report::Json;

namespace {

Json kelvin(const std::optional<double>& difference_k) {
  return difference_k ? report::value_json(*difference_k, "K", Origin::Measured) : Json(nullptr);
}

Json next_json(const CropJudgement& judgement) {
  Json out = Json::array();
  for (const RuleOutcome& outcome : judgement.next) {
    out.push_back({{"rule", outcome.rule.text},
                   {"kind", std::string(name_of(outcome.kind))},
                   {"level", outcome.kind == RuleKind::Advice ? "note" : std::string(name_of(outcome.level))},
                   {"text", outcome.text},
                   {"source", outcome.source},
                   {"step", outcome.step}});
  }
  return out;
}

Json melts_json(const CropJudgement& judgement) {
  const auto& range = judgement.crop.melting_range_k;
  if (!range) return nullptr;
  return Json{{"from", report::value_json(range->low, "°C", Origin::Given)},
              {"to", report::value_json(range->high, "°C", Origin::Given)},
              {"below_pure", kelvin(judgement.depression_k)},
              {"above_crude", kelvin(judgement.gain_k)}};
}

}  // namespace

std::string crop_json(const SystemJudge& judge, const CropJudgement& judgement, const std::string& version,
                      const std::string& data_fingerprint, const std::vector<Finding>& findings) {
  const Inquiry& inquiry = judge.inquiry();
  Json out = report::head_json({"firstcrop/crop/1", version, data_fingerprint}, inquiry, findings);
  out["system"] = judgement.crop.system ? Json(name_of(*judgement.crop.system, inquiry.knowledge->library)) : Json(nullptr);
  out["mass"] = report::value_json(judgement.crop.crude_mg, "g", Origin::Given);
  out["crop"] = report::value_json(judgement.crop.crop_mg, "g", Origin::Given);
  out["melts"] = melts_json(judgement);
  out["recovery"] = report::quantity_json(judgement.recovery, "%");
  out["recovery_of_pure"] = report::quantity_json(judgement.recovery_of_pure, "%");
  out["limit"] = report::quantity_json(judgement.limit, "%");
  out["purity"] = report::quantity_json(judgement.purity, "%");
  out["pure_share_of_crude"] = report::quantity_json(judgement.pure_share, "%");
  Json missing = Json::array();
  for (const std::string& what : judgement.missing) missing.push_back(what);
  out["missing"] = std::move(missing);
  out["next"] = next_json(judgement);
  return report::to_text(out);
}

}  // namespace firstcrop
