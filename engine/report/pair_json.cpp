#include "report/json_tools.hpp"
#include "report/pair_report.hpp"

namespace firstcrop {

using report::Json;

namespace {

Json optional_temperature(const std::optional<double>& kelvin, Origin origin) {
  return kelvin ? report::value_json(*kelvin, "°C", origin) : Json(nullptr);
}

Json phases_json(const PairStudy& study) {
  Json out = Json::array();
  for (const PairPhases& at : study.phases) {
    out.push_back({{"at", report::value_json(at.temperature_k, "°C", Origin::Given)},
                   {"phases", at.answer.one_liquid < 0.5 ? 2 : 1},
                   {"probability", report::rounded(at.answer.one_liquid < 0.5 ? 1 - at.answer.one_liquid : at.answer.one_liquid)},
                   {"evidence", at.answer.evidence},
                   {"source", at.answer.source},
                   {"first_in_second_weight_percent", report::optional_number(at.limits.first_in_second_weight_percent)},
                   {"second_in_first_weight_percent", report::optional_number(at.limits.second_in_first_weight_percent)}});
  }
  return out;
}

Json boiling_json(const PairStudy& study) {
  Json out = Json::array();
  for (const PairBoiling& at : study.boiling) {
    out.push_back({{"fraction", report::rounded(at.first_fraction)},
                   {"at", optional_temperature(at.temperature_k, Origin::Calculated)},
                   {"two_liquids", at.two_liquids}});
  }
  return out;
}

Json azeotrope_json(const PairStudy& study, const Library& library) {
  if (!study.azeotrope) return nullptr;
  const PairAzeotrope& azeotrope = *study.azeotrope;
  const bool calculated = azeotrope.basis == PairAzeotrope::Basis::Calculated;
  return Json{
      {"temperature", report::value_json(azeotrope.temperature_k, "°C",
                                         calculated ? Origin::Calculated : Origin::Published)},
      {"fraction", report::optional_number(study.azeotrope_volume_fraction)},
      {"kind", azeotrope.maximum ? "maximum" : "minimum"},
      {"layers", azeotrope.heterogeneous ? 2 : 1},
      {"evidence", calculated ? "calculated" : "published"},
      {"source", azeotrope.record != nullptr ? library.source_text(azeotrope.record->source)
                                             : std::string("modified UNIFAC (Dortmund)")}};
}

Json drift_json(const PairStudy& study, const Library& library) {
  Json out = Json::array();
  for (const BoiledDown& point : study.drift.points) {
    Json left = Json::object();
    for (std::size_t i = 0; i < study.drift.components.size(); ++i) {
      left[library.solvent(study.drift.components[i]).id] = report::rounded(point.volume_fractions[i]);
    }
    out.push_back({{"boiled_off", report::rounded(point.share_off)},
                   {"left", std::move(left)},
                   {"at", report::value_json(point.temperature_k, "°C", Origin::Calculated)}});
  }
  return out;
}

}  // namespace

std::string pair_json(const SystemJudge& judge, const PairStudy& study, const std::string& version,
                      const std::string& data_fingerprint, const std::vector<Finding>& findings) {
  const Library& library = judge.inquiry().knowledge->library;
  Json out = report::head_json({"firstcrop/pair/1", version, data_fingerprint}, judge.inquiry(), findings);
  if (!study.solid) out["solute"] = nullptr;
  const PairVerdict verdict = verdict_on(study, library);
  out["system"] = name_of(study.pair, library);
  out["solvents"] = {library.solvent(study.pair.solvents[0]).id, library.solvent(study.pair.solvents[1]).id};
  out["verdict"] = verdict.word;
  out["sentence"] = verdict.sentence;
  out["phases"] = phases_json(study);
  out["critical_temperature"] = optional_temperature(study.critical_temperature_k, Origin::Published);
  out["boiling"] = boiling_json(study);
  out["azeotrope"] = azeotrope_json(study, library);
  out["flash_point"] = optional_temperature(study.lowest_flash_point_k, Origin::Calculated);
  out["drift"] = drift_json(study, library);
  out["reaction"] = study.reaction.severity ? Json{{"severity", std::string(name_of(*study.reaction.severity))},
                                                   {"text", study.reaction.text},
                                                   {"source", study.reaction.source}}
                                            : Json(nullptr);
  out["window"] = study.solid ? Json{{"from", report::rounded(study.solid->window.from)},
                                     {"to", report::rounded(study.solid->window.to)}}
                              : Json(nullptr);
  out["cloud_volume"] = study.solid ? report::quantity_json(study.solid->cloud_volume, "") : Json(nullptr);
  out["recovery_limit"] = study.solid
                              ? report::quantity_json(quantity_of(study.judged, "system.recovery_limit"), "%")
                              : Json(nullptr);
  Json best = nullptr;
  if (study.solid && study.solid->best_single) {
    best = Json{{"system", name_of(*study.solid->best_single, library)},
                {"recovery_limit", report::quantity_json(study.solid->single_recovery_limit, "%")}};
  }
  out["best_single"] = std::move(best);
  Json reasons = Json::array();
  Json cautions = Json::array();
  for (const RuleOutcome& outcome : study.judged.judgement.outcomes) {
    if (!is_told(study, outcome)) continue;
    const bool warns = outcome.kind == RuleKind::Caution || outcome.kind == RuleKind::Advice;
    if (warns && outcome.outcome == Outcome::Fires) {
      cautions.push_back(report::caution_json(outcome, study.judged, library));
    } else if (!warns && outcome.outcome != Outcome::NotApplicable && outcome.outcome != Outcome::Silent) {
      reasons.push_back(report::reason_json(outcome, study.judged.frame.catalogue()));
    }
  }
  out["reasons"] = std::move(reasons);
  out["cautions"] = std::move(cautions);
  Json partners = Json::array();
  for (const StandIn& stand_in : study.stand_ins) {
    partners.push_back({{"solvent", library.solvent(stand_in.solvent).id},
                        {"replaces", library.solvent(stand_in.replaces).id},
                        {"one_liquid", report::rounded(stand_in.one_liquid)}});
  }
  out["partners"] = std::move(partners);
  return report::to_text(out);
}

}  // namespace firstcrop
