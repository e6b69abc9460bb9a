#include "phase/phase_model.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <sstream>
#include <string>

namespace firstcrop {

namespace {

/// Carboxylic acids are dimers in their vapour, which the calculation leaves out: their listed azeotropes can
/// be moved by it, but a calculated one may not exist.
bool has_dimeric_vapour(const Solvent& solvent) {
  return std::find(solvent.classes.begin(), solvent.classes.end(), "acids") != solvent.classes.end();
}

/// Boiling temperature of an azeotrope at another pressure, its composition and activity coefficients held:
/// ln P changes by the mean of the components' vapour pressures, weighed by their shares in the vapour.
std::optional<double> moved_azeotrope_k(const VapourPressure& first, const VapourPressure& second,
                                        double first_fraction, double standard_k, double pressure_kpa) {
  const auto mean_ln_kpa = [&](double at_k) -> std::optional<double> {
    const auto ln_1 = first.ln_kpa(at_k);
    const auto ln_2 = second.ln_kpa(at_k);
    if (!ln_1 || !ln_2) return std::nullopt;
    return first_fraction * *ln_1 + (1 - first_fraction) * *ln_2;
  };
  const auto at_standard = mean_ln_kpa(standard_k);
  if (!at_standard) return std::nullopt;
  const double wanted = *at_standard + std::log(pressure_kpa / kStandardPressureKpa);
  double temperature_k = standard_k;
  constexpr int kMostSteps = 50;
  constexpr double kToleranceK = 1e-6;
  for (int step = 0; step < kMostSteps; ++step) {
    const auto ln_kpa = mean_ln_kpa(temperature_k);
    if (!ln_kpa) return std::nullopt;
    const double slope = first_fraction * first.slope_per_k(temperature_k) +
                         (1 - first_fraction) * second.slope_per_k(temperature_k);
    const double move_k = (wanted - *ln_kpa) / slope;
    temperature_k += move_k;
    if (std::abs(move_k) < kToleranceK) return temperature_k;
  }
  return std::nullopt;
}

/// Reads `ethanol 0.827, water 0.173 by mole`; nothing where a name is no solvent of the library or the
/// shares do not sum to 1.
std::optional<MixtureComposition> parts_of(const Library& library, const std::string& mixture) {
  MixtureComposition parts;
  std::istringstream items(mixture.substr(0, mixture.find(" by mole")));
  std::string item;
  double sum = 0;
  while (std::getline(items, item, ',')) {
    std::istringstream words(item);
    std::string name;
    double share = 0;
    words >> name >> share;
    const auto id = library.find_id(name);
    if (!words || !id || share <= 0) return std::nullopt;
    parts.components.push_back(*id);
    parts.mole_fractions.push_back(share);
    sum += share;
  }
  constexpr double kRounding = 0.005;
  if (parts.components.empty() || std::abs(sum - 1) > kRounding) return std::nullopt;
  for (double& share : parts.mole_fractions) share /= sum;
  return parts;
}

void add_component(MixtureComposition& composition, SolventId id, double moles) {
  const auto found = std::find(composition.components.begin(), composition.components.end(), id);
  if (found == composition.components.end()) {
    composition.components.push_back(id);
    composition.mole_fractions.push_back(moles);
  } else {
    composition.mole_fractions[static_cast<std::size_t>(found - composition.components.begin())] += moles;
  }
}

}  // namespace

std::optional<std::vector<double>> PhaseModel::mole_fractions(
    std::span<const SolventId> solvents, std::span<const double> volume_fractions) const {
  std::vector<double> moles;
  double total = 0;
  for (std::size_t i = 0; i < solvents.size(); ++i) {
    const auto& volume = library_.solvent(solvents[i]).molar_volume_ml_mol;
    if (!volume) return std::nullopt;
    moles.push_back(volume_fractions[i] / volume->value);
    total += moles.back();
  }
  for (double& amount : moles) amount /= total;
  return moles;
}

std::optional<std::vector<double>> PhaseModel::volume_fractions(
    std::span<const SolventId> solvents, std::span<const double> mole_fractions) const {
  std::vector<double> volumes;
  double total = 0;
  for (std::size_t i = 0; i < solvents.size(); ++i) {
    const auto& volume = library_.solvent(solvents[i]).molar_volume_ml_mol;
    if (!volume) return std::nullopt;
    volumes.push_back(mole_fractions[i] * volume->value);
    total += volumes.back();
  }
  for (double& volume : volumes) volume /= total;
  return volumes;
}

std::optional<VapourPressure> PhaseModel::vapour_pressure(SolventId solvent) const {
  const Solvent& record = library_.solvent(solvent);
  if (!record.antoine || !record.boiling_point_k) return std::nullopt;
  return VapourPressure::create(*record.antoine, record.boiling_point_k->value);
}

std::optional<double> PhaseModel::boiling_temperature_k(SolventId solvent, double pressure_kpa) const {
  const Solvent& record = library_.solvent(solvent);
  if (pressure_kpa == kStandardPressureKpa)
    return record.boiling_point_k ? std::optional(record.boiling_point_k->value) : std::nullopt;
  const auto pressure = vapour_pressure(solvent);
  return pressure ? pressure->boiling_temperature_k(pressure_kpa) : std::nullopt;
}

std::optional<BoilingLiquid> PhaseModel::boiling_liquid(std::span<const SolventId> solvents) const {
  std::vector<VapourPressure> pressures;
  for (const SolventId id : solvents) {
    const auto pressure = vapour_pressure(id);
    if (!pressure) return std::nullopt;
    pressures.push_back(*pressure);
  }
  return BoilingLiquid(std::move(pressures), activity(solvents));
}

std::optional<MixtureComposition> PhaseModel::composition(std::span<const SolventId> solvents,
                                                          std::span<const double> volume_fractions) const {
  const auto moles = mole_fractions(solvents, volume_fractions);
  if (!moles) return std::nullopt;
  MixtureComposition composition;
  for (std::size_t i = 0; i < solvents.size(); ++i) {
    const Solvent& solvent = library_.solvent(solvents[i]);
    const auto parts = is_blend(solvent) ? parts_of(library_, solvent.mixture) : std::nullopt;
    if (!parts) {
      add_component(composition, solvents[i], (*moles)[i]);
      continue;
    }
    for (std::size_t part = 0; part < parts->components.size(); ++part)
      add_component(composition, parts->components[part], (*moles)[i] * parts->mole_fractions[part]);
  }
  return composition;
}

std::optional<MixtureBoiling> PhaseModel::boiling_point(std::span<const SolventId> solvents,
                                                        std::span<const double> volume_fractions,
                                                        double pressure_kpa) const {
  auto mixture = composition(solvents, volume_fractions);
  if (!mixture) return std::nullopt;
  const auto liquid = boiling_liquid(mixture->components);
  if (!liquid) return std::nullopt;
  BubblePoint point = liquid->component_count() == 2
                          ? liquid->boiling_point(mixture->mole_fractions[0], pressure_kpa)
                          : liquid->bubble_point(mixture->mole_fractions, pressure_kpa);
  return MixtureBoiling{std::move(point), std::move(mixture->components)};
}

std::vector<MixtureBoiling> PhaseModel::boiling_curve(SolventId first, SolventId second,
                                                      std::span<const double> first_volume_fractions,
                                                      double pressure_kpa) const {
  const std::array pair{first, second};
  std::vector<MixtureComposition> mixtures;
  std::vector<double> first_mole_fractions;
  for (const double fraction : first_volume_fractions) {
    auto mixture = composition(pair, std::array{fraction, 1 - fraction});
    if (!mixture) return {};
    first_mole_fractions.push_back(mixture->mole_fractions[0]);
    mixtures.push_back(std::move(*mixture));
  }
  if (mixtures.empty()) return {};
  const auto liquid = boiling_liquid(mixtures.front().components);
  if (!liquid) return {};
  std::vector<BubblePoint> points;
  if (liquid->component_count() == 2)
    points = liquid->boiling_curve(first_mole_fractions, pressure_kpa);
  else
    for (const MixtureComposition& mixture : mixtures)
      points.push_back(liquid->bubble_point(mixture.mole_fractions, pressure_kpa));
  std::vector<MixtureBoiling> curve;
  for (std::size_t i = 0; i < points.size(); ++i)
    curve.push_back({std::move(points[i]), std::move(mixtures[i].components)});
  return curve;
}

std::optional<PairAzeotrope> PhaseModel::azeotrope(SolventId first, SolventId second,
                                                   double pressure_kpa) const {
  if (first == second) return std::nullopt;
  const AzeotropeRecord* record = library_.azeotrope(first, second);
  const bool at_standard = std::abs(pressure_kpa - kStandardPressureKpa) < 0.01;
  const bool is_mixture = library_.solvent(first).is_mixture || library_.solvent(second).is_mixture;
  const auto liquid = is_mixture || (record != nullptr && at_standard)
                          ? std::nullopt
                          : boiling_liquid(std::array{first, second});
  const AzeotropeAnswer here = liquid ? find_azeotrope(*liquid, pressure_kpa) : AzeotropeAnswer{};
  if (record == nullptr) {
    if (!here.azeotrope || has_dimeric_vapour(library_.solvent(first)) ||
        has_dimeric_vapour(library_.solvent(second)))
      return std::nullopt;
    return PairAzeotrope{here.azeotrope->temperature_k,
                         here.azeotrope->first_fraction,
                         here.azeotrope->kind == AzeotropeKind::MaximumBoiling,
                         here.azeotrope->layers.has_value(),
                         PairAzeotrope::Basis::Calculated,
                         nullptr};
  }

  PairAzeotrope answer{record->temperature_k,       std::nullopt,
                       record->kind == "maximum",   record->heterogeneous,
                       PairAzeotrope::Basis::Table, record};
  const auto& mass_1 = library_.solvent(record->first).molar_mass_g_mol;
  const auto& mass_2 = library_.solvent(record->second).molar_mass_g_mol;
  if (record->first_weight_percent && mass_1 && mass_2) {
    const double moles_1 = *record->first_weight_percent / mass_1->value;
    const double moles_2 = (100 - *record->first_weight_percent) / mass_2->value;
    const double fraction = moles_1 / (moles_1 + moles_2);
    answer.first_fraction = record->first == first ? fraction : 1 - fraction;
  }
  if (at_standard) return answer;

  // Listed at 101.325 kPa only: moved by the calculated change, else along the vapour pressures of the
  // components.
  answer.basis = PairAzeotrope::Basis::TableMoved;
  const AzeotropeAnswer there = liquid ? find_azeotrope(*liquid, kStandardPressureKpa) : AzeotropeAnswer{};
  if (here.azeotrope && there.azeotrope) {
    answer.temperature_k += here.azeotrope->temperature_k - there.azeotrope->temperature_k;
    if (answer.first_fraction)
      answer.first_fraction = std::clamp(
          *answer.first_fraction + here.azeotrope->first_fraction - there.azeotrope->first_fraction, 0.0,
          1.0);
    return answer;
  }
  const auto pressure_1 = vapour_pressure(first);
  const auto pressure_2 = vapour_pressure(second);
  if (!pressure_1 || !pressure_2) return std::nullopt;
  const auto moved_k = moved_azeotrope_k(*pressure_1, *pressure_2, answer.first_fraction.value_or(0.5),
                                         answer.temperature_k, pressure_kpa);
  if (!moved_k) return std::nullopt;
  answer.temperature_k = *moved_k;
  return answer;
}

std::optional<double> PhaseModel::volatility_of_trace(SolventId trace, SolventId solvent,
                                                      double pressure_kpa) const {
  const auto liquid = boiling_liquid(std::array{trace, solvent});
  if (!liquid || !liquid->model()) return std::nullopt;
  return liquid->volatility_of_trace(0, 1, pressure_kpa);
}

std::optional<FlashPoint> PhaseModel::flash_point(std::span<const SolventId> solvents,
                                                  std::span<const double> volume_fractions) const {
  const auto mixture = composition(solvents, volume_fractions);
  if (!mixture) return std::nullopt;
  std::vector<FlashComponent> components;
  for (const SolventId id : mixture->components) {
    const SafetyNumber& listed = library_.solvent(id).flash_point_k;
    const auto pressure = vapour_pressure(id);
    if (!pressure || listed.knowledge == Knowledge::Unknown) return std::nullopt;
    components.push_back(
        {*pressure, listed.knowledge == Knowledge::Value ? std::optional(listed.value) : std::nullopt});
  }
  return firstcrop::flash_point(components, activity(mixture->components), mixture->mole_fractions);
}

}  // namespace firstcrop
