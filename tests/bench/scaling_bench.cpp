// How the time and memory of a whole ranking grow with the number of solvents: the library and synthetic solvents drawn
// around its own, all singles and pairs for one solid. Never a test: it measures and asserts nothing.
//
//   scaling_bench [SOLUTE [N ...]]

#include <sys/resource.h>
#include <unistd.h>

#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <random>
#include <stdexcept>
#include <string>
#include <vector>

#include <fmt/format.h>

#include "input/yaml_reader.hpp"
#include "ranking/rank.hpp"
#include "ranking/rule_files.hpp"
#include "solute/solute.hpp"
#include "systems/candidates.hpp"
#include "systems/fact_list.hpp"

namespace {

using namespace firstcrop;

const std::string kData = FIRSTCROP_SOURCE_DIR;
constexpr unsigned kSeed = 20240229;
constexpr double kIcePointK = 273.15;
constexpr std::size_t kRecordsPerFile = 250;  // a file holds at most 1 MiB

/// Processor time of this process [s]: the machine may be busy.
double processor_seconds() {
  rusage usage{};
  getrusage(RUSAGE_SELF, &usage);
  const auto seconds = [](const timeval& time) {
    return static_cast<double>(time.tv_sec) + 1e-6 * static_cast<double>(time.tv_usec);
  };
  return seconds(usage.ru_utime) + seconds(usage.ru_stime);
}

double peak_mb() {
  rusage usage{};
  getrusage(RUSAGE_SELF, &usage);
  return static_cast<double>(usage.ru_maxrss) / 1024;
}

bool can_be_copied(const Solvent& solvent) {
  return !solvent.is_mixture && solvent.unifac && !solvent.unifac->hint_only && solvent.antoine && solvent.hansen_d &&
         solvent.abraham && solvent.molar_mass_g_mol && solvent.density_25c_g_ml && solvent.freezing_point_k &&
         solvent.polarity && solvent.flash_point_k.knowledge == Knowledge::Value;
}

/// A record like that of a library solvent, as a person would write it.
std::string record_like(const Solvent& model, std::size_t number, std::mt19937& generator) {
  std::normal_distribution<double> normal;
  const auto around = [&](double value, double sd) { return value + sd * normal(generator); };
  std::string groups;
  for (const auto& [group, count] : model.unifac->counts) {
    // One group more or less of the alkyl chain makes another molecule of the same kind.
    const double more = group <= 2 ? std::max(count + std::round(0.7 * normal(generator)), 1.0) : count;
    groups += fmt::format(" {}:{}", group, more);
  }
  // Antoine's equation with temperatures stretched by the ratio of the boiling points.
  const double stretch = std::exp(0.04 * normal(generator));
  const AntoineEquation& antoine = *model.antoine;
  std::string abraham;
  for (const double coefficient : *model.abraham) abraham += fmt::format("{:.4f} ", around(coefficient, 0.15));
  std::string classes;
  for (const std::string& name : model.classes) classes += " " + name;
  std::string hazards;
  for (const std::string& code : model.hazard_statements.values) hazards += " " + code;
  std::string out = fmt::format("- id: synthetic-{0}\n  name: synthetic {0}, like {1}\n", number, model.id);
  if (!classes.empty()) out += fmt::format("  classes:{}\n", classes);
  if (!hazards.empty()) out += fmt::format("  hazard_statements:{} [drawn]\n", hazards);
  const double molar_mass = model.molar_mass_g_mol->value * std::exp(around(0, 0.05));
  out += fmt::format("  molar_mass: {:.3f} g/mol [drawn]\n", molar_mass);
  out += fmt::format("  boiling_point: {:.2f} °C [drawn]\n", model.boiling_point_k->value * stretch - kIcePointK);
  out += fmt::format("  freezing_point: {:.2f} °C [drawn]\n", model.freezing_point_k->value * stretch - kIcePointK);
  out += fmt::format("  density: {:.4f} g/mL [drawn]\n", model.density_25c_g_ml->value * std::exp(around(0, 0.03)));
  out += fmt::format("  antoine: {} {} {} from {:.2f} K to {:.2f} K [drawn]\n", antoine.a, antoine.b * stretch,
                     antoine.c * stretch, antoine.low_k * stretch, antoine.high_k * stretch);
  out += fmt::format("  polarity: {:.4f} [drawn]\n", around(model.polarity->value, 0.02));
  out += fmt::format("  hansen: {:.2f} {:.2f} {:.2f} [drawn]\n", around(model.hansen_d->value, 0.4),
                     std::abs(around(model.hansen_p->value, 0.8)), std::abs(around(model.hansen_h->value, 0.8)));
  out += fmt::format("  abraham: {}spread 0.15 [drawn]\n", abraham);
  out += fmt::format("  unifac:{} [drawn]\n", groups);
  out += fmt::format("  flash_point: {:.2f} °C [drawn]\n", model.flash_point_k.value * stretch - kIcePointK);
  return out;
}

/// Writes own solvents files with `count` records in all; their paths.
std::vector<std::string> write_solvents(const std::filesystem::path& folder, const Library& library,
                                        std::size_t count) {
  std::vector<const Solvent*> models;
  for (const Solvent& solvent : library.solvents())
    if (can_be_copied(solvent)) models.push_back(&solvent);
  if (models.empty()) throw std::runtime_error("no solvent of the library is complete enough to draw others around it");
  std::mt19937 generator(kSeed);
  std::vector<std::string> paths;
  for (std::size_t first = 0; first < count; first += kRecordsPerFile) {
    paths.push_back((folder / fmt::format("own-{}.yaml", first)).string());
    std::ofstream file(paths.back());
    file << "format: firstcrop solvents 1\nsolvents:\n";
    for (std::size_t i = first; i < std::min(first + kRecordsPerFile, count); ++i)
      file << record_like(*models[i % models.size()], i, generator);
  }
  return paths;
}

template <typename Value>
Value usable(std::optional<Value> value, const Findings& findings) {
  if (value && !findings.has_errors()) return std::move(*value);
  for (const Finding& finding : findings.sorted()) fmt::print(stderr, "{}", to_text(finding));
  throw std::runtime_error("the files of the benchmark cannot be used");
}

/// What one size took, in seconds of processor time.
struct Measured {
  std::size_t solvents = 0;
  double load = 0;
  double prepare = 0;
  double candidates = 0;
  double rank = 0;
};

Measured measure(const std::string& solute, const std::vector<std::string>& solvent_files) {
  Measured out;
  Findings findings;
  const Catalogue catalogue = make_catalogue();
  const double start = processor_seconds();
  const KnowledgeBase base = usable(load_knowledge({kData, std::nullopt, solvent_files}, findings), findings);
  const RuleBook book = usable(load_rule_book(kData + "/rules", {}, catalogue, findings), findings);
  const double loaded = processor_seconds();
  const SoluteFile file = usable(read_solute_file(solute, read_file(solute), vocabulary_of(base), findings), findings);
  AimOptions aim;
  aim.shelf = "all";
  const Inquiry inquiry = usable(make_inquiry(base, file, aim, false, findings), findings);
  const SystemJudge judge = usable(SystemJudge::create(catalogue, inquiry, book, findings), findings);
  const double prepared = processor_seconds();
  const std::size_t candidates = candidate_pairs(inquiry.aim.shelf, inquiry).size();
  const double offered = processor_seconds();
  const Ranking ranking = rank(judge, {});
  const double ranked = processor_seconds();
  out.solvents = base.library.solvents().size();
  out.load = loaded - start;
  out.prepare = prepared - loaded;
  out.candidates = offered - prepared;
  out.rank = ranked - offered;
  fmt::print("{:8} {:9} {:10} {:8} {:8} {:8.2f} {:8.2f} {:10.2f} {:8.2f} {:8.0f}\n", out.solvents,
             out.solvents * (out.solvents - 1) / 2, candidates, ranking.pairs_considered, ranking.pairs_judged,
             out.load, out.prepare, out.candidates, out.rank, peak_mb());
  std::fflush(stdout);
  return out;
}

/// Slope of log(seconds) over log(solvents) by least squares.
double exponent(const std::vector<Measured>& all, double Measured::*seconds) {
  double x_sum = 0, y_sum = 0, xx_sum = 0, xy_sum = 0;
  const auto count = static_cast<double>(all.size());
  for (const Measured& each : all) {
    const double x = std::log(static_cast<double>(each.solvents));
    const double y = std::log(std::max(each.*seconds, 1e-4));
    x_sum += x;
    y_sum += y;
    xx_sum += x * x;
    xy_sum += x * y;
  }
  return (count * xy_sum - x_sum * y_sum) / (count * xx_sum - x_sum * x_sum);
}

}  // namespace

