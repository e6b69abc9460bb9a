#include <fmt/format.h>

#include "report/amounts_report.hpp"
#include "report/json_tools.hpp"

namespace firstcrop {

using report::Json;

namespace {

// More figures than elsewhere: the sum must close in the machine form as well.
Json quantity(const std::optional<double>& canonical, const char* unit, Origin origin = Origin::Calculated) {
  if (!canonical) return nullptr;
  const double value = find_unit(unit)->from_canonical(*canonical);
  return Json{{"value", std::stod(fmt::format("{:.12g}", value))}, {"unit", unit}, {"origin", std::string(name_of(origin))}};
}

Json given(const ChargeAmounts& charge) {
  Json out{{"mass", quantity(charge.crude_mg, "g", Origin::Given)},
           {"insoluble", quantity(charge.insoluble_mg, "g", Origin::Given)},
           {"impurity", quantity(charge.impurity_mg, "g", Origin::Given)},
           {"hot", quantity(charge.hot_mg_ml, "mg/mL", Origin::Given)},
           {"cold", quantity(charge.cold_mg_ml, "mg/mL", Origin::Given)},
           {"impurity_hot", quantity(charge.impurity_hot_mg_ml, "mg/mL", Origin::Given)},
           {"impurity_cold", quantity(charge.impurity_cold_mg_ml, "mg/mL", Origin::Given)},
           {"wash_volume", quantity(charge.wash_volume_ml, "mL", Origin::Given)},
           {"boil_down_to", quantity(charge.boil_down_to_ml, "mL", Origin::Given)},
           {"isolated", quantity(charge.isolated_mg, "g", Origin::Given)}};
  return out;
}

Json impurity_json(const MassBalance& balance) {
  if (!balance.impurity) return nullptr;
  return Json{{"crystals", quantity(balance.impurity->crystals_mg, "g")},
              {"liquor", quantity(balance.impurity->liquor_mg, "g")},
              {"volume_to_hold", quantity(balance.volume_to_hold_impurity_ml, "mL")},
              {"undissolved", quantity(balance.impurity->undissolved_mg, "g")},
              {"wash_loss", quantity(balance.impurity->wash_mg, "g")}};
}

Json second_crop_json(const MassBalance& balance) {
  if (!balance.second_crop) return nullptr;
  const SecondCrop& second = *balance.second_crop;
  return Json{{"crystals", quantity(second.crystals_mg, "g")},
              {"liquor", quantity(second.liquor_mg, "g")},
              {"both_crops", quantity(second.both_crops_mg, "g")},
              {"total_recovery", quantity(second.both_crops_mg / balance.product_mg, "%")},
              {"impurity", quantity(second.impurity_crystals_mg, "g")},
              {"impurity_joins_below", quantity(second.impurity_joins_below_ml, "mL")},
              {"drops_hot_below", quantity(second.drops_hot_below_ml, "mL")}};
}

const char* unit_of(ClaimedFigure figure) {
  switch (figure) {
    case ClaimedFigure::Volume:
      return "mL";
    case ClaimedFigure::Crystals:
    case ClaimedFigure::Liquor:
      return "g";
    case ClaimedFigure::Recovery:
    case ClaimedFigure::Purity:
      break;
  }
  return "%";
}

const char* word_for(ClaimVerdict verdict) {
  switch (verdict) {
    case ClaimVerdict::Right:
      return "right";
    case ClaimVerdict::RightRounded:
      return "right-but-rounded";
    case ClaimVerdict::Wrong:
      break;
  }
  return "wrong";
}

const char* word_for(Agreement agreement) {
  switch (agreement) {
    case Agreement::Exact:
      return "exact";
    case Agreement::RoundedOnTheWay:
      return "rounded";
    case Agreement::Roughly:
      break;
  }
  return "rough";
}

Json claim_json(const ClaimDiagnosis& diagnosis, const Json& steps) {
  const char* const unit = unit_of(diagnosis.claim.figure);
  Json slips = Json::array();
  for (const Slip& slip : diagnosis.slips)
    slips.push_back({{"slip", slip.id},
                     {"text", slip.explanation},
                     {"value", quantity(slip.value, unit)},
                     {"agreement", word_for(slip.agreement)}});
  return Json{{"about", std::string(name_of(diagnosis.claim.figure))},
              {"verdict", word_for(diagnosis.verdict)},
              {"text", sentence_on(diagnosis)},
              {"claimed", quantity(diagnosis.claim.value, unit, Origin::Given)},
              {"right", quantity(diagnosis.right, unit)},
              {"slips", std::move(slips)},
              {"steps", steps}};
}

Json diagnosis_json(const AmountsAnswer& answer) {
  Json steps = Json::array();
  for (const SumLine& line : sum_of(answer))
    steps.push_back(line.sum.empty() ? fmt::format("{}: {}", line.what, line.value)
                                     : fmt::format("{}: {} = {}", line.what, line.sum, line.value));
  Json out = Json::array();
  for (const AmountsRemark& remark : remarks_on(answer))
    out.push_back({{"about", remark.about}, {"verdict", remark.verdict}, {"text", remark.text}});
  for (const ClaimDiagnosis& claim : answer.claims) out.push_back(claim_json(claim, steps));
  return out;
}

}  // namespace

std::string amounts_json(const AmountsAnswer& answer, const std::string& version, const std::vector<Finding>& findings) {
  const MassBalance& balance = answer.balance;
  const ComponentBalance& product = balance.product;
  const Origin dissolves = balance.dissolves_by_assumption ? Origin::Assumed : Origin::Calculated;
  const auto wash_loss = product.crystals_mg ? std::optional(product.wash_mg.value_or(0)) : std::nullopt;
  Json out{{"format", "firstcrop/amounts/1"}, {"program", version}, {"data", nullptr}, {"solute", nullptr},
           {"aim", nullptr},                  {"findings", report::findings_json(findings)}};
  out["given"] = given(answer.charge);
  Json figures{{"product", quantity(balance.product_mg, "g")},
               {"minimum_volume", quantity(balance.minimum_volume_ml, "mL")},
               {"volume", quantity(balance.volume_ml, "mL", answer.charge.volume_ml ? Origin::Given : Origin::Calculated)},
               {"dissolved", quantity(product.dissolved_mg, "g", dissolves)},
               {"undissolved", quantity(product.undissolved_mg, "g", dissolves)},
               {"crystals", quantity(product.crystals_mg, "g")},
               {"liquor", quantity(product.liquor_mg, "g")},
               {"recovery", quantity(balance.recovery, "%")},
               {"recovery_limit", quantity(balance.recovery_limit, "%")},
               {"wash_loss", quantity(wash_loss, "g")},
               {"impurity", impurity_json(balance)},
               {"purity", quantity(balance.purity, "%")},
               {"recovery_foreseen", quantity(balance.expected_recovery, "%")},
               {"unexplained", quantity(balance.unexplained_mg, "g")},
               {"implied_cold_solubility", quantity(balance.implied_cold_mg_ml, "mg/mL")},
               {"second_crop", second_crop_json(balance)}};
  Json missing = Json::array();
  for (const auto& [key, value] : figures.items()) {
    const bool optional_part = key == "wash_loss" || key == "impurity" || key == "unexplained" ||
                               (key == "purity" && !balance.impurity) || key == "implied_cold_solubility" ||
                               key == "second_crop";
    if (value.is_null() && !optional_part) missing.push_back(key);
    out[key] = value;
  }
  out["missing"] = std::move(missing);
  out["diagnosis"] = diagnosis_json(answer);
  return report::to_text(out);
}

}  // namespace firstcrop
