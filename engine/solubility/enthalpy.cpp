#include "solubility/enthalpy.hpp"

#include <algorithm>

#include "solubility/curve.hpp"

namespace firstcrop {
namespace {

// Limits within which the slope to the pure melt says anything: a solid that melts near room temperature, or
// that is nearly as soluble as its melt, would give a slope without meaning.
constexpr double kLowestMeltingPointK = 320.0;
constexpr double kSmallestDistanceToMelt = 0.05;
constexpr double kLargestMeltSlopeKjMol = 120.0;

}  // namespace

double enthalpy_kj_mol(const EnthalpyModel& model, std::size_t solvent, double level, double melting_point_k,
                       double molar_mass_g_mol) {
  const double distance = std::max(log10_molar_of_melt(molar_mass_g_mol) - level, kSmallestDistanceToMelt);
  const double melt_slope =
      std::min(distance / tau(std::max(melting_point_k, kLowestMeltingPointK)), kLargestMeltSlopeKjMol);
  const double t = (melting_point_k - 420.0) / 100.0;
  const double below_tenth_molar = std::min(level + 1.0, 0.0);
  const auto& c = model.coefficients;
  return c[0] + c[1] * level + c[2] * melt_slope / 10.0 + c[3] * t + c[4] * level * t +
         c[5] * below_tenth_molar * below_tenth_molar + model.solvent_terms[solvent];
}

}  // namespace firstcrop
