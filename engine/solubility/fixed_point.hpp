#pragma once

#include <utility>
#include <vector>

namespace firstcrop {

/// Looks for the place that an equation leaves where it is, from one evaluation after another: a few plain
/// steps towards what the equation gives, then steps mixed from the last ones so that the expected residual
/// is smallest (Anderson 1965). Where the residual grows it returns to the best place. Should it not settle,
/// it starts over with more and shorter plain steps.
class FixedPoint {
 public:
  explicit FixedPoint(std::vector<double> start) : place_(std::move(start)), single_(place_.size() <= 2) {}

  [[nodiscard]] const std::vector<double>& place() const { return place_; }
  /// Takes what the equation gives at `place()` and moves on; false when it gives up.
  [[nodiscard]] bool move_on(const std::vector<double>& given);

 private:
  void mix(const std::vector<double>& residual);
  void step(const std::vector<double>& from, const std::vector<double>& residual, double length);

  std::vector<double> place_;
  bool single_;
  int rounds_ = 0;
  int rounds_left_ = 0;
  int plain_rounds_ = 3;
  double length_ = 0.5;
  std::vector<std::vector<double>> places_;
  std::vector<std::vector<double>> residuals_;
  std::vector<double> best_place_;
  std::vector<double> best_residual_;
};

}  // namespace firstcrop
