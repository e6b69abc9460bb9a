#include "library/library_checks.hpp"

#include <cmath>
#include <set>

#include <fmt/format.h>

#include "library/block_table.hpp"

namespace firstcrop {
namespace {

constexpr double kAtmosphereKpa = 101.325;
constexpr double kRoomTemperatureK = 298.15;
constexpr double kAntoineTolerance = 0.03;
constexpr double kDensityTolerance = 0.005;

class SolventChecks {
 public:
  SolventChecks(const Library& library, const Solvent& solvent, Findings& findings)
      : library_(library), s_(solvent), findings_(findings) {}

  void run() {
    check_temperatures();
    check_antoine();
    check_density();
    check_safety();
    check_abraham();
    if (!s_.from_user) check_sources();
  }

 private:
  void error(const std::string& message, const std::string& help = {}) {
    findings_.error(Place{"solvent " + s_.id, 0, 0, 1, {}}, message, help);
  }

  void check_temperatures() {
    if (s_.freezing_point_k && s_.boiling_point_k &&
        s_.freezing_point_k->value >= s_.boiling_point_k->value) {
      error("it would boil before it melts", "check `freezing_point` and `boiling_point`");
    }
  }

  void check_antoine() {
    if (!s_.antoine || !s_.boiling_point_k) return;
    const double pressure = s_.antoine->pressure_kpa(s_.boiling_point_k->value);
    if (std::abs(pressure / kAtmosphereKpa - 1) <= kAntoineTolerance) return;
    error(fmt::format("the Antoine equation gives {:.1f} kPa at the boiling point, not 101.3 kPa", pressure),
          "log10(p/kPa) = A - B/(T + C) with T in kelvin");
  }

  void check_density() {
    if (!s_.density || !s_.density_25c_g_ml) return;
    const double line = s_.density->density_g_ml(kRoomTemperatureK);
    if (std::abs(line / s_.density_25c_g_ml->value - 1) <= kDensityTolerance) return;
    error(fmt::format("the density line gives {:.4f} g/mL at 25 °C, `density` says {:.4f} g/mL", line,
                      s_.density_25c_g_ml->value),
          "density = a + b T in g/mL, T in kelvin");
  }

  void check_safety() {
    const bool both =
        s_.flash_point_k.knowledge == Knowledge::Value && s_.autoignition_k.knowledge == Knowledge::Value;
    if (both && s_.flash_point_k.value >= s_.autoignition_k.value) {
      error("its flash point is not below its autoignition temperature");
    }
    if (s_.upper_flammable_limit.knowledge == Knowledge::Value &&
        s_.upper_flammable_limit.value <= s_.lower_flammable_limit.value) {
      error("its flammable limits are not in order");
    }
    const bool warns = s_.hazard_statements.knowledge == Knowledge::Value;
    if (!s_.from_user && warns != (s_.signal_word.knowledge == Knowledge::Value)) {
      error("hazard statements and signal word do not go together");
    }
  }

  void check_abraham() {
    if (s_.abraham && s_.abraham->size() != 6) error("six Abraham coefficients are needed: c e s a b l");
  }

  void check_source(std::string_view key, const std::string& source) {
    if (source.empty()) {
      error(fmt::format("`{}` has no source", key), "write the key of its source behind it");
      return;
    }
    for (const std::string& word : split_words(source)) {
      const std::string name = word.substr(0, word.find(':'));
      if (library_.source_text(name) == name)
        error(fmt::format("the source `{}` of `{}` is not explained", name, key));
    }
  }
  void check_source(std::string_view key, const std::optional<SourcedValue>& value) {
    if (value) check_source(key, value->source);
  }
  template <typename Safety>
  void check_safety_source(std::string_view key, const Safety& safety) {
    if (safety.knowledge != Knowledge::Unknown) check_source(key, safety.source);
  }

