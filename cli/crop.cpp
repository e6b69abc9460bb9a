#include <fmt/format.h>
#include <CLI/CLI.hpp>

#include "commands.hpp"
#include "plan/crop_judgement.hpp"
#include "quantity/quantity.hpp"
#include "report/crop_report.hpp"

namespace firstcrop::cli {
namespace {

constexpr double kLowestMeltingK = 223.15;
constexpr double kHighestMeltingK = 873.15;

std::optional<double> read_mass(const std::optional<std::string>& text, const char* option, Findings& findings) {
  const auto mass = read_number(text, option, dimension::kMass, "4 g", findings);
  if (!mass || *mass > 0) return mass;
  findings.error(Place{option, 0, 0, 1, {}}, fmt::format("a mass of `{}` is none", *text), "write a mass above zero");
  return std::nullopt;
}

std::optional<WrittenQuantity> read_melting_range(const std::optional<std::string>& text, Findings& findings) {
  if (!text) return std::nullopt;
  const Place place{"--melts", 0, 0, 1, {}};
  const char* const help = "write `--melts \"112 to 114 °C\"`";
  const ParsedQuantity parsed = parse_quantity(*text, dimension::kTemperature);
  if (parsed.fault == QuantityFault::MissingUnit) {
    findings.error(place, fmt::format("`{}` needs its unit", *text), help);
  } else if (parsed.fault == QuantityFault::EmptyRange) {
    findings.error(place, fmt::format("`{}` runs backwards", *text), "write where it begins to melt, then where it is clear");
  } else if (parsed.fault != QuantityFault::None) {
    findings.error(place, fmt::format("`{}` is not a melting range", *text), help);
  } else if (parsed.quantity.low < kLowestMeltingK || parsed.quantity.high > kHighestMeltingK) {
    findings.error(place, fmt::format("`{}` is out of range", *text), "from -50 °C to 600 °C");
  } else {
    return parsed.quantity;
  }
  return std::nullopt;
}

// A pair without its ratio takes the best one, as in `why`.
std::optional<System> read_system(const Options& options, const Library& library, const std::optional<SystemJudge>& judge,
                                  Findings& findings) {
  if (!options.crop.system) return std::nullopt;
  const SystemAnswer answer = parse_system(*options.crop.system, library);
  const Place place{"--system", 0, 0, 1, {}};
  if (!answer.system) {
    findings.error(place, answer.message, answer.help);
    return std::nullopt;
  }
  if (!answer.system->remark.empty()) findings.warning(place, answer.system->remark);
  if (!judge) return std::nullopt;
  const System written = answer.system->system;
  if (written.is_pair() && !answer.system->ratio_stated)
    return judge->choose_ratio(written.solvents[0], written.solvents[1]).system;
  return judge->with_good_first(written);
}

}  // namespace

void declare_crop(CLI::App& command, Options& options) {
  command.add_option("SOLUTE", options.solute_file, "Solute file")->required()->type_name("FILE");
  command.add_option("--mass", options.crop.mass, "Crude that was taken; default: `crude: {mass: ...}` of the file")
      ->type_name("M");
  command.add_option("--crop", options.crop.crop, "Crystals, dry")->required()->type_name("M");
  command.add_option("--melts", options.crop.melts, "Their melting range (\"112 to 114 °C\")")->type_name("T to T");
  command.add_option("--system", options.crop.system, "What they came from; gives the limit")->type_name("SYSTEM");
  command.add_option("--volume", options.crop.volume, "Solvent in all (\"60 mL\"); default: the least that dissolves it")
      ->type_name("V");
  add_shelf_options(command, options);
  add_aim_options(command, options);
  add_model_options(command, options);
  add_output_options(command, options);
  command.footer(
      "Example: firstcrop crop jar7.yaml --mass \"4 g\" --crop \"3.1 g\" --melts \"112 to 114 °C\" --system ethanol");
}

Answer run_crop(const Options& options) {
  Findings findings;
  WeighedCrop crop;
  const auto crude = read_mass(options.crop.mass, "--mass", findings);
  crop.crop_mg = read_mass(options.crop.crop, "--crop", findings).value_or(0);
  crop.melting_range_k = read_melting_range(options.crop.melts, findings);
  constexpr double kLeastMl = 0.01;
  constexpr double kMostMl = 100000;
  crop.volume_ml = read_quantity(options.crop.volume, "--volume", dimension::kVolume, kLeastMl, kMostMl, "60 mL", findings);
  if (options.crop.volume && !options.crop.system)
    findings.error(Place{"--volume", 0, 0, 1, {}}, "a volume of what?", "add `--system ethanol`");
  const auto bench = make_bench(options, findings);
  if (!bench->knowledge) return bad_input(findings);
  crop.system = read_system(options, bench->knowledge->library, bench->judge, findings);
  if (!options.crop.mass && bench->inquiry && !bench->inquiry->aim.mass_given)
    findings.error(Place{"--mass", 0, 0, 1, {}}, "how much crude was taken is stated nowhere", "add `--mass \"4 g\"`");
  if (!bench->judge || findings.has_errors()) return bad_input(findings);
  crop.crude_mg = crude.value_or(bench->inquiry->aim.mass_mg);
  const CropJudgement judgement = judge_crop(*bench->judge, crop);
  Answer out;
  out.findings = findings.sorted();
  out.text = options.json ? crop_json(*bench->judge, judgement, FIRSTCROP_VERSION,
                                      data_fingerprint(find_data_folder(options)), out.findings)
                          : crop_text(*bench->judge, judgement, terminal_style());
  return out;
}

}  // namespace firstcrop::cli
