#include "trials/tube_value.hpp"

#include <algorithm>
#include <cmath>

#include "base/error.hpp"
#include "facts/normal_score.hpp"
#include "facts/split_mix.hpp"
#include "solubility/curve.hpp"
#include "solubility/observations.hpp"

namespace firstcrop {
namespace {

constexpr double kMostCountedMgMl = 300;
constexpr double kClosedMgMl = 5;
constexpr double kOpenMgMl = 40;
constexpr std::size_t kPoints = 256;
// Error of the eye that reads a tube [log10].
constexpr double kReadingSd = 0.08;
// Keeps the covariance positive where two solvents are as good as one.
constexpr double kJitter = 1e-8;

struct Point {
  double first = 0;
  double second = 0;
};

double fraction_of(double value) { return value - std::floor(value); }

template <typename Member>
void standardise(std::vector<Point>& points, Member member) {
  const auto count = static_cast<double>(points.size());
  double mean = 0;
  for (const Point& point : points) mean += point.*member / count;
  double variance = 0;
  for (Point& point : points) {
    point.*member -= mean;
    variance += point.*member * (point.*member) / count;
  }
  for (Point& point : points) point.*member /= std::sqrt(variance);
}

// Normal scores of an additive recurrence of the plastic number (M. Roberts, The Unreasonable Effectiveness of
// Quasirandom Sequences, 2018), with mean 0 and variance 1.
std::vector<Point> make_points() {
  constexpr double kFirstStep = 0.7548776662466927;
  constexpr double kSecondStep = 0.5698402909980532;
  std::vector<Point> out(kPoints);
  for (std::size_t i = 0; i < kPoints; ++i) {
    const auto number = static_cast<double>(i + 1);
    out[i] = {normal_score(fraction_of(0.5 + number * kFirstStep)),
              normal_score(fraction_of(0.5 + number * kSecondStep))};
  }
  standardise(out, &Point::first);
  standardise(out, &Point::second);
  return out;
}

const std::vector<Point>& points() {
  static const std::vector<Point> fixed = make_points();
  return fixed;
}

double useful_at(double log10_hot, double log10_cold, double molar_mass_g_mol) {
  return usefulness(per_solvent_from_log10_molar(log10_hot, molar_mass_g_mol),
                    per_solvent_from_log10_molar(log10_cold, molar_mass_g_mol));
}

// Whether the oil stays away in one draw: evenly spread over the draws, apart from bottle to bottle.
bool stays_away(std::size_t draw, std::size_t bottle, double chance) {
  if (chance >= 1) return true;
  constexpr double kStep = 0.6180339887498949;
  constexpr double kShift = 0.4142135623730951;
  return fraction_of(static_cast<double>(draw) * kStep + static_cast<double>(bottle) * kShift) < chance;
}

// Every class of equal probability once in every column, in an order of its own.
class HypercubeColumns {
 public:
  explicit HypercubeColumns(std::size_t count) : middles_(count) {
    for (std::size_t i = 0; i < count; ++i)
      middles_[i] = normal_score((static_cast<double>(i) + 0.5) / static_cast<double>(count));
  }
  [[nodiscard]] std::vector<double> next() {
    std::vector<double> column = middles_;
    for (std::size_t i = column.size(); i > 1; --i) std::swap(column[i - 1], column[bits_.below(i)]);
    return column;
  }

