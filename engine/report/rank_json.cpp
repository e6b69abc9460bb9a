#include "report/rank_json.hpp"

#include <algorithm>

#include "report/json_tools.hpp"

namespace firstcrop {

using report::Json;

std::string rank_json(const SystemJudge& judge, const Ranking& ranking, const std::string& version,
                      const std::string& data_fingerprint, const std::vector<Finding>& findings) {
  const Inquiry& inquiry = judge.inquiry();
  const Library& library = inquiry.knowledge->library;
  Json out = report::head_json({"firstcrop/rank/1", version, data_fingerprint}, inquiry, findings);
  Json systems = Json::array();
  Json cautions = Json::array();
  for (std::size_t i = 0; i < ranking.systems.size(); ++i) {
    systems.push_back(report::system_json(ranking.systems[i], inquiry, i + 1));
    for (const RuleOutcome& outcome : ranking.systems[i].judgement.outcomes) {
      const bool general = outcome.kind == RuleKind::Caution && outcome.outcome == Outcome::Fires &&
                           outcome.step == "always" && !outcome.component;
      if (!general) continue;
      Json caution = report::caution_json(outcome, ranking.systems[i], library);
      caution["applies_to"] = "all";
      if (std::find(cautions.begin(), cautions.end(), caution) == cautions.end())
        cautions.push_back(std::move(caution));
    }
  }
  Json refused = Json::array();
  for (const RefusedSystem& system : ranking.refused) {
    const Judgement& judgement = system.judged.judgement;
    refused.push_back({{"system", name_of(system.judged.system, library)},
                       {"rule", system.rule},
                       {"text", system.text},
                       {"chance", judgement.chance ? report::rounded(*judgement.chance) : Json(nullptr)},
                       {"score", judgement.score ? report::rounded(*judgement.score) : Json(nullptr)}});
  }
  Json not_judged = Json::array();
  for (const NotJudgedSystem& system : ranking.not_judged) {
    not_judged.push_back({{"system", name_of(system.system, library)}, {"missing", system.missing}});
  }
  out["systems"] = std::move(systems);
  out["refused"] = std::move(refused);
  out["not_judged"] = std::move(not_judged);
  out["pairs"] = {{"considered", ranking.pairs_considered}, {"judged", ranking.pairs_judged}};
  out["cautions"] = std::move(cautions);
  return report::to_text(out);
}

}  // namespace firstcrop
