#include "options.hpp"

#include <unistd.h>

#include <cstdlib>
#include <filesystem>

#include <fmt/format.h>
#include <CLI/CLI.hpp>

#include "base/error.hpp"
#include "input/yaml_reader.hpp"
#include "quantity/quantity.hpp"

namespace firstcrop::cli {
namespace {

// From a capillary to what still fits on a bench.
constexpr double kSmallestChargeMg = 1;
constexpr double kLargestChargeMg = 1e6;
constexpr double kSmallestVolumeMl = 0.01;
constexpr double kLargestVolumeMl = 1e5;

bool is_data_folder(const std::filesystem::path& path) {
  std::error_code fault;
  return std::filesystem::is_directory(path / "solvents", fault) &&
         std::filesystem::is_directory(path / "rules", fault);
}

// A shelf file is a list of names; anything else that --shelf names is a shelf or a list of ids.
std::vector<WrittenWord> read_shelf_file(const std::string& path, Findings& findings) {
  std::vector<WrittenWord> out;
  const auto document = read_yaml(path, read_file(path), findings);
  if (!document) return out;
  const YamlNode& root = document->root();
  if (!root.is_list() || root.items.empty()) {
    findings.error(document->place_of(root), "a shelf file is a list of solvent names",
                   "write one `- name` a line");
    return out;
  }
  for (const YamlNode& item : root.items) {
    if (item.is_scalar() && !item.text.empty()) {
      out.push_back({item.text, document->place_of(item)});
    } else {
      findings.error(document->place_of(item), "a solvent name is expected here",
                     "write one `- name` a line");
    }
  }
  return out;
}

}  // namespace

std::optional<double> read_quantity(const std::optional<std::string>& text, const char* option,
                                    const Dimension& dimension, double lowest, double highest,
                                    const char* example, Findings& findings) {
  const auto value = read_number(text, option, dimension, example, findings);
  if (!value || (*value >= lowest && *value <= highest)) return value;
  const Unit unit = *find_unit(std::string_view(example).substr(std::string_view(example).find(' ') + 1));
  findings.error(Place{option, 0, 0, 1, {}}, fmt::format("`{}` is out of range", *text),
                 fmt::format("between {} and {}; write e.g. `{} \"{}\"`", show(lowest, unit), show(highest, unit), option,
                             example));
  return std::nullopt;
}

std::vector<std::string> parts_of(const std::string& text) {
  std::vector<std::string> out;
  for (std::size_t start = 0; start < text.size();) {
    const std::size_t end = std::min(text.find(',', start), text.size());
    out.push_back(text.substr(start, end - start));
    start = end + 1;
  }
  return out;
}

void add_output_options(CLI::App& command, Options& options) {
  command.add_flag("--json", options.json, "Answer for machines on standard output, and nothing else there");
  command.add_option("--data", options.data_folder, "Folder that holds solvents/ and rules/")
      ->type_name("DIR");
}

void add_shelf_options(CLI::App& command, Options& options) {
  command
      .add_option("--shelf", options.shelf,
                  "common, teaching, green, period, all, a file of names, or id,id,...")
      ->type_name("SHELF");
  command.add_option("--without", options.without, "Leave these solvents out")->type_name("id,id,...");
  command.add_option("--rules", options.rule_files, "Rules that are added, or replace those of the same id")
      ->type_name("FILE");
  command.add_option("--solvents", options.solvent_files, "Your own solvents")->type_name("FILE");
}

void add_aim_options(CLI::App& command, Options& options) {
  command.add_option("--want", options.want, "What counts most: purity, yield or large-crystals")
      ->check(CLI::IsMember({"purity", "yield", "large-crystals"}));
  command.add_option("--bath", options.bath, "Temperature of the cold bath (\"5 °C\")")->type_name("T");
  command.add_option("--heating-limit", options.heating_limit, "No hotter than this (\"110 °C\")")
      ->type_name("T");
  add_altitude_option(command, options);
}

void add_altitude_option(CLI::App& command, Options& options) {
  command.add_option("--altitude", options.altitude, "Height above the sea (\"0 m\")")->type_name("H");
}

void add_model_options(CLI::App& command, Options& options) {
  command.add_flag("--as-unknown", options.as_unknown, "Ignore that the solid stands in our own tables");
  command.add_option("--model", options.model_file, "Another fitted solubility model")->type_name("FILE");
}

AimOptions aim_options(const Options& options, Findings& findings) {
  AimOptions out;
  out.want = options.want;
  out.shelf = options.shelf;
  std::error_code fault;
  if (options.shelf && std::filesystem::is_regular_file(*options.shelf, fault)) {
    out.shelf_file = read_shelf_file(*options.shelf, findings);
    // Its faults were told; its path must not be taken for the name of a shelf.
    if (out.shelf_file.empty()) out.shelf.reset();
  }
  out.without = parts_of(options.without);
  out.bath_temperature_k =
      read_quantity(options.bath, "--bath", dimension::kTemperature, 193.15, 313.15, "5 °C", findings);
  out.heating_limit_k = read_quantity(options.heating_limit, "--heating-limit", dimension::kTemperature,
                                      293.15, 573.15, "110 °C", findings);
  out.altitude_m =
      read_quantity(options.altitude, "--altitude", dimension::kLength, -430, 6000, "300 m", findings);
  out.mass_mg = read_quantity(options.mass, "--mass", dimension::kMass, kSmallestChargeMg, kLargestChargeMg, "4 g",
                              findings);
  return out;
}

std::optional<double> read_number(const std::optional<std::string>& text, const char* option,
                                  const Dimension& dimension, const char* example, Findings& findings) {
  if (!text) return std::nullopt;
  const ParsedQuantity parsed = parse_quantity(*text, dimension);
  if (parsed.fault == QuantityFault::None && !parsed.quantity.is_range()) return parsed.quantity.middle();
  const std::string help = text->find(',') == std::string::npos
                               ? fmt::format("write `{} \"{}\"`", option, example)
                               : fmt::format("write a point for the decimal comma: `{} \"{}\"`", option, example);
  const std::string message = parsed.fault == QuantityFault::MissingUnit ? fmt::format("`{}` needs its unit", *text)
                              : parsed.fault == QuantityFault::None
                                  ? fmt::format("`{}` is a range; one number is needed here", *text)
                                  : fmt::format("`{}` is not a {}", *text, name_of(dimension));
  findings.error(Place{option, 0, 0, 1, {}}, message, help);
  return std::nullopt;
}

std::optional<double> volume_of(const Options& options, Findings& findings) {
  return read_quantity(options.volume, "--volume", dimension::kVolume, kSmallestVolumeMl, kLargestVolumeMl, "60 mL",
                       findings);
}

std::string find_data_folder(const Options& options) {
  if (!options.data_folder.empty()) {
    if (!is_data_folder(options.data_folder)) {
      throw Error(
          fmt::format("{} is not a data folder: it must hold solvents/ and rules/", options.data_folder));
    }
    return options.data_folder;
  }
  if (const char* variable = std::getenv("FIRSTCROP_DATA"); variable != nullptr && *variable != '\0') {
    if (!is_data_folder(variable))
      throw Error(fmt::format("FIRSTCROP_DATA names {}, which holds no solvents/ and rules/", variable));
    return variable;
  }
  std::error_code fault;
  const std::filesystem::path program = std::filesystem::read_symlink("/proc/self/exe", fault);
  if (!fault) {
    const std::filesystem::path installed = program.parent_path().parent_path() / "share" / "firstcrop";
    if (is_data_folder(installed)) return installed.string();
  }
  if (is_data_folder(FIRSTCROP_SOURCE_DIR)) return FIRSTCROP_SOURCE_DIR;
  throw Error("no data folder found: name it with --data DIR or FIRSTCROP_DATA");
}

KnowledgeFiles knowledge_files(const Options& options) {
  KnowledgeFiles out;
  out.data_folder = find_data_folder(options);
  out.model_file = options.model_file;
  out.solvent_files = options.solvent_files;
  return out;
}

}  // namespace firstcrop::cli
