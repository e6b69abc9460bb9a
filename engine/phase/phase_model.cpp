#include "phase/phase_model.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace firstcrop {

namespace {

constexpr double kRecordTemperatureK = 298.15;

MutualSolubility turned(const MutualSolubility& limits) {
  return {limits.second_in_first_weight_percent, limits.first_in_second_weight_percent};
}

/// A published limit moved by the calculated change between two temperatures.
std::optional<double> carried_limit(std::optional<double> published, std::optional<double> calculated_there,
                                    std::optional<double> calculated_here) {
  if (!published) return calculated_here;
  if (!calculated_there || !calculated_here) return published;
  constexpr double kWhole = 100;
  return std::min(kWhole, *published * *calculated_here / *calculated_there);
}

/// Margin of a pair of which one is a mixture of others (95 % ethanol): the curvature on the straight way between
/// the two, the mixture taken as one liquid that keeps its composition. Nothing where no model exists.
std::optional<double> margin_of_blend(const PhaseModel& model, SolventId first, SolventId second,
                                      double temperature_k) {
  const std::array<double, 1> whole{1};
  const auto ends_1 = model.composition(std::array{first}, whole);
  const auto ends_2 = model.composition(std::array{second}, whole);
  if (!ends_1 || !ends_2) return std::nullopt;
  std::vector<SolventId> components = ends_1->components;
  for (const SolventId each : ends_2->components)
    if (std::find(components.begin(), components.end(), each) == components.end()) components.push_back(each);
  const auto shares_of = [&components](const MixtureComposition& end) {
    std::vector<double> shares(components.size(), 0);
    for (std::size_t i = 0; i < end.components.size(); ++i) {
      const auto at = std::find(components.begin(), components.end(), end.components[i]);
      shares[static_cast<std::size_t>(at - components.begin())] = end.mole_fractions[i];
    }
    return shares;
  };
  const std::vector<double> shares_1 = shares_of(*ends_1);
  const std::vector<double> shares_2 = shares_of(*ends_2);
  const auto activity = model.activity(components);
  if (!activity) return std::nullopt;
  const ActivityAtTemperature at = activity->at(temperature_k);
  // Slope of g/RT along the way; its derivative over t = ln(x1/x2) is x1 x2 d2(g/RT)/dx1^2.
  std::vector<double> fractions(components.size());
  std::vector<double> ln_gamma(components.size());
  const auto slope_at = [&](double t) {
    const double share = fraction_of_log_ratio(t);
    for (std::size_t i = 0; i < fractions.size(); ++i)
      fractions[i] = share * shares_1[i] + fraction_of_log_ratio(-t) * shares_2[i];
    at.ln_gamma(fractions, ln_gamma);
    double slope = 0;
    for (std::size_t i = 0; i < fractions.size(); ++i)
      slope += (shares_1[i] - shares_2[i]) * (std::log(fractions[i]) + ln_gamma[i]);
    return slope;
  };
  constexpr double kLast = 10;
  constexpr int kPoints = 101;
  constexpr double kStep = 2 * kLast / (kPoints - 1);
  double least = 1;
  double before = slope_at(-kLast);
  for (int i = 1; i < kPoints; ++i) {
    const double here = slope_at(-kLast + kStep * i);
    least = std::min(least, (here - before) / kStep);
    before = here;
  }
  constexpr double kLeastDepth = 1e-4;
  return std::log(std::max(1 - least, kLeastDepth));
}

}  // namespace

PhaseModel::PhaseModel(Library library, UnifacParameters parameters)
    : library_(std::move(library)), parameters_(std::move(parameters)) {
  for (const Incompatibility& row : library_.incompatibilities())
    if (row.between_solvents) pair_rows_.push_back(&row);
}

bool is_blend(const Solvent& solvent) {
  return solvent.is_mixture && !(solvent.unifac && solvent.unifac->stand_in);
}

std::optional<ActivityModel> PhaseModel::activity(std::span<const SolventId> solvents) const {
  std::vector<GroupCounts> molecules;
  molecules.reserve(solvents.size());
  for (const SolventId id : solvents) {
    const Solvent& solvent = library_.solvent(id);
    if (!solvent.unifac || solvent.unifac->hint_only || is_blend(solvent)) return std::nullopt;
    molecules.push_back(solvent.unifac->counts);
  }
  return ActivityModel::create(parameters_, molecules);
}

std::optional<double> PhaseModel::margin(SolventId first, SolventId second, double temperature_k) const {
  const auto model = activity(std::array{first, second});
  if (!model) return std::nullopt;
  return miscibility_margin(BinaryActivity(model->at(temperature_k)));
}

