#pragma once

#include <cstddef>
#include <map>
#include <memory>
#include <optional>
#include <span>
#include <vector>

#include "phase/unifac_parameters.hpp"

namespace firstcrop {

/// A molecule as counts of its subgroups: subgroup number -> count, fractions allowed for mean molecules.
using GroupCounts = std::map<int, double>;

class ActivityAtTemperature;

/// Activity coefficients of a liquid of n components by modified UNIFAC (Dortmund): Weidlich, Gmehling, Ind.
/// Eng. Chem. Res. 1987, 26, 1372; Gmehling, Li, Schiller, ibid. 1993, 32, 178. Flory-Huggins part with
/// r^(3/4), coordination number 10. A cheap value: copies share the tables.
class ActivityModel {
 public:
  struct Data;

  /// Nothing where a molecule is empty or has a subgroup or a pair of main groups without parameters.
  [[nodiscard]] static std::optional<ActivityModel> create(const UnifacParameters& parameters,
                                                           std::span<const GroupCounts> molecules);

  [[nodiscard]] std::size_t component_count() const;
  /// True where a pair of groups in this mixture has no published parameters but completed ones.
  [[nodiscard]] bool uses_completed_parameters() const;
  /// The model at one temperature [K], above 0; worth keeping where many compositions are asked for.
  [[nodiscard]] ActivityAtTemperature at(double temperature_k) const;
  /// Natural logarithms of the activity coefficients (pure liquids are 0) at mole fractions that sum to 1.
  [[nodiscard]] std::vector<double> ln_gamma(std::span<const double> mole_fractions,
                                             double temperature_k) const;

 private:
  explicit ActivityModel(std::shared_ptr<const Data> data);
  std::shared_ptr<const Data> data_;
};

/// The model at one temperature, the exponentials of the group interactions done.
class ActivityAtTemperature {
 public:
  [[nodiscard]] std::size_t component_count() const;
  [[nodiscard]] double temperature_k() const { return temperature_k_; }

  /// Natural logarithms of the activity coefficients at mole fractions that sum to 1, into `out`; both of
  /// length component_count(). A mole fraction of 0 gives the coefficient at infinite dilution.
  void ln_gamma(std::span<const double> mole_fractions, std::span<double> out) const;
  [[nodiscard]] std::vector<double> ln_gamma(std::span<const double> mole_fractions) const;

 private:
  friend class ActivityModel;
  friend class BinaryActivity;
  ActivityAtTemperature(std::shared_ptr<const ActivityModel::Data> data, double temperature_k);

  std::shared_ptr<const ActivityModel::Data> data_;
  double temperature_k_;
  std::vector<double> psi_;            ///< main groups squared, row by row
  std::vector<double> pure_residual_;  ///< residual part of each pure component
};

}  // namespace firstcrop
