#include <CLI/CLI.hpp>

#include "commands.hpp"
#include "report/lesson_report.hpp"

namespace firstcrop::cli {

void declare_lesson(CLI::App& command, Options& options) {
  command.add_option("SOLUTE", options.solute_file, "Solute file")->required()->type_name("FILE");
  command.add_flag("--answers", options.answers, "Print the answers too, in a part of their own");
  command.add_flag("--markdown", options.markdown, "Write Markdown");
  add_shelf_options(command, options);
  add_aim_options(command, options);
  add_model_options(command, options);
  add_output_options(command, options);
  command.footer("Example: firstcrop lesson jar7.yaml --shelf teaching --answers");
}

Answer run_lesson(const Options& options) {
  Findings findings;
  const auto bench = make_bench(options, findings);
  if (!bench->judge || findings.has_errors()) return bad_input(findings);
  const Lesson lesson = make_lesson(*bench->judge);
  Answer out;
  out.findings = findings.sorted();
  if (options.json) {
    out.text = lesson_json(*bench->judge, lesson, FIRSTCROP_VERSION, data_fingerprint(find_data_folder(options)),
                           out.findings);
  } else if (options.markdown) {
    out.text = lesson_markdown(*bench->judge, lesson, options.answers);
  } else {
    out.text = lesson_text(*bench->judge, lesson, options.answers, terminal_style());
  }
  return out;
}

}  // namespace firstcrop::cli
