#include <algorithm>
#include <cstdio>
#include <exception>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include <fmt/format.h>
#include <CLI/CLI.hpp>

#include "base/error.hpp"
#include "commands.hpp"

namespace firstcrop::cli {
namespace {

struct Command {
  const char* name;
  const char* about;
  void (*declare)(CLI::App&, Options&);
  Answer (*run)(const Options&);
};

const std::vector<Command>& commands() {
  static const std::vector<Command> all{
      {"rank", "Rank the solvents and pairs of a shelf for a solid", declare_rank, run_rank},
      {"why", "Explain the verdict on one system, rule by rule", declare_why, run_why},
      {"pair", "Check a pair: liquids, boiling, fire, reaction, use", declare_pair,
       run_pair},
      {"solubility", "Solubility in solvents and pairs, with ranges, as a table or a picture", declare_solubility,
       run_solubility},
      {"trials", "Which test tube to make next, what each outcome decides, and what the tubes so far taught",
       declare_trials, run_trials},
      {"amounts", "How much solvent, how much comes back: the sum alone, no files needed", declare_amounts, run_amounts},
      {"crop", "Judge a crop: recovery against the limit, purity from the melting range, what next", declare_crop,
       run_crop},
      {"lesson", "For teaching: the shelf as a gallery of what works, what fails and why, with questions", declare_lesson,
       run_lesson},
      {"plan", "Bench sheet for a solid and a system: steps, amounts, minutes, losses, and what to do if it fails",
       declare_plan, run_plan},
      {"bridge", "Find the chain of solvents that mix from one to another, for rinsing or exchange", declare_bridge, run_bridge},
      {"solvents", "Show the solvent library, or one record with its sources", declare_solvents,
       run_solvents},
      {"rules", "Show the rules, one rule, or the facts that rules can ask about", declare_rules, run_rules},
      {"check", "Check files of ours and run the cases inside rule files", declare_check, run_check},
  };
  return all;
}

bool write_all(std::FILE* stream, const std::string& text) {
  return std::fwrite(text.data(), 1, text.size(), stream) == text.size() && std::fflush(stream) == 0;
}

int deliver(const Answer& answer) {
  std::string told;
  for (const Finding& finding : answer.findings) told += to_text(finding);
  const bool answered = answer.exit_code == kAnswered || answer.exit_code == kNothingSuitable;
  if (!answer.print_on_bad_input) write_all(stderr, told);
  if (answered || answer.print_on_bad_input) {
    if (!write_all(stdout, answer.text))
      throw Error("cannot write the answer: the disk is full or the reader has gone");
  }
  return answer.exit_code;
}

struct UnknownOption {
  std::string typed;
  std::optional<std::string> near;
};

std::optional<UnknownOption> unknown_option(CLI::App& app, const std::string& command, int argument_count,
                                            char** arguments) {
  std::vector<std::string> known;
  for (const CLI::Option* option : app.get_subcommand(command)->get_options()) {
    for (const std::string& name : option->get_lnames()) known.push_back("--" + name);
  }
  for (int i = 2; i < argument_count; ++i) {
    std::string typed = arguments[i];
    typed.resize(std::min(typed.find('='), typed.size()));
    if (!typed.starts_with("--") || std::find(known.begin(), known.end(), typed) != known.end()) continue;
    return UnknownOption{typed, nearest_name(typed, known)};
  }
  return std::nullopt;
}

int run(int argument_count, char** arguments) {
  CLI::App app{"Chooses, checks and explains solvents for recrystallization.", "firstcrop"};
  app.set_version_flag("--version", std::string("firstcrop ") + FIRSTCROP_VERSION);
  app.require_subcommand(1);
  app.footer(
      "Example: firstcrop rank jar7.yaml\n"
      "The safety data sheet, local rules and trained supervision decide; this program only\n"
      "points out what is well known.");
  Options options;
  const Command* chosen = nullptr;
  for (const Command& command : commands()) {
    CLI::App* sub = app.add_subcommand(command.name, command.about);
    command.declare(*sub, options);
    sub->callback([&chosen, &command] { chosen = &command; });
  }
  try {
    app.parse(argument_count, arguments);
  } catch (const CLI::ParseError& fault) {
    if (fault.get_exit_code() == static_cast<int>(CLI::ExitCodes::Success)) return app.exit(fault);
    std::vector<std::string> names;
    for (const Command& command : commands()) names.emplace_back(command.name);
    std::string message = fault.what();
    std::string help = "`firstcrop --help` lists commands, `firstcrop COMMAND --help` options";
    const std::string first = argument_count > 1 ? arguments[1] : "";
    if (first.empty() || first.starts_with('-')) {
      // Nothing to add.
    } else if (std::find(names.begin(), names.end(), first) == names.end()) {
      message = fmt::format("there is no command `{}`", first);
      if (const auto near = nearest_name(first, names)) help = fmt::format("did you mean `firstcrop {}`?", *near);
    } else {
      help = fmt::format("`firstcrop {} --help` lists its options", first);
      if (const auto unknown = unknown_option(app, first, argument_count, arguments)) {
        message = fmt::format("`{}` is no option of `{}`", unknown->typed, first);
        if (unknown->near) help = fmt::format("did you mean `{}`?", *unknown->near);
      }
    }
    write_all(stderr, fmt::format("command line: error: {}\nhelp: {}\n", message, help));
    return kBadInput;
  }
  return deliver(chosen->run(options));
}

}  // namespace
}  // namespace firstcrop::cli

int main(int argument_count, char** arguments) {
  try {
    return firstcrop::cli::run(argument_count, arguments);
  } catch (const firstcrop::Error& fault) {
    std::fprintf(stderr, "firstcrop: %s\n", fault.what());
  } catch (const std::exception& fault) {
    std::fprintf(stderr, "firstcrop: internal fault: %s\n", fault.what());
  }
  return firstcrop::cli::kFault;
}
