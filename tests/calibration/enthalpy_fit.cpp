#include "enthalpy_fit.hpp"

#include <Eigen/Cholesky>
#include <Eigen/Core>
#include <algorithm>
#include <cmath>
#include <vector>

namespace firstcrop {
namespace {

constexpr double kLowestEnthalpy = -20;
constexpr double kHighestEnthalpy = 120;
constexpr double kRidge = 3;
constexpr double kCommonRidgeShare = 0.01;
constexpr double kHuberKjMol = 12;
constexpr int kRounds = 4;
constexpr std::size_t kTerms = std::tuple_size_v<decltype(EnthalpyModel::coefficients)>;

/// The terms of the rule for one cell, by asking the rule itself with one coefficient at a time.
std::array<double, kTerms> terms_of(double level, double melting_point_k, double molar_mass_g_mol) {
  std::array<double, kTerms> out{};
  for (std::size_t k = 0; k < kTerms; ++k) {
    EnthalpyModel unit;
    unit.coefficients[k] = 1;
    unit.solvent_terms = {0};
    out[k] = enthalpy_kj_mol(unit, 0, level, melting_point_k, molar_mass_g_mol);
  }
  return out;
}

}  // namespace

EnthalpyModel fit_enthalpies(const Sample& sample, const FeatureFit& structure, std::size_t solvent_count) {
  std::vector<const SampleCell*> cells;
  std::vector<double> per_solid(sample.solids.size(), 0);
  for (const SampleCell& cell : sample.cells) {
    if (!cell.enthalpy_kj_mol || *cell.enthalpy_kj_mol <= kLowestEnthalpy ||
        *cell.enthalpy_kj_mol >= kHighestEnthalpy) {
      continue;
    }
    cells.push_back(&cell);
    per_solid[cell.solid] += 1;
  }
  const auto rows = static_cast<Eigen::Index>(cells.size());
  const auto columns = static_cast<Eigen::Index>(kTerms + solvent_count);
  Eigen::MatrixXd design = Eigen::MatrixXd::Zero(rows, columns);
  Eigen::VectorXd observed(rows);
  Eigen::VectorXd base_weight(rows);
  for (Eigen::Index i = 0; i < rows; ++i) {
    const SampleCell& cell = *cells[static_cast<std::size_t>(i)];
    const double melting_point_k = 400 + 100 * structure.t[cell.solid];
    const auto terms = terms_of(cell.level, melting_point_k, sample.solids[cell.solid].molar_mass_g_mol);
    for (std::size_t k = 0; k < kTerms; ++k) design(i, static_cast<Eigen::Index>(k)) = terms[k];
    design(i, static_cast<Eigen::Index>(kTerms + cell.solvent)) = 1;
    observed(i) = *cell.enthalpy_kj_mol;
    base_weight(i) = 1 / std::sqrt(per_solid[cell.solid]);
  }
  Eigen::VectorXd ridge = Eigen::VectorXd::Constant(columns, kRidge);
  ridge.head(static_cast<Eigen::Index>(kTerms)) *= kCommonRidgeShare;
  ridge(0) = 0;
  Eigen::VectorXd weight = base_weight;
  Eigen::VectorXd solution;
  for (int round = 0; round < kRounds; ++round) {
    Eigen::MatrixXd normal = design.transpose() * weight.asDiagonal() * design;
    normal.diagonal() += ridge;
    solution = normal.ldlt().solve(design.transpose() * (weight.array() * observed.array()).matrix());
    const Eigen::ArrayXd residual = (observed - design * solution).array().abs().max(1e-9);
    weight = base_weight.array() * (kHuberKjMol / residual).min(1.0);
  }
  EnthalpyModel out;
  const auto rounded = [&](std::size_t k) {
    return std::round(solution(static_cast<Eigen::Index>(k)) * 1e5) / 1e5;
  };
  for (std::size_t k = 0; k < kTerms; ++k) out.coefficients[k] = rounded(k);
  for (std::size_t s = 0; s < solvent_count; ++s) out.solvent_terms.push_back(rounded(kTerms + s));
  return out;
}

}  // namespace firstcrop
