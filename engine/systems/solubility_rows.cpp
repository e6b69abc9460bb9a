#include "systems/solubility_rows.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "solubility/mixture.hpp"
#include "systems/reactions.hpp"
#include "systems/system_phases.hpp"
#include "systems/system_solubility.hpp"

namespace firstcrop {
namespace {

// Half of the cloud points that were looked at lie within a factor of two of the rule, so its error has this
// standard deviation [log10].
constexpr double kCloudVolumeSd = 0.45;
// Of the hot solution in the better solvent.
constexpr double kSaturation = 0.8;
// A straight line of log10 S against 1/T is told without a word this far beyond its last point.
constexpr double kExtrapolationK = 10;
constexpr double kZeroCelsiusK = 273.15;

// Moments of log10 mol/L without the scatter of the own laboratory.
std::optional<Moments> log10_molar_of(const Inquiry& inquiry, const System& system, double temperature_k) {
  const SolubilityState& state = inquiry.posterior.without_scatter;
  const double molar_mass = inquiry.solute.molar_mass.value;
  const double melt = log10_molar_of_melt(molar_mass);
  std::array<Moments, 2> ends{};
  std::array<double, 2> volume{};
  std::array<std::size_t, 2> index{};
  for (std::size_t i = 0; i < system.solvents.size(); ++i) {
    const auto found = inquiry.knowledge->in_model(system.solvents[i]);
    const auto record = inquiry.knowledge->molar_volume_ml_mol(system.solvents[i]);
    if (!found || !record) return std::nullopt;
    index[i] = *found;
    volume[i] = *record;
    ends[i] = log10_molar_moments(state, *found, temperature_k);
    ends[i].mean = std::min(ends[i].mean, melt);
  }
  if (!system.is_pair()) return ends[0];
  const MixtureEnds mixture{
      std::log10(mole_fraction_from_log10_molar(ends[0].mean, molar_mass, volume[0])),
      std::log10(mole_fraction_from_log10_molar(ends[1].mean, molar_mass, volume[1])), volume[0], volume[1],
      molar_mass};
  const double covariance =
      log10_molar_covariance(state, index[0], temperature_k, index[1], temperature_k);
  const double product = ends[0].sd * ends[1].sd;
  const double correlation = product > 0 ? std::clamp(covariance / product, -1.0, 1.0) : 0.0;
  const double fraction = system.first_fraction;
  const double mole_fraction = std::min(std::pow(10.0, mixed_log10_mole_fraction(mixture, fraction)), 1.0);
  return Moments{log10_molar_from_mole_fraction(mole_fraction, molar_mass,
                                                mixed_molar_volume_ml_mol(volume[0], volume[1], fraction)),
                 mixed_sd(mixture, fraction, ends[0].sd, ends[1].sd, correlation)};
}

// Highest temperature of the curves of our tables in a single solvent; nothing where there are none.
std::optional<double> hottest_measured_k(const Inquiry& inquiry, const System& system) {
  std::optional<double> out;
  if (!inquiry.known || system.is_pair()) return out;
  const std::string& id = inquiry.knowledge->library.solvent(system.solvents[0]).id;
  for (const MeasuredCurve& curve : inquiry.known->curves) {
    if (curve.solvent == id && curve.doubt.empty() && curve.level) out = std::max(out.value_or(0), curve.hottest_k);
  }
  return out;
}

std::string remark_on(const Inquiry& inquiry, const System& system, double temperature_k) {
  const KnowledgeBase& knowledge = *inquiry.knowledge;
  if (temperature_k > boiling_point_of(system, inquiry.pressure_kpa, knowledge).temperature_k + 0.5)
    return "above its boiling point";
  const auto freezing = freezing_point_of(system, knowledge);
  if (freezing && temperature_k < freezing->temperature_k) return "below its freezing point";
  if (inquiry.melting_point_sd_k == 0 && temperature_k >= inquiry.melting_point_k) return "the solid is molten";
  const auto reacts = [&](const Reaction& reaction) {
    return reaction.severity && (*reaction.severity == ReactionSeverity::Dangerous ||
                                 *reaction.severity == ReactionSeverity::Reacts);
  };
  for (const SolventId solvent : system.solvents) {
    if (reacts(reaction_with_solid(solvent, inquiry.reactions, inquiry.aim, knowledge.library)))
      return "reacts with the solid";
  }
  if (system.is_pair() && reacts(reaction_between(system.solvents[0], system.solvents[1], inquiry.reactions,
                                                  inquiry.aim, knowledge.library))) {
    return "the two solvents react";
  }
  const SystemEvidence* evidence = inquiry.evidence_of(system);
  if (evidence != nullptr && evidence->wet_melting_point_k && temperature_k > *evidence->wet_melting_point_k)
    return "separates as an oil here";
  if (const auto hottest = hottest_measured_k(inquiry, system);
      hottest && temperature_k > *hottest + kExtrapolationK) {
    return fmt::format("measured to {:.0f} °C only", *hottest - kZeroCelsiusK);
  }
  if (system.is_pair()) {
    const auto phases = phases_of(system, temperature_k, knowledge);
    if (phases && phases->one_liquid < 0.5) return "two liquids here";
    if (phases && phases->one_liquid < 0.9) return "perhaps two liquids here";
  }
  return {};
}

}  // namespace

SolubilityRow solubility_at(const Inquiry& inquiry, const System& system, double temperature_k) {
  SolubilityRow row{system, temperature_k, std::nullopt, std::nullopt, {}};
  const auto solubility = SystemSolubility::create(inquiry, system);
  if (!solubility) {
    row.remark = "the model does not know this solvent";
    return row;
  }
  row.solubility = summary(FactValue{solubility->at(NumberColumn::of(temperature_k)),
                                     solubility_origin(inquiry, system), "solubility model"},
                           dimension::kConcentration);
  row.log10_molar = log10_molar_of(inquiry, system, temperature_k);
  row.remark = remark_on(inquiry, system, temperature_k);
  return row;
}

std::optional<Quantity> cloud_volume(const Inquiry& inquiry, const System& pair, double temperature_k) {
  const auto solubility = SystemSolubility::create(inquiry, pair);
  if (!solubility || !pair.is_pair()) return std::nullopt;
  const NumberColumn ratio = solubility->cloud_ratio(temperature_k, kSaturation);
  ScenarioValues spread{};
  const ScenarioValues& score = inquiry.scenarios.cloud_score(pair.solvents[0].index, pair.solvents[1].index);
  for (std::size_t k = 0; k < kScenarioCount; ++k) {
    spread[k] = ratio.at(k) * std::pow(10.0, kCloudVolumeSd * score[k]);
  }
  const int known = std::popcount(ratio.known);
  if (2 * known < static_cast<int>(kScenarioCount)) return std::nullopt;
  return summary(FactValue{NumberColumn::of(spread, ratio.known), Origin::Predicted, "rule of mixing"},
                 dimension::kNumber);
}

std::optional<double> reach(const Inquiry& inquiry) {
  const SolubilityPrior& prior = inquiry.prior;
  if (prior.mode != ModelMode::Structure && prior.mode != ModelMode::Groups) return std::nullopt;
  if (prior.similar.empty()) return 0.0;
  return prior.similar.front().similarity;
}

}  // namespace firstcrop
