#include "reference_check.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "base/error.hpp"
#include "cross_validation.hpp"
#include "input/csv.hpp"
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

/// Solvents of the fit that the library knows otherwise.
std::vector<std::string> solvents_that_differ(const CalibrationTable& table, const Library& library) {
  std::vector<std::string> out;
  for (const SolventTraits& traits : table.solvents) {
    const auto id = library.find_id(traits.id);
    const Solvent* solvent = id ? &library.solvent(*id) : nullptr;
    const auto equal = [](const std::optional<SourcedValue>& value, double expected, double tolerance) {
      return value && std::abs(value->value - expected) <= tolerance;
    };
    if (solvent == nullptr || !solvent->abraham ||
        !std::equal(solvent->abraham->begin(), solvent->abraham->end(), traits.abraham.begin(),
                    traits.abraham.end()) ||
        !equal(solvent->hansen_d, traits.hansen_sqrt_mpa[0], 1e-9) ||
        !equal(solvent->hansen_p, traits.hansen_sqrt_mpa[1], 1e-9) ||
        !equal(solvent->hansen_h, traits.hansen_sqrt_mpa[2], 1e-9) ||
        !equal(solvent->molar_volume_ml_mol, traits.molar_volume_ml_mol,
               0.002 * traits.molar_volume_ml_mol)) {
      out.push_back(traits.id);
    }
  }
  return out;
}

}  // namespace

ReferenceCheck check_against_reference(const CalibrationTable& table, const Library& library,
                                       const Configuration& configuration, bool reference,
                                       const std::string& folder) {
  ModelFit fit = fit_model(table, sample_of(table, configuration), configuration);
  const std::size_t ethanol = table.solvent_index("ethanol");

  Difference mean, sd, covariance;
  const CsvTable outside = read_csv(
      folder + (reference ? "/solubility_outside_reference.csv" : "/solubility_shipped_reference.csv"));
  std::map<std::string, SolubilityPrior> priors;
  for (const auto& row : outside.rows) {
    if (!reference && row[outside.column("mode")] != "structure") continue;
    const std::string& smiles = row[outside.column("smiles")];
    const std::string key = smiles + " " + row[outside.column("melting_point_k")];
    auto found = priors.find(key);
    if (found == priors.end()) {
      const auto molecule = parse_smiles(smiles);
      if (!std::holds_alternative<Molecule>(molecule)) throw Error(fmt::format("cannot read {}", smiles));
      SoluteInput input;
      input.structure_features = library.descriptor_scheme().structure_features(std::get<Molecule>(molecule));
      input.melting_point_k = csv_number(row[outside.column("melting_point_k")]);
      found = priors.emplace(key, predict(borrowed_model(fit.data), input)).first;
    }
    const std::size_t s = table.solvent_index(row[outside.column("solvent")]);
    const SolubilityPrior& prior = found->second;
    mean.add(prior.mean[s], required_csv_number(row[outside.column("mean")]));
    sd.add(std::sqrt(prior.covariance(s, s)), required_csv_number(row[outside.column("sd")]));
    covariance.add(prior.covariance(s, ethanol),
                   required_csv_number(row[outside.column("covariance_with_ethanol")]));
  }

  Difference left_out_mean, left_out_sd;
  const CsvTable left_out = read_csv(folder + (reference ? "/solubility_left_out_reference.csv"
                                                         : "/solubility_left_out_shipped_reference.csv"));
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
  const std::vector<std::string> differing = solvents_that_differ(table, library);
  out.passed = out.passed && differing.empty();
  out.text +=
      fmt::format("{:<44}{:>5} solvents{}\n", "traits as in the library", table.solvents.size(),
                  differing.empty() ? ": agrees" : fmt::format(", DIFFERS: {}", fmt::join(differing, " ")));
  return out;
}

}  // namespace firstcrop
