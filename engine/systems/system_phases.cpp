#include "systems/system_phases.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace firstcrop {
namespace {

constexpr double kGasConstantJMolK = 8.314462;
// Entropy of fusion of a small solvent molecule. Assumed: benzene has 35, acetic acid 40 J/(mol K); molecules
// that turn in the crystal have less, and freeze less deep.
constexpr double kFusionEntropyJMolK = 35;
constexpr double kWaterFusionEntropyJMolK = 22;

std::array<double, 2> volume_fractions_of(const System& pair) {
  return {pair.first_fraction, 1 - pair.first_fraction};
}

double boiling_point_at(SolventId solvent, double pressure_kpa, const KnowledgeBase& knowledge) {
  // Without an Antoine equation the listed boiling point stands for any pressure.
  return knowledge.phase.boiling_temperature_k(solvent, pressure_kpa)
      .value_or(knowledge.library.solvent(solvent).boiling_point_k->value);
}

// Ideal freezing curve of one component of a mixture (van 't Hoff 1886): ln x = -(dS/R)(Tf/T - 1).
double freezing_point_in_mixture(double freezing_point_k, double mole_fraction, bool is_water) {
  const double entropy = is_water ? kWaterFusionEntropyJMolK : kFusionEntropyJMolK;
  return freezing_point_k / (1 - kGasConstantJMolK / entropy * std::log(mole_fraction));
}

// A record that the model carried to another temperature is a calculation as soon as the answer is in doubt.
constexpr double kInDoubt = 0.05;

// Records of miscibility hold near the temperature of a room.
constexpr double kRecordReachK = 15;
constexpr double kRecordTemperatureK = 298.15;

PhaseAnswer answer_for(const OneLiquid& one, const System& pair, double temperature_k,
                       const KnowledgeBase& knowledge) {
  PhaseAnswer out;
  const MiscibilityRecord* record = knowledge.library.miscibility(pair.solvents[0], pair.solvents[1]);
  // What parts at 25 °C may be one liquid hot.
  const bool parted_colder = record != nullptr && record->miscibility != MiscibilityClass::Miscible &&
                             temperature_k > kRecordTemperatureK + kRecordReachK;
  out.one_liquid = one.chance;
  const bool is_in_doubt = std::min(one.chance, 1 - one.chance) > kInDoubt;
  if (one.basis == PhaseBasis::Class) {
    out.evidence = "class";
    out.origin = Origin::Assumed;
    out.source = "like pairs of the same classes";
  } else if (one.basis == PhaseBasis::Model) {
    out.evidence = "calculated";
    out.source = "modified UNIFAC (Dortmund)";
  } else if (one.basis == PhaseBasis::Record && parted_colder) {
    out.evidence = "not known";
    out.origin = Origin::Assumed;
    out.source = "two liquids at 25 °C; nothing is known of hot";
  } else if (one.basis == PhaseBasis::RecordAndModel && (is_in_doubt || parted_colder)) {
    out.evidence = "calculated";
    out.source = "published at 25 °C, carried by modified UNIFAC";
  } else {
    out.evidence = "published";
    out.origin = Origin::Published;
  }
  if (record != nullptr && out.source.empty()) out.source = knowledge.library.source_text(record->source);
  return out;
}

}  // namespace

double lowest_boiling_point_k(const System& system, double pressure_kpa, const KnowledgeBase& knowledge) {
  double out = boiling_point_at(system.solvents[0], pressure_kpa, knowledge);
  if (system.is_pair()) out = std::min(out, boiling_point_at(system.solvents[1], pressure_kpa, knowledge));
  return out;
}

std::optional<double> listed_minimum_k(const System& pair, double pressure_kpa, const KnowledgeBase& knowledge) {
  const AzeotropeRecord* record = knowledge.library.azeotrope(pair.solvents[0], pair.solvents[1]);
  if (record == nullptr || record->kind == "maximum") return std::nullopt;
  const auto azeotrope = knowledge.phase.azeotrope(pair.solvents[0], pair.solvents[1], pressure_kpa);
  return azeotrope ? std::optional(azeotrope->temperature_k) : std::nullopt;
}

SystemTemperature boiling_point_of(const System& system, double pressure_kpa,
                                   const KnowledgeBase& knowledge) {
  if (!system.is_pair()) {
    const Solvent& solvent = knowledge.library.solvent(system.solvents[0]);
    const bool is_normal = pressure_kpa == kStandardPressureKpa;
    return {boiling_point_at(system.solvents[0], pressure_kpa, knowledge),
            is_normal ? Origin::Published : Origin::Calculated,
            knowledge.library.source_text(solvent.boiling_point_k->source)};
  }
  const auto liquid = knowledge.phase.boiling_liquid(system.solvents);
  const auto fractions = knowledge.phase.mole_fractions(system.solvents, volume_fractions_of(system));
  if (liquid && fractions) {
    const BubblePoint point = liquid->boiling_point((*fractions)[0], pressure_kpa);
    if (point.status == BoilingStatus::Calculated && point.temperature_k) {
      const double least = listed_minimum_k(system, pressure_kpa, knowledge).value_or(0);
      return {std::max(*point.temperature_k, least), Origin::Calculated,
              "modified UNIFAC (Dortmund) and vapour pressures"};
    }
  }
  return {lowest_boiling_point_k(system, pressure_kpa, knowledge), Origin::Assumed,
          "the lower boiling point of the two; the mixture was not calculated"};
}

