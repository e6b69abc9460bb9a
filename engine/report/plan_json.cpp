#include "report/json_tools.hpp"
#include "report/plan_report.hpp"

namespace firstcrop {

using report::Json;

namespace {

Json amount_json(const Quantity& quantity) {
  return report::quantity_json(quantity, quantity.dimension == dimension::kMass ? "g" : "mL");
}

Json minutes_json(const Minutes& minutes) {
  Quantity quantity;
  quantity.value = (minutes.low + minutes.high) / 2;
  quantity.low = minutes.low;
  quantity.high = minutes.high;
  quantity.dimension = dimension::kTime;
  quantity.origin = Origin::Assumed;
  return report::quantity_json(quantity, "min");
}

Json sentence_json(const RuleOutcome& outcome) {
  return Json{{"rule", outcome.rule.text}, {"text", outcome.text}, {"source", outcome.source}};
}

Json step_json(const BenchStep& step, const JudgedSystem& judged, const Library& library) {
  Json out{{"do", step.name}};
  out["amount"] = step.amounts.empty() ? Json(nullptr) : amount_json(step.amounts.front().quantity);
  Json amounts = Json::array();
  for (const BenchAmount& amount : step.amounts) {
    amounts.push_back({{"of", amount.what}, {"amount", amount_json(amount.quantity)}});
  }
  out["amounts"] = std::move(amounts);
  out["at"] = report::quantity_json(step.at, "°C");
  out["minutes"] = step.minutes ? minutes_json(*step.minutes) : Json(nullptr);
  Json sentences = Json::array();
  for (const RuleOutcome& outcome : step.sentences) sentences.push_back(sentence_json(outcome));
  out["advice"] = std::move(sentences);
  Json cautions = Json::array();
  for (const RuleOutcome& outcome : step.cautions) {
    cautions.push_back(report::caution_json(outcome, judged, library));
  }
  out["cautions"] = std::move(cautions);
  return out;
}

Json balance_json(const BenchPlan& plan) {
  Json out = Json::array();
  for (const BalanceRow& row : plan.balance) out.push_back({{"where", row.where}, {"mass", amount_json(row.mass)}});
  return out;
}

void add_sheet(Json& out, const BenchPlan& plan, const Library& library) {
  Json steps = Json::array();
  for (const BenchStep& step : plan.steps) steps.push_back(step_json(step, plan.judged, library));
  out["steps"] = std::move(steps);
  out["balance"] = balance_json(plan);
  out["flask"] = report::value_json(plan.vessel.nominal_ml, "mL", Origin::Calculated);
  out["vessel"] = {{"name", plan.vessel.name}, {"count", plan.vessel.count}, {"collector", plan.vessel.collector}};
  out["volume"] = report::quantity_json(plan.volume, "mL");
  out["minimum_volume"] = report::quantity_json(plan.minimum_volume, "mL");
  out["crystals_from"] = report::quantity_json(plan.crystals_from, "°C");
  out["crop"] = report::quantity_json(plan.crop, "g");
  out["recovery"] = report::quantity_json(plan.recovery, "%");
  out["recovery_limit"] = report::quantity_json(plan.recovery_limit, "%");
  out["purity"] = report::quantity_json(plan.purity, "%");
  out["carried_along"] = report::quantity_json(plan.carried_share, "%");
  out["minutes"] = minutes_json(plan.bench_minutes);
  out["drying_minutes"] = minutes_json(plan.drying_minutes);
  Json troubles = Json::array();
  for (const Trouble& trouble : plan.troubles) {
    Json entry = sentence_json(trouble.advice);
    entry["seen"] = trouble.seen;
    troubles.push_back(std::move(entry));
  }
  out["if_it_goes_wrong"] = std::move(troubles);
  Json cautions = Json::array();
  for (const RuleOutcome& outcome : plan.always) {
    cautions.push_back(report::caution_json(outcome, plan.judged, library));
  }
  out["cautions"] = std::move(cautions);
  out["missing"] = plan.purity ? Json::array() : Json::array({"impurities: [{smiles}]"});
}

}  // namespace

std::string plan_json(const SystemJudge& judge, const BenchPlan& plan, const std::string& version,
                      const std::string& data_fingerprint, const std::vector<Finding>& findings) {
  const Inquiry& inquiry = judge.inquiry();
  const Library& library = inquiry.knowledge->library;
  const Judgement& judgement = plan.judged.judgement;
  Json out = report::head_json({"firstcrop/plan/1", version, data_fingerprint}, inquiry, findings);
  out["system"] = name_of(plan.judged.system, library);
  out["verdict"] = std::string(name_of(judgement.verdict));
  out["chance"] = judgement.chance ? report::rounded(*judgement.chance) : Json(nullptr);
  out["refused"] = plan.refused_because.empty()
                       ? Json(nullptr)
                       : Json{{"rule", plan.refused_by.empty() ? Json(nullptr) : Json(plan.refused_by)},
                              {"text", plan.refused_because}};
  if (plan.refused_because.empty()) {
    add_sheet(out, plan, library);
  } else {
    out["steps"] = Json::array();
    out["balance"] = Json::array();
    for (const char* key : {"flask", "crop", "purity"}) out[key] = nullptr;
    out["if_it_goes_wrong"] = Json::array();
  }
  return report::to_text(out);
}

}  // namespace firstcrop
