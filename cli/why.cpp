#include <CLI/CLI.hpp>

#include "commands.hpp"
#include "ranking/rank.hpp"
#include "report/why_text.hpp"

namespace firstcrop::cli {
namespace {

std::optional<WrittenSystem> read_system(const std::string& text, const char* argument,
                                         const Library& library, Findings& findings) {
  SystemAnswer answer = parse_system(text, library);
  const Place place{argument, 0, 0, 1, {}};
  if (!answer.system) {
    findings.error(place, answer.message, answer.help);
  } else if (!answer.system->remark.empty()) {
    findings.warning(place, answer.system->remark);
  }
  return std::move(answer.system);
}

// A pair without ratio takes its best composition.
JudgedSystem judge_written(const WrittenSystem& written, const SystemJudge& judge) {
  System system = judge.with_good_first(written.system);
  std::optional<RatioWindow> window;
  if (system.is_pair()) {
    const ChosenPair best = judge.choose_ratio(system.solvents[0], system.solvents[1]);
    window = best.window;
    if (!written.ratio_stated) system = best.system;
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
  if (!bench->knowledge) return bad_input(findings);
  const Library& library = bench->knowledge->library;
  const auto system = read_system(options.system, "SYSTEM", library, findings);
  std::optional<WrittenSystem> other_system;
  if (!options.against.empty()) other_system = read_system(options.against, "--against", library, findings);
  if (!bench->judge || findings.has_errors()) return bad_input(findings);
  WhyAnswer answer{judge_written(*system, *bench->judge), {}, std::nullopt};
  answer.changes = find_changes(*bench->judge, answer.judged);
  if (other_system) answer.against = judge_written(*other_system, *bench->judge);
  Answer out;
  out.findings = findings.sorted();
  out.exit_code = answer.judged.judgement.verdict == Verdict::Unfit ? kNothingSuitable : kAnswered;
  out.text = options.json ? why_json(*bench->judge, answer, FIRSTCROP_VERSION,
                                     data_fingerprint(find_data_folder(options)), out.findings)
                          : why_text(*bench->judge, answer, terminal_style());
  return out;
}

}  // namespace firstcrop::cli
