#pragma once

#include <optional>
#include <string>

#include "quantity/quantity.hpp"
#include "systems/knowledge_base.hpp"
#include "systems/system.hpp"

namespace firstcrop {

/// A temperature of a system with what it rests on [K].
struct SystemTemperature {
  double temperature_k = 0;
  Origin origin = Origin::Calculated;
  std::string source;
};

/// Boiling point at a pressure [kPa]: of a single from its vapour pressure, of a pair from activity
/// coefficients at its composition but never below a listed minimum azeotrope, or the lower boiling point of
/// the two where that cannot be calculated (assumed).
[[nodiscard]] SystemTemperature boiling_point_of(const System& system, double pressure_kpa,
                                                 const KnowledgeBase& knowledge);

/// Temperature of the minimum-boiling azeotrope that the library lists for a pair, at a pressure [kPa]: no mixture
/// boils lower, whatever is calculated. Nothing where none is listed.
[[nodiscard]] std::optional<double> listed_minimum_k(const System& pair, double pressure_kpa,
                                                     const KnowledgeBase& knowledge);

/// Lowest boiling point of two solvents and all their mixtures at a pressure [kPa]: at the listed minimum azeotrope,
/// else along the calculated curve by tenths of volume and at the calculated azeotrope. The lower of the two alone
/// where nothing is calculated (assumed).
[[nodiscard]] SystemTemperature lowest_boiling_of_mixtures(const System& pair, double pressure_kpa,
                                                           const KnowledgeBase& knowledge);

/// The lower boiling point of the two at a pressure [kPa], without any mixture calculation: what rough
/// choices use.
[[nodiscard]] double lowest_boiling_point_k(const System& system, double pressure_kpa,
                                            const KnowledgeBase& knowledge);

/// Temperature below which crystals of solvent may form; nothing where it is unknown. Of a pair: the freezing
/// curve of an ideal mixture with an assumed entropy of fusion, so a rough value, marked assumed.
[[nodiscard]] std::optional<SystemTemperature> freezing_point_of(const System& system,
                                                                 const KnowledgeBase& knowledge);

/// Flash point: of a pair calculated (Liaw et al. 2004) or, where that fails, the lower one of the two.
/// Nothing where none of the solvents has one.
[[nodiscard]] std::optional<SystemTemperature> flash_point_of(const System& system,
                                                              const KnowledgeBase& knowledge);

/// Chance that a pair is one liquid at its composition at a temperature, and what that rests on.
struct PhaseAnswer {
  double one_liquid = 1;
  std::string evidence;                ///< published, calculated, class
  Origin origin = Origin::Calculated;  ///< assumed where like pairs of the same classes are all there is
  std::string source;
};
/// Nothing where neither a record nor a calculation exists.
[[nodiscard]] std::optional<PhaseAnswer> phases_of(const System& pair, double temperature_k,
                                                   const KnowledgeBase& knowledge);

/// The same for every composition at once: the chance that the two mix in all proportions.
[[nodiscard]] std::optional<PhaseAnswer> phases_everywhere(const System& pair, double temperature_k,
                                                           const KnowledgeBase& knowledge);

}  // namespace firstcrop
