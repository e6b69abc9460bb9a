#pragma once

#include <array>
#include <string>
#include <vector>

#include "library/library.hpp"
#include "model_fit.hpp"
#include "solubility/prior.hpp"

namespace firstcrop {

/// Classes of solvents that errors are told by.
enum class SolventClass { Water, Alkanes, Alcohols, Arenes, Others };
inline constexpr std::size_t kSolventClassCount = 5;
/// The class of every solvent of the table: alcohols as the library classes them, alkanes and arenes by their
/// hydrocarbon shares 1 and 0.4.
[[nodiscard]] std::vector<SolventClass> solvent_classes(const CalibrationTable& table,
                                                        const Library& library);

/// How well levels were foretold, gathered solid by solid.
class Score {
 public:
  explicit Score(const std::vector<SolventClass>& classes) : classes_(&classes) {}
  /// One solid: foretold mean and variance over solvents, the scatter of a laboratory included, against its
  /// cells.
  void add(const std::vector<double>& mean, const std::vector<double>& variance,
           const std::vector<SampleCell>& cells);
  /// The same from a prior, which leaves the scatter of a laboratory out.
  void add(const SolubilityPrior& foretold, const std::vector<SampleCell>& cells);
  /// `solids, median rmse per solid, rmse of all, pairs of solvents ordered right, inside 68 and 95 %` in one
  /// line; `draws` is how often each solid was added.
  [[nodiscard]] std::string text(std::size_t draws = 1) const;
  /// The rmse of all by class of solvent, in one line.
  [[nodiscard]] std::string class_text() const;

 private:
  const std::vector<SolventClass>* classes_;
  std::vector<double> rmse_per_solid_;
  std::array<double, kSolventClassCount> squares_{};
  std::array<double, kSolventClassCount> counts_{};
  double inside_one_sd_ = 0;
  double inside_95_percent_ = 0;
  double pairs_ = 0;
  double pairs_right_ = 0;
};

/// What the model would be told of a solid in each mode, its melting point withheld or not.
[[nodiscard]] SoluteInput input_of(const CalibrationSolid& solid, ModelMode mode,
                                   bool with_melting_point = true);

/// Groups of solids that share a skeleton: left out together.
[[nodiscard]] std::vector<std::vector<std::size_t>> skeletons(const Sample& sample);

/// Puts the weights of the fit without some solids into the model's data.
void leave_out(ModelFit& fit, ModelMode mode, const std::vector<std::size_t>& solids);
/// A model that looks at `data` for as long as that lives.
[[nodiscard]] SolubilityModel borrowed_model(const SolubilityModel::Data& data);

/// Tables of errors: every solid left out by itself (block inverse of one fit); five folds, each foretold by
/// a fit without it, also after 1, 3 and 5 measured solvents, as the program learns from them; and the
/// approximate leaving out that the shipped file allows.
[[nodiscard]] std::string cross_validation_text(const CalibrationTable& table, const Library& library,
                                                const Configuration& configuration);

}  // namespace firstcrop
