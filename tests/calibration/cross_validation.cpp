#include "cross_validation.hpp"

#include <fmt/format.h>

#include <array>
#include <cmath>
#include <map>
#include <memory>
#include <numeric>

#include "solubility/curve.hpp"

namespace firstcrop {
namespace {

constexpr std::array<ModelMode, 4> kModes{ModelMode::Structure, ModelMode::Groups, ModelMode::MeltingPoint,
                                          ModelMode::Nothing};
constexpr std::array<const char*, 4> kModeNames{"structure and melting point", "groups and melting point",
                                                "melting point only", "nothing"};
/// Solids measured in at least this many solvents are also judged by themselves.
constexpr std::size_t kOftenMeasured = 6;
constexpr const char* kOftenName = "  in at least six solvents";
/// Pairs of solvents closer than this [log10] have no order worth foretelling.
constexpr double kSmallestDifference = 0.1;

std::vector<std::vector<SampleCell>> cells_by_solid(const Sample& sample) {
  std::vector<std::vector<SampleCell>> out(sample.solids.size());
  for (const SampleCell& cell : sample.cells) out[cell.solid].push_back(cell);
  return out;
}

bool can_be_asked(const CalibrationSolid& solid, ModelMode mode) {
  return mode != ModelMode::MeltingPoint || solid.melting_point_k.has_value();
}

std::string line(const char* name, const Score& score) {
  return fmt::format("{:<28}{}\n", name, score.text());
}

std::string head(const char* title) {
  return fmt::format("{}\n{:<28}{:>8}{:>14}{:>12}{:>15}{:>13}\n", title, "", "solids", "median rmse",
                     "rmse of all", "pairs in order", "inside 95 %");
}

}  // namespace

void Score::add(const SolubilityPrior& foretold, const std::vector<SampleCell>& cells) {
  double sum = 0;
  for (const SampleCell& cell : cells) {
    const double error = foretold.mean[cell.solvent] - cell.level;
    const double variance = foretold.covariance(cell.solvent, cell.solvent) + kLaboratorySd * kLaboratorySd;
    sum += error * error;
    squares_.push_back(error * error);
    if (std::abs(error) < 1.96 * std::sqrt(variance)) covered_ += 1;
  }
  rmse_per_solid_.push_back(std::sqrt(sum / static_cast<double>(cells.size())));
  for (std::size_t i = 0; i < cells.size(); ++i) {
    for (std::size_t j = 0; j < i; ++j) {
      const double measured = cells[i].level - cells[j].level;
      if (std::abs(measured) < kSmallestDifference) continue;
      pairs_ += 1;
      if ((foretold.mean[cells[i].solvent] - foretold.mean[cells[j].solvent]) * measured > 0)
        pairs_right_ += 1;
    }
  }
}

std::string Score::text() const {
  if (rmse_per_solid_.empty()) return "nothing to judge";
  const auto count = static_cast<double>(squares_.size());
  const double rmse = std::sqrt(std::accumulate(squares_.begin(), squares_.end(), 0.0) / count);
  return fmt::format("{:>8}{:>14.3f}{:>12.3f}{:>15.3f}{:>13.3f}", rmse_per_solid_.size(),
                     median(rmse_per_solid_), rmse, pairs_right_ / pairs_, covered_ / count);
}

SoluteInput input_of(const CalibrationSolid& solid, ModelMode mode) {
  SoluteInput out;
  if (mode == ModelMode::Structure) out.structure_features = solid.structure_features;
  if (mode == ModelMode::Groups) out.group_features = solid.group_features;
  if (mode != ModelMode::Nothing) out.melting_point_k = solid.melting_point_k;
  out.molar_mass_g_mol = solid.molar_mass_g_mol;
  out.canonical_smiles = solid.canonical_smiles;
  out.canonical_smiles_without_stereo = solid.canonical_smiles_without_stereo;
  out.as_unknown = true;
  return out;
}

std::vector<std::vector<std::size_t>> skeletons(const Sample& sample) {
  std::map<std::string, std::vector<std::size_t>> groups;
  for (std::size_t i = 0; i < sample.solids.size(); ++i) {
    groups[sample.solids[i].canonical_smiles_without_stereo].push_back(i);
  }
  std::vector<std::vector<std::size_t>> out;
  out.reserve(groups.size());
  for (auto& [key, solids] : groups) out.push_back(std::move(solids));
  return out;
}

void leave_out(ModelFit& fit, ModelMode mode, const std::vector<std::size_t>& solids) {
  const auto k = static_cast<std::size_t>(mode);
  std::vector<double> alpha = alpha_without(fit.fits[k], fit.data.solids, solids);
  switch (mode) {
    case ModelMode::Structure:
      fit.data.structure.alpha = std::move(alpha);
      break;
    case ModelMode::Groups:
      fit.data.groups.alpha = std::move(alpha);
      break;
    case ModelMode::MeltingPoint:
      fit.data.melting_point = summed(fit.fits[k].fit, alpha, fit.sample, fit.data.solvents.size());
      break;
    case ModelMode::Nothing:
      fit.data.nothing = summed(fit.fits[k].fit, alpha, fit.sample, fit.data.solvents.size());
      break;
  }
}

SolubilityModel borrowed_model(const SolubilityModel::Data& data) {
  return SolubilityModel(std::shared_ptr<const SolubilityModel::Data>(std::shared_ptr<void>(), &data));
}

std::string cross_validation_text(const CalibrationTable& table, const Configuration& configuration) {
  ModelFit fit = fit_model(table, sample_of(table, configuration), configuration.partition_weight);
  const auto cells = cells_by_solid(fit.sample);
  const auto often_measured = [&](std::size_t i) { return cells[i].size() >= kOftenMeasured; };
  const auto groups = skeletons(fit.sample);

  Score approximate;
  Score seen;
  for (std::size_t i = 0; i < fit.sample.solids.size(); ++i) {
    SoluteInput input = input_of(fit.sample.solids[i], ModelMode::Structure);
    approximate.add(predict(borrowed_model(fit.data), input), cells[i]);
    input.as_unknown = false;
    seen.add(predict(borrowed_model(fit.data), input), cells[i]);
  }
  std::string out = head("each solid left out of one fit (with its stereoisomers)");
  for (const ModelMode mode : kModes) {
    Score score;
    Score often;
    for (const auto& group : groups) {
      leave_out(fit, mode, group);
      for (const std::size_t i : group) {
        if (!can_be_asked(fit.sample.solids[i], mode)) continue;
        const SolubilityPrior prior = predict(borrowed_model(fit.data), input_of(fit.sample.solids[i], mode));
        score.add(prior, cells[i]);
        if (often_measured(i)) often.add(prior, cells[i]);
      }
    }
    out += line(kModeNames[static_cast<std::size_t>(mode)], score);
    out += line(kOftenName, often);
  }

  std::array<Score, kModes.size()> folds;
  std::array<Score, kModes.size()> often_folds;
  for (int fold = 0; fold < kFoldCount; ++fold) {
    const auto in_fold = [&](const CalibrationSolid& solid) { return fold_of(solid) == fold; };
    const ModelFit without =
        fit_model(table,
                  make_sample(table, configuration.with_doubtful,
                              [&](const CalibrationSolid& solid) { return !in_fold(solid); }),
                  configuration.partition_weight);
    for (std::size_t i = 0; i < fit.sample.solids.size(); ++i) {
      if (!in_fold(fit.sample.solids[i])) continue;
      for (std::size_t m = 0; m < kModes.size(); ++m) {
        if (!can_be_asked(fit.sample.solids[i], kModes[m])) continue;
        const SolubilityPrior prior =
            predict(borrowed_model(without.data), input_of(fit.sample.solids[i], kModes[m]));
        folds[m].add(prior, cells[i]);
        if (often_measured(i)) often_folds[m].add(prior, cells[i]);
      }
    }
  }
  out += head("five folds, each foretold by a fit without it");
  for (std::size_t m = 0; m < kModes.size(); ++m) {
    out += line(kModeNames[m], folds[m]);
    out += line(kOftenName, often_folds[m]);
  }
  out += head("by the fit that has seen all solids, structure and melting point");
  out += line("as if unknown (approximate)", approximate);
  out += line("as known", seen);
  return out;
}

}  // namespace firstcrop
