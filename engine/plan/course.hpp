#pragma once

#include <array>
#include <cstdint>
#include <functional>
#include <optional>

#include "plan/crystallization.hpp"
#include "ranking/system_judge.hpp"

namespace firstcrop {

/// One run in all scenarios: the same truth for hot, room and cold in each, so that ranges of differences are right.
class Course {
 public:
  /// A judged system and how the run is done.
  struct Plan {
    std::optional<double> volume_ml;  ///< as typed; nothing: as much as just dissolves the product
    bool filters_hot = false;
    bool uses_charcoal = false;
    double good_hot_k = 0;  ///< of a pair: hot temperature of the good solvent alone
    bool premixed = false;  ///< of a pair: used like one solvent; else the good one is hot before the poor one comes
  };
  /// Nothing where the solubility in the system is not known at the temperatures of the work.
  [[nodiscard]] static std::optional<Course> follow(const Inquiry& inquiry, const JudgedSystem& judged,
                                                    const Plan& plan);

  /// A number of every scenario's run.
  [[nodiscard]] NumberColumn column(const std::function<double(const Crystallization&)>& number) const;
  /// Median and 80 % range of it, in a unit of `dimension`.
  [[nodiscard]] Quantity quantity(const Dimension& dimension,
                                  const std::function<double(const Crystallization&)>& number) const;
  /// Mean over the scenarios with the 80 % range: means of parts add up to the mean of the whole.
  [[nodiscard]] Quantity mean(const Dimension& dimension,
                              const std::function<double(const Crystallization&)>& number) const;
  /// Temperature at which crystals start on cooling [K]; unknown in scenarios in which nothing separates. Never above
  /// the saturation temperature.
  [[nodiscard]] NumberColumn crystals_from() const;
  /// The same for the hot funnel: with `extra_share` more solvent, of a pair that is not premixed in the good solvent.
  /// `good_hot_k`: no hotter than the good solvent gets alone.
  [[nodiscard]] NumberColumn crystals_in_funnel(double extra_share, bool premixed, double good_hot_k) const;
  /// Of a pair: whether the share of the good solvent would hold the product at the saturation temperature alone.
  [[nodiscard]] bool good_dissolves_alone() const;
  /// Volume that holds the product at a temperature [mL].
  [[nodiscard]] NumberColumn volume_at(const NumberColumn& temperature_k) const;

  /// Temperature of the hot solution [K], one for the whole sheet.
  [[nodiscard]] double saturation_k() const { return saturation_k_.at(0); }
  [[nodiscard]] double charge_mg() const { return charge_mg_; }
  [[nodiscard]] double product_mg(std::size_t scenario) const { return product_mg_[scenario]; }
  [[nodiscard]] Origin origin() const { return origin_; }
  [[nodiscard]] const std::array<Crystallization, kScenarioCount>& runs() const { return runs_; }

 private:
  [[nodiscard]] NumberColumn crystals_in(const System& system, double volume_share, double hottest_k) const;
  Course(const Inquiry& inquiry, const System& system) : inquiry_(&inquiry), system_(system) {}

  const Inquiry* inquiry_;
  System system_;
  double charge_mg_ = 0;
  Origin origin_ = Origin::Predicted;
  std::uint64_t known_ = kAllScenarios;
  NumberColumn saturation_k_;
  NumberColumn cold_k_;
  ScenarioValues product_mg_{};
  std::array<Crystallization, kScenarioCount> runs_{};
};

}  // namespace firstcrop