int main(int argument_count, char** arguments) {
  const std::string solute = argument_count > 1 ? arguments[1] : kData + "/examples/flask-3.yaml";
  std::vector<std::size_t> sizes;
  for (int i = 2; i < argument_count; ++i) sizes.push_back(std::strtoul(arguments[i], nullptr, 10));
  if (sizes.empty()) sizes = {85, 170, 340, 680, 1000};
  const auto folder = std::filesystem::temp_directory_path() / fmt::format("firstcrop-scaling-{}", getpid());
  std::filesystem::create_directories(folder);
  Findings findings;
  const Library library = usable(load_knowledge({kData, std::nullopt, {}}, findings), findings).library;
  fmt::print("{:>8} {:>9} {:>10} {:>8} {:>8} {:>8} {:>8} {:>10} {:>8} {:>8}\n", "solvents", "pairs", "one liquid",
             "tried", "judged", "load s", "prepare", "candidates", "rank s", "peak MB");
  std::vector<Measured> all;
  for (const std::size_t size : sizes) {
    const std::size_t drawn = size > library.solvents().size() ? size - library.solvents().size() : 0;
    all.push_back(measure(solute, write_solvents(folder, library, drawn)));
  }
  std::filesystem::remove_all(folder);
  if (all.size() < 2) return 0;
  fmt::print("time grows as solvents to the power of: load {:.2f}, prepare {:.2f}, candidates {:.2f}, rank {:.2f}\n",
             exponent(all, &Measured::load), exponent(all, &Measured::prepare), exponent(all, &Measured::candidates),
             exponent(all, &Measured::rank));
  return 0;
}
