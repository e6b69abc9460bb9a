#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "solute/solute_file.hpp"
#include "systems/system.hpp"

namespace firstcrop {

/// What the person wants, has and allows, with every default filled in.
struct Aim {
  std::string want = "purity";
  Shelf shelf;
  double heating_limit_k = 383.15;
  double bath_temperature_k = 278.15;
  double room_temperature_k = 298.15;
  double altitude_m = 0;
  bool open_flame = false;
  std::string heating = "unknown";
  std::vector<std::string> ban;
  bool ingested = false;
  double hot_time_min = 15;
  std::string peroxide_test = "not-tested";
  bool light = false;
  double mass_mg = 1000;
  bool mass_given = false;
  std::map<std::string, std::string> bottle;  ///< solvent id -> state of the bottle
};

/// What the command line says; it outranks the file.
struct AimOptions {
  std::optional<std::string> want;
  std::optional<std::string> shelf;     ///< name of a shelf or of its file, or ids parted by commas
  std::vector<WrittenWord> shelf_file;  ///< names read from a shelf file; empty where none was given
  std::vector<std::string> without;
  std::optional<double> heating_limit_k;
  std::optional<double> bath_temperature_k;
  std::optional<double> altitude_m;
  std::optional<double> mass_mg;
};

/// Joins file, options and defaults. Unknown solvent names are findings at their place.
[[nodiscard]] Aim make_aim(const SoluteFile& file, const AimOptions& options, const Library& library,
                           Findings& findings);

}  // namespace firstcrop
