#include "report/json_tools.hpp"
#include "report/solubility_report.hpp"

namespace firstcrop {

using report::Json;

namespace {

Json row_json(const SolubilityRow& row, const Library& library) {
  Json out{{"system", name_of(row.system, library)},
           {"at", report::value_json(row.temperature_k, "°C", Origin::Given)},
           {"solubility", report::quantity_json(row.solubility, "mg/mL")}};
  out["log10_molar"] = row.log10_molar && row.solubility
                           ? Json{{"mean", report::rounded(row.log10_molar->mean)},
                                  {"sd", report::rounded(row.log10_molar->sd)},
                                  {"origin", std::string(name_of(row.solubility->origin))}}
                           : Json(nullptr);
  out["remark"] = row.remark.empty() ? Json(nullptr) : Json(row.remark);
  return out;
}

Json rows_json(const std::vector<SolubilityRow>& rows, const Library& library) {
  Json out = Json::array();
  for (const SolubilityRow& row : rows) out.push_back(row_json(row, library));
  return out;
}

}  // namespace

std::string solubility_json(const Inquiry& inquiry, const SolubilityAnswer& answer, const std::string& version,
                            const std::string& data_fingerprint, const std::vector<Finding>& findings) {
  const Library& library = inquiry.knowledge->library;
  Json out = report::head_json({"firstcrop/solubility/1", version, data_fingerprint}, inquiry, findings);
  Json rows = rows_json(answer.rows, library);
  Json pairs = Json::array();
  for (const PairSolubility& pair : answer.pairs) {
    for (Json& row : rows_json(pair.rows, library)) rows.push_back(std::move(row));
    pairs.push_back(
        {{"system", name_of(pair.best, library)},
         {"window", {{"from", report::rounded(pair.window.from)}, {"to", report::rounded(pair.window.to)}}},
         {"hot_temperature", report::value_json(pair.hot_temperature_k, "°C", Origin::Calculated)},
         {"cloud_volume", report::quantity_json(pair.cloud_volume, "")}});
  }
  out["rows"] = std::move(rows);
  out["pairs"] = std::move(pairs);
  out["like"] = out["solute"]["like"];
  return report::to_text(out);
}

}  // namespace firstcrop
