#include <CLI/CLI.hpp>

#include "commands.hpp"
#include "report/solvents_text.hpp"

namespace firstcrop::cli {

void declare_solvents(CLI::App& command, Options& options) {
  command.add_option("NAME", options.name, "Id, name, CAS number or alias")->type_name("NAME");
  command.add_option("--solvents", options.solvent_files, "Your own solvents")->type_name("FILE");
  add_output_options(command, options);
  command.footer("Example: firstcrop solvents MTBE");
}

Answer run_solvents(const Options& options) {
  Findings findings;
  const auto knowledge = load_knowledge(knowledge_files(options), findings);
  if (!knowledge) return bad_input(findings);
  std::optional<SolventId> only;
  if (!options.name.empty()) {
    const SolventAnswer answer = parse_solvent(options.name, knowledge->library);
    if (!answer.solvent) {
      findings.error(Place{"NAME", 0, 0, 1, {}}, answer.message, answer.help);
      return bad_input(findings);
    }
    if (!answer.remark.empty()) findings.warning(Place{"NAME", 0, 0, 1, {}}, answer.remark);
    only = answer.solvent;
  }
  Answer out;
  out.findings = findings.sorted();
  if (options.json) {
    out.text = solvents_json(*knowledge, only, FIRSTCROP_VERSION,
                             data_fingerprint(find_data_folder(options)));
  } else {
    out.text = only ? solvent_text(*knowledge, *only, terminal_style())
                    : solvents_text(knowledge->library, terminal_style());
  }
  return out;
}

}  // namespace firstcrop::cli
