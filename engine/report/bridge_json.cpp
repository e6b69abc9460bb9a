#include <algorithm>

#include "report/bridge_report.hpp"
#include "report/json_tools.hpp"

namespace firstcrop {
namespace {

using report::Json;

Json ids_json(const std::vector<SolventId>& solvents, const Library& library) {
  Json out = Json::array();
  for (const SolventId solvent : solvents) out.push_back(library.solvent(solvent).id);
  return out;
}

Json link_json(const BridgeLink& link, const Library& library) {
  Json out{{"a", library.solvent(link.from).id},
           {"b", library.solvent(link.to).id},
           {"evidence", std::string(name_of(link.evidence))},
           {"confidence", std::string(name_of(link.confidence))},
           {"chance", report::rounded(link.chance)},
           {"source", link.source.empty() ? Json(nullptr) : Json(library.source_text(link.source))}};
  if (link.volatility) out["volatility"] = report::value_json(*link.volatility, "", Origin::Calculated);
  if (link.separator_k) out["separator_at"] = report::value_json(*link.separator_k, "°C", Origin::Published);
  if (link.volumes) out["volumes"] = report::value_json(*link.volumes, "", Origin::Calculated);
  return out;
}

Json cautions_json(const BridgeReport& report, const std::vector<SolventId>& solvents) {
  const Library& library = report.judge.inquiry().knowledge->library;
  Json out = Json::array();
  for (const JudgedSystem& judged : report.chain_solvents) {
    if (std::find(solvents.begin(), solvents.end(), judged.system.solvents[0]) == solvents.end()) continue;
    for (const RuleOutcome& outcome : judged.judgement.outcomes) {
      if (outcome.component) out.push_back(report::caution_json(outcome, judged, library));
    }
  }
  return out;
}

Json chains_json(const std::vector<BridgeChain>& chains, const BridgeReport& report) {
  const KnowledgeBase& knowledge = *report.judge.inquiry().knowledge;
  Json out = Json::array();
  for (const BridgeChain& chain : chains) {
    Json links = Json::array();
    for (const BridgeLink& link : chain.links) links.push_back(link_json(link, knowledge.library));
    Json boiling = Json::array();
    for (const SolventId solvent : chain.solvents) {
      const auto boils_k = knowledge.phase.boiling_temperature_k(solvent, report.question.pressure_kpa);
      boiling.push_back(boils_k ? report::value_json(*boils_k, "°C", Origin::Calculated) : Json(nullptr));
    }
    out.push_back({{"solvents", ids_json(chain.solvents, knowledge.library)},
                   {"steps", chain.links.size()},
                   {"links", std::move(links)},
                   {"evidence", std::string(name_of(chain.evidence()))},
                   {"chance", report::rounded(chain.chance())},
                   {"cost", report::rounded(chain.cost)},
                   {"boiling_points", std::move(boiling)},
                   {"cautions", cautions_json(report, chain.solvents)}});
  }
  return out;
}

}  // namespace

std::string bridge_json(const BridgeReport& report, const std::string& version,
                        const std::string& data_fingerprint, const std::vector<Finding>& findings) {
  const SolventBridge& bridge = report.bridge;
  const Inquiry& inquiry = report.judge.inquiry();
  const Library& library = inquiry.knowledge->library;
  Json partners = Json::array();
  for (const BridgePartner& partner : bridge.partners) {
    partners.push_back({{"solvent", library.solvent(partner.solvent).id},
                        {"on_shelf", partner.on_shelf},
                        {"share", partner.share ? report::value_json(*partner.share, "%", Origin::Calculated)
                                                : Json(nullptr)}});
  }
  Json components = Json::array();
  for (const auto& part : bridge.components) components.push_back(ids_json(part, library));
  Json indispensable = Json::array();
  Json cut_off = Json::object();
  for (const IndispensableSolvent& each : bridge.indispensable) {
    indispensable.push_back(library.solvent(each.solvent).id);
    cut_off[library.solvent(each.solvent).id] = ids_json(each.cut_off, library);
  }
  Json reaction(nullptr);
  if (bridge.reaction != nullptr) {
    reaction = Json{{"rule", bridge.reaction->id},
                    {"severity", std::string(name_of(bridge.reaction->severity))},
                    {"text", bridge.reaction->text},
                    {"source", library.source_text(bridge.reaction->source)}};
  }
  return report::to_text(
      Json{{"format", "firstcrop/bridge/1"},
           {"program", version},
           {"data", data_fingerprint},
           {"aim",
            {{"shelf", inquiry.aim.shelf.name},
             {"solvents", ids_json(inquiry.aim.shelf.solvents, library)},
             {"altitude", report::value_json(inquiry.aim.altitude_m, "m", Origin::Given)}}},
           {"findings", report::findings_json(findings)},
           {"from", library.solvent(report.question.from).id},
           {"to", library.solvent(report.question.to).id},
           {"by", report.question.strip ? "strip" : "rinse"},
           {"direct", bridge.direct ? link_json(*bridge.direct, library) : Json(nullptr)},
           {"mix", bridge.ends_mix},
           {"reaction", std::move(reaction)},
           {"chains", chains_json(bridge.chains, report)},
           {"beyond_shelf", chains_json(bridge.beyond_shelf, report)},
           {"partners", std::move(partners)},
           {"components", std::move(components)},
           {"joining", ids_json(bridge.joining, library)},
           {"do_not_run_out_of", std::move(indispensable)},
           {"cut_off", std::move(cut_off)},
           {"no_distillation", ids_json(bridge.without_vapour, library)}});
}

}  // namespace firstcrop
