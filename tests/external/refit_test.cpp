#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <string>
#include <utility>

#include "calibration/cross_validation.hpp"
#include "calibration/model_fit.hpp"
#include "calibration/model_writer.hpp"
#include "csv_table.hpp"
#include "structure/descriptors.hpp"
#include "structure_files.hpp"

namespace firstcrop {

TEST_CASE("a fit made anew to every thirteenth solid foretells what a second implementation does") {
  const DescriptorScheme scheme(structure_files::fragments());
  const CalibrationTable table = read_calibration_table(FIRSTCROP_SOURCE_DIR, scheme);
  const Configuration configuration = shipped_configuration();
  const Sample all = sample_of(table, configuration);
  std::set<std::string> chosen;
  for (std::size_t i = 0; i < all.solids.size(); i += 13) chosen.insert(all.solids[i].canonical_smiles);
  const ModelFit fit = fit_model(
      table,
      sample_of(table, configuration,
                [&](const CalibrationSolid& solid) { return chosen.contains(solid.canonical_smiles); }),
      configuration);
  REQUIRE(fit.data.solids.size() == 41);

  std::map<std::string, SolubilityPrior> priors;
  const auto rows = read_csv_table("solubility_refit_reference.csv");
  REQUIRE(rows.size() > 50);
  for (const auto& row : rows) {
    const std::string& smiles = row.at("canonical_smiles");
    auto found = priors.find(smiles);
    if (found == priors.end()) {
      const auto solid = std::find_if(all.solids.begin(), all.solids.end(),
                                      [&](const auto& s) { return s.canonical_smiles == smiles; });
      REQUIRE(solid != all.solids.end());
      found =
          priors.emplace(smiles, predict(borrowed_model(fit.data), input_of(*solid, ModelMode::Structure)))
              .first;
    }
    const std::size_t s = table.solvent_index(row.at("solvent"));
    INFO(smiles, " ", row.at("solvent"));
    CHECK(std::abs(found->second.mean[s] - number(row, "mean")) < 0.002);
    CHECK(std::abs(std::sqrt(found->second.covariance(s, s)) - number(row, "sd")) < 0.002);
  }
  // The same table makes the same bytes.
  CHECK(model_text(fit.data) == model_text(fit_model(table, fit.sample, configuration).data));
}

}  // namespace firstcrop
