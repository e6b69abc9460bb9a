#include "report/json_tools.hpp"

#include <cmath>

#include <string>

#include <fmt/format.h>

#include "report/words.hpp"

namespace firstcrop::report {
namespace {

Json strings(const std::vector<std::string>& texts) {
  Json out = Json::array();
  for (const std::string& text : texts) out.push_back(text);
  return out;
}

std::string_view word_of(SolidMatch match) {
  switch (match) {
    case SolidMatch::Same:
      return "same";
    case SolidMatch::StereoNotDrawn:
      return "stereo-not-drawn";
    case SolidMatch::OtherStereoMarks:
      return "other-stereo-marks";
    case SolidMatch::Tautomer:
      return "tautomer";
  }
  return {};
}

// What our tables say of the solid: `curves` and `published`.
Json known_json(const KnownSolid& known) {
  Json curves = Json::array();
  for (const MeasuredCurve& curve : known.curves) {
    curves.push_back({{"system", curve.solvent},
                      {"from", value_json(curve.coldest_k, "°C", Origin::Published)},
                      {"to", value_json(curve.hottest_k, "°C", Origin::Published)},
                      {"log10_molar_at_25", optional_number(curve.level)},
                      {"enthalpy_kj_mol", optional_number(curve.enthalpy_kj_mol)},
                      {"points", curve.points},
                      {"source", curve.source},
                      {"doubt", curve.doubt.empty() ? Json(nullptr) : Json(curve.doubt)}});
  }
  Json published = Json::array();
  for (const PublishedUse& use : known.published) {
    Json entry{{"system", use.system}, {"outcome", std::string(word_of(use.outcome))}};
    entry["volume_per_gram"] =
        use.volume_ml_g ? Json{{"value", rounded(*use.volume_ml_g)}, {"unit", "mL/g"}, {"origin", "published"}}
                        : Json(nullptr);
    entry["recovery"] = use.recovery ? value_json(*use.recovery, "%", Origin::Published) : Json(nullptr);
    entry["oils_above"] =
        use.oils_above_k ? value_json(*use.oils_above_k, "°C", Origin::Published) : Json(nullptr);
    entry["source"] = use.source;
    published.push_back(std::move(entry));
  }
  return Json{{"name", known.name},
              {"smiles", known.canonical_smiles},
              {"match", std::string(word_of(known.match))},
              {"melting_point",
               known.melting_point_k ? value_json(*known.melting_point_k, "°C", Origin::Published) : Json(nullptr)},
              {"curves", std::move(curves)},
              {"published", std::move(published)}};
}

Json quantity_of_fact(const UsedFact& fact, const FactInfo& info) {
  if (fact.quantity)
    return quantity_json(fact.quantity, info.type == FactType::Flag ? "" : info.shown_unit.c_str());
  return Json{{"value", fact.shown == "unknown" ? Json(nullptr) : Json(fact.shown)},
              {"unit", ""},
              {"origin", std::string(name_of(fact.origin))}};
}

}  // namespace

Json rounded(double value) {
  if (!std::isfinite(value)) return nullptr;
  if (value == 0) return 0.0;
  const double step = std::pow(10.0, std::floor(std::log10(std::abs(value))) - 3);
  const double out = std::round(value / step) * step;
  // Written through text, so that 0.1 + 0.2 never shows.
  return std::stod(fmt::format("{:.4g}", out));
}

Json optional_number(const std::optional<double>& value) {
  return value ? rounded(*value) : Json(nullptr);
}

Json quantity_json(const std::optional<Quantity>& quantity, const char* unit) {
  if (!quantity) return nullptr;
  const Unit written = find_unit(unit).value_or(Unit{"", dimension::kNumber, 1, 0});
  Json out{{"value", rounded(written.from_canonical(quantity->value))}};
  if (quantity->low && quantity->high) {
    out["low"] = rounded(written.from_canonical(*quantity->low));
    out["high"] = rounded(written.from_canonical(*quantity->high));
  }
  out["unit"] = unit;
  out["origin"] = std::string(name_of(quantity->origin));
  return out;
}

Json value_json(double canonical, const char* unit, Origin origin) {
  Quantity quantity;
  quantity.value = canonical;
  quantity.origin = origin;
  return quantity_json(quantity, unit);
}

Json findings_json(const std::vector<Finding>& findings) {
  Json out = Json::array();
  for (const Finding& finding : findings) {
    out.push_back({{"path", finding.place.path},
                   {"line", finding.place.line},
                   {"column", finding.place.column},
                   {"severity", finding.severity == Severity::Error     ? "error"
                                : finding.severity == Severity::Warning ? "warning"
                                                                        : "note"},
                   {"message", finding.message},
                   {"help", finding.help}});
  }
  return out;
}

Json solute_json(const Inquiry& inquiry) {
  const Solute& solute = inquiry.solute;
  Json out{{"name", solute.name}};
  out["smiles"] = solute.canonical_smiles.empty() ? Json(nullptr) : Json(solute.canonical_smiles);
  out["groups"] = solute.groups_known ? strings(solute.specific_groups) : Json(nullptr);
  out["molar_mass"] = quantity_json(solute.molar_mass, "g/mol");
  Quantity melting;
  melting.value = inquiry.melting_point_k;
  melting.origin = inquiry.melting_point_origin;
  if (inquiry.melting_point_sd_k > 0) {
    melting.low = melting.value - 1.28 * inquiry.melting_point_sd_k;
    melting.high = melting.value + 1.28 * inquiry.melting_point_sd_k;
  }
  out["melting_point"] = quantity_json(melting, "°C");
  out["form"] = solute.form;
  out["outside_model"] = strings(solute.outside_model);
  Json like = Json::array();
  for (const SimilarSolid& solid : inquiry.prior.similar) {
    like.push_back({{"name", solid.name},
                    {"similarity", rounded(solid.similarity)},
                    {"measured_in", strings(solid.solvents)}});
  }
  out["like"] = std::move(like);
  out["known"] = inquiry.known ? known_json(*inquiry.known) : Json(nullptr);
  return out;
}

Json aim_json(const Inquiry& inquiry) {
  const Aim& aim = inquiry.aim;
  Json shelf = Json::array();
  for (const SolventId solvent : aim.shelf.solvents)
    shelf.push_back(inquiry.knowledge->library.solvent(solvent).id);
  return Json{{"want", aim.want},
              {"mass", value_json(aim.mass_mg, "g", aim.mass_given ? Origin::Given : Origin::Assumed)},
              {"shelf", std::move(shelf)},
              {"heating_limit", value_json(aim.heating_limit_k, "°C", Origin::Given)},
              {"bath_temperature", value_json(aim.bath_temperature_k, "°C", Origin::Given)},
              {"room_temperature", value_json(aim.room_temperature_k, "°C", Origin::Given)},
              {"altitude", value_json(aim.altitude_m, "m", Origin::Given)},
              {"open_flame", aim.open_flame},
              {"heating", aim.heating},
              {"ban", strings(aim.ban)},
              {"ingested", aim.ingested}};
}

Json head_json(const AnswerHead& head, const Inquiry& inquiry, const std::vector<Finding>& findings) {
  return Json{{"format", head.format},    {"program", head.program},
              {"data", head.data},        {"solute", solute_json(inquiry)},
              {"aim", aim_json(inquiry)}, {"findings", findings_json(findings)}};
}

Json reason_json(const RuleOutcome& outcome, const Catalogue& catalogue) {
  Json facts = Json::object();
  for (const UsedFact& fact : outcome.facts)
    facts[fact.name] = quantity_of_fact(fact, catalogue.info(fact.reference.fact));
  Json out{{"rule", outcome.rule.text},
           {"kind", std::string(name_of(outcome.kind))},
           {"outcome", std::string(name_of(outcome.outcome))},
           {"grade", outcome.grade ? rounded(*outcome.grade) : Json(nullptr)}};
  if (outcome.grade_low && outcome.grade_high) {
    out["grade_low"] = rounded(*outcome.grade_low);
    out["grade_high"] = rounded(*outcome.grade_high);
  }
  out["weight"] = outcome.kind == RuleKind::Grade ? rounded(outcome.weight) : Json(nullptr);
  if (outcome.probability) out["probability"] = rounded(*outcome.probability);
  out["text"] = outcome.text;
  out["facts"] = std::move(facts);
  out["missing"] = strings(outcome.missing);
  out["source"] = outcome.source;
  return out;
}

Json caution_json(const RuleOutcome& outcome, const JudgedSystem& judged, const Library& library) {
  const std::string applies_to = outcome.component
                                     ? library.solvent(judged.system.solvents[*outcome.component]).id
                                     : name_of(judged.system, library);
  return Json{{"rule", outcome.rule.text},
              {"level", outcome.kind == RuleKind::Advice ? "note" : std::string(name_of(outcome.level))},
              {"text", outcome.text},
              {"source", outcome.source},
              {"applies_to", applies_to},
              {"step", outcome.step}};
}

Json system_json(const JudgedSystem& judged, const Inquiry& inquiry, std::size_t place) {
  const Library& library = inquiry.knowledge->library;
  const Judgement& judgement = judged.judgement;
  const System& system = judged.system;
  Json solvents = Json::array();
  for (const SolventId solvent : system.solvents) solvents.push_back(library.solvent(solvent).id);
  Json out{{"system", name_of(system, library)}, {"solvents", std::move(solvents)}};
  out["good"] = system.is_pair() ? Json(library.solvent(system.solvents[0]).id) : Json(nullptr);
  out["poor"] = system.is_pair() ? Json(library.solvent(system.solvents[1]).id) : Json(nullptr);
  out["rank"] = place > 0 ? Json(place) : Json(nullptr);
  out["verdict"] = std::string(name_of(judgement.verdict));
  const auto hot = quantity_of(judged, "system.hot_solubility");
  out["evidence"] = hot ? std::string(name_of(hot->origin)) : "unknown";
  out["chance"] = judgement.chance ? rounded(*judgement.chance) : Json(nullptr);
  out["score"] = judgement.score ? rounded(*judgement.score) : Json(nullptr);
  out["judged"] = rounded(judgement.judged);
  Json missing = Json::array();
  const auto add = [&](const char* key, const char* fact, const char* unit) {
    const auto quantity = quantity_of(judged, fact);
    out[key] = quantity_json(quantity, unit);
    if (!quantity) missing.push_back(fact);
  };
  add("boiling_point", "system.boiling_point", "°C");
  add("hot_temperature", "system.hot_temperature", "°C");
  add("saturation_temperature", "system.saturation_temperature", "°C");
  add("cold_temperature", "system.cold_temperature", "°C");
  add("wet_melting_point", "system.wet_melting_point", "°C");
  add("hot_solubility", "system.hot_solubility", "mg/mL");
  add("cold_solubility", "system.cold_solubility", "mg/mL");
  add("volume_per_gram", "system.volume_per_gram", "mL/g");
  add("recovery_limit", "system.recovery_limit", "%");
  add("impurity_held", "system.impurity_held", "%");
  Json reasons = Json::array();
  Json cautions = Json::array();
  for (const RuleOutcome& outcome : judgement.outcomes) {
    const bool warns = outcome.kind == RuleKind::Caution || outcome.kind == RuleKind::Advice;
    if (warns) {
      if (outcome.outcome == Outcome::Fires) cautions.push_back(caution_json(outcome, judged, library));
    } else if (outcome.outcome != Outcome::NotApplicable && outcome.outcome != Outcome::Silent) {
      reasons.push_back(reason_json(outcome, judged.frame.catalogue()));
    }
  }
  out["reasons"] = std::move(reasons);
  out["cautions"] = std::move(cautions);
  out["window"] = judged.window
                      ? Json{{"from", rounded(judged.window->from)}, {"to", rounded(judged.window->to)}}
                      : Json(nullptr);
  out["missing"] = std::move(missing);
  return out;
}

std::string to_text(const Json& json) {
  // A name cut in the middle of a letter must not end the answer.
  return json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace firstcrop::report
