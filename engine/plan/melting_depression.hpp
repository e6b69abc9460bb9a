#pragma once

namespace firstcrop {

/// Enthalpy of fusion with the range that holds 80 % [kJ/mol].
struct FusionEnthalpy {
  double kj_mol = 0;
  double low_kj_mol = 0;
  double high_kj_mol = 0;
};

/// By Walden's rule, 56.5 J/(mol K) times the melting point [K]; 8 in 10 of 115 solids with at most three flexible bonds
/// have 38 to 70 J/(mol K) (published enthalpies, CRC Handbook). Flexible chains have more.
[[nodiscard]] FusionEnthalpy fusion_enthalpy_with_range(double melting_point_k);

/// Mole fraction of impurity that lowers the clear point: 1 - exp[-(dH/R)(1/T - 1/Tm)] (I. Schroeder, Z. Phys. Chem.
/// 1893, 11, 449; J. J. van Laar), for an impurity that dissolves in the melt and not in the crystal. 0 where the clear
/// point is not below the melting point. Both temperatures [K] above 0.
[[nodiscard]] double impurity_by_depression(double clear_point_k, double melting_point_k, double fusion_enthalpy_kj_mol);

/// Purity by mole, 0 to 1, with the range that holds 80 %: spread of the enthalpy, and readings of both temperatures
/// good to 0.5 K.
struct PurityEstimate {
  double purity = 1;
  double low = 1;
  double high = 1;
  double depression_k = 0;  ///< negative where the solid melts above its melting point
};
[[nodiscard]] PurityEstimate purity_by_melting(double clear_point_k, double melting_point_k);

}  // namespace firstcrop
