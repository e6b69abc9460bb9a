#include "phase/activity.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "phase/activity_data.hpp"

namespace firstcrop {

namespace {

using GroupArray = std::array<double, static_cast<std::size_t>(UnifacParameters::kMaxMainGroups)>;

/// ln Gamma_k of every main group per unit of surface, for surface fractions `theta`.
void group_residuals(const GroupArray& theta, const std::vector<double>& psi, std::size_t groups,
                     GroupArray& out) {
  GroupArray sums{};
  for (std::size_t m = 0; m < groups; ++m)
    for (std::size_t k = 0; k < groups; ++k) sums[k] += theta[m] * psi[m * groups + k];
  GroupArray shares{};
  for (std::size_t m = 0; m < groups; ++m) shares[m] = theta[m] / sums[m];
  for (std::size_t k = 0; k < groups; ++k) {
    double pulled = 0;
    for (std::size_t m = 0; m < groups; ++m) pulled += psi[k * groups + m] * shares[m];
    out[k] = 1 - std::log(sums[k]) - pulled;
  }
}

}  // namespace

ActivityModel::ActivityModel(std::shared_ptr<const Data> data) : data_(std::move(data)) {}

std::optional<ActivityModel> ActivityModel::create(const UnifacParameters& parameters,
                                                   std::span<const GroupCounts> molecules) {
  auto data = std::make_shared<Data>();
  data->components = molecules.size();
  std::vector<int> main_groups;
  for (const GroupCounts& molecule : molecules) {
    double volume = 0;
    double surface = 0;
    for (const auto& [number, count] : molecule) {
      const UnifacSubgroup* subgroup = parameters.subgroup(number);
      if (subgroup == nullptr || count < 0) return std::nullopt;
      volume += count * subgroup->volume_r;
      surface += count * subgroup->surface_q;
      if (std::find(main_groups.begin(), main_groups.end(), subgroup->main_group) == main_groups.end())
        main_groups.push_back(subgroup->main_group);
    }
    if (volume <= 0 || surface <= 0) return std::nullopt;
    data->volume.push_back(volume);
    data->volume_three_quart.push_back(std::pow(volume, 0.75));
    data->surface.push_back(surface);
  }
  if (molecules.empty()) return std::nullopt;

  const std::size_t groups = main_groups.size();
  data->groups = groups;
  data->group_surface.assign(molecules.size() * groups, 0.0);
  for (std::size_t i = 0; i < molecules.size(); ++i) {
    for (const auto& [number, count] : molecules[i]) {
      const UnifacSubgroup* subgroup = parameters.subgroup(number);
      const auto found = std::find(main_groups.begin(), main_groups.end(), subgroup->main_group);
      data->group_surface[i * groups + static_cast<std::size_t>(found - main_groups.begin())] +=
          count * subgroup->surface_q;
    }
  }
  data->interactions.reserve(groups * groups);
  for (std::size_t i = 0; i < groups; ++i) {
    for (std::size_t j = 0; j < groups; ++j) {
      const auto interaction = parameters.interaction(main_groups[i], main_groups[j]);
      if (!interaction) return std::nullopt;
      data->uses_completed = data->uses_completed || interaction->completed;
      data->interactions.push_back(*interaction);
    }
  }
  return ActivityModel(std::move(data));
}

std::size_t ActivityModel::component_count() const {
  return data_->components;
}

bool ActivityModel::uses_completed_parameters() const {
  return data_->uses_completed;
}

ActivityAtTemperature ActivityModel::at(double temperature_k) const {
  return {data_, temperature_k};
}

std::vector<double> ActivityModel::ln_gamma(std::span<const double> mole_fractions,
                                            double temperature_k) const {
  return at(temperature_k).ln_gamma(mole_fractions);
}

ActivityAtTemperature::ActivityAtTemperature(std::shared_ptr<const ActivityModel::Data> data,
                                             double temperature_k)
    : data_(std::move(data)), temperature_k_(temperature_k) {
  const std::size_t groups = data_->groups;
  psi_.reserve(groups * groups);
  for (const GroupInteraction& interaction : data_->interactions)
    psi_.push_back(
        std::exp(-(interaction.a_k / temperature_k + interaction.b + interaction.c_per_k * temperature_k)));

  pure_residual_.reserve(data_->components);
  for (std::size_t i = 0; i < data_->components; ++i) {
    const double* surfaces = &data_->group_surface[i * groups];
    GroupArray theta{};
    for (std::size_t k = 0; k < groups; ++k) theta[k] = surfaces[k] / data_->surface[i];
    GroupArray residuals{};
    group_residuals(theta, psi_, groups, residuals);
    double sum = 0;
    for (std::size_t k = 0; k < groups; ++k) sum += surfaces[k] * residuals[k];
    pure_residual_.push_back(sum);
  }
}

std::size_t ActivityAtTemperature::component_count() const {
  return data_->components;
}

void ActivityAtTemperature::ln_gamma(std::span<const double> mole_fractions, std::span<double> out) const {
  const ActivityModel::Data& data = *data_;
  const std::size_t groups = data.groups;
  double mean_volume = 0;
  double mean_three_quart = 0;
  double mean_surface = 0;
  GroupArray theta{};
  for (std::size_t i = 0; i < data.components; ++i) {
    const double x = mole_fractions[i];
    mean_volume += x * data.volume[i];
    mean_three_quart += x * data.volume_three_quart[i];
    mean_surface += x * data.surface[i];
    for (std::size_t k = 0; k < groups; ++k) theta[k] += x * data.group_surface[i * groups + k];
  }
  for (std::size_t k = 0; k < groups; ++k) theta[k] /= mean_surface;
  GroupArray residuals{};
  group_residuals(theta, psi_, groups, residuals);

  constexpr double kHalfCoordination = 5;
  for (std::size_t i = 0; i < data.components; ++i) {
    const double shape = data.volume_three_quart[i] / mean_three_quart;
    const double ratio = data.volume[i] * mean_surface / (data.surface[i] * mean_volume);
    const double combinatorial =
        1 - shape + std::log(shape) - kHalfCoordination * data.surface[i] * (1 - ratio + std::log(ratio));
    double residual = 0;
    for (std::size_t k = 0; k < groups; ++k) residual += data.group_surface[i * groups + k] * residuals[k];
    out[i] = combinatorial + residual - pure_residual_[i];
  }
}

std::vector<double> ActivityAtTemperature::ln_gamma(std::span<const double> mole_fractions) const {
  std::vector<double> result(data_->components);
  ln_gamma(mole_fractions, result);
  return result;
}

}  // namespace firstcrop
