#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/finding.hpp"
#include "quantity/dimension.hpp"
#include "systems/aim.hpp"
#include "systems/knowledge_base.hpp"

namespace CLI {
class App;
}

namespace firstcrop::cli {

/// What `amounts` is told, as typed.
struct AmountsOptions {
  std::optional<std::string> mass, hot, cold, volume, wash_volume, isolated, insoluble;
  std::optional<std::string> impurity_mass, impurity_hot, impurity_cold, boil_down_to, density;
  std::vector<std::string> claims;
};

/// What `crop` is told, as typed.
struct CropOptions {
  std::optional<std::string> mass, crop, melts, system, volume;
};

/// What the options of one run say, as typed.
struct Options {
  bool json = false;
  bool markdown = false;
  bool answers = false;
  std::string data_folder;
  std::string solute_file;
  std::string system;
  std::string against;
  std::string first;
  std::string second;
  std::string ratio;

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
  std::optional<std::string> mass;
  std::optional<std::string> volume;
  bool strip = false;
  std::string by = "steps";
  bool facts = false;
  std::size_t tubes = 3;
  std::optional<std::string> tube_mass;
  bool card = false;
  AmountsOptions amounts;
  CropOptions crop;
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
/// A quantity of an option in canonical units, within `lowest` and `highest`; nothing where it was not given or where
/// a finding tells what is wrong with it.
[[nodiscard]] std::optional<double> read_quantity(const std::optional<std::string>& text, const char* option,
                                                  const Dimension& dimension, double lowest, double highest,
                                                  const char* example, Findings& findings);
/// A number with its unit, of one dimension; what cannot be read, a range among it, is a finding.
[[nodiscard]] std::optional<double> read_number(const std::optional<std::string>& text, const char* option,
                                                const Dimension& dimension, const char* example, Findings& findings);
/// `--volume` [mL], with a finding where it cannot be read or is no volume to work with.
[[nodiscard]] std::optional<double> volume_of(const Options& options, Findings& findings);
/// Where to read data from: `--data`, else FIRSTCROP_DATA, else beside the installed program, else the source
/// tree. Throws Error where none of them is a data folder.
[[nodiscard]] std::string find_data_folder(const Options& options);
/// The parts of a list `a,b,c`.
[[nodiscard]] std::vector<std::string> parts_of(const std::string& text);
[[nodiscard]] KnowledgeFiles knowledge_files(const Options& options);

}  // namespace firstcrop::cli