SystemTemperature lowest_boiling_of_mixtures(const System& pair, double pressure_kpa,
                                             const KnowledgeBase& knowledge) {
  SystemTemperature out{lowest_boiling_point_k(pair, pressure_kpa, knowledge), Origin::Assumed,
                        "the lower boiling point of the two; the mixtures were not calculated"};
  if (const auto listed = listed_minimum_k(pair, pressure_kpa, knowledge)) {
    const AzeotropeRecord& record = *knowledge.library.azeotrope(pair.solvents[0], pair.solvents[1]);
    return {std::min(out.temperature_k, *listed), Origin::Published, knowledge.library.source_text(record.source)};
  }
  std::vector<double> fractions;
  for (int step = 1; step < 10; ++step) fractions.push_back(step / 10.0);
  for (const MixtureBoiling& at :
       knowledge.phase.boiling_curve(pair.solvents[0], pair.solvents[1], fractions, pressure_kpa)) {
    if (at.point.status != BoilingStatus::Calculated || !at.point.temperature_k) continue;
    out.origin = Origin::Calculated;
    out.source = "modified UNIFAC (Dortmund) and vapour pressures";
    out.temperature_k = std::min(out.temperature_k, *at.point.temperature_k);
  }
  const auto azeotrope = knowledge.phase.azeotrope(pair.solvents[0], pair.solvents[1], pressure_kpa);
  if (azeotrope && !azeotrope->maximum && azeotrope->temperature_k < out.temperature_k) {
    out.temperature_k = azeotrope->temperature_k;
    out.origin = Origin::Calculated;
  }
  return out;
}

std::optional<SystemTemperature> freezing_point_of(const System& system, const KnowledgeBase& knowledge) {
  const Library& library = knowledge.library;
  const Solvent& first = library.solvent(system.solvents[0]);
  if (!first.freezing_point_k) return std::nullopt;
  if (!system.is_pair()) {
    return SystemTemperature{first.freezing_point_k->value, Origin::Published,
                             library.source_text(first.freezing_point_k->source)};
  }
  const Solvent& second = library.solvent(system.solvents[1]);
  const auto fractions = knowledge.phase.mole_fractions(system.solvents, volume_fractions_of(system));
  if (!second.freezing_point_k || !fractions) return std::nullopt;
  const double temperature = std::max(
      freezing_point_in_mixture(first.freezing_point_k->value, (*fractions)[0], first.id == "water"),
      freezing_point_in_mixture(second.freezing_point_k->value, (*fractions)[1], second.id == "water"));
  return SystemTemperature{temperature, Origin::Assumed, "freezing curve of an ideal mixture"};
}

std::optional<SystemTemperature> flash_point_of(const System& system, const KnowledgeBase& knowledge) {
  const Library& library = knowledge.library;
  std::optional<double> lowest;
  for (const SolventId solvent : system.solvents) {
    const SafetyNumber& flash = library.solvent(solvent).flash_point_k;
    if (flash.knowledge == Knowledge::Value) lowest = std::min(lowest.value_or(flash.value), flash.value);
  }
  if (!lowest) return std::nullopt;
  if (!system.is_pair()) {
    return SystemTemperature{*lowest, Origin::Published,
                             library.source_text(library.solvent(system.solvents[0]).flash_point_k.source)};
  }
  const auto point = knowledge.phase.flash_point(system.solvents, volume_fractions_of(system));
  if (point && point->status == FlashStatus::Calculated && point->temperature_k) {
    return SystemTemperature{*point->temperature_k, Origin::Calculated,
                             "Liaw et al., Combust. Flame 2004, 138, 308"};
  }
  return SystemTemperature{*lowest, Origin::Assumed, "the lower flash point of the two"};
}

std::optional<PhaseAnswer> phases_of(const System& pair, double temperature_k,
                                     const KnowledgeBase& knowledge) {
  const auto one =
      knowledge.phase.one_liquid_at(pair.solvents[0], pair.solvents[1], temperature_k, pair.first_fraction);
  if (!one) return std::nullopt;
  return answer_for(*one, pair, temperature_k, knowledge);
}

std::optional<PhaseAnswer> phases_everywhere(const System& pair, double temperature_k,
                                             const KnowledgeBase& knowledge) {
  const auto one = knowledge.phase.one_liquid(pair.solvents[0], pair.solvents[1], temperature_k);
  if (!one) return std::nullopt;
  return answer_for(*one, pair, temperature_k, knowledge);
}

}  // namespace firstcrop
