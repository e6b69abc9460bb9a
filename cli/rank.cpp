#include <CLI/CLI.hpp>

#include "commands.hpp"
#include "ranking/rank.hpp"
#include "report/rank_json.hpp"
#include "report/rank_text.hpp"

namespace firstcrop::cli {

void declare_rank(CLI::App& command, Options& options) {
  command.add_option("SOLUTE", options.solute_file, "Solute file")->required()->type_name("FILE");
  command.add_option("--only", options.only, "Singles or pairs only: single, pair")
      ->check(CLI::IsMember({"single", "pair"}));
  command.add_option("--top", options.top, "Length of the list")->check(CLI::Range(1, 4000))->type_name("N");
  add_shelf_options(command, options);
  add_aim_options(command, options);
  add_model_options(command, options);
  add_output_options(command, options);
  command.footer("Example: firstcrop rank jar7.yaml --shelf teaching --top 5");
}

Answer run_rank(const Options& options) {
  Findings findings;
  const auto bench = make_bench(options, findings);
  if (!bench->judge) return bad_input(findings);
  RankOptions wanted;
  wanted.top = options.top;
  wanted.only = options.only == "single" ? Only::Singles : options.only == "pair" ? Only::Pairs : Only::All;
  const Ranking ranking = rank(*bench->judge, wanted);
  Answer out;
  out.findings = findings.sorted();
  out.exit_code = ranking.systems.empty() ? kNothingSuitable : kAnswered;
  out.text = options.json ? rank_json(*bench->judge, ranking, FIRSTCROP_VERSION,
                                      data_fingerprint(find_data_folder(options)), out.findings)
                          : rank_text(*bench->judge, ranking, terminal_style());
  return out;
}

}  // namespace firstcrop::cli
