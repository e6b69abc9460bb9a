#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/finding.hpp"
#include "systems/aim.hpp"
#include "systems/knowledge_base.hpp"

namespace CLI {
class App;
}

namespace firstcrop::cli {

/// What the options of one run say, as typed.
struct Options {
  bool json = false;
  bool markdown = false;
  std::string data_folder;
  std::string solute_file;
  std::string system;
  std::string against;
  std::string first;
  std::string second;
  std::vector<std::string> systems;
  std::string at;
  std::string plot;
  std::string name;
  std::vector<std::string> files;
  std::optional<std::string> shelf;
  std::string without;
  std::vector<std::string> rule_files;
  std::vector<std::string> solvent_files;
  std::optional<std::string> model_file;
  std::string only;
  std::size_t top = 10;
  std::optional<std::string> want;
  std::optional<std::string> bath;
  std::optional<std::string> heating_limit;
  std::optional<std::string> altitude;
  bool as_unknown = false;
  bool strip = false;
  std::string by = "steps";
  bool facts = false;
};

/// Groups of options that several commands share.
void add_output_options(CLI::App& command, Options& options);
void add_shelf_options(CLI::App& command, Options& options);
void add_aim_options(CLI::App& command, Options& options);
void add_altitude_option(CLI::App& command, Options& options);
void add_model_options(CLI::App& command, Options& options);

/// Options about the aim, with a finding for every quantity that cannot be read. Reads a shelf file where one
/// is named.
[[nodiscard]] AimOptions aim_options(const Options& options, Findings& findings);
/// Where to read data from: `--data`, else FIRSTCROP_DATA, else beside the installed program, else the source
/// tree. Throws Error where none of them is a data folder.
[[nodiscard]] std::string find_data_folder(const Options& options);
/// The parts of a list `a,b,c`.
[[nodiscard]] std::vector<std::string> parts_of(const std::string& text);
[[nodiscard]] KnowledgeFiles knowledge_files(const Options& options);

}  // namespace firstcrop::cli
