#include <fmt/format.h>
#include <CLI/CLI.hpp>

#include "commands.hpp"
#include "ranking/rule_files.hpp"
#include "report/rules_text.hpp"
#include "systems/fact_list.hpp"

namespace firstcrop::cli {

void declare_rules(CLI::App& command, Options& options) {
  command.add_option("ID", options.name, "One rule in full")->type_name("ID");
  command.add_flag("--facts", options.facts, "List the facts that rules can ask about");
  command.add_flag("--markdown", options.markdown, "Write Markdown");
  command.add_option("--rules", options.rule_files, "Rules that are added, or replace those of the same id")
      ->type_name("FILE");
  add_output_options(command, options);
  command.footer("Example: firstcrop rules boiling-and-melting");
}

Answer run_rules(const Options& options) {
  Findings findings;
  const Catalogue catalogue = make_catalogue();
  const std::string folder = find_data_folder(options);
  Answer out;
  if (options.facts) {
    out.text = options.json ? facts_json(catalogue, FIRSTCROP_VERSION, data_fingerprint(folder))
                            : facts_text(catalogue, terminal_style());
    return out;
  }
  const auto book = load_rule_book(folder + "/rules", options.rule_files, catalogue, findings);
  if (!book) return bad_input(findings);
  std::vector<const Rule*> chosen;
  if (options.name.empty()) {
    for (const Rule& rule : book->rules()) chosen.push_back(&rule);
  } else {
    const Rule* rule = book->find(options.name);
    if (rule == nullptr) {
      std::vector<std::string> names;
      for (const Rule& known : book->rules()) names.push_back(known.id.text);
      const auto near = nearest_name(options.name, names);
      findings.error(Place{"ID", 0, 0, 1, {}}, fmt::format("there is no rule `{}`", options.name),
                     near ? fmt::format("did you mean `{}`?", *near) : "`firstcrop rules` lists them");
      return bad_input(findings);
    }
    chosen.push_back(rule);
  }
  out.findings = findings.sorted();
  if (options.json) {
    out.text = rules_json(*book, chosen, FIRSTCROP_VERSION, data_fingerprint(folder));
  } else if (options.markdown) {
    out.text = options.name.empty() ? rules_markdown(*book) : rule_markdown(*book, *chosen.front());
  } else {
    out.text = options.name.empty() ? rules_text(*book, terminal_style())
                                    : rule_text(*book, *chosen.front(), terminal_style());
  }
  return out;
}

}  // namespace firstcrop::cli
