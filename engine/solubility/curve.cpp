#include "solubility/curve.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/error.hpp"

namespace firstcrop {

double tau(double temperature_k) {
  return (1.0 / kReferenceTemperatureK - 1.0 / temperature_k) / (kGasConstantKjMolK * std::numbers::ln10);
}

double log10_molar_of_melt(double molar_mass_g_mol) {
  return std::log10(kSoluteDensityMgMl / molar_mass_g_mol);
}

double log10_molar_at(double level, double enthalpy_kj_mol, double temperature_k, double molar_mass_g_mol) {
  return std::min(level + enthalpy_kj_mol * tau(temperature_k), log10_molar_of_melt(molar_mass_g_mol));
}

double log10_molar_from_per_solvent(double mg_per_ml_solvent, double molar_mass_g_mol) {
  return std::log10(per_solution_from_per_solvent(mg_per_ml_solvent) / molar_mass_g_mol);
}

double per_solvent_from_log10_molar(double log10_molar, double molar_mass_g_mol) {
  const auto exact =
      per_solvent_from_per_solution(per_solution_from_log10_molar(log10_molar, molar_mass_g_mol));
  return exact ? std::min(*exact, kLargestPerSolventMgMl) : kLargestPerSolventMgMl;
}

double log10_molar_from_per_solution(double mg_per_ml_solution, double molar_mass_g_mol) {
  return std::log10(mg_per_ml_solution / molar_mass_g_mol);
}

double per_solution_from_log10_molar(double log10_molar, double molar_mass_g_mol) {
  return std::min(std::pow(10.0, log10_molar) * molar_mass_g_mol, kSoluteDensityMgMl);
}

std::optional<double> per_solvent_from_per_solution(double mg_per_ml_solution) {
  const double solvent_share = 1.0 - mg_per_ml_solution / kSoluteDensityMgMl;
  if (!(solvent_share > 0)) return std::nullopt;
  return mg_per_ml_solution / solvent_share;
}

double per_solution_from_per_solvent(double mg_per_ml_solvent) {
  return mg_per_ml_solvent / (1.0 + mg_per_ml_solvent / kSoluteDensityMgMl);
}

double log10_molar_from_mole_fraction(double mole_fraction, double molar_mass_g_mol,
                                      double solvent_molar_volume_ml_mol) {
  const double solute_volume_ml_mol = 1000.0 * molar_mass_g_mol / kSoluteDensityMgMl;
  const double volume_ml =
      mole_fraction * solute_volume_ml_mol + (1.0 - mole_fraction) * solvent_molar_volume_ml_mol;
  return std::log10(1000.0 * mole_fraction / volume_ml);
}

double mole_fraction_from_log10_molar(double log10_molar, double molar_mass_g_mol,
                                      double solvent_molar_volume_ml_mol) {
  const double solute_mol = std::pow(10.0, log10_molar);
  const double solvent_litres = 1.0 - solute_mol * molar_mass_g_mol / kSoluteDensityMgMl;
  if (!(solvent_litres > 0)) return 1.0;
  return solute_mol / (solute_mol + 1000.0 * solvent_litres / solvent_molar_volume_ml_mol);
}

Moments log10_molar_moments(const SolubilityState& state, std::size_t solvent, double temperature_k) {
  const double mean = state.mean[solvent] + state.mean[state.solvent_count + solvent] * tau(temperature_k);
  const double variance = log10_molar_covariance(state, solvent, temperature_k, solvent, temperature_k);
  return {mean, std::sqrt(std::max(variance, 0.0))};
}

double log10_molar_covariance(const SolubilityState& state, std::size_t first, double first_temperature_k,
                              std::size_t second, double second_temperature_k) {
  const std::size_t count = state.solvent_count;
  const double first_tau = tau(first_temperature_k);
  const double second_tau = tau(second_temperature_k);
  const Matrix& p = state.covariance;
  return p(first, second) + second_tau * p(first, count + second) + first_tau * p(count + first, second) +
         first_tau * second_tau * p(count + first, count + second);
}

SolubilityState initial_state(const SolubilityPrior& prior, const EnthalpyModel& enthalpy,
                              double molar_mass_g_mol) {
  const std::size_t count = prior.mean.size();
  if (enthalpy.solvent_terms.size() != count || prior.covariance.rows != count ||
      prior.covariance.columns != count)
    throw Error("the solubility model and its enthalpy rule speak of different solvents");

  SolubilityState state;
  state.solvent_count = count;
  state.molar_mass_g_mol = molar_mass_g_mol;
  state.laboratory_sd = kLaboratorySd;
  state.mean = prior.mean;
  state.mean.resize(2 * count);
  state.enthalpy_per_level.resize(count);
  state.covariance = Matrix(2 * count, 2 * count);

  Matrix levels = prior.covariance;
  for (std::size_t i = 0; i < count; ++i) levels(i, i) += kLaboratorySd * kLaboratorySd;

  for (std::size_t i = 0; i < count; ++i) {
    const double sd = std::sqrt(levels(i, i));
    const auto rule = [&](double level) {
      return enthalpy_kj_mol(enthalpy, i, level, prior.melting_point_k, molar_mass_g_mol);
    };
    const double above = rule(prior.mean[i] + sd);
    const double below = rule(prior.mean[i] - sd);
    state.mean[count + i] = (above + below) / 2.0;
    state.enthalpy_per_level[i] = (above - below) / (2.0 * sd);
  }

  const double shared = enthalpy.shared_sd * enthalpy.shared_sd;
  const double own = enthalpy.own_sd * enthalpy.own_sd;
  Matrix& p = state.covariance;
  for (std::size_t i = 0; i < count; ++i) {
    const double slope_i = state.enthalpy_per_level[i];
    for (std::size_t j = 0; j < count; ++j) {
      const double slope_j = state.enthalpy_per_level[j];
      const double k = levels(i, j);
      p(i, j) = k;
      p(i, count + j) = k * slope_j;
      p(count + i, j) = slope_i * k;
      p(count + i, count + j) = slope_i * k * slope_j + shared + (i == j ? own : 0.0);
    }
  }
  return state;
}

SolubilityState with_measured_enthalpies(const SolubilityState& state,
                                         const std::vector<MeasuredEnthalpy>& measured) {
  SolubilityState result = state;
  const std::size_t count = state.solvent_count;
  const std::size_t size = 2 * count;
  std::vector<double> shared_with(size);
  for (const MeasuredEnthalpy& one : measured) {
    if (one.solvent >= count || !(one.sd_kj_mol > 0))
      throw Error("a measured enthalpy is out of the range of the state");
    const std::size_t index = count + one.solvent;
    for (std::size_t i = 0; i < size; ++i) shared_with[i] = result.covariance(i, index);
    // The curve was measured elsewhere: it knows nothing of what the own laboratory's scatter adds here.
    // Because it does not, that scatter is still whole when the next curve is taken in.
    const double slope = state.enthalpy_per_level[one.solvent];
    const double scatter = state.laboratory_sd * state.laboratory_sd;
    shared_with[one.solvent] -= scatter * slope;
    shared_with[index] -= scatter * slope * slope;

    const double variance = shared_with[index] + one.sd_kj_mol * one.sd_kj_mol;
    const double surprise = (one.enthalpy_kj_mol - result.mean[index]) / variance;
    for (std::size_t i = 0; i < size; ++i) result.mean[i] += shared_with[i] * surprise;
    for (std::size_t i = 0; i < size; ++i) {
      const double gain = shared_with[i] / variance;
      for (std::size_t j = 0; j < size; ++j) result.covariance(i, j) -= gain * shared_with[j];
    }
  }
  return result;
}

}  // namespace firstcrop