 private:
  std::vector<double> middles_;
  SplitMix bits_;
};

// Lower triangle, row by row.
std::vector<double> cholesky(const Matrix& covariance) {
  const std::size_t size = covariance.rows;
  std::vector<double> out(size * size, 0.0);
  for (std::size_t i = 0; i < size; ++i) {
    for (std::size_t j = 0; j <= i; ++j) {
      double sum = covariance(i, j) + (i == j ? kJitter : 0.0);
      for (std::size_t k = 0; k < j; ++k) sum -= out[i * size + k] * out[j * size + k];
      if (i != j) {
        out[i * size + j] = sum / out[j * size + j];
      } else if (sum > 0) {
        out[i * size + i] = std::sqrt(sum);
      } else {
        throw Error("the covariance of solubilities is not positive");
      }
    }
  }
  return out;
}

TubeReading::Look look_at(double log10_solubility, double unnoticed, double charge) {
  if (log10_solubility > charge) return TubeReading::Look::All;
  return log10_solubility > unnoticed ? TubeReading::Look::Part : TubeReading::Look::None;
}

}  // namespace

double usefulness(double hot_mg_ml, double cold_mg_ml) {
  const double recovery = std::max(0.0, 1 - cold_mg_ml / std::min(hot_mg_ml, kMostCountedMgMl));
  const double window = std::log10(std::max(hot_mg_ml, 1e-9) / kClosedMgMl) / std::log10(kOpenMgMl / kClosedMgMl);
  return recovery * std::clamp(window, 0.0, 1.0);
}

std::vector<Expectation> expectations(const SolubilityState& state, const std::vector<Bottle>& bottles) {
  std::vector<Expectation> out;
  for (const Bottle& bottle : bottles) {
    const Moments cold = log10_molar_moments(state, bottle.in_state, bottle.cold_k);
    const Moments hot = log10_molar_moments(state, bottle.in_state, bottle.hot_k);
    const double shared =
        cold.sd > 0 ? log10_molar_covariance(state, bottle.in_state, bottle.cold_k, bottle.in_state, bottle.hot_k) /
                          cold.sd
                    : 0;
    const double own = std::sqrt(std::max(hot.sd * hot.sd - shared * shared, 0.0));
    Expectation expected;
    for (const Point& point : points()) {
      const double useful =
          useful_at(hot.mean + shared * point.first + own * point.second, cold.mean + cold.sd * point.first,
                    state.molar_mass_g_mol);
      expected.usefulness += useful / static_cast<double>(kPoints);
      if (useful >= kWorks) expected.chance += 1 / static_cast<double>(kPoints);
    }
    expected.usefulness *= bottle.after_oil;
    expected.chance *= bottle.after_oil;
    out.push_back(expected);
  }
  return out;
}

std::size_t index_of(const TubeReading& reading) {
  return static_cast<std::size_t>(reading.cold) * 9 + static_cast<std::size_t>(reading.hot) * 3 +
         static_cast<std::size_t>(reading.ice);
}

TubeReading reading_of(std::size_t index) {
  return {static_cast<TubeReading::Look>(index / 9), static_cast<TubeReading::Look>(index / 3 % 3),
          static_cast<TubeReading::Ice>(index % 3)};
}

TubeDraws::TubeDraws(const SolubilityState& state, const std::vector<Bottle>& bottles, std::size_t count)
    : count_(count),
      bottle_count_(bottles.size()),
      molar_mass_g_mol_(state.molar_mass_g_mol),
      usefulness_(count * bottles.size()),
      room_(usefulness_.size()),
      hot_(usefulness_.size()),
      cold_(usefulness_.size()),
      eye_(count) {
  const std::size_t size = state.mean.size();
  const std::vector<double> factor = cholesky(state.covariance);
  HypercubeColumns columns(count);
  std::vector<double> scores(count * size);  // by draw, so that the loop below reads them in order
  for (std::size_t i = 0; i < size; ++i) {
    const std::vector<double> column = columns.next();
    for (std::size_t m = 0; m < count; ++m) scores[m * size + i] = column[m];
  }
  for (std::size_t look = 0; look < 3; ++look) {
    const std::vector<double> column = columns.next();
    for (std::size_t m = 0; m < count; ++m) eye_[m][look] = kReadingSd * column[m];
  }
  std::vector<double> theta(size);
  for (std::size_t m = 0; m < count; ++m) {
    for (std::size_t i = 0; i < size; ++i) {
      double sum = state.mean[i];
      for (std::size_t k = 0; k <= i; ++k) sum += factor[i * size + k] * scores[m * size + k];
      theta[i] = sum;
    }
    for (std::size_t b = 0; b < bottle_count_; ++b) {
      const Bottle& bottle = bottles[b];
      const double level = theta[bottle.in_state];
      const double enthalpy = theta[state.solvent_count + bottle.in_state];
      const std::size_t at = m * bottle_count_ + b;
      room_[at] = level + enthalpy * tau(bottle.room_k);
      hot_[at] = level + enthalpy * tau(bottle.hot_k);
      cold_[at] = level + enthalpy * tau(bottle.cold_k);
      usefulness_[at] =
          stays_away(m, b, bottle.after_oil) ? useful_at(hot_[at], cold_[at], molar_mass_g_mol_) : 0.0;
    }
  }
}

double TubeDraws::room_mg_ml(std::size_t draw, std::size_t bottle) const {
  return per_solvent_from_log10_molar(room_[draw * bottle_count_ + bottle], molar_mass_g_mol_);
}

TubeReading TubeDraws::reading(std::size_t draw, std::size_t bottle, const TubeSize& size) const {
  const double ratio = size.mass_mg / size.volume_ml;
  const double charge = log10_molar_from_per_solvent(ratio, molar_mass_g_mol_);
  const double unnoticed = log10_molar_from_per_solvent(kUnnoticedShare * ratio, molar_mass_g_mol_);
  const std::size_t at = draw * bottle_count_ + bottle;
  TubeReading out;
  out.cold = look_at(room_[at] + eye_[draw][0], unnoticed, charge);
  // What is dissolved cold stays dissolved hot.
  out.hot = out.cold == TubeReading::Look::All ? TubeReading::Look::All
                                               : look_at(hot_[at] + eye_[draw][1], unnoticed, charge);
  if (out.hot == TubeReading::Look::All) {
    out.ice = cold_[at] + eye_[draw][2] > charge ? TubeReading::Ice::Clear : TubeReading::Ice::Crystals;
  }
  return out;
}

TubeWorth worth_of_tube(const TubeDraws& draws, std::size_t bottle, const TubeSize& size) {
  const std::size_t bottles = draws.bottle_count();
  std::vector<double> sums(kReadingCount * bottles, 0.0);
  std::vector<double> all(bottles, 0.0);
  TubeWorth out;
  const double share = 1 / static_cast<double>(draws.count());
  for (std::size_t m = 0; m < draws.count(); ++m) {
    const std::size_t seen = index_of(draws.reading(m, bottle, size));
    out.chance[seen] += share;
    for (std::size_t b = 0; b < bottles; ++b) {
      const double useful = draws.usefulness_of(m, b) * share;
      sums[seen * bottles + b] += useful;
      all[b] += useful;
    }
  }
  if (bottles == 0) return out;
  for (std::size_t seen = 0; seen < kReadingCount; ++seen) {
    const auto first = sums.begin() + static_cast<std::ptrdiff_t>(seen * bottles);
    out.gain += *std::max_element(first, first + static_cast<std::ptrdiff_t>(bottles));
  }
  out.gain = std::max(out.gain - *std::max_element(all.begin(), all.end()), 0.0);
  return out;
}

double chance_of_best(const TubeDraws& draws, std::size_t bottle, double margin) {
  std::size_t close = 0;
  for (std::size_t m = 0; m < draws.count(); ++m) {
    double best = 0;
    for (std::size_t b = 0; b < draws.bottle_count(); ++b) best = std::max(best, draws.usefulness_of(m, b));
    if (best - draws.usefulness_of(m, bottle) <= margin) ++close;
  }
  return static_cast<double>(close) / static_cast<double>(draws.count());
}

double chance_that_any_works(const TubeDraws& draws) {
  std::size_t works = 0;
  for (std::size_t m = 0; m < draws.count(); ++m) {
    for (std::size_t b = 0; b < draws.bottle_count(); ++b) {
      if (draws.usefulness_of(m, b) < kWorks) continue;
      ++works;
      break;
    }
  }
  return static_cast<double>(works) / static_cast<double>(draws.count());
}

SolubilityState state_of_some(const SolubilityState& state, const std::vector<std::size_t>& solvents) {
  const std::size_t count = solvents.size();
  SolubilityState out;
  out.solvent_count = count;
  out.molar_mass_g_mol = state.molar_mass_g_mol;
  out.laboratory_sd = state.laboratory_sd;
  out.mean.resize(2 * count);
  out.covariance = Matrix(2 * count, 2 * count);
  const auto old = [&](std::size_t i) {
    return i < count ? solvents[i] : state.solvent_count + solvents[i - count];
  };
  for (std::size_t i = 0; i < 2 * count; ++i) {
    out.mean[i] = state.mean[old(i)];
    for (std::size_t j = 0; j < 2 * count; ++j) out.covariance(i, j) = state.covariance(old(i), old(j));
  }
  for (const std::size_t solvent : solvents) {
    if (solvent < state.enthalpy_per_level.size())
      out.enthalpy_per_level.push_back(state.enthalpy_per_level[solvent]);
  }
  return out;
}

}  // namespace firstcrop
