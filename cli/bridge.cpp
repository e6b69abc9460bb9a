#include <future>

#include <fmt/format.h>
#include <CLI/CLI.hpp>

#include "commands.hpp"
#include "phase/exchange_costs.hpp"
#include "phase/vapour_pressure.hpp"
#include "ranking/rule_files.hpp"
#include "report/bridge_report.hpp"
#include "systems/fact_list.hpp"

namespace firstcrop::cli {
namespace {

constexpr const char* kNameless = "the solid";

std::optional<SolventId> read_end(const std::string& typed, const char* argument, const Library& library,
                                  Findings& findings) {
  const SolventAnswer answer = parse_solvent(typed, library);
  const Place place{argument, 0, 0, 1, {}};
  if (!answer.solvent) {
    findings.error(place, answer.message, answer.help);
  } else if (!answer.remark.empty()) {
    findings.warning(place, answer.remark);
  }
  return answer.solvent;
}

// Rules speak of a solid too; of none here, so that only what they say of the solvent alone is kept.
JudgedSystem cautions_of(SolventId solvent, const SystemJudge& judge) {
  JudgedSystem judged = judge.judge(System{{solvent}, 1});
  judge.explain(judged);
  std::erase_if(judged.judgement.outcomes, [](const RuleOutcome& outcome) {
    if (outcome.kind != RuleKind::Caution || outcome.outcome != Outcome::Fires || outcome.text.empty()) return true;
    for (const UsedFact& fact : outcome.facts)
      if (fact.name.starts_with("solute.")) return true;
    return !outcome.component || outcome.text.find(kNameless) != std::string::npos;
  });
  return judged;
}

}  // namespace

void declare_bridge(CLI::App& command, Options& options) {
  command.add_option("A", options.first, "Solvent to get away from")->required()->type_name("SOLVENT");
  command.add_option("B", options.second, "Solvent to get to")->required()->type_name("SOLVENT");
  command.add_flag("--strip", options.strip, "By distilling each solvent out of the next, not by rinsing");
  command.add_option("--by", options.by, "What counts first: steps, hazard or chance")
      ->check(CLI::IsMember({"steps", "hazard", "chance"}));
  add_shelf_options(command, options);
  add_altitude_option(command, options);
  add_output_options(command, options);
  command.footer("Example: firstcrop bridge water hexane --shelf teaching");
}

Answer run_bridge(const Options& options) {
  Findings findings;
  const Catalogue catalogue = make_catalogue();
  const AimOptions aim = aim_options(options, findings);
  const KnowledgeFiles files = knowledge_files(options);
  // Rules and library know nothing of each other until later, so they are read side by side.
  Findings rule_findings;
  auto reading = std::async(std::launch::async, [&] {
    return load_rule_book(files.data_folder + "/rules", options.rule_files, catalogue, rule_findings);
  });
  const auto knowledge = load_knowledge(files, findings);
  const auto book = reading.get();
  findings.append(rule_findings);
  if (!knowledge) return bad_input(findings);
  const auto costs = load_exchange_costs(knowledge->solids_folder + "/exchange-costs.yaml", findings);
  const Library& library = knowledge->library;
  const auto from = read_end(options.first, "A", library, findings);
  const auto to = read_end(options.second, "B", library, findings);
  if (from && to && *from == *to) {
    findings.error(Place{"B", 0, 0, 1, {}},
                   fmt::format("`{}` and `{}` are the same solvent", options.first, options.second),
                   "name two different solvents");
  }
  SoluteFile nameless;
  nameless.name = kNameless;
  const auto inquiry = make_inquiry(*knowledge, nameless, aim, true, findings);
  if (!inquiry || !book || !costs || !from || !to || findings.has_errors()) return bad_input(findings);
  const auto judge = SystemJudge::create(catalogue, *inquiry, *book, findings);
  if (!judge) return bad_input(findings);

  BridgeQuestion question;
  question.from = *from;
  question.to = *to;
  question.shelf = inquiry->aim.shelf.solvents;
  question.strip = options.strip;
  question.order = options.by == "hazard"   ? ChainOrder::Hazard
                   : options.by == "chance" ? ChainOrder::Chance
                                            : ChainOrder::Steps;
  question.pressure_kpa = pressure_at_altitude_kpa(inquiry->aim.altitude_m);
  const SolventBridge bridge = find_bridge(knowledge->phase, *costs, question);
  BridgeReport report{question, bridge, *judge, {}};
  for (const SolventId solvent : solvents_of_chains(bridge))
    report.chain_solvents.push_back(cautions_of(solvent, *judge));
  Answer out;
  out.findings = findings.sorted();
  out.exit_code = bridge.chains.empty() ? kNothingSuitable : kAnswered;
  out.text = options.json ? bridge_json(report, FIRSTCROP_VERSION, data_fingerprint(files.data_folder), out.findings)
                          : bridge_text(report, terminal_style());
  return out;
}

}  // namespace firstcrop::cli