  void check_sources() {
    check_source("molar_mass", s_.molar_mass_g_mol);
    check_source("boiling_point", s_.boiling_point_k);
    check_source("freezing_point", s_.freezing_point_k);
    check_source("density", s_.density_25c_g_ml);
    check_source("molar volume", s_.molar_volume_ml_mol);
    check_source("vapour pressure", s_.vapour_pressure_25c_kpa);
    check_source("enthalpy_of_vaporization", s_.enthalpy_of_vaporization_kj_mol);
    check_source("enthalpy_of_vaporization_25c", s_.enthalpy_of_vaporization_25c_kj_mol);
    check_source("permittivity", s_.permittivity);
    check_source("polarity", s_.polarity);
    check_source("dipole", s_.dipole_d);
    check_source("viscosity", s_.viscosity_mpa_s);
    check_source("refractive_index", s_.refractive_index);
    check_source("log_kow", s_.log_kow);
    check_source("hansen", s_.hansen_d);
    if (s_.density) check_source("density_line", s_.density->source);
    if (s_.antoine) check_source("antoine", s_.antoine->source);
    if (s_.abraham) check_source("abraham", s_.abraham_source);
    if (s_.unifac) check_source("unifac", s_.unifac->source);
    check_safety_source("flash_point", s_.flash_point_k);
    check_safety_source("autoignition", s_.autoignition_k);
    check_safety_source("flammable_limits", s_.lower_flammable_limit);
    check_safety_source("hazard_statements", s_.hazard_statements);
    check_safety_source("supplier_statements", s_.supplier_statements);
    check_safety_source("euh_statements", s_.euh_statements);
    check_safety_source("signal_word", s_.signal_word);
    check_safety_source("pictograms", s_.pictograms);
    check_safety_source("q3c", s_.q3c_class);
    check_safety_source("osha_limit", s_.osha_limit_ppm);
    check_safety_source("niosh_limit", s_.niosh_limit_ppm);
    check_safety_source("idlh", s_.idlh_ppm);
    check_safety_source("iarc_group", s_.iarc_group);
    check_safety_source("ntp_listing", s_.ntp_listing);
    check_safety_source("peroxide_class", s_.peroxide_class);
    for (const SolventRemark& remark : s_.remarks) check_source(remark.topic, remark.source);
  }

  const Library& library_;
  const Solvent& s_;
  Findings& findings_;
};

void check_pairs(const Library& library, Findings& findings) {
  const auto& solvents = library.solvents();
  const auto pair_name = [&solvents](SolventId a, SolventId b) {
    return fmt::format("pair {} + {}", solvents[a.index].id, solvents[b.index].id);
  };
  std::set<std::pair<std::size_t, std::size_t>> seen;
  for (const MiscibilityRecord& record : library.miscibilities()) {
    const Place place{pair_name(record.first, record.second), 0, 0, 1, {}};
    if (!seen.emplace(std::minmax(record.first.index, record.second.index)).second) {
      findings.error(place, "this pair has two miscibility records");
    }
    if (solvents[record.first.index].id >= solvents[record.second.index].id) {
      findings.error(place, "the two ids are not in alphabetical order");
    }
    const bool gap = record.first_in_second_weight_percent || record.second_in_first_weight_percent;
    if (gap && record.miscibility == MiscibilityClass::Miscible) {
      findings.error(place, "mutual solubilities stand beside `miscible`");
    }
    const auto above = [](const std::optional<double>& percent) { return percent && *percent > 10; };
    if (record.miscibility == MiscibilityClass::Immiscible &&
        (above(record.first_in_second_weight_percent) || above(record.second_in_first_weight_percent))) {
      findings.error(place, "an immiscible pair dissolves at most 10 wt% of each other");
    }
    const bool splits = record.miscibility != MiscibilityClass::Miscible;
    // A remembered critical temperature may contradict a published class; the class stands.
    if (record.upper_critical_temperature_k && !record.upper_critical_from_memory &&
        splits != (*record.upper_critical_temperature_k > record.temperature_k)) {
      findings.error(place, "the class does not fit the upper critical solution temperature");
    }
  }
  for (std::size_t high = 1; high < solvents.size(); ++high) {
    for (std::size_t low = 0; low < high; ++low) {
      if (solvents[high].from_user || solvents[low].from_user || seen.contains({low, high})) continue;
      findings.error(Place{pair_name({low}, {high}), 0, 0, 1, {}}, "this pair has no miscibility record");
    }
  }
  for (const AzeotropeRecord& record : library.azeotropes()) {
    const Place place{pair_name(record.first, record.second), 0, 0, 1, {}};
    const auto& one = solvents[record.first.index].boiling_point_k;
    const auto& other = solvents[record.second.index].boiling_point_k;
    if (!one || !other) continue;
    const bool below = record.temperature_k < std::min(one->value, other->value) + 0.2;
    const bool above = record.temperature_k > std::max(one->value, other->value) - 0.2;
    if (record.kind == "maximum" ? !above : !below) {
      findings.error(place, fmt::format("a {} azeotrope cannot boil at {:.1f} °C", record.kind,
                                        record.temperature_k - 273.15));
    }
  }
}

}  // namespace

Findings cross_record_checks(const Library& library) {
  Findings findings;
  for (const Solvent& solvent : library.solvents()) SolventChecks(library, solvent, findings).run();
  check_pairs(library, findings);
  return findings;
}

}  // namespace firstcrop
