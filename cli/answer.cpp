#include "answer.hpp"

#include <unistd.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <future>

#include "base/error.hpp"
#include "base/sha256.hpp"
#include "ranking/rule_files.hpp"
#include "systems/fact_list.hpp"

namespace firstcrop::cli {

namespace {

std::optional<SoluteFile> solute_of(const Options& options, const KnowledgeBase& knowledge, Findings& findings) {
  if (options.solute_file.empty()) {
    SoluteFile nameless;
    nameless.name = "any solid";
    return nameless;
  }
  const std::string& path = options.solute_file;
  const bool is_named_as_file = path.ends_with(".yaml") || path.ends_with(".yml");
  if (!is_named_as_file && !std::filesystem::exists(path)) {
    throw Error(path + " is no file: the solute file stands here, `firstcrop COMMAND --help` shows the order");
  }
  return read_solute_file(path, read_file(path), vocabulary_of(knowledge), findings);
}

}  // namespace

std::unique_ptr<Bench> make_bench(const Options& options, Findings& findings) {
  auto bench = std::make_unique<Bench>();
  bench->catalogue = make_catalogue();
  const AimOptions aim = aim_options(options, findings);
  const KnowledgeFiles files = knowledge_files(options);
  // Rules and library know nothing of each other until later, so they are read side by side.
  Findings rule_findings;
  auto book = std::async(std::launch::async, [&] {
    return load_rule_book(files.data_folder + "/rules", options.rule_files, bench->catalogue, rule_findings);
  });
  bench->knowledge = load_knowledge(files, findings);
  bench->book = book.get();
  findings.append(rule_findings);
  if (!bench->knowledge) return bench;
  const auto solute = solute_of(options, *bench->knowledge, findings);
  if (!solute) {
    // The names that options hold are looked up all the same, so that one run tells all.
    static_cast<void>(make_aim(SoluteFile{}, aim, bench->knowledge->library, findings));
    return bench;
  }
  bench->inquiry = make_inquiry(*bench->knowledge, *solute, aim, options.as_unknown, findings);
  if (!bench->inquiry || !bench->book || findings.has_errors()) return bench;
  bench->judge = SystemJudge::create(bench->catalogue, *bench->inquiry, *bench->book, findings);
  return bench;
}

Answer bad_input(const Findings& findings) {
  Answer out;
  out.exit_code = kBadInput;
  out.findings = findings.sorted();
  return out;
}

Style terminal_style() {
  const char* no_colour = std::getenv("NO_COLOR");
  return Style{isatty(STDOUT_FILENO) == 1 && (no_colour == nullptr || *no_colour == '\0')};
}

std::string data_fingerprint(const std::string& data_folder) {
  std::vector<std::string> paths;
  for (const char* room : {"rules", "solvents"}) {
    for (const auto& entry : std::filesystem::directory_iterator(std::filesystem::path(data_folder) / room)) {
      const auto extension = entry.path().extension();
      if (extension == ".yaml" || extension == ".txt" || extension == ".csv") paths.push_back(entry.path().string());
    }
  }
  std::sort(paths.begin(), paths.end());
  std::string all;
  for (const std::string& path : paths) {
    all += std::filesystem::path(path).filename().string() + "\n" + read_file(path);
  }
  return "sha256 " + sha256_hex(all);
}

}  // namespace firstcrop::cli
