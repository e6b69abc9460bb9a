#pragma once

#include <array>
#include <cstddef>
#include <optional>

#include "facts/fact_value.hpp"
#include "solubility/curve.hpp"
#include "solubility/mixture.hpp"
#include "systems/inquiry.hpp"

namespace firstcrop {

/// Measured where the file or our tables hold the system, assumed where a solvent has borrowed traits, else predicted.
[[nodiscard]] Origin solubility_origin(const Inquiry& inquiry, const System& system);

/// Solubility of the solid of an inquiry in one system, in every scenario or at the mean.
class SystemSolubility {
 public:
  /// Nothing where the model does not know one of the solvents.
  [[nodiscard]] static std::optional<SystemSolubility> create(const Inquiry& inquiry, const System& system);

  /// mg per mL of solvent in every scenario at a temperature [K]; unknown where the temperature is.
  [[nodiscard]] NumberColumn at(const NumberColumn& temperature_k) const;
  /// mL of the second solvent per mL of the first at which a solution with `saturation` (above 0, at most 1) of
  /// what the first holds becomes saturated, in every scenario; unknown where the mixture stays clear. The
  /// first must be the better one.
  [[nodiscard]] NumberColumn cloud_ratio(double temperature_k, double saturation) const;
  /// mg per mL of solvent at the means of all that is uncertain; `first_fraction` is the volume fraction of
  /// the first.
  [[nodiscard]] double central_at(double temperature_k, double first_fraction) const;
  /// Mole fraction of the solute in the system at 25 °C at the means, for the wet melting point.
  [[nodiscard]] double central_mole_fraction(double first_fraction) const;
  /// Molar volume of the solvent [mL/mol].
  [[nodiscard]] double molar_volume_ml_mol(double first_fraction) const;

 private:
  SystemSolubility(const Inquiry& inquiry, const System& system);
  /// log10 mol/L of each part in one scenario.
  [[nodiscard]] std::array<double, 2> levels_in(std::size_t scenario, double temperature_k,
                                                double molar_mass_g_mol) const;
  [[nodiscard]] MixtureEnds ends_of(const std::array<double, 2>& level, double molar_mass_g_mol) const;
  [[nodiscard]] double central_log10_mole_fraction(std::size_t part, double temperature_k) const;

  const Inquiry* inquiry_;
  std::size_t part_count_;
  double first_fraction_;
  std::array<std::size_t, 2> model_index_{};
  std::array<double, 2> molar_volume_{};
};

/// mg per mL of solvent of an impurity in a system at a temperature, mean and standard deviation of log10.
[[nodiscard]] std::optional<Moments> impurity_log10_solubility(const ImpurityPrediction& impurity,
                                                               const System& system, double temperature_k,
                                                               const KnowledgeBase& knowledge);

}  // namespace firstcrop
