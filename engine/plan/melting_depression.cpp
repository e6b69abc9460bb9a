#include "plan/melting_depression.hpp"

#include <algorithm>
#include <cmath>

#include "solubility/oiling.hpp"

namespace firstcrop {
namespace {

constexpr double kGasConstantKjMolK = 8.314462618e-3;
constexpr double kLowEntropyKjMolK = 38e-3;
constexpr double kHighEntropyKjMolK = 70e-3;
// 80 % range of the difference of two readings, each with a standard deviation of 0.5 K.
constexpr double kReadingK = 0.5 * 1.41421356 * 1.2816;

}  // namespace

FusionEnthalpy fusion_enthalpy_with_range(double melting_point_k) {
  return {fusion_enthalpy_by_walden_kj_mol(melting_point_k), kLowEntropyKjMolK * melting_point_k,
          kHighEntropyKjMolK * melting_point_k};
}

double impurity_by_depression(double clear_point_k, double melting_point_k, double fusion_enthalpy_kj_mol) {
  if (clear_point_k >= melting_point_k) return 0;
  const double span = 1 / clear_point_k - 1 / melting_point_k;
  return 1 - std::exp(-fusion_enthalpy_kj_mol / kGasConstantKjMolK * span);
}

PurityEstimate purity_by_melting(double clear_point_k, double melting_point_k) {
  const FusionEnthalpy enthalpy = fusion_enthalpy_with_range(melting_point_k);
  const auto impurity = [&](double clear_k, double kj_mol) {
    return impurity_by_depression(clear_k, melting_point_k, kj_mol);
  };
  const double middle = impurity(clear_point_k, enthalpy.kj_mol);
  // Independent errors: their effects add as squares.
  const double more = std::hypot(impurity(clear_point_k, enthalpy.high_kj_mol) - middle,
                                 impurity(clear_point_k - kReadingK, enthalpy.kj_mol) - middle);
  const double less = std::hypot(middle - impurity(clear_point_k, enthalpy.low_kj_mol),
                                 middle - impurity(clear_point_k + kReadingK, enthalpy.kj_mol));
  return {1 - middle, std::max(0.0, 1 - middle - more), std::min(1.0, 1 - middle + less),
          melting_point_k - clear_point_k};
}

}  // namespace firstcrop
