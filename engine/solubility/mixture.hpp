#pragma once

#include <optional>

namespace firstcrop {

/// How much more one volume of the better solvent counts than one of the poorer; fitted on measured mixtures.
inline constexpr double kBetterSolventWeight = 2.58;

/// Two solvents at one temperature. Fractions are by volume of the pure solvents at 25 °C before mixing.
struct MixtureEnds {
  double first_log10_mole_fraction =
      0;  ///< solubility of the solute in the first alone, log10 of its mole fraction
  double second_log10_mole_fraction = 0;
  double first_molar_volume_ml_mol = 0;
  double second_molar_volume_ml_mol = 0;
  double solute_molar_mass_g_mol = 0;
};

/// Share phi = r g/(r g + 1 - g) of the better solvent in log10 x, from its volume fraction g, 0 to 1.
[[nodiscard]] double share_of_better(double better_volume_fraction);

/// |log10 x_first - log10 x_second|.
[[nodiscard]] double contrast(const MixtureEnds& ends);

/// log10 mole fraction of the solute in the mixture, log-linear in phi; `first_fraction` 0 to 1.
[[nodiscard]] double mixed_log10_mole_fraction(const MixtureEnds& ends, double first_fraction);

/// Molar volume [mL/mol] of the solvent mixture without excess volume: 1/(f/V_first + (1 - f)/V_second).
[[nodiscard]] double mixed_molar_volume_ml_mol(double first_molar_volume_ml_mol,
                                               double second_molar_volume_ml_mol, double first_fraction);

/// Solubility in the mixture [mg per mL of solvents]; infinite where the mole fraction reaches 1.
[[nodiscard]] double mixed_per_solvent_mg_ml(const MixtureEnds& ends, double first_fraction);

/// Spread of the mixing rule itself [log10 x]: 0.14 (1 + min(contrast, 4)) sqrt(4 f (1 - f)).
[[nodiscard]] double mixing_rule_sd(double contrast, double fraction);

/// Spread of log10 x in the mixture from the rule and both ends, whose errors correlate by `correlation`, -1
/// to 1.
[[nodiscard]] double mixed_sd(const MixtureEnds& ends, double first_fraction, double first_sd,
                              double second_sd, double correlation);

/// Smallest volume fraction of the better solvent that holds `mg_per_ml` (per mL of solvents): 0 if the
/// poorer alone does, nothing if no mixture does.
[[nodiscard]] std::optional<double> better_fraction_for(const MixtureEnds& ends, double mg_per_ml);

/// mL of the poorer per mL of the better solvent at which a solution with `saturation` (above 0, at most 1)
/// of what the better solvent holds first becomes saturated; nothing if it stays clear at any dilution.
[[nodiscard]] std::optional<double> cloud_volume_ratio(const MixtureEnds& ends, double saturation);

/// The contrast above which the first drop of the poorer solvent clouds a saturated solution: r/ln 10.
[[nodiscard]] double contrast_that_clouds_at_once();

}  // namespace firstcrop
