#include "model_fit.hpp"

#include <utility>

#include "enthalpy_fit.hpp"

namespace firstcrop {

Sample sample_of(const CalibrationTable& table, const Configuration& configuration,
                 const std::function<bool(const CalibrationSolid&)>& wanted) {
  Sample out = make_sample(table, configuration.with_doubtful, wanted);
  for (const auto& [name, melting_point_k] : configuration.other_melting_points) {
    for (CalibrationSolid& solid : out.solids) {
      if (solid.name == name) solid.melting_point_k = melting_point_k;
    }
  }
  return out;
}

ModelFit fit_model(const CalibrationTable& table, Sample sample, const Configuration& configuration) {
  ModelFit out;
  out.sample = std::move(sample);
  for (const FitPlan& plan : fit_plans(table, configuration)) {
    out.fits.push_back(fit_gaussian(out.sample, table, plan));
  }
  SolubilityModel::Data& data = out.data;
  data.solvents = table.solvents;
  data.fitted_solvents = table.solvents.size();
  for (const SolventTraits& solvent : table.solvents) data.solvent_ids.push_back(solvent.id);
  data.solvent_kernels = SolventKernels(data.solvents, data.fitted_solvents);
  data.solids = library_solids(out.sample);
  data.cells = library_cells(out.sample);
  data.structure = out.fits[0].fit;
  data.groups = out.fits[1].fit;
  data.melting_point = summed(out.fits[2].fit, out.fits[2].fit.alpha, out.sample, data.solvents.size());
  data.nothing = summed(out.fits[3].fit, out.fits[3].fit.alpha, out.sample, data.solvents.size());
  data.enthalpy = fit_enthalpies(out.sample, data.structure, data.solvents.size());
  return out;
}

}  // namespace firstcrop
