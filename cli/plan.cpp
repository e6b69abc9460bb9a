#include <fmt/format.h>
#include <CLI/CLI.hpp>

#include "commands.hpp"
#include "plan/bench_plan.hpp"
#include "report/plan_report.hpp"

namespace firstcrop::cli {
namespace {

std::optional<WrittenSystem> read_system(const Options& options, const Library& library, Findings& findings) {
  SystemAnswer answer = parse_system(options.system, library);
  const Place place{"SYSTEM", 0, 0, 1, {}};
  if (!answer.system) {
    findings.error(place, answer.message, answer.help);
  } else if (!answer.system->remark.empty()) {
    findings.warning(place, answer.system->remark);
  }
  return std::move(answer.system);
}

// A pair without ratio takes its best composition.
System system_to_plan(const WrittenSystem& written, const SystemJudge& judge) {
  const System system = judge.with_good_first(written.system);
  if (!system.is_pair() || written.ratio_stated) return system;
  return judge.choose_ratio(system.solvents[0], system.solvents[1]).system;
}

}  // namespace

void declare_plan(CLI::App& command, Options& options) {
  command.add_option("SOLUTE", options.solute_file, "Solute file")->required()->type_name("FILE");
  command.add_option("SYSTEM", options.system, "ethanol, ethanol+water (at its best ratio) or ethanol+water@60:40")
      ->required()
      ->type_name("SYSTEM");
  command.add_option("--mass", options.mass, "Crude to purify (\"4 g\"); default: `crude.mass`, else 1 g")
      ->type_name("M");
  command.add_option("--volume", options.volume, "Solvent in all (\"60 mL\"); default: what just dissolves it")
      ->type_name("V");
  command.add_flag("--markdown", options.markdown, "Write Markdown");
  add_shelf_options(command, options);
  add_aim_options(command, options);
  add_model_options(command, options);
  add_output_options(command, options);
  command.footer("Example: firstcrop plan jar7.yaml ethanol --mass \"4 g\"");
}

Answer run_plan(const Options& options) {
  Findings findings;
  const std::optional<double> volume_ml = volume_of(options, findings);
  const auto bench = make_bench(options, findings);
  if (!bench->knowledge) return bad_input(findings);
  const auto written = read_system(options, bench->knowledge->library, findings);
  if (!bench->judge || !written || findings.has_errors()) return bad_input(findings);
  const BenchPlan plan = make_bench_plan(*bench->judge, system_to_plan(*written, *bench->judge), volume_ml);
  Answer out;
  out.findings = findings.sorted();
  out.exit_code = plan.refused_because.empty() ? kAnswered : kNothingSuitable;
  if (options.json) {
    out.text = plan_json(*bench->judge, plan, FIRSTCROP_VERSION, data_fingerprint(find_data_folder(options)),
                         out.findings);
  } else if (options.markdown) {
    out.text = plan_markdown(*bench->judge, plan);
  } else {
    out.text = plan_text(*bench->judge, plan, terminal_style());
  }
  return out;
}

}  // namespace firstcrop::cli
