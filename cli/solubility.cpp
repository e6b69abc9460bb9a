#include <algorithm>
#include <cstdio>
#include <filesystem>
#include <fstream>

#include <fmt/format.h>
#include <CLI/CLI.hpp>

#include "base/error.hpp"
#include "commands.hpp"
#include "ranking/rank.hpp"
#include "report/solubility_report.hpp"
#include "systems/system_phases.hpp"

namespace firstcrop::cli {
namespace {

constexpr std::size_t kMostCurves = 8;
constexpr std::size_t kCurvesOfShelf = 6;
constexpr double kCurveStepK = 2.5;
// A hot solution is made a little under saturation, so that the poor solvent can be added at all.
constexpr double kSaturation = 0.8;
constexpr double kLowestTemperatureK = 173.15;
constexpr double kHighestTemperatureK = 573.15;

std::vector<double> read_temperatures(const std::string& text, Findings& findings) {
  std::vector<double> out;
  for (const std::string& part : parts_of(text)) {
    const ParsedQuantity parsed = parse_quantity(part, dimension::kTemperature);
    const Place place{"--at", 0, 0, 1, {}};
    if (parsed.fault != QuantityFault::None || parsed.quantity.is_range()) {
      findings.error(place,
                     parsed.fault == QuantityFault::MissingUnit ? fmt::format("`{}` needs its unit", part)
                                                                : fmt::format("`{}` is not a temperature", part),
                     "write `--at \"25 °C,60 °C\"`");
      continue;
    }
    const double temperature = parsed.quantity.middle();
    if (temperature < kLowestTemperatureK || temperature > kHighestTemperatureK) {
      findings.error(place, fmt::format("`{}` is out of range", part), "from -100 °C to 300 °C");
      continue;
    }
    out.push_back(temperature);
  }
  std::sort(out.begin(), out.end());
  out.erase(std::unique(out.begin(), out.end()), out.end());
  return out;
}

struct Wanted {
  std::vector<System> singles;  ///< and pairs with their ratio
  std::vector<System> pairs;    ///< over their composition
};

bool contains(const std::vector<System>& systems, const System& system) {
  return std::find(systems.begin(), systems.end(), system) != systems.end();
}

Wanted read_systems(const Options& options, const Library& library, Findings& findings) {
  Wanted out;
  for (const std::string& text : options.systems) {
    SystemAnswer answer = parse_system(text, library);
    const Place place{"SYSTEM", 0, 0, 1, {}};
    if (!answer.system) {
      findings.error(place, answer.message, answer.help);
    } else if (contains(out.singles, answer.system->system) || contains(out.pairs, answer.system->system)) {
      findings.error(place, fmt::format("{} stands here twice", text), "name it once");
    } else if (answer.system->system.is_pair() && !answer.system->ratio_stated) {
      out.pairs.push_back(answer.system->system);
    } else {
      out.singles.push_back(answer.system->system);
    }
    if (answer.system && !answer.system->remark.empty()) findings.warning(place, answer.system->remark);
  }
  return out;
}

double hot_temperature_k(const Inquiry& inquiry, const System& system) {
  const double boiling =
      boiling_point_of(system, inquiry.pressure_kpa, *inquiry.knowledge).temperature_k;
  return std::min({boiling - 1, inquiry.aim.heating_limit_k, inquiry.melting_point_k - 10});
}

PairSolubility pair_over_composition(const SystemJudge& judge, const System& written,
                                     const std::vector<double>& temperatures_k) {
  constexpr int kSteps = 10;
  const Inquiry& inquiry = judge.inquiry();
  const ChosenPair chosen = judge.choose_ratio(written.solvents[0], written.solvents[1]);
  PairSolubility out;
  out.best = chosen.system;
  out.window = chosen.window;
  out.hot_temperature_k = hot_temperature_k(inquiry, System{{chosen.system.solvents[0]}, 1});
  out.cloud_volume = cloud_volume(inquiry, chosen.system, out.hot_temperature_k, kSaturation);
  for (int step = 0; step <= kSteps; ++step) {
    System system = chosen.system;
    system.first_fraction = 1 - static_cast<double>(step) / kSteps;
    // The mixing rule holds to both ends; the ends themselves are the pure solvents.
    for (const double temperature : temperatures_k) {
      const bool good_alone = step == 0;
      const bool poor_alone = step == kSteps;
      const System asked = good_alone   ? System{{system.solvents[0]}, 1}
                           : poor_alone ? System{{system.solvents[1]}, 1}
                                        : system;
      SolubilityRow row = solubility_at(inquiry, asked, temperature);
      if (good_alone || poor_alone) row.system = system;
      out.rows.push_back(std::move(row));
    }
  }
  return out;
}

SolubilityCurve curve_of(const Inquiry& inquiry, const System& system) {
  SolubilityCurve out{system, {}};
  const double boiling =
      boiling_point_of(system, inquiry.pressure_kpa, *inquiry.knowledge).temperature_k;
  const double melting = inquiry.melting_point_sd_k > 0 ? boiling : inquiry.melting_point_k;
  const auto freezing = freezing_point_of(system, *inquiry.knowledge);
  const double coldest = std::max(inquiry.aim.bath_temperature_k, freezing ? freezing->temperature_k : 0.0);
  const double hottest = std::max(std::min(boiling, melting), coldest + 2 * kCurveStepK);
  for (double temperature = coldest; temperature < hottest; temperature += kCurveStepK) {
    out.rows.push_back(solubility_at(inquiry, system, temperature));
  }
  out.rows.push_back(solubility_at(inquiry, system, hottest));
  return out;
}

// A shelf has more solvents than a picture can hold: the best of the ranking are drawn.
std::vector<System> systems_to_draw(const SystemJudge& judge, const Wanted& wanted, bool whole_shelf,
                                    Findings& findings) {
  std::vector<System> out = wanted.singles;
  for (const System& pair : wanted.pairs) out.push_back(judge.choose_ratio(pair.solvents[0], pair.solvents[1]).system);
  if (whole_shelf && out.size() > kMostCurves) {
    out.clear();
    RankOptions options;
    options.only = Only::Singles;
    options.top = kCurvesOfShelf;
    for (const JudgedSystem& judged : rank(judge, options).systems) out.push_back(judged.system);
  } else if (out.size() > kMostCurves) {
    findings.error(Place{"--plot", 0, 0, 1, {}}, fmt::format("{} curves are too many for one picture", out.size()),
                   fmt::format("name at most {} systems", kMostCurves));
  }
  std::erase_if(out, [&judge](const System& system) {
    return !solubility_at(judge.inquiry(), system, judge.inquiry().aim.room_temperature_k).solubility;
  });
  return out;
}

// Written beside its place and then moved, so that no half picture is ever seen.
void write_picture(const std::string& path, const std::string& picture) {
  const std::string partial = path + ".part";
  {
    std::ofstream stream(partial, std::ios::binary | std::ios::trunc);
    stream << picture;
    stream.flush();
    if (!stream) throw Error(fmt::format("cannot write {}", partial));
  }
  std::error_code fault;
  std::filesystem::rename(partial, path, fault);
  if (fault) throw Error(fmt::format("cannot write {}: {}", path, fault.message()));
}

}  // namespace

void declare_solubility(CLI::App& command, Options& options) {
  command.add_option("SOLUTE", options.solute_file, "Solute file")->required()->type_name("FILE");
  command
      .add_option("SYSTEM", options.systems,
                  "ethanol, ethanol+water, ethanol+water@60:40; none: the shelf")
      ->type_name("SYSTEM");
  command.add_option("--at", options.at, "Temperatures (\"25 °C,60 °C\"); default: bath, room, 60 °C")
      ->type_name("T,T,...");
  command.add_option("--plot", options.plot, "Draw curves with their bands into this file")
      ->type_name("FILE.svg");
  add_shelf_options(command, options);
  add_aim_options(command, options);
  add_model_options(command, options);
  add_output_options(command, options);
  command.footer("Example: firstcrop solubility jar7.yaml ethanol water --at \"25 °C,70 °C\"");
}

Answer run_solubility(const Options& options) {
  Findings findings;
  if (!options.plot.empty() && !options.plot.ends_with(".svg")) {
    findings.error(Place{"--plot", 0, 0, 1, {}}, fmt::format("`{}` is no name of a picture", options.plot),
                   "write a name that ends in `.svg`");
  }
  const std::vector<double> asked = read_temperatures(options.at, findings);
  const auto bench = make_bench(options, findings);
  if (!bench->knowledge) return bad_input(findings);
  Wanted wanted = read_systems(options, bench->knowledge->library, findings);
  if (!bench->judge || findings.has_errors()) return bad_input(findings);
  const Inquiry& inquiry = *bench->inquiry;
  if (options.systems.empty()) {
    for (const SolventId solvent : inquiry.aim.shelf.solvents) wanted.singles.push_back(System{{solvent}, 1});
  }
  SolubilityAnswer answer;
  answer.temperatures_k = asked;
  if (asked.empty()) {
    constexpr double kWarmK = 333.15;
    answer.temperatures_k = {inquiry.aim.bath_temperature_k, inquiry.aim.room_temperature_k, kWarmK};
    std::sort(answer.temperatures_k.begin(), answer.temperatures_k.end());
  }
  std::vector<System> drawn;
  if (!options.plot.empty())
    drawn = systems_to_draw(*bench->judge, wanted, options.systems.empty(), findings);
  if (findings.has_errors()) return bad_input(findings);
  for (const System& system : wanted.singles) {
    for (const double temperature : answer.temperatures_k)
      answer.rows.push_back(solubility_at(inquiry, system, temperature));
  }
  for (const System& pair : wanted.pairs) {
    answer.pairs.push_back(pair_over_composition(*bench->judge, pair, answer.temperatures_k));
  }
  if (!drawn.empty()) {
    std::vector<SolubilityCurve> curves;
    for (const System& system : drawn) curves.push_back(curve_of(inquiry, system));
    write_picture(options.plot, solubility_plot(inquiry, curves));
  }
  Answer out;
  out.findings = findings.sorted();
  out.text = options.json ? solubility_json(inquiry, answer, FIRSTCROP_VERSION,
                                            data_fingerprint(find_data_folder(options)), out.findings)
                          : solubility_text(inquiry, answer, terminal_style());
  if (!drawn.empty() && !options.json) out.text += fmt::format("{} curves drawn in {}{}\n", drawn.size(), options.plot,
                            drawn.size() < answer.rows.size() / answer.temperatures_k.size()
                                ? ": the best of the ranking; name others to see them"
                                : "");
  return out;
}

}  // namespace firstcrop::cli
