#include "model_writer.hpp"

#include <fmt/format.h>

#include <array>
#include <cmath>
#include <iterator>
#include <span>
#include <string_view>
#include <vector>

#include "structure/text_hash.hpp"

namespace firstcrop {
namespace {

constexpr std::string_view kHead = R"(firstcrop solubility model 2
# Fitted by tests/calibration/ from the tables there; its README tells how. Do not edit: the last line holds a
# sum over all lines before it (FNV-1a, 32 bit). Levels are log10 of mol per litre of solution at 298.15 K.
# solvents N, then one a line: id, Abraham c e s a b l, Hansen d p h [MPa^0.5], molar volume [mL/mol],
#   hydrocarbon share, 1 for water, enthalpy term [kJ/mol]
# enthalpy: coefficients of 1, y, h_m/10, t, y t, min(y + 1, 0)^2; enthalpy-spread: shared, own [kJ/mol]
# mode structure and mode groups: number of features and of those in the linear kernel; mean level; noise variance;
#   weight of log10 K(gas to solvent) and the solvents whose mean is taken off; variances by solid and solvent kernel;
#   means and standard deviations of the features; weights of the features, and last of the melting point, in the
#   similarity of solids; for an unknown melting point either variances of the Gaussian process for it (constant, linear,
#   similarity, noise) or ridge regression [K] on the features
# mode melting-point and mode nothing: mean level, melting point assumed [K], variances, and per solvent the sums of
#   alpha and of alpha t, t = (melting point - 400 K)/100 K
# solids N, then for each: number of cells, melting point [K] or -, alpha of the melting point in the process or where
#   that is unknown its estimate [K], SMILES, SMILES without stereo marks or = for the same, name or - (tabs between); its features; its groups; its cells: number of the solvent, level, and for each of
#   structure and groups alpha and the factor on the noise variance
)";

/// Shortest digits that read back to the same number.
std::string exact(double value) {
  return fmt::format("{}", value == 0 ? 0.0 : value);
}

/// At most `decimals` decimals, no zeros at the end.
std::string decimals(double value, int count) {
  std::string out = fmt::format("{:.{}f}", value, count);
  out.erase(out.find_last_not_of('0') + 1);
  if (out.ends_with('.')) out.pop_back();
  return out == "-0" ? "0" : out;
}

class Writer {
 public:
  Writer() : text_(kHead) {}

  template <typename... Arguments>
  void line(fmt::format_string<Arguments...> format, Arguments&&... arguments) {
    fmt::format_to(std::back_inserter(text_), format, std::forward<Arguments>(arguments)...);
    text_ += '\n';
  }
  void numbers(std::string_view key, std::span<const double> values, int count = -1) {
    text_ += key;
    for (const double value : values) {
      text_ += ' ';
      text_ += count < 0 ? exact(value) : decimals(value, count);
    }
    text_ += '\n';
  }
  void variances(const VarianceTable& table) {
    std::string lines;
    int size = 0;
    for (std::size_t a = 0; a < kKernelCount; ++a) {
      for (std::size_t b = 0; b < kKernelCount; ++b) {
        if (table[a][b] == 0) continue;
        lines += fmt::format("{} {} {}\n", kSolidKernelNames[a], kSolventKernelNames[b], exact(table[a][b]));
        ++size;
      }
    }
    line("variances {}", size);
    text_ += lines;
  }
  std::string finished() {
    const std::uint32_t sum = fnv1a_32(text_);
    line("end {:08x}", sum);
    return std::move(text_);
  }

