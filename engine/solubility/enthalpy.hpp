#pragma once

#include <array>
#include <cstddef>
#include <vector>

namespace firstcrop {

/// The fitted rule for the apparent enthalpy of solution, the slope of log10 S against 1/T. It is linear in
/// six terms of level, distance to the pure melt and melting point, plus one constant per solvent; see
/// enthalpy_kj_mol.
struct EnthalpyModel {
  std::array<double, 6> coefficients{};  ///< of 1, y, h_m/10, t, y t, min(y + 1, 0)^2 [kJ/mol each]
  std::vector<double> solvent_terms;     ///< one per solvent of the model, in its order [kJ/mol]
  double shared_sd = 6.5;                ///< spread common to all solvents of one solute [kJ/mol]
  double own_sd = 6.0;                   ///< spread of each solvent by itself [kJ/mol]
};

/// Apparent enthalpy of solution [kJ/mol] that the rule expects.
///
/// `level` is log10 of the molar solubility [mol per litre of solution] at 298.15 K. With t = (Tm - 420
/// K)/100 K and h_m, at most 120 kJ/mol, the slope of the straight line from the level to the pure melt at
/// the melting point. `solvent` must be below `model.solvent_terms.size()`.
[[nodiscard]] double enthalpy_kj_mol(const EnthalpyModel& model, std::size_t solvent, double level,
                                     double melting_point_k, double molar_mass_g_mol);

}  // namespace firstcrop
