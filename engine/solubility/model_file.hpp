#pragma once

#include <array>
#include <cstddef>
#include <memory>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "solubility/enthalpy.hpp"

namespace firstcrop {

/// What the solubility model needs to know of a solvent.
struct SolventTraits {
  std::string id;
  std::array<double, 6> abraham{};          ///< c, e, s, a, b, l of log10 K(gas to solvent), 298.15 K
  std::array<double, 3> hansen_sqrt_mpa{};  ///< dispersion, polar, hydrogen bonding [MPa^0.5]
  double molar_volume_ml_mol = 0;
  double hydrocarbon_share = 0;  ///< 1 alkane, 0.6 much like one, 0.4 arene, else 0
  bool water = false;
  /// Of levels, where the traits were borrowed from other solvents: spread that comes on top [log10 units squared].
  double borrowed_variance = 0;
};

/// The fitted model of solubility: a Gaussian process over solids and solvents, read from one text file that
/// stands alone. Cheap to copy.
class SolubilityModel {
 public:
  struct Data;
  explicit SolubilityModel(std::shared_ptr<const Data> data);

  /// Reads the text of a model file. What is wrong with a damaged or foreign file is returned as a sentence
  /// that names the line; no text whatever makes it fail otherwise.
  [[nodiscard]] static std::variant<SolubilityModel, std::string> parse(std::string_view text);

  /// Solvents in the order of every vector and matrix that the model gives.
  [[nodiscard]] const std::vector<std::string>& solvent_ids() const;
  [[nodiscard]] const std::vector<SolventTraits>& solvents() const;
  [[nodiscard]] const EnthalpyModel& enthalpy() const;
  /// Number of solids that the model was fitted on.
  [[nodiscard]] std::size_t solid_count() const;

  /// The same model with further solvents appended, placed by their traits among those that were fitted.
  /// A solvent whose id the model already has is left out.
  [[nodiscard]] SolubilityModel with_solvents(const std::vector<SolventTraits>& further) const;

  [[nodiscard]] const Data& data() const { return *data_; }

 private:
  std::shared_ptr<const Data> data_;
};

}  // namespace firstcrop
