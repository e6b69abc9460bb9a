#include <CLI/CLI.hpp>

#include "commands.hpp"
#include "ranking/rank.hpp"
#include "report/why_text.hpp"

namespace firstcrop::cli {
namespace {

// A pair without ratio takes its best composition.
std::optional<JudgedSystem> judge_written(const std::string& text, const Bench& bench, Findings& findings) {
  const SystemAnswer answer = parse_system(text, bench.knowledge->library);
  if (!answer.system) {
    findings.error(Place{"SYSTEM", 0, 0, 1, {}}, answer.message, answer.help);
    return std::nullopt;
  }
  if (!answer.system->remark.empty()) findings.warning(Place{"SYSTEM", 0, 0, 1, {}}, answer.system->remark);
  const SystemJudge& judge = *bench.judge;
  System system = judge.with_good_first(answer.system->system);
  std::optional<RatioWindow> window;
  if (system.is_pair()) {
    const ChosenPair best = judge.choose_ratio(system.solvents[0], system.solvents[1]);
    window = best.window;
    if (!answer.system->ratio_stated) system = best.system;
  }
  JudgedSystem judged = judge.judge(system);
  judged.window = window;
  judge.explain(judged);
  return judged;
}

}  // namespace

void declare_why(CLI::App& command, Options& options) {
  command.add_option("SOLUTE", options.solute_file, "Solute file")->required()->type_name("FILE");
  command.add_option("SYSTEM", options.system, "ethanol, ethanol+water or ethanol+water@60:40")
      ->required()
      ->type_name("SYSTEM");
  command.add_option("--against", options.against, "Contrast with another system")->type_name("SYSTEM");
  add_shelf_options(command, options);
  add_aim_options(command, options);
  add_model_options(command, options);
  add_output_options(command, options);
  command.footer("Example: firstcrop why jar7.yaml ethanol+water --against toluene");
}

Answer run_why(const Options& options) {
  Findings findings;
  const auto bench = make_bench(options, findings);
  if (!bench->judge) return bad_input(findings);
  const auto judged = judge_written(options.system, *bench, findings);
  std::optional<JudgedSystem> against;
  if (!options.against.empty()) against = judge_written(options.against, *bench, findings);
  if (findings.has_errors()) return bad_input(findings);
  Answer out;
  out.findings = findings.sorted();
  out.exit_code = judged->judgement.verdict == Verdict::Unfit ? kNothingSuitable : kAnswered;
  const JudgedSystem* other = against ? &*against : nullptr;
  out.text = options.json ? why_json(*bench->judge, *judged, other, FIRSTCROP_VERSION,
                                     data_fingerprint(find_data_folder(options)), out.findings)
                          : why_text(*bench->judge, *judged, other, terminal_style());
  return out;
}

}  // namespace firstcrop::cli
