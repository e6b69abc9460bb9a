#include "cross_validation.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <map>
#include <memory>
#include <numeric>
#include <optional>
#include <random>
#include <string_view>
#include <utility>

#include "progress.hpp"
#include "solubility/curve.hpp"
#include "solubility/observations.hpp"

namespace firstcrop {
namespace {

/// What is told of a solid.
struct Knowledge {
  const char* name;
  ModelMode mode;
  bool with_melting_point;
};
constexpr std::array<Knowledge, 6> kKnowledge{{{"structure and melting point", ModelMode::Structure, true},
                                               {"structure only", ModelMode::Structure, false},
                                               {"groups and melting point", ModelMode::Groups, true},
                                               {"groups only", ModelMode::Groups, false},
                                               {"melting point only", ModelMode::MeltingPoint, true},
                                               {"nothing", ModelMode::Nothing, false}}};
/// Solids measured in at least this many solvents are also judged by themselves.
constexpr std::size_t kOftenMeasured = 6;
constexpr const char* kOftenName = "  in at least six solvents";
/// After the first measured solvents: solids with at least three more, so that all rows speak of the same
/// ones.
constexpr std::array<std::size_t, 4> kMeasured{0, 1, 3, 5};
constexpr std::size_t kEnoughCells = kMeasured.back() + 3;
constexpr std::size_t kDraws = 3;
constexpr std::uint32_t kSeed = 7;
/// Pairs of solvents closer than this [log10] have no order worth foretelling.
constexpr double kSmallestDifference = 0.1;
/// A fit takes about as long as this many foretold solids.
constexpr std::size_t kStepsOfFit = 1500;

std::vector<std::vector<SampleCell>> cells_by_solid(const Sample& sample) {
  std::vector<std::vector<SampleCell>> out(sample.solids.size());
  for (const SampleCell& cell : sample.cells) out[cell.solid].push_back(cell);
  return out;
}

bool can_be_asked(const CalibrationSolid& solid, const Knowledge& knowledge) {
  return knowledge.mode != ModelMode::MeltingPoint || solid.melting_point_k.has_value();
}

std::string line(std::string_view name, const std::string& text) {
  return fmt::format("{:<28}{}\n", name, text);
}

std::string head(std::string_view title) {
  return fmt::format("{}\n{:<28}{:>8}{:>14}{:>12}{:>15}{:>13}{:>13}\n", title, "", "solids", "median rmse",
                     "rmse of all", "pairs in order", "inside 68 %", "inside 95 %");
}

std::string class_head(std::string_view title) {
  return fmt::format("{}\n{:<28}{:>8}{:>10}{:>10}{:>10}{:>10}\n", title, "", "water", "alkanes", "alcohols",
                     "arenes", "others");
}

/// All scores of one way of leaving out.
struct Scores {
  explicit Scores(const std::vector<SolventClass>& classes)
      : all(kKnowledge.size(), Score(classes)), often(kKnowledge.size(), Score(classes)) {}
  void add(std::size_t knowledge, const SolubilityPrior& prior, const std::vector<SampleCell>& cells) {
    all[knowledge].add(prior, cells);
    if (cells.size() >= kOftenMeasured) often[knowledge].add(prior, cells);
  }
  [[nodiscard]] std::string text(std::string_view title) const {
    std::string out = head(title);
    for (std::size_t k = 0; k < all.size(); ++k) {
      out += line(kKnowledge[k].name, all[k].text());
      out += line(kOftenName, often[k].text());
    }
    out += class_head("  rmse of all by class of solvent");
    for (std::size_t k = 0; k < all.size(); ++k) out += line(kKnowledge[k].name, all[k].class_text());
    return out;
  }
  std::vector<Score> all;
  std::vector<Score> often;
};

/// Learns the first cells of random orders as values from other laboratories, and foretells the others.
void add_after_measuring(const SolubilityPrior& prior, const EnthalpyModel& enthalpy, double molar_mass_g_mol,
                         const std::vector<SampleCell>& cells, std::mt19937& generator,
                         std::vector<Score>& scores) {
  const SolubilityState state = initial_state(prior, enthalpy, molar_mass_g_mol);
  for (std::size_t draw = 0; draw < kDraws; ++draw) {
    std::vector<SampleCell> order = cells;
    for (std::size_t i = order.size() - 1; i > 0; --i) std::swap(order[i], order[generator() % (i + 1)]);
    const std::vector<SampleCell> judged(order.begin() + kMeasured.back(), order.end());
    for (std::size_t k = 0; k < kMeasured.size(); ++k) {
      std::vector<KnownValue> known;
      for (std::size_t i = 0; i < kMeasured[k]; ++i) {
        KnownValue value;
        value.system = {{order[i].solvent, 1.0, 0.0}};
        value.value = std::pow(10.0, order[i].level);
        value.basis = SolubilityBasis::MolPerLitre;
        known.push_back(std::move(value));
      }
      const SolubilityState after = learn(state, known, {}).state;
      std::vector<double> mean;
      std::vector<double> variance;
      for (std::size_t s = 0; s < after.solvent_count; ++s) {
        mean.push_back(after.mean[s]);
        variance.push_back(after.covariance(s, s));
      }
      scores[k].add(mean, variance, judged);
    }
  }
}

}  // namespace

std::vector<SolventClass> solvent_classes(const CalibrationTable& table, const Library& library) {
  std::vector<SolventClass> out;
  for (const SolventTraits& traits : table.solvents) {
    const auto id = library.find_id(traits.id);
    const auto bears = [&](std::string_view name) {
      if (!id) return false;
      const auto& classes = library.solvent(*id).classes;
      return std::find(classes.begin(), classes.end(), name) != classes.end();
    };
    out.push_back(traits.water                      ? SolventClass::Water
                  : traits.hydrocarbon_share == 1   ? SolventClass::Alkanes
                  : traits.hydrocarbon_share == 0.4 ? SolventClass::Arenes
                  : bears("alcohols")               ? SolventClass::Alcohols
                                                    : SolventClass::Others);
  }
  return out;
}

void Score::add(const std::vector<double>& mean, const std::vector<double>& variance,
                const std::vector<SampleCell>& cells) {
  double sum = 0;
  for (const SampleCell& cell : cells) {
    const double error = mean[cell.solvent] - cell.level;
    const double sd = std::sqrt(variance[cell.solvent]);
    const auto solvent_class = static_cast<std::size_t>((*classes_)[cell.solvent]);
    sum += error * error;
    squares_[solvent_class] += error * error;
    counts_[solvent_class] += 1;
    if (std::abs(error) < sd) inside_one_sd_ += 1;
    if (std::abs(error) < 1.96 * sd) inside_95_percent_ += 1;
  }
  rmse_per_solid_.push_back(std::sqrt(sum / static_cast<double>(cells.size())));
  for (std::size_t i = 0; i < cells.size(); ++i) {
    for (std::size_t j = 0; j < i; ++j) {
      const double measured = cells[i].level - cells[j].level;
      if (std::abs(measured) < kSmallestDifference) continue;
      pairs_ += 1;
      if ((mean[cells[i].solvent] - mean[cells[j].solvent]) * measured > 0) pairs_right_ += 1;
    }
  }
}

void Score::add(const SolubilityPrior& foretold, const std::vector<SampleCell>& cells) {
  std::vector<double> variance;
  for (std::size_t s = 0; s < foretold.mean.size(); ++s) {
    variance.push_back(foretold.covariance(s, s) + kLaboratorySd * kLaboratorySd);
  }
  add(foretold.mean, variance, cells);
}

std::string Score::text(std::size_t draws) const {
  if (rmse_per_solid_.empty()) return "nothing to judge";
  const double count = std::accumulate(counts_.begin(), counts_.end(), 0.0);
  const double rmse = std::sqrt(std::accumulate(squares_.begin(), squares_.end(), 0.0) / count);
  return fmt::format("{:>8}{:>14.3f}{:>12.3f}{:>15.3f}{:>13.3f}{:>13.3f}", rmse_per_solid_.size() / draws,
                     median(rmse_per_solid_), rmse, pairs_right_ / pairs_, inside_one_sd_ / count,
                     inside_95_percent_ / count);
}

std::string Score::class_text() const {
  std::string out;
  for (std::size_t k = 0; k < kSolventClassCount; ++k) {
    const int width = k == 0 ? 8 : 10;
    out += counts_[k] > 0 ? fmt::format("{:>{}.3f}", std::sqrt(squares_[k] / counts_[k]), width)
                          : fmt::format("{:>{}}", "-", width);
  }
  return out;
}

SoluteInput input_of(const CalibrationSolid& solid, ModelMode mode, bool with_melting_point) {
  SoluteInput out;
  if (mode == ModelMode::Structure) out.structure_features = solid.structure_features;
  if (mode == ModelMode::Groups) out.group_features = solid.group_features;
  if (mode != ModelMode::Nothing && with_melting_point) out.melting_point_k = solid.melting_point_k;
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

std::string cross_validation_text(const CalibrationTable& table, const Library& library,
                                  const Configuration& configuration) {
  const std::vector<SolventClass> classes = solvent_classes(table, library);
  Progress progress((1 + kFoldCount) * kStepsOfFit + (2 * kKnowledge.size() + 2) * table.solids.size());
  ModelFit fit = fit_model(table, sample_of(table, configuration), configuration);
  progress.advance(kStepsOfFit);
  const auto cells = cells_by_solid(fit.sample);
  const auto& solids = fit.sample.solids;

  Score approximate(classes);
  Score seen(classes);
  for (std::size_t i = 0; i < solids.size(); ++i) {
    SoluteInput input = input_of(solids[i], ModelMode::Structure);
    approximate.add(predict(borrowed_model(fit.data), input), cells[i]);
    input.as_unknown = false;
    seen.add(predict(borrowed_model(fit.data), input), cells[i]);
    progress.advance(2);
  }
  Scores left_out(classes);
  for (const auto& group : skeletons(fit.sample)) {
    std::optional<ModelMode> last;
    for (std::size_t k = 0; k < kKnowledge.size(); ++k) {
      if (last != kKnowledge[k].mode) leave_out(fit, kKnowledge[k].mode, group);
      last = kKnowledge[k].mode;
      for (const std::size_t i : group) {
        progress.advance();
        if (!can_be_asked(solids[i], kKnowledge[k])) continue;
        left_out.add(k,
                     predict(borrowed_model(fit.data),
                             input_of(solids[i], kKnowledge[k].mode, kKnowledge[k].with_melting_point)),
                     cells[i]);
      }
    }
  }

  Scores folds(classes);
  std::vector<Score> measured(kMeasured.size(), Score(classes));
  std::mt19937 generator(kSeed);
  for (int fold = 0; fold < kFoldCount; ++fold) {
    const auto in_fold = [&](const CalibrationSolid& solid) { return fold_of(solid) == fold; };
    const ModelFit without = fit_model(
        table,
        sample_of(table, configuration, [&](const CalibrationSolid& solid) { return !in_fold(solid); }),
        configuration);
    progress.advance(kStepsOfFit);
    for (std::size_t i = 0; i < solids.size(); ++i) {
      if (!in_fold(solids[i])) continue;
      for (std::size_t k = 0; k < kKnowledge.size(); ++k) {
        progress.advance();
        if (!can_be_asked(solids[i], kKnowledge[k])) continue;
        const SolubilityPrior prior =
            predict(borrowed_model(without.data),
                    input_of(solids[i], kKnowledge[k].mode, kKnowledge[k].with_melting_point));
        folds.add(k, prior, cells[i]);
        if (k == 0 && cells[i].size() >= kEnoughCells) {
          add_after_measuring(prior, without.data.enthalpy, solids[i].molar_mass_g_mol, cells[i], generator,
                              measured);
        }
      }
    }
  }
  std::string out = left_out.text("each solid left out of one fit (with its stereoisomers)");
  out += folds.text("five folds, each foretold by a fit without it");
  out += head(
      "five folds, structure and melting point, solids in at least eight solvents, after some are measured");
  for (std::size_t k = 0; k < kMeasured.size(); ++k) {
    out += line(fmt::format("{} measured", kMeasured[k]), measured[k].text(kDraws));
  }
  out += class_head("  rmse of all by class of solvent");
  for (std::size_t k = 0; k < kMeasured.size(); ++k) {
    out += line(fmt::format("{} measured", kMeasured[k]), measured[k].class_text());
  }
  out += head("by the fit that has seen all solids, structure and melting point");
  out += line("as if unknown (approximate)", approximate.text());
  out += line("as known", seen.text());
  return out;
}

}  // namespace firstcrop
