#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

#include "phase/activity.hpp"
#include "phase/liquid_layers.hpp"
#include "phase/vapour_pressure.hpp"

namespace firstcrop {

enum class BoilingStatus {
  Calculated,     ///< with activity coefficients
  Ideal,          ///< by Raoult's law, because group parameters are missing: a rough guess
  NotCalculated,  ///< strongly associating (an activity coefficient below exp(-4)): the model is not to be
                  ///< trusted
  NotConverged
};

/// Where a liquid begins to boil, and what the first vapour holds.
struct BubblePoint {
  BoilingStatus status = BoilingStatus::NotConverged;
  std::optional<double> temperature_k;   ///< with Calculated and Ideal
  std::vector<double> vapour_fractions;  ///< mole fractions, with Calculated and Ideal
  bool two_liquids = false;  ///< boils from two layers, at one temperature between their compositions
};

/// Two liquids of a pair that boil together.
struct ThreePhaseLine {
  double temperature_k = 0;
  LiquidLayers layers;
  double vapour_fraction = 0;  ///< mole fraction of the first component
};

/// True where a component, dissolved as a trace in another that is present, has an activity coefficient below
/// exp(-4): acids with bases or amides, whose association the model exaggerates.
[[nodiscard]] bool associates_strongly(const ActivityAtTemperature& model,
                                       std::span<const double> mole_fractions);

/// A liquid of n components with its vapour pressures: sum x_i gamma_i P_i(T) = P (modified Raoult's law,
/// ideal vapour).
class BoilingLiquid {
 public:
  /// `model` may be absent: then the liquid is taken as ideal. Otherwise as many components as vapour
  /// pressures.
  BoilingLiquid(std::vector<VapourPressure> vapour_pressures, std::optional<ActivityModel> model);

  [[nodiscard]] std::size_t component_count() const { return vapour_pressures_.size(); }
  [[nodiscard]] const std::optional<ActivityModel>& model() const { return model_; }
  [[nodiscard]] const VapourPressure& vapour_pressure(std::size_t component) const {
    return vapour_pressures_[component];
  }

  /// The liquid taken as one phase. Mole fractions sum to 1; pressure above 0 [kPa].
  [[nodiscard]] BubblePoint bubble_point(std::span<const double> mole_fractions, double pressure_kpa) const;

  /// Of a pair: as bubble_point, but from two layers where the model splits at this composition.
  [[nodiscard]] BubblePoint boiling_point(double first_fraction, double pressure_kpa) const;
  /// The same at many compositions.
  [[nodiscard]] std::vector<BubblePoint> boiling_curve(std::span<const double> first_fractions,
                                                       double pressure_kpa) const;

  /// Of a pair: where both liquids boil together; nothing where the model does not split at the boil.
  [[nodiscard]] std::optional<ThreePhaseLine> three_phase_line(double pressure_kpa) const;

  /// gamma_a P_a/P_b of a trace of component `trace` in boiling `solvent`: above 1 the trace can be distilled
  /// out of it. Nothing where `solvent` does not boil at this pressure or the coefficient is not to be
  /// trusted.
  [[nodiscard]] std::optional<double> volatility_of_trace(std::size_t trace, std::size_t solvent,
                                                          double pressure_kpa) const;

 private:
  [[nodiscard]] BubblePoint boiling_point(double first_fraction, double pressure_kpa,
                                          const std::optional<ThreePhaseLine>& line) const;

  std::vector<VapourPressure> vapour_pressures_;
  std::optional<ActivityModel> model_;
};

}  // namespace firstcrop
