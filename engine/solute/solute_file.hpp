#pragma once

#include <functional>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "base/finding.hpp"
#include "input/yaml_reader.hpp"
#include "quantity/quantity.hpp"
#include "structure/groups.hpp"
#include "structure/molecule.hpp"

namespace firstcrop {

/// A word that a person wrote and that is understood later, with its place.
struct WrittenWord {
  std::string text;
  Place place;
};

/// A temperature that may also be stated as absent (`decomposes_at: none-known`).
struct StatedTemperature {
  bool none_known = false;
  std::optional<WrittenQuantity> temperature;  ///< [K]
};

struct WrittenImpurity {
  std::string name;
  std::optional<Molecule> molecule;
  std::optional<WrittenQuantity> share;  ///< of the crude, 0 to 1
  Place place;
};

/// `known`: a solubility, or a wet melting point, from print or from the balance.
struct StatedValue {
  WrittenWord system;
  std::optional<WrittenQuantity> at;          ///< [K]
  std::optional<WrittenQuantity> solubility;  ///< [mg/mL] or [mmol/mL]
  bool per_solution = false;
  std::optional<double> spread;                      ///< relative standard deviation
  std::optional<WrittenQuantity> wet_melting_point;  ///< [K]
  std::string source;
  Place place;
};

enum class PublishedOutcome { Works, TooSolubleCold, InsolubleHot, Oils, Reacts };

/// `works`, `too-soluble-cold`, `insoluble-hot`, `oils`, `reacts`.
[[nodiscard]] std::string_view word_of(PublishedOutcome outcome);
/// The outcome of that word.
[[nodiscard]] std::optional<PublishedOutcome> outcome_of(std::string_view word);

struct PublishedSystem {
  WrittenWord system;
  PublishedOutcome outcome = PublishedOutcome::Works;
  std::string source;
};

enum class SeenDissolved { All, Part, None };
enum class SeenOnCooling { Crystals, Powder, Oil, Cloud, Nothing };

/// One test tube as it was seen.
struct Trial {
  std::string tube;
  WrittenWord system;
  std::optional<WrittenQuantity> mass;    ///< [mg]
  std::optional<WrittenQuantity> volume;  ///< [mL] at room temperature
  std::optional<SeenDissolved> cold;
  std::optional<SeenDissolved> hot;
  std::optional<WrittenQuantity> hot_at;  ///< [K]; absent means at the boil
  std::optional<SeenOnCooling> cooled;
  std::optional<WrittenQuantity> cooled_to;  ///< [K]; absent means the bath
  bool doubtful = false;
  Place place;
};

/// What the person wants and has. Absent means the default.
struct WrittenAim {
  std::optional<std::string> want;  ///< purity, yield, large-crystals
  std::vector<WrittenWord> shelf;
  std::optional<WrittenQuantity> heating_limit;     ///< [K]
  std::optional<WrittenQuantity> bath_temperature;  ///< [K]
  std::optional<WrittenQuantity> room_temperature;  ///< [K]
  std::optional<WrittenQuantity> altitude;          ///< [m]
  std::optional<bool> open_flame;
  std::optional<std::string> heating;
  std::vector<WrittenWord> ban;
  std::optional<bool> ingested;
  std::map<std::string, WrittenWord>
      bottle;  ///< solvent name -> fresh, dated, old, crystals, ethanol-stabilised ...
  std::optional<WrittenQuantity> hot_time;  ///< [min]
  std::optional<std::string> peroxide_test;
  std::optional<bool> light;
  Place heating_limit_place;     ///< of its value, where there is one
  Place bath_temperature_place;  ///< likewise
};

/// A solute file, read and checked by itself; names of solvents are looked up later.
struct SoluteFile {
  std::string path;
  std::string name;
  std::optional<Molecule> molecule;
  std::string smiles;
  std::vector<std::string> groups;  ///< tokens as typed, parents added
  bool groups_stated = false;
  std::optional<WrittenQuantity> molar_mass;           ///< [g/mol]
  std::optional<std::string> form;                     ///< neutral, salt, hydrate, solvate
  std::optional<WrittenQuantity> melting_point;        ///< [K]
  Place melting_point_place;
  std::optional<WrittenQuantity> crude_melting_range;  ///< [K]
  StatedTemperature decomposes_at;
  std::optional<std::string> crude_colour, pure_colour;
  std::vector<std::string> contains;
  std::optional<bool> energetic;
  std::optional<WrittenQuantity> crude_mass;  ///< [mg]
  std::optional<WrittenQuantity> insoluble;   ///< share
  std::optional<WrittenQuantity> moisture;    ///< share
  std::vector<WrittenImpurity> impurities;
  std::vector<StatedValue> known;
  std::vector<PublishedSystem> published;
  std::vector<Trial> trials;
  WrittenAim aim;
};

/// What is wrong with a name that a person wrote.
struct NameFault {
  std::string message;
  std::string help;
};
/// Looks a name up; nothing where it is known.
using NameCheck = std::function<std::optional<NameFault>(const std::string&)>;

/// Words that a solute file may use beyond its keys; they come from the library. A check that is absent passes
/// every name.
struct SoluteVocabulary {
  const GroupCatalogue* groups = nullptr;
  std::vector<std::string> residues;   ///< for `contains`
  std::vector<std::string> ban_words;  ///< solvent classes, and carcinogenic, mutagenic, reprotoxic
  NameCheck solvent = {};              ///< of a solvent
  NameCheck shelf = {};                ///< of a shelf or a solvent
  NameCheck system = {};               ///< of a solvent or a pair of two, with or without its ratio
  NameCheck measured_system = {};      ///< the same, a pair with its ratio
};

/// Reads and checks the text of a solute file. Nothing where any error was found.
[[nodiscard]] std::optional<SoluteFile> read_solute_file(const std::string& path, std::string text,
                                                         const SoluteVocabulary& vocabulary,
                                                         Findings& findings);

}  // namespace firstcrop
