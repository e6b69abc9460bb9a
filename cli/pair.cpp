#include <fmt/format.h>
#include <CLI/CLI.hpp>

#include "commands.hpp"
#include "ranking/pair_study.hpp"
#include "report/pair_report.hpp"

namespace firstcrop::cli {
namespace {

// Both names and the ratio are read as one system would be, so that their faults read alike.
std::optional<WrittenSystem> read_pair(const Options& options, const Library& library, Findings& findings) {
  bool failed = false;
  std::vector<SolventId> solvents;
  for (const auto& [text, argument] : {std::pair{options.first, "A"}, std::pair{options.second, "B"}}) {
    SolventAnswer answer = parse_solvent(text, library);
    const Place place{argument, 0, 0, 1, {}};
    if (!answer.solvent) {
      findings.error(place, answer.message, answer.help);
      failed = true;
      continue;
    }
    if (!answer.remark.empty()) findings.warning(place, answer.remark);
    solvents.push_back(*answer.solvent);
  }
  if (failed) return std::nullopt;
  if (solvents[0] == solvents[1]) {
    findings.error(Place{"B", 0, 0, 1, {}},
                   fmt::format("{} stands here twice", library.solvent(solvents[0]).id),
                   "a pair is made of two different solvents");
    return std::nullopt;
  }
  const std::string written =
      fmt::format("{}+{}{}", library.solvent(solvents[0]).id, library.solvent(solvents[1]).id,
                  options.ratio.empty() ? "" : "@" + options.ratio);
  SystemAnswer answer = parse_system(written, library);
  if (!answer.system) findings.error(Place{"--ratio", 0, 0, 1, {}}, answer.message, answer.help);
  if (answer.system && !answer.system->remark.empty()) {
    findings.warning(Place{"--ratio", 0, 0, 1, {}}, answer.system->remark);
  }
  if (answer.system && !answer.system->ratio_stated) answer.system->system.first_fraction = 0.5;
  return std::move(answer.system);
}

}  // namespace

void declare_pair(CLI::App& command, Options& options) {
  command.add_option("A", options.first, "One solvent")->required()->type_name("SOLVENT");
  command.add_option("B", options.second, "The other")->required()->type_name("SOLVENT");
  command.add_option("SOLUTE", options.solute_file, "Solute file, for roles, window and recovery")
      ->type_name("FILE");
  command.add_option("--ratio", options.ratio, "Volumes before mixing, in the typed order (60:40)")
      ->type_name("X:Y");
  add_shelf_options(command, options);
  add_aim_options(command, options);
  add_model_options(command, options);
  add_output_options(command, options);
  command.footer("Example: firstcrop pair methanol hexane jar7.yaml");
}

Answer run_pair(const Options& options) {
  Findings findings;
  const auto bench = make_bench(options, findings);
  if (!bench->knowledge) return bad_input(findings);
  const auto written = read_pair(options, bench->knowledge->library, findings);
  if (!bench->judge || !written || findings.has_errors()) return bad_input(findings);
  const PairStudy study = study_pair(*bench->judge, written->system, written->ratio_stated,
                                     !options.solute_file.empty());
  Answer out;
  out.findings = findings.sorted();
  out.exit_code = study.is_suitable() ? kAnswered : kNothingSuitable;
  out.text = options.json ? pair_json(*bench->judge, study, FIRSTCROP_VERSION,
                                      data_fingerprint(find_data_folder(options)), out.findings)
                          : pair_text(*bench->judge, study, terminal_style());
  return out;
}

}  // namespace firstcrop::cli
