#include "solubility/fixed_point.hpp"

#include <Eigen/Dense>
#include <cmath>
#include <cstddef>
#include <numeric>

namespace firstcrop {
namespace {

constexpr int kRounds = 1500;
constexpr int kMixedRounds = 60;
constexpr std::size_t kMemory = 6;
constexpr double kGrowth = 2.0;

double norm(const std::vector<double>& v) {
  return std::sqrt(std::inner_product(v.begin(), v.end(), v.begin(), 0.0));
}

}  // namespace

bool FixedPoint::move_on(const std::vector<double>& given) {
  if (rounds_ == kRounds) return false;
  std::vector<double> residual(given);
  for (std::size_t i = 0; i < residual.size(); ++i) residual[i] -= place_[i];
  if (rounds_left_ == 0) {
    if (rounds_ > 0) {
      length_ *= 0.7;
      plain_rounds_ = 2 * plain_rounds_ + 20;
    }
    rounds_left_ = plain_rounds_ + kMixedRounds;
    places_.clear();
    residuals_.clear();
  }
  if (rounds_left_ > kMixedRounds)
    step(place_, residual, rounds_ == 0 || single_ ? 1.0 : length_);
  else
    mix(residual);
  ++rounds_;
  --rounds_left_;
  return true;
}

void FixedPoint::step(const std::vector<double>& from, const std::vector<double>& residual, double length) {
  for (std::size_t i = 0; i < place_.size(); ++i) place_[i] = from[i] + length * residual[i];
}

void FixedPoint::mix(const std::vector<double>& residual) {
  if (!residuals_.empty() && norm(residual) > kGrowth * norm(best_residual_)) {
    places_.clear();
    residuals_.clear();
    step(best_place_, best_residual_, length_);
    return;
  }
  if (residuals_.empty() || norm(residual) < norm(best_residual_)) {
    best_place_ = place_;
    best_residual_ = residual;
  }
  places_.push_back(place_);
  residuals_.push_back(residual);
  if (places_.size() > kMemory) {
    places_.erase(places_.begin());
    residuals_.erase(residuals_.begin());
  }
  const auto size = static_cast<Eigen::Index>(place_.size());
  const auto steps = static_cast<Eigen::Index>(places_.size()) - 1;
  if (steps == 0) {
    step(place_, residual, length_);
    return;
  }
  Eigen::MatrixXd moved(size, steps);
  Eigen::MatrixXd changed(size, steps);
  const auto as_vector = [size](const std::vector<double>& v) {
    return Eigen::Map<const Eigen::VectorXd>(v.data(), size);
  };
  for (std::size_t k = 0; k + 1 < places_.size(); ++k) {
    moved.col(static_cast<Eigen::Index>(k)) = as_vector(places_[k + 1]) - as_vector(places_[k]);
    changed.col(static_cast<Eigen::Index>(k)) = as_vector(residuals_[k + 1]) - as_vector(residuals_[k]);
  }
  const Eigen::VectorXd share = changed.colPivHouseholderQr().solve(as_vector(residual));
  const Eigen::VectorXd next =
      as_vector(place_) + length_ * as_vector(residual) - (moved + length_ * changed) * share;
  place_.assign(next.data(), next.data() + size);
}

}  // namespace firstcrop
