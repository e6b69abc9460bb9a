#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "solubility/enthalpy.hpp"
#include "solubility/state.hpp"

namespace firstcrop {

/// Temperature of the levels [K].
inline constexpr double kReferenceTemperatureK = 298.15;
/// Gas constant [kJ/(mol K)].
inline constexpr double kGasConstantKjMolK = 8.314462e-3;
/// Density taken for every molten or dissolved solute [mg/mL]. Assumed: most organic solids lie between 1100
/// and 1400.
inline constexpr double kSoluteDensityMgMl = 1270.0;
/// Scatter of one laboratory's solubility of one solid in one solvent [log10]; median of repeated
/// measurements.
inline constexpr double kLaboratorySd = 0.16;
/// Largest solubility that is told per mL of solvent [mg/mL]; beyond it the words solute and solvent change
/// places.
inline constexpr double kLargestPerSolventMgMl = 1500.0;

/// (1/T0 - 1/T)/(R ln 10) [log10 unit per kJ/mol] with T0 = 298.15 K: how far one kJ/mol lifts log10 S. Any T
/// > 0.
[[nodiscard]] double tau(double temperature_k);

/// log10 of the molar concentration of the pure melt [mol/L]: no solution holds more.
[[nodiscard]] double log10_molar_of_melt(double molar_mass_g_mol);

/// log10 S [mol per litre of solution] at a temperature: min(level + enthalpy tau, pure melt); the line of
/// van 't Hoff (1886) through the level at 298.15 K.
[[nodiscard]] double log10_molar_at(double level, double enthalpy_kj_mol, double temperature_k,
                                    double molar_mass_g_mol);

/// log10 [mol per litre of solution] of `mg_per_ml_solvent` mg in each mL of solvent: volumes of solute and
/// solvent are added. Positive argument; the result stays below the pure melt.
[[nodiscard]] double log10_molar_from_per_solvent(double mg_per_ml_solvent, double molar_mass_g_mol);
/// The inverse [mg per mL of solvent], at most 1500 mg/mL.
[[nodiscard]] double per_solvent_from_log10_molar(double log10_molar, double molar_mass_g_mol);

/// log10 [mol per litre of solution] of `mg_per_ml_solution` mg in each mL of solution. Positive argument.
[[nodiscard]] double log10_molar_from_per_solution(double mg_per_ml_solution, double molar_mass_g_mol);
/// The inverse [mg per mL of solution], at most the density of the melt.
[[nodiscard]] double per_solution_from_log10_molar(double log10_molar, double molar_mass_g_mol);

/// mg per mL of solvent from mg per mL of solution; nothing at or above the density of the pure melt.
[[nodiscard]] std::optional<double> per_solvent_from_per_solution(double mg_per_ml_solution);
/// mg per mL of solution from mg per mL of solvent.
[[nodiscard]] double per_solution_from_per_solvent(double mg_per_ml_solvent);

/// log10 [mol per litre of solution] of mole fraction `mole_fraction`, above 0 and at most 1, in a solvent of
/// the given molar volume [mL/mol]: 1000 x/(x M/1.27 + (1 - x) V).
[[nodiscard]] double log10_molar_from_mole_fraction(double mole_fraction, double molar_mass_g_mol,
                                                    double solvent_molar_volume_ml_mol);
/// The inverse: mole fraction, 1 at and above the pure melt.
[[nodiscard]] double mole_fraction_from_log10_molar(double log10_molar, double molar_mass_g_mol,
                                                    double solvent_molar_volume_ml_mol);

/// Mean and standard deviation of one Gaussian number.
struct Moments {
  double mean = 0;
  double sd = 0;
};

/// log10 S [mol per litre of solution] at a temperature as the state knows it, before the limit of the pure
/// melt. `solvent` below `state.solvent_count`.
[[nodiscard]] Moments log10_molar_moments(const SolubilityState& state, std::size_t solvent,
                                          double temperature_k);

/// Covariance of log10 S of two solvents, each at its own temperature [log10^2].
[[nodiscard]] double log10_molar_covariance(const SolubilityState& state, std::size_t first,
                                            double first_temperature_k, std::size_t second,
                                            double second_temperature_k);

/// The joint state of level and enthalpy in all solvents before any observation of the user.
///
/// The levels take in the scatter of the user's own laboratory, 0.16 log10 by itself in each solvent. The
/// enthalpy rule is not linear in the level; it is replaced by its chord over mean -+ sd, which gives mean
/// and slope per solvent. To that the enthalpies add the spread shared by all solvents and each solvent's
/// own. `enthalpy.solvent_terms` and `prior` must speak of the same solvents; throws Error if their numbers
/// differ.
[[nodiscard]] SolubilityState initial_state(const SolubilityPrior& prior, const EnthalpyModel& enthalpy,
                                            double molar_mass_g_mol);

/// An enthalpy of solution known from a measured curve.
struct MeasuredEnthalpy {
  std::size_t solvent = 0;
  double enthalpy_kj_mol = 0;
  double sd_kj_mol = 2;
};

/// The state conditioned on measured enthalpies, all at once; other solvents learn by the shared spread.
[[nodiscard]] SolubilityState with_measured_enthalpies(const SolubilityState& state,
                                                       const std::vector<MeasuredEnthalpy>& measured);

}  // namespace firstcrop
