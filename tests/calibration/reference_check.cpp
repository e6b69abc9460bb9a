#include "reference_check.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>
#include <utility>
#include <variant>

#include "base/error.hpp"
#include "cross_validation.hpp"
#include "csv.hpp"
#include "model_fit.hpp"
#include "structure/molecule.hpp"

namespace firstcrop {
namespace {

constexpr double kTolerance = 0.002;

/// Largest difference of one kind of figure.
struct Difference {
  double largest = 0;
  std::size_t count = 0;
  void add(double found, double expected) {
    largest = std::max(largest, std::abs(found - expected));
    ++count;
  }
};

}  // namespace

ReferenceCheck check_against_reference(const CalibrationTable& table, const DescriptorScheme& scheme,
                                       const std::string& folder) {
  const Configuration configuration = reference_configuration();
  ModelFit fit = fit_model(table, sample_of(table, configuration), configuration.partition_weight);
  const std::size_t ethanol = table.solvent_index("ethanol");

  Difference mean, sd, covariance;
  const CsvTable outside = read_csv(folder + "/solubility_outside_reference.csv");
  std::map<std::string, SolubilityPrior> priors;
  for (const auto& row : outside.rows) {
    const std::string& smiles = row[outside.column("smiles")];
    auto found = priors.find(smiles);
    if (found == priors.end()) {
      const auto molecule = parse_smiles(smiles);
      if (!std::holds_alternative<Molecule>(molecule)) throw Error(fmt::format("cannot read {}", smiles));
      SoluteInput input;
      input.structure_features = scheme.structure_features(std::get<Molecule>(molecule));
      input.melting_point_k = csv_number(row[outside.column("melting_point_k")]);
      found = priors.emplace(smiles, predict(borrowed_model(fit.data), input)).first;
    }
    const std::size_t s = table.solvent_index(row[outside.column("solvent")]);
    const SolubilityPrior& prior = found->second;
    mean.add(prior.mean[s], required_csv_number(row[outside.column("mean")]));
    sd.add(std::sqrt(prior.covariance(s, s)), required_csv_number(row[outside.column("sd")]));
    covariance.add(prior.covariance(s, ethanol),
                   required_csv_number(row[outside.column("covariance_with_ethanol")]));
  }

  Difference left_out_mean, left_out_sd;
  const CsvTable left_out = read_csv(folder + "/solubility_left_out_reference.csv");
  const auto groups = skeletons(fit.sample);
  std::map<std::string, SolubilityPrior> left_out_priors;
  for (const auto& row : left_out.rows) {
    const std::string& smiles = row[left_out.column("canonical_smiles")];
    auto found = left_out_priors.find(smiles);
    if (found == left_out_priors.end()) {
      const auto solid =
          std::find_if(fit.sample.solids.begin(), fit.sample.solids.end(),
                       [&](const CalibrationSolid& s) { return s.canonical_smiles == smiles; });
      if (solid == fit.sample.solids.end()) throw Error(fmt::format("the table has no solid {}", smiles));
      const auto index = static_cast<std::size_t>(solid - fit.sample.solids.begin());
      for (const auto& group : groups) {
        if (std::find(group.begin(), group.end(), index) != group.end())
          leave_out(fit, ModelMode::Structure, group);
      }
      found = left_out_priors
                  .emplace(smiles, predict(borrowed_model(fit.data), input_of(*solid, ModelMode::Structure)))
                  .first;
    }
    const std::size_t s = table.solvent_index(row[left_out.column("solvent")]);
    left_out_mean.add(found->second.mean[s], required_csv_number(row[left_out.column("mean")]));
    left_out_sd.add(std::sqrt(found->second.covariance(s, s)),
                    required_csv_number(row[left_out.column("sd")]));
  }

  ReferenceCheck out;
  out.passed = true;
  for (const auto& [name, difference] :
       {std::pair("outside the table, mean", mean), std::pair("outside the table, sd", sd),
        std::pair("outside the table, covariance with ethanol", covariance),
        std::pair("left out, mean", left_out_mean), std::pair("left out, sd", left_out_sd)}) {
    const bool good = difference.count > 0 && difference.largest <= kTolerance;
    out.passed = out.passed && good;
    out.text += fmt::format("{:<44}{:>5} figures, largest difference {:.5f}: {}\n", name, difference.count,
                            difference.largest, good ? "agrees" : "DIFFERS");
  }
  return out;
}

}  // namespace firstcrop
