#include "solubility/observations.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "solubility/curve.hpp"
#include "solubility/mixture.hpp"

namespace firstcrop {
namespace {

constexpr double kInfinity = std::numeric_limits<double>::infinity();

// Just under the pure melt, where a mixture still answers to its solvents.
constexpr double kBelowMelt = 0.02;

constexpr int kPasses = 3;

bool usable(const SolubilityState& state, const ObservedSystem& system) {
  if (system.size() != 1 && system.size() != 2) return false;
  return std::all_of(system.begin(), system.end(), [&](const ObservedPart& part) {
    return part.solvent < state.solvent_count && part.volume_fraction >= 0 &&
           (system.size() == 1 || part.molar_volume_ml_mol > 0);
  });
}

double molar_volume_ml_mol(const ObservedSystem& system) {
  if (system.size() == 1) return system[0].molar_volume_ml_mol;
  return mixed_molar_volume_ml_mol(system[0].molar_volume_ml_mol, system[1].molar_volume_ml_mol,
                                   system[0].volume_fraction);
}

// log10 molar solubility in a pair from those in its two solvents.
struct Pair {
  const ObservedSystem& system;
  double molar_mass_g_mol;

  [[nodiscard]] double log10_mole_fraction(double log10_molar, const ObservedPart& part) const {
    return std::log10(
        mole_fraction_from_log10_molar(log10_molar, molar_mass_g_mol, part.molar_volume_ml_mol));
  }
  [[nodiscard]] MixtureEnds ends(double first, double second) const {
    return {log10_mole_fraction(first, system[0]), log10_mole_fraction(second, system[1]),
            system[0].molar_volume_ml_mol, system[1].molar_volume_ml_mol, molar_mass_g_mol};
  }
  [[nodiscard]] double log10_molar_of(double log10_x) const {
    return log10_molar_from_mole_fraction(std::pow(10.0, log10_x), molar_mass_g_mol,
                                          molar_volume_ml_mol(system));
  }
  [[nodiscard]] double log10_molar(double first, double second) const {
    return log10_molar_of(mixed_log10_mole_fraction(ends(first, second), system[0].volume_fraction));
  }
};

// The part of an observation that says what it looks at.
Observation looking_at(const SolubilityState& state, const ObservedSystem& system, double temperature_k) {
  Observation look;
  look.temperature_k = temperature_k;
  if (system.size() == 1) {
    look.weights = {{system[0].solvent, 1.0}};
    return look;
  }
  const Pair pair{system, state.molar_mass_g_mol};
  const double limit = log10_molar_of_melt(state.molar_mass_g_mol) - kBelowMelt;
  const auto level = [&](std::size_t part) {
    return std::min(log10_molar_moments(state, system[part].solvent, temperature_k).mean, limit);
  };
  const double first = level(0);
  const double second = level(1);
  constexpr double kStep = 1e-4;
  const auto slope = [&](const auto& function) {
    return (function(kStep) - function(-kStep)) / (2.0 * kStep);
  };
  const double first_weight = slope([&](double d) { return pair.log10_molar(first + d, second); });
  const double second_weight = slope([&](double d) { return pair.log10_molar(first, second + d); });
  look.weights = {{system[0].solvent, first_weight}, {system[1].solvent, second_weight}};
  look.offset = pair.log10_molar(first, second) - first_weight * first - second_weight * second;

  const MixtureEnds ends = pair.ends(first, second);
  const double mixed = mixed_log10_mole_fraction(ends, system[0].volume_fraction);
  const double molar_per_mole_fraction = slope([&](double d) { return pair.log10_molar_of(mixed + d); });
  look.mixture_error =
      MixtureError{system[0].solvent, system[1].solvent,
                   mixing_rule_sd(contrast(ends), system[0].volume_fraction) * molar_per_mole_fraction};
  return look;
}

struct Interval {
  double low = -kInfinity;
  double high = kInfinity;
};

Interval interval_of(Dissolved seen, double charge_log10, double unnoticed_log10) {
  switch (seen) {
    case Dissolved::None:
      return {-kInfinity, unnoticed_log10};
    case Dissolved::Part:
      return {unnoticed_log10, charge_log10};
    case Dissolved::All:
      return {charge_log10, kInfinity};
  }
  return {};
}

std::string labelled(const std::string& label, const char* look) {
  return label.empty() ? std::string(look) : label + ", " + look;
}

std::optional<double> log10_molar_of_known(const KnownValue& known, double molar_mass_g_mol) {
  if (!(known.value > 0) || !std::isfinite(known.value)) return std::nullopt;
  const double melt = log10_molar_of_melt(molar_mass_g_mol);
  double log10_molar = 0;
  switch (known.basis) {
    case SolubilityBasis::MgPerMlSolvent:
      return log10_molar_from_per_solvent(known.value, molar_mass_g_mol);
    case SolubilityBasis::MgPerMlSolution:
      log10_molar = log10_molar_from_per_solution(known.value, molar_mass_g_mol);
      break;
    case SolubilityBasis::MolPerLitre:
      log10_molar = std::log10(known.value);
      break;
    case SolubilityBasis::MoleFraction: {
      const double volume = molar_volume_ml_mol(known.system);
      if (!(known.value < 1) || !(volume > 0)) return std::nullopt;
      return log10_molar_from_mole_fraction(known.value, molar_mass_g_mol, volume);
    }
  }
  if (!(log10_molar < melt)) return std::nullopt;
  return log10_molar;
}

bool is_pair(const ObservedSystem& system) {
  return system.size() == 2;
}

}  // namespace

std::vector<Observation> observations_of_tube(const SolubilityState& state, const Tube& tube) {
  std::vector<Observation> observations;
  if (!usable(state, tube.system) || !(tube.mass_mg > 0) || !(tube.volume_ml > 0)) return observations;
  const double charge_mg_ml = tube.mass_mg / tube.volume_ml;
  const double charge = log10_molar_from_per_solvent(charge_mg_ml, state.molar_mass_g_mol);
  const double unnoticed =
      log10_molar_from_per_solvent(kUnnoticedShare * charge_mg_ml, state.molar_mass_g_mol);

  const auto add = [&](double temperature_k, Interval interval, double error_chance, const char* look) {
    Observation one = looking_at(state, tube.system, temperature_k);
    one.low = interval.low;
    one.high = interval.high;
    one.error_chance = tube.doubtful ? std::max(error_chance, kDoubtfulErrorChance) : error_chance;
    one.label = labelled(tube.label, look);
    one.place = tube.place;
    observations.push_back(std::move(one));
  };
  const double usual = Observation{}.error_chance;
  if (tube.cold) add(tube.cold_temperature_k, interval_of(*tube.cold, charge, unnoticed), usual, "cold");
  if (tube.hot) {
    const bool may_be_dirt = tube.holds_insoluble && *tube.hot == Dissolved::Part;
    add(tube.hot_temperature_k, interval_of(*tube.hot, charge, unnoticed),
        may_be_dirt ? kDirtErrorChance : usual, "hot");
  }
  if (tube.cooled) {
    const bool was_clear = tube.hot == Dissolved::All || tube.cold == Dissolved::All;
    // An oil or a cloud is more than the solution can hold as well: the solid dissolves even less than the
    // liquid.
    if (*tube.cooled != OnCooling::Nothing)
      add(tube.cooled_to_k, {-kInfinity, charge}, usual, "cooled");
    else if (was_clear)
      add(tube.cooled_to_k, {charge, kInfinity}, kClearErrorChance, "cooled");
  }
  return observations;
}

std::optional<Observation> observation_of_value(const SolubilityState& state, const KnownValue& known) {
  if (!usable(state, known.system)) return std::nullopt;
  const auto log10_molar = log10_molar_of_known(known, state.molar_mass_g_mol);
  if (!log10_molar) return std::nullopt;
  Observation one = looking_at(state, known.system, known.temperature_k);
  one.value = *log10_molar;
  one.noise_sd = known.spread_log10 && *known.spread_log10 > 0 ? *known.spread_log10 : kLaboratorySd;
  one.other_laboratory = !known.own_laboratory;
  one.label = known.label;
  one.place = known.place;
  return one;
}

Posterior learn(const SolubilityState& initial, const std::vector<KnownValue>& values,
                const std::vector<Tube>& tubes) {
  const auto observations_at = [&](const SolubilityState& state) {
    std::vector<Observation> all;
    for (const KnownValue& known : values)
      if (auto one = observation_of_value(state, known)) all.push_back(std::move(*one));
    for (const Tube& tube : tubes)
      for (Observation& one : observations_of_tube(state, tube)) all.push_back(std::move(one));
    return all;
  };
  Posterior posterior = update(initial, observations_at(initial));
  const bool pairs =
      std::any_of(values.begin(), values.end(), [](const auto& v) { return is_pair(v.system); }) ||
      std::any_of(tubes.begin(), tubes.end(), [](const auto& t) { return is_pair(t.system); });
  for (int pass = 1; pairs && posterior.converged && pass < kPasses; ++pass)
    posterior = update(initial, observations_at(posterior.state));
  return posterior;
}

}  // namespace firstcrop