 private:
  std::string text_;
};

void write_feature_fit(Writer& out, const SolubilityModel::Data& data, const FeatureFit& fit,
                       std::string_view mode) {
  out.line("mode {}", mode);
  out.line("features {} {}", fit.feature_count(), fit.linear_features);
  out.line("mean {}", decimals(fit.mean, 7));
  out.line("noise {}", exact(fit.noise_variance));
  std::string core;
  for (const std::size_t s : fit.core_solvents) core += " " + data.solvent_ids[s];
  out.line("partition {}{}", exact(fit.partition_weight), core);
  out.variances(fit.variances);
  out.numbers("feature-means", fit.feature_mean);
  out.numbers("feature-sds", fit.feature_sd);
  std::vector<double> weights = fit.similarity_weights.features;
  weights.push_back(fit.similarity_weights.melting_point);
  out.numbers("similarity-weights", weights);
  if (fit.melting_point_process) {
    const MeltingPointProcess& process = *fit.melting_point_process;
    out.numbers("melting-point-process",
                std::array{process.constant, process.linear, process.similarity, process.noise_variance});
  } else {
    out.numbers("melting-point-terms", fit.melting_point_terms);
  }
}

/// Alpha of a melting point in the process; of an unknown one the estimate.
std::string melting_point_entry(const FeatureFit& fit, const LibrarySolid& solid, std::size_t index) {
  if (!fit.melting_point_process) return "-";
  return solid.melting_point_k ? decimals(fit.melting_point_alpha[index], 7)
                               : decimals(fit.melting_point_estimate_k[index], 3);
}

void write_summed_fit(Writer& out, const SummedFit& fit, std::string_view mode) {
  out.line("mode {}", mode);
  out.line("mean {}", decimals(fit.mean, 7));
  out.line("melting-point {}", exact(fit.melting_point_k));
  out.variances(fit.variances);
  out.numbers("alpha", fit.alpha, 7);
  out.numbers("alpha-t", fit.alpha_t, 7);
}

}  // namespace

std::string model_text(const SolubilityModel::Data& data) {
  Writer out;
  out.line("solvents {}", data.solvents.size());
  for (std::size_t s = 0; s < data.solvents.size(); ++s) {
    const SolventTraits& traits = data.solvents[s];
    std::string numbers;
    for (const double value : traits.abraham) numbers += " " + exact(value);
    for (const double value : traits.hansen_sqrt_mpa) numbers += " " + exact(value);
    out.line("{}{} {} {} {} {}", traits.id, numbers, exact(traits.molar_volume_ml_mol),
             exact(traits.hydrocarbon_share), traits.water ? 1 : 0, exact(data.enthalpy.solvent_terms[s]));
  }
  out.numbers("enthalpy", data.enthalpy.coefficients);
  out.line("enthalpy-spread {} {}", exact(data.enthalpy.shared_sd), exact(data.enthalpy.own_sd));
  write_feature_fit(out, data, data.structure, "structure");
  write_feature_fit(out, data, data.groups, "groups");
  write_summed_fit(out, data.melting_point, "melting-point");
  write_summed_fit(out, data.nothing, "nothing");
  out.line("solids {}", data.solids.size());
  for (std::size_t i = 0; i < data.solids.size(); ++i) {
    const LibrarySolid& solid = data.solids[i];
    const bool flat = solid.canonical_smiles == solid.canonical_smiles_without_stereo;
    out.line("solid\t{}\t{}\t{}\t{}\t{}\t{}", solid.cell_count,
             solid.melting_point_k ? exact(*solid.melting_point_k) : "-",
             melting_point_entry(data.structure, solid, i), solid.canonical_smiles,
             flat ? "=" : solid.canonical_smiles_without_stereo, solid.name.empty() ? "-" : solid.name);
    for (const FeatureFit* fit : {&data.structure, &data.groups}) {
      out.numbers(fit == &data.structure ? "structure" : "groups",
                  std::span(fit->raw_features).subspan(i * fit->feature_count(), fit->feature_count()), 4);
    }
    for (std::size_t c = solid.first_cell; c < solid.first_cell + solid.cell_count; ++c) {
      out.line("{} {} {} {} {} {}", data.cells[c].solvent + 1, exact(data.cells[c].level),
               decimals(data.structure.alpha[c], 7), exact(data.structure.noise_factor[c]),
               decimals(data.groups.alpha[c], 7), exact(data.groups.noise_factor[c]));
    }
  }
  return out.finished();
}

}  // namespace firstcrop