std::optional<OneLiquid> PhaseModel::one_liquid(SolventId first, SolventId second,
                                                double temperature_k) const {
  if (first == second) return OneLiquid{1, PhaseBasis::Record};
  const MiscibilityRecord* record = library_.miscibility(first, second);
  const bool has_critical_temperature = record != nullptr && record->upper_critical_temperature_k;
  if (has_critical_temperature)
    return firstcrop::one_liquid(record, std::nullopt, std::nullopt, temperature_k);
  const auto here = margin(first, second, temperature_k);
  const bool is_published = record != nullptr && record->evidence == PairEvidence::Published;
  std::optional<double> at_record = here;
  // What parted at 25 °C says little of the boil.
  if (!here && is_published && record->miscibility != MiscibilityClass::Miscible &&
      temperature_k > kRecordTemperatureK &&
      (is_blend(library_.solvent(first)) || is_blend(library_.solvent(second)))) {
    return firstcrop::one_liquid(record, margin_of_blend(*this, first, second, kRecordTemperatureK),
                                 margin_of_blend(*this, first, second, temperature_k), temperature_k);
  }
  if (here && is_published && temperature_k != kRecordTemperatureK)
    at_record = margin(first, second, kRecordTemperatureK);
  return firstcrop::one_liquid(record, at_record, here, temperature_k);
}

double OneLiquidByRatio::chance_at(double first_volume_fraction) const {
  if (first_volume_fraction <= 0 || first_volume_fraction >= 1) return 1;
  if (!limits) return everywhere.chance;
  const double first_mass = first_volume_fraction * first_density_g_ml;
  const double weight_percent =
      100 * first_mass / (first_mass + (1 - first_volume_fraction) * second_density_g_ml);
  return chance_of_one_liquid_at(everywhere.chance, *limits, weight_percent);
}

std::optional<OneLiquidByRatio> PhaseModel::one_liquid_by_ratio(SolventId first, SolventId second,
                                                                double temperature_k, double sure) const {
  const auto answer = one_liquid(first, second, temperature_k);
  if (!answer) return std::nullopt;
  OneLiquidByRatio out{*answer, std::nullopt, 1, 1};
  const auto& density_1 = library_.solvent(first).density_25c_g_ml;
  const auto& density_2 = library_.solvent(second).density_25c_g_ml;
  if (answer->chance >= sure || first == second || !density_1 || !density_2) return out;
  out.limits = mutual_solubility(first, second, temperature_k);
  out.first_density_g_ml = density_1->value;
  out.second_density_g_ml = density_2->value;
  return out;
}

std::optional<OneLiquid> PhaseModel::one_liquid_at(SolventId first, SolventId second, double temperature_k,
                                                   double first_volume_fraction) const {
  constexpr double kSure = 0.999;
  const auto by_ratio = one_liquid_by_ratio(first, second, temperature_k, kSure);
  if (!by_ratio) return std::nullopt;
  return OneLiquid{by_ratio->chance_at(first_volume_fraction), by_ratio->everywhere.basis};
}

MutualSolubility PhaseModel::mutual_solubility(SolventId first, SolventId second,
                                               double temperature_k) const {
  const Solvent& solvent_1 = library_.solvent(first);
  const Solvent& solvent_2 = library_.solvent(second);
  const auto model = activity(std::array{first, second});
  const auto calculated_at = [&](double at_k) -> MutualSolubility {
    if (!model || !solvent_1.molar_mass_g_mol || !solvent_2.molar_mass_g_mol) return {};
    const LayerAnswer answer = liquid_layers(BinaryActivity(model->at(at_k)));
    if (!answer.layers) return {};
    return firstcrop::mutual_solubility(*answer.layers, solvent_1.molar_mass_g_mol->value,
                                        solvent_2.molar_mass_g_mol->value);
  };
  const MutualSolubility here = calculated_at(temperature_k);
  const MiscibilityRecord* record = library_.miscibility(first, second);
  if (record == nullptr ||
      (!record->first_in_second_weight_percent && !record->second_in_first_weight_percent))
    return here;
  MutualSolubility published{record->first_in_second_weight_percent, record->second_in_first_weight_percent};
  if (record->first != first) published = turned(published);
  constexpr double kSameTemperatureK = 0.5;
  const MutualSolubility there = std::abs(temperature_k - record->temperature_k) < kSameTemperatureK
                                     ? here
                                     : calculated_at(record->temperature_k);
  return {carried_limit(published.first_in_second_weight_percent, there.first_in_second_weight_percent,
                        here.first_in_second_weight_percent),
          carried_limit(published.second_in_first_weight_percent, there.second_in_first_weight_percent,
                        here.second_in_first_weight_percent)};
}

const Incompatibility* PhaseModel::gravest_reaction(SolventId first, SolventId second) const {
  const Incompatibility* gravest = nullptr;
  for (const Incompatibility* row : pair_rows_)
    if (row->concerns(first, second) && (gravest == nullptr || row->severity > gravest->severity))
      gravest = row;
  return gravest;
}

}  // namespace firstcrop
