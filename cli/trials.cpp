#include <fmt/format.h>
#include <CLI/CLI.hpp>

#include "commands.hpp"
#include "quantity/quantity.hpp"
#include "report/trials_report.hpp"

namespace firstcrop::cli {
namespace {

constexpr double kLeastMassMg = 5;
constexpr double kMostMassMg = 500;

}  // namespace

void declare_trials(CLI::App& command, Options& options) {
  command.add_option("SOLUTE", options.solute_file, "Solute file, with the tubes made so far")
      ->required()
      ->type_name("FILE");
  command.add_option("--top", options.tubes, "How many tubes are proposed")->check(CLI::Range(1, 20))->type_name("N");
  command.add_option("--mass", options.tube_mass, "Solid in one tube (\"50 mg\")")->type_name("M");
  command.add_flag("--card", options.card, "A card to print and fill in by hand");
  add_shelf_options(command, options);
  add_aim_options(command, options);
  add_model_options(command, options);
  add_output_options(command, options);
  command.footer("Example: firstcrop trials jar7.yaml --shelf teaching --top 2");
}

Answer run_trials(const Options& options) {
  Findings findings;
  if (options.card && options.json) {
    findings.error(Place{"--card", 0, 0, 1, {}}, "a card is for people, `--json` for machines", "leave one of them out");
  }
  const auto mass = read_quantity(options.tube_mass, "--mass", dimension::kMass, kLeastMassMg, kMostMassMg, "50 mg",
                                  findings);
  const auto bench = make_bench(options, findings);
  if (!bench->judge || findings.has_errors()) return bad_input(findings);
  const Aim& aim = bench->inquiry->aim;
  if (mass && aim.mass_given && *mass > aim.mass_mg) {
    findings.error(Place{"--mass", 0, 0, 1, {}}, "one tube would take more than all the crude there is",
                   fmt::format("the file says {}; a tube takes a twentieth of it", show(aim.mass_mg, *find_unit("mg"))));
    return bad_input(findings);
  }
  TrialsAnswer answer;
  answer.plan = plan_trials(*bench->judge, {mass.value_or(usual_tube_mass_mg(aim)), options.tubes});
  if (answer.plan.advice != TrialAdvice::Refused) {
    answer.lessons = lessons_of_tubes(*bench->judge, answer.plan.solvents);
  }
  Answer out;
  out.findings = findings.sorted();
  const bool nothing = answer.plan.advice == TrialAdvice::Refused || answer.plan.advice == TrialAdvice::Nothing;
  out.exit_code = nothing ? kNothingSuitable : kAnswered;
  out.text = options.json               ? trials_json(*bench->judge, answer, FIRSTCROP_VERSION,
                                                      data_fingerprint(find_data_folder(options)), out.findings)
             : options.card && !nothing ? trial_card(*bench->judge, answer)
                                        : trials_text(*bench->judge, answer, terminal_style());
  return out;
}

}  // namespace firstcrop::cli
