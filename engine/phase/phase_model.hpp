#pragma once

#include <optional>
#include <span>
#include <vector>

#include "library/incompatibility.hpp"
#include "library/library.hpp"
#include "phase/azeotrope.hpp"
#include "phase/bubble_point.hpp"
#include "phase/flash_point.hpp"
#include "phase/miscibility.hpp"

namespace firstcrop {

/// What two solvents do to each other at a fixed pressure, table first, calculation second.
struct PairAzeotrope {
  enum class Basis {
    Table,       ///< as listed at 101.325 kPa
    TableMoved,  ///< listed at 101.325 kPa, carried to the pressure
    Calculated   ///< not listed: a hint
  };
  double temperature_k = 0;
  std::optional<double> first_fraction;  ///< mole fraction of the solvent asked for first, in the vapour
  bool maximum = false;
  bool heterogeneous = false;
  Basis basis = Basis::Calculated;
  const AzeotropeRecord* record = nullptr;  ///< with Table and TableMoved; lives as long as the library
};

/// True of a mixture of named solvents (95 % ethanol), not of a cut that one compound stands for.
[[nodiscard]] bool is_blend(const Solvent& solvent);

/// A mixture by its molecules: solvents that are mixtures of others (95 % ethanol) taken apart, equal ones
/// joined.
struct MixtureComposition {
  std::vector<SolventId> components;
  std::vector<double> mole_fractions;
};

/// A boiling mixture; the vapour of `point` is that of `components`.
struct MixtureBoiling {
  BubblePoint point;
  std::vector<SolventId> components;
};

/// Chance of one liquid at a temperature as it changes with the ratio.
struct OneLiquidByRatio {
  OneLiquid everywhere;                    ///< in every proportion
  std::optional<MutualSolubility> limits;  ///< nothing: the chance is that of every proportion
  double first_density_g_ml = 1;
  double second_density_g_ml = 1;
  /// At a volume fraction of the first, measured before mixing; 1 at the ends.
  [[nodiscard]] double chance_at(double first_volume_fraction) const;
};

/// The library's solvents as liquids: joins records and tables with the calculation. Where solvents lack
/// groups, vapour pressures or densities the answers are absent, or marked ideal. A cheap value.
class PhaseModel {
 public:
  PhaseModel(Library library, UnifacParameters parameters);

  [[nodiscard]] const Library& library() const { return library_; }
  [[nodiscard]] const UnifacParameters& parameters() const { return parameters_; }

  /// Activity coefficients of a mixture; nothing where groups or parameters are missing, where a solvent has
  /// groups as a hint only, or where it is a mixture of others (take it apart by composition() first).
  [[nodiscard]] std::optional<ActivityModel> activity(std::span<const SolventId> solvents) const;

  /// Miscibility margin of a pair at a temperature [K]; nothing where activity() has nothing.
  [[nodiscard]] std::optional<double> margin(SolventId first, SolventId second, double temperature_k) const;

  /// Chance that the pair is one liquid in every proportion at a temperature [K]; nothing where neither
  /// record nor calculation exists. A solvent with itself is one liquid.
  [[nodiscard]] std::optional<OneLiquid> one_liquid(SolventId first, SolventId second,
                                                    double temperature_k) const;

  /// The same for every ratio at one temperature. Where the pair is at least `sure` to be one liquid in every
  /// proportion, the limits are not calculated.
  [[nodiscard]] std::optional<OneLiquidByRatio> one_liquid_by_ratio(SolventId first, SolventId second,
                                                                    double temperature_k, double sure) const;

  /// The same at a volume fraction of the first, measured before mixing.
  [[nodiscard]] std::optional<OneLiquid> one_liquid_at(SolventId first, SolventId second,
                                                       double temperature_k,
                                                       double first_volume_fraction) const;

  /// Limits of mutual solubility in the order asked for: published ones carried from their temperature by the
  /// calculated change, else calculated ones; each absent where unknown.
  [[nodiscard]] MutualSolubility mutual_solubility(SolventId first, SolventId second,
                                                   double temperature_k) const;

  /// Mole fractions of volume fractions measured at 25 °C before mixing; nothing where a molar volume is
  /// missing.
  [[nodiscard]] std::optional<std::vector<double>> mole_fractions(
      std::span<const SolventId> solvents, std::span<const double> volume_fractions) const;
  /// The reverse.
  [[nodiscard]] std::optional<std::vector<double>> volume_fractions(
      std::span<const SolventId> solvents, std::span<const double> mole_fractions) const;

  /// Vapour pressure scaled to the listed boiling point; nothing where either is missing.
  [[nodiscard]] std::optional<VapourPressure> vapour_pressure(SolventId solvent) const;
  /// Boiling point at a pressure [kPa]; at 101.325 kPa the listed one also without an Antoine equation.
  [[nodiscard]] std::optional<double> boiling_temperature_k(SolventId solvent, double pressure_kpa) const;
  /// The molecules of a mixture at volume fractions measured at 25 °C before mixing; nothing where a molar
  /// volume is missing.
  [[nodiscard]] std::optional<MixtureComposition> composition(std::span<const SolventId> solvents,
                                                              std::span<const double> volume_fractions) const;
  /// Solvents ready to boil, each as it stands; nothing where a vapour pressure is missing, ideal where
  /// activity() has nothing.
  [[nodiscard]] std::optional<BoilingLiquid> boiling_liquid(std::span<const SolventId> solvents) const;
  /// Boiling point of a mixture at volume fractions and a pressure [kPa], from two layers where a pair parts;
  /// nothing where a vapour pressure or molar volume is missing.
  [[nodiscard]] std::optional<MixtureBoiling> boiling_point(std::span<const SolventId> solvents,
                                                            std::span<const double> volume_fractions,
                                                            double pressure_kpa) const;
  /// The same of a pair at many volume fractions of the first; empty where one of them cannot be answered.
  [[nodiscard]] std::vector<MixtureBoiling> boiling_curve(SolventId first, SolventId second,
                                                          std::span<const double> first_volume_fractions,
                                                          double pressure_kpa) const;

  /// Azeotrope of a pair at a pressure [kPa]; nothing where none is listed and none was calculated. Mixtures
  /// (cuts, 95 % ethanol) have none; of carboxylic acids only listed ones are told.
  [[nodiscard]] std::optional<PairAzeotrope> azeotrope(SolventId first, SolventId second,
                                                       double pressure_kpa) const;

  /// gamma P_trace/P_solvent of a trace in a boiling solvent at a pressure [kPa]; nothing where it is not
  /// calculated.
  [[nodiscard]] std::optional<double> volatility_of_trace(SolventId trace, SolventId solvent,
                                                          double pressure_kpa) const;

  /// Flash point of a mixture at volume fractions; nothing where the flash point of a component was never
  /// looked for, or a vapour pressure or molar volume is missing.
  [[nodiscard]] std::optional<FlashPoint> flash_point(std::span<const SolventId> solvents,
                                                      std::span<const double> volume_fractions) const;

  /// Gravest row of the table of incompatibilities between two solvents, conditions left aside; null where
  /// none.
  [[nodiscard]] const Incompatibility* gravest_reaction(SolventId first, SolventId second) const;

 private:
  Library library_;
  UnifacParameters parameters_;
  std::vector<const Incompatibility*> pair_rows_;
};

}  // namespace firstcrop
