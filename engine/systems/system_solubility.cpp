#include "systems/system_solubility.hpp"

#include <algorithm>
#include <cmath>

#include "solubility/mixture.hpp"

namespace firstcrop {
namespace {

// The most that is told: beyond it solute and solvent change places.
double told(double mg_per_ml) {
  return std::clamp(mg_per_ml, 1e-9, kLargestPerSolventMgMl);
}

double posterior_mixture_mean(const Posterior& posterior, std::size_t first, std::size_t second) {
  for (const MixtureTerm& term : posterior.mixture_terms) {
    if ((term.first == first && term.second == second) || (term.first == second && term.second == first))
      return term.mean;
  }
  return 0;
}

double posterior_mixture_sd(const Posterior& posterior, std::size_t first, std::size_t second) {
  for (const MixtureTerm& term : posterior.mixture_terms) {
    if ((term.first == first && term.second == second) || (term.first == second && term.second == first))
      return term.sd;
  }
  return 1;
}

}  // namespace

Origin solubility_origin(const Inquiry& inquiry, const System& system) {
  const SystemEvidence* evidence = inquiry.evidence_of(system);
  if (evidence != nullptr && evidence->is_measured()) return Origin::Measured;
  return inquiry.knowledge->is_borrowed(system.solvents) ? Origin::Assumed : Origin::Predicted;
}

std::optional<SystemSolubility> SystemSolubility::create(const Inquiry& inquiry, const System& system) {
  SystemSolubility out(inquiry, system);
  for (std::size_t i = 0; i < out.part_count_; ++i) {
    const auto index = inquiry.knowledge->in_model(system.solvents[i]);
    const auto volume = inquiry.knowledge->molar_volume_ml_mol(system.solvents[i]);
    if (!index || !volume) return std::nullopt;
    out.model_index_[i] = *index;
    out.molar_volume_[i] = *volume;
  }
  return out;
}

SystemSolubility::SystemSolubility(const Inquiry& inquiry, const System& system)
    : inquiry_(&inquiry), part_count_(system.solvents.size()), first_fraction_(system.first_fraction) {}

double SystemSolubility::molar_volume_ml_mol(double first_fraction) const {
  if (part_count_ == 1) return molar_volume_[0];
  return mixed_molar_volume_ml_mol(molar_volume_[0], molar_volume_[1], first_fraction);
}

double SystemSolubility::central_log10_mole_fraction(std::size_t part, double temperature_k) const {
  const SolubilityState& state = inquiry_->posterior.state;
  const std::size_t index = model_index_[part];
  const double molar_mass = inquiry_->solute.molar_mass.value;
  const double level =
      log10_molar_at(state.mean[index], state.mean[state.solvent_count + index], temperature_k, molar_mass);
  return std::log10(mole_fraction_from_log10_molar(level, molar_mass, molar_volume_[part]));
}

double SystemSolubility::central_at(double temperature_k, double first_fraction) const {
  const double molar_mass = inquiry_->solute.molar_mass.value;
  if (part_count_ == 1) {
    const SolubilityState& state = inquiry_->posterior.state;
    const std::size_t index = model_index_[0];
    return told(per_solvent_from_log10_molar(
        log10_molar_at(state.mean[index], state.mean[state.solvent_count + index], temperature_k, molar_mass),
        molar_mass));
  }
  const MixtureEnds ends{central_log10_mole_fraction(0, temperature_k),
                         central_log10_mole_fraction(1, temperature_k), molar_volume_[0], molar_volume_[1],
                         molar_mass};
  return told(mixed_per_solvent_mg_ml(ends, first_fraction));
}

double SystemSolubility::central_mole_fraction(double first_fraction) const {
  if (part_count_ == 1) return std::pow(10.0, central_log10_mole_fraction(0, kReferenceTemperatureK));
  const MixtureEnds ends{central_log10_mole_fraction(0, kReferenceTemperatureK),
                         central_log10_mole_fraction(1, kReferenceTemperatureK), molar_volume_[0],
                         molar_volume_[1], inquiry_->solute.molar_mass.value};
  return std::min(std::pow(10.0, mixed_log10_mole_fraction(ends, first_fraction)), 1.0);
}

std::array<double, 2> SystemSolubility::levels_in(std::size_t scenario, double temperature_k,
                                                  double molar_mass_g_mol) const {
  const SolubilityScenarios& scenarios = inquiry_->scenarios;
  std::array<double, 2> out{};
  for (std::size_t i = 0; i < part_count_; ++i) {
    out[i] = log10_molar_at(scenarios.levels[model_index_[i]][scenario],
                            scenarios.enthalpies[model_index_[i]][scenario], temperature_k, molar_mass_g_mol);
  }
  return out;
}

MixtureEnds SystemSolubility::ends_of(const std::array<double, 2>& level, double molar_mass_g_mol) const {
  return {std::log10(mole_fraction_from_log10_molar(level[0], molar_mass_g_mol, molar_volume_[0])),
          std::log10(mole_fraction_from_log10_molar(level[1], molar_mass_g_mol, molar_volume_[1])),
          molar_volume_[0], molar_volume_[1], molar_mass_g_mol};
}

NumberColumn SystemSolubility::cloud_ratio(double temperature_k, double saturation) const {
  ScenarioValues out{};
  std::uint64_t known = 0;
  for (std::size_t k = 0; k < kScenarioCount && part_count_ == 2; ++k) {
    const double molar_mass =
        inquiry_->solute.molar_mass.value * inquiry_->scenarios.molar_mass_factor[k];
    const auto ratio =
        cloud_volume_ratio(ends_of(levels_in(k, temperature_k, molar_mass), molar_mass), saturation);
    if (!ratio) continue;
    out[k] = *ratio;
    known |= std::uint64_t{1} << k;
  }
  return NumberColumn::of(out, known);
}

NumberColumn SystemSolubility::at(const NumberColumn& temperature_k) const {
  const SolubilityScenarios& scenarios = inquiry_->scenarios;
  const double mean_molar_mass = inquiry_->solute.molar_mass.value;
  ScenarioValues out{};
  // For a pair the error of the mixing rule is shared by all temperatures and ratios, as the errors of its
  // ends are.
  double mixture_mean = 0;
  double mixture_sd = 1;
  const ScenarioValues* mixture_score = nullptr;
  if (part_count_ == 2) {
    mixture_mean = posterior_mixture_mean(inquiry_->posterior, model_index_[0], model_index_[1]);
    mixture_sd = posterior_mixture_sd(inquiry_->posterior, model_index_[0], model_index_[1]);
    mixture_score = &scenarios.pair_score(model_index_[0], model_index_[1]);
  }
  for (std::size_t k = 0; k < kScenarioCount; ++k) {
    const double temperature = temperature_k.at(k);
    if ((temperature_k.known >> k & 1U) == 0U || !(temperature > 0)) continue;
    const double molar_mass = mean_molar_mass * scenarios.molar_mass_factor[k];
    const std::array<double, 2> level = levels_in(k, temperature, molar_mass);
    if (part_count_ == 1) {
      out[k] = told(per_solvent_from_log10_molar(level[0], molar_mass));
      continue;
    }
    const MixtureEnds ends = ends_of(level, molar_mass);
    const double error =
        mixing_rule_sd(contrast(ends), first_fraction_) * (mixture_mean + mixture_sd * (*mixture_score)[k]);
    out[k] = told(mixed_per_solvent_mg_ml(ends, first_fraction_) * std::pow(10.0, error));
  }
  return NumberColumn::of(out, temperature_k.known);
}

std::optional<Moments> impurity_log10_solubility(const ImpurityPrediction& impurity, const System& system,
                                                 double temperature_k, const KnowledgeBase& knowledge) {
  std::array<double, 2> level{};
  std::array<double, 2> sd{};
  std::array<double, 2> volume{};
  for (std::size_t i = 0; i < system.solvents.size(); ++i) {
    const auto index = knowledge.in_model(system.solvents[i]);
    const auto molar_volume = knowledge.molar_volume_ml_mol(system.solvents[i]);
    if (!index || !molar_volume) return std::nullopt;
    const Moments moments = log10_molar_moments(impurity.state, *index, temperature_k);
    level[i] = std::min(moments.mean, log10_molar_of_melt(impurity.molar_mass_g_mol) - 1e-6);
    sd[i] = moments.sd;
    volume[i] = *molar_volume;
  }
  if (!system.is_pair()) {
    return Moments{std::log10(told(per_solvent_from_log10_molar(level[0], impurity.molar_mass_g_mol))),
                   sd[0]};
  }
  const MixtureEnds ends{
      std::log10(mole_fraction_from_log10_molar(level[0], impurity.molar_mass_g_mol, volume[0])),
      std::log10(mole_fraction_from_log10_molar(level[1], impurity.molar_mass_g_mol, volume[1])), volume[0],
      volume[1], impurity.molar_mass_g_mol};
  return Moments{std::log10(told(mixed_per_solvent_mg_ml(ends, system.first_fraction))),
                 mixed_sd(ends, system.first_fraction, sd[0], sd[1], 0.5)};
}

}  // namespace firstcrop
