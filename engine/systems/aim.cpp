#include "systems/aim.hpp"

#include <algorithm>

#include <fmt/format.h>
#include <fmt/ranges.h>

namespace firstcrop {
namespace {

constexpr double kSmallestSpanK = 15;

Place argument(const std::string& option) {
  return Place{option, 0, 0, 1, {}};
}

std::vector<std::string> parts_of(const std::string& text) {
  std::vector<std::string> out;
  for (std::size_t start = 0; start <= text.size();) {
    const std::size_t comma = std::min(text.find(',', start), text.size());
    out.push_back(text.substr(start, comma - start));
    start = comma + 1;
  }
  return out;
}

void put(std::vector<SolventId>& solvents, SolventId solvent) {
  if (std::find(solvents.begin(), solvents.end(), solvent) == solvents.end()) solvents.push_back(solvent);
}

void add_named(Shelf& shelf, const std::string& name, const Place& place, const Library& library,
               Findings& findings) {
  const SolventAnswer answer = parse_solvent(name, library);
  if (answer.solvent) {
    put(shelf.solvents, *answer.solvent);
  } else {
    findings.error(place, answer.message, answer.help);
  }
}

Shelf choose_shelf(const SoluteFile& file, const AimOptions& options, const Library& library,
                   Findings& findings) {
  Shelf shelf;
  if (!options.shelf_file.empty()) {
    shelf.name = options.shelf.value_or("own shelf");
    for (const WrittenWord& name : options.shelf_file) {
      add_named(shelf, name.text, name.place, library, findings);
    }
  } else if (options.shelf) {
    if (auto named = library.shelf(*options.shelf)) {
      shelf = std::move(*named);
    } else {
      shelf.name = "own shelf";
      const bool is_list = options.shelf->find(',') != std::string::npos;
      const auto near = nearest_name(*options.shelf, library.shelf_names());
      if (!is_list && near && !library.find(*options.shelf).solvent) {
        findings.error(argument("--shelf"), fmt::format("there is no shelf `{}`", *options.shelf),
                       fmt::format("did you mean `{}`?", *near));
      } else {
        for (const std::string& name : parts_of(*options.shelf)) {
          add_named(shelf, name, argument("--shelf"), library, findings);
        }
      }
    }
  } else if (!file.aim.shelf.empty()) {
    shelf.name = "shelf of the solute file";
    if (file.aim.shelf.size() == 1) {
      if (auto named = library.shelf(file.aim.shelf.front().text)) return *named;
    }
    for (const WrittenWord& word : file.aim.shelf) add_named(shelf, word.text, word.place, library, findings);
  } else {
    shelf = library.shelf(library.default_shelf_name()).value_or(Shelf{});
  }
  return shelf;
}

// Where the bath or the heating limit was stated; the defaults alone leave span enough.
Place place_of_span(const WrittenAim& aim, const AimOptions& options) {
  if (options.bath_temperature_k) return argument("--bath");
  if (aim.bath_temperature) return aim.bath_temperature_place;
  return options.heating_limit_k ? argument("--heating-limit") : aim.heating_limit_place;
}

template <typename Value>
void take(Value& target, const std::optional<Value>& from_file,
          const std::optional<Value>& from_options = {}) {
  if (from_file) target = *from_file;
  if (from_options) target = *from_options;
}

std::optional<double> middle(const std::optional<WrittenQuantity>& written) {
  if (!written) return std::nullopt;
  return written->middle();
}

}  // namespace

Aim make_aim(const SoluteFile& file, const AimOptions& options, const Library& library, Findings& findings) {
  Aim aim;
  aim.shelf = choose_shelf(file, options, library, findings);
  // Solvents of a person's own file stand on every shelf that is not spelled out.
  for (std::size_t i = 0; i < library.solvents().size(); ++i) {
    const bool spelled_out = aim.shelf.name == "own shelf" || aim.shelf.name == "shelf of the solute file";
    if (library.solvents()[i].from_user && !spelled_out) put(aim.shelf.solvents, SolventId{i});
  }
  for (const std::string& name : options.without) {
    const SolventAnswer answer = parse_solvent(name, library);
    if (!answer.solvent) {
      findings.error(argument("--without"), answer.message, answer.help);
      continue;
    }
    std::erase(aim.shelf.solvents, *answer.solvent);
  }
  if (aim.shelf.solvents.empty() && !findings.has_errors()) {
    findings.error(argument("--shelf"), "no solvent is left on the shelf", "name at least one solvent");
  }
  take(aim.want, file.aim.want, options.want);
  take(aim.heating_limit_k, middle(file.aim.heating_limit), options.heating_limit_k);
  take(aim.bath_temperature_k, middle(file.aim.bath_temperature), options.bath_temperature_k);
  take(aim.room_temperature_k, middle(file.aim.room_temperature));
  take(aim.altitude_m, middle(file.aim.altitude), options.altitude_m);
  take(aim.open_flame, file.aim.open_flame);
  take(aim.heating, file.aim.heating);
  for (const WrittenWord& word : file.aim.ban) aim.ban.push_back(word.text);
  take(aim.ingested, file.aim.ingested);
  take(aim.hot_time_min, middle(file.aim.hot_time));
  take(aim.peroxide_test, file.aim.peroxide_test);
  take(aim.light, file.aim.light);
  aim.mass_given = file.crude_mass.has_value() || options.mass_mg.has_value();
  take(aim.mass_mg, middle(file.crude_mass), options.mass_mg);
  for (const auto& [name, state] : file.aim.bottle) {
    const SolventAnswer answer = parse_solvent(name, library);
    if (answer.solvent) {
      aim.bottle[library.solvent(*answer.solvent).id] = state.text;
    } else {
      findings.error(state.place, answer.message, answer.help);
    }
  }
  if (aim.bath_temperature_k > aim.heating_limit_k - kSmallestSpanK) {
    findings.error(place_of_span(file.aim, options), "the bath is not 15 K colder than the heating limit",
                   "cooling must have a span to work with: raise the limit or cool further");
  }
  return aim;
}

}  // namespace firstcrop
