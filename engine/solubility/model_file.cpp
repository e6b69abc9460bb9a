#include "solubility/model_file.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <cstdint>
#include <optional>
#include <utility>

#include "solubility/model_data.hpp"
#include "structure/text_hash.hpp"

namespace firstcrop {
namespace {

constexpr std::string_view kFormat = "firstcrop solubility model ";
constexpr std::string_view kFirstLine = "firstcrop solubility model 2";
constexpr std::size_t kLargestCount = 100000;
constexpr std::size_t kShortestCell = 12;  // characters of a line that tells a cell
constexpr auto kNeighbour = static_cast<std::size_t>(SolventKernel::Neighbour);

/// What is wrong with the text; thrown and caught within this file.
struct Fault {
  std::string sentence;
};

/// Goes through the lines and words of the text. Lines that start with `#` are passed over.
class LineReader {
 public:
  explicit LineReader(std::string_view text) : rest_(text) {}

  [[noreturn]] void fail(std::string_view expected) const {
    throw Fault{fmt::format("line {}: expected {}", number_, expected)};
  }

  void next_line(std::string_view expected) {
    if (!words_.empty()) fail("the end of the line");
    do {
      ++number_;
      if (rest_.empty()) fail(expected);
      const std::size_t end = std::min(rest_.find('\n'), rest_.size());
      words_ = rest_.substr(0, end);
      rest_.remove_prefix(std::min(end + 1, rest_.size()));
    } while (words_.starts_with('#'));
  }

  /// Whether the next line starts with `key`; reads nothing.
  [[nodiscard]] bool next_line_is(std::string_view key) const { return rest_.starts_with(key); }

  /// The text up to the next separator.
  std::string_view word(char separator, std::string_view expected) {
    const std::size_t end = std::min(words_.find(separator), words_.size());
    const std::string_view out = words_.substr(0, end);
    words_.remove_prefix(std::min(end + 1, words_.size()));
    if (out.empty()) fail(expected);
    return out;
  }
  std::string_view word(std::string_view expected) { return word(' ', expected); }
  [[nodiscard]] bool at_line_end() const { return words_.empty(); }
  /// Characters that are left, a bound on whatever a count promises.
  [[nodiscard]] std::size_t rest_size() const { return rest_.size(); }

  double number(std::string_view expected) { return to_number(word(expected), expected); }
  [[nodiscard]] double to_number(std::string_view text, std::string_view expected) const {
    double value = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error != std::errc() || end != text.data() + text.size() || !std::isfinite(value)) fail(expected);
    return value;
  }
  double number_above_zero(std::string_view expected) {
    const double value = number(expected);
    if (value <= 0) fail(expected);
    return value;
  }
  std::size_t count(std::string_view expected) { return to_count(word(expected), expected); }
  [[nodiscard]] std::size_t to_count(std::string_view text, std::string_view expected) const {
    std::size_t value = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error != std::errc() || end != text.data() + text.size() || value > kLargestCount) fail(expected);
    return value;
  }
  void keyword(std::string_view key) {
    if (words_.empty() || word("a word") != key) fail(fmt::format("`{}`", key));
  }
  /// A new line that starts with `key`.
  void line_of(std::string_view key) {
    next_line(key);
    keyword(key);
  }
  /// A new line: `key` and `size` numbers.
  std::vector<double> numbers(std::string_view key, std::size_t size) {
    std::vector<double> out;
    append_numbers(key, size, out);
    return out;
  }
  void append_numbers(std::string_view key, std::size_t size, std::vector<double>& out) {
    line_of(key);
    for (std::size_t i = 0; i < size; ++i) {
      if (words_.empty()) fail(fmt::format("{} numbers after `{}`", size, key));
      out.push_back(number("a number"));
    }
  }

 private:
  std::string_view rest_;
  std::string_view words_;
  std::size_t number_ = 0;
};

using Data = SolubilityModel::Data;

std::size_t solvent_index(const Data& data, std::string_view id, const LineReader& in) {
  const auto found = std::find(data.solvent_ids.begin(), data.solvent_ids.end(), id);
  if (found == data.solvent_ids.end()) in.fail("the id of a solvent of this file");
  return static_cast<std::size_t>(found - data.solvent_ids.begin());
}

void read_solvents(LineReader& in, Data& data) {
  in.line_of("solvents");
  const std::size_t count = in.count("the number of solvents");
  if (count < 2) in.fail("at least two solvents");
  for (std::size_t s = 0; s < count; ++s) {
    SolventTraits traits;
    in.next_line("a solvent");
    traits.id = in.word("the id of a solvent");
    if (std::find(data.solvent_ids.begin(), data.solvent_ids.end(), traits.id) != data.solvent_ids.end()) {
      in.fail("a solvent that does not stand above already");
    }
    for (double& value : traits.abraham) value = in.number("six Abraham coefficients");
    for (double& value : traits.hansen_sqrt_mpa) value = in.number("three Hansen parameters");
    traits.molar_volume_ml_mol = in.number_above_zero("a molar volume above zero");
    traits.hydrocarbon_share = in.number("a hydrocarbon share");
    traits.water = in.count("1 for water, else 0") == 1;
    data.enthalpy.solvent_terms.push_back(in.number("the enthalpy term of the solvent"));
    data.solvent_ids.push_back(traits.id);
    data.solvents.push_back(std::move(traits));
  }
  data.fitted_solvents = count;
  data.solvent_kernels = SolventKernels(data.solvents, count);
}

void read_enthalpy(LineReader& in, EnthalpyModel& enthalpy) {
  const std::vector<double> values = in.numbers("enthalpy", enthalpy.coefficients.size());
  std::copy(values.begin(), values.end(), enthalpy.coefficients.begin());
  in.line_of("enthalpy-spread");
  enthalpy.shared_sd = in.number_above_zero("the shared spread of the enthalpies");
  enthalpy.own_sd = in.number_above_zero("the spread of each enthalpy");
}

template <std::size_t size>
std::size_t kernel_index(const std::array<std::string_view, size>& names, LineReader& in) {
  const auto found = std::find(names.begin(), names.end(), in.word("the name of a kernel"));
  if (found == names.end()) in.fail("the name of a kernel");
  return static_cast<std::size_t>(found - names.begin());
}

VarianceTable read_variances(LineReader& in) {
  VarianceTable out{};
  in.line_of("variances");
  const std::size_t count = in.count("the number of variances");
  for (std::size_t i = 0; i < count; ++i) {
    in.next_line("a variance");
    const std::size_t solid = kernel_index(kSolidKernelNames, in);
    const std::size_t solvent = kernel_index(kSolventKernelNames, in);
    const double variance = in.number("a variance");
    if (variance < 0) in.fail("a variance not below zero");
    out[solid][solvent] = variance;
  }
  return out;
}

FeatureFit read_feature_fit(LineReader& in, const Data& data, std::string_view mode) {
  FeatureFit fit;
  in.line_of("mode");
  in.keyword(mode);
  in.line_of("features");
  const std::size_t features = in.count("the number of features");
  fit.linear_features = in.count("the number of features in the linear kernel");
  if (fit.linear_features > features) in.fail("no more linear features than features");
  in.line_of("mean");
  fit.mean = in.number("the mean level");
  in.line_of("noise");
  fit.noise_variance = in.number_above_zero("a noise variance above zero");
  in.line_of("partition");
  fit.partition_weight = in.number("the weight of the partition term");
  while (!in.at_line_end()) {
    fit.core_solvents.push_back(solvent_index(data, in.word("the id of a solvent"), in));
  }
  if (fit.partition_weight != 0 && (fit.core_solvents.empty() || features < 5)) {
    in.fail("core solvents, and five descriptors among the features");
  }
  fit.variances = read_variances(in);
  fit.feature_mean = in.numbers("feature-means", features);
  fit.feature_sd = in.numbers("feature-sds", features);
  if (std::any_of(fit.feature_sd.begin(), fit.feature_sd.end(), [](double sd) { return sd <= 0; })) {
    in.fail("standard deviations above zero");
  }
  fit.similarity_weights.features = in.numbers("similarity-weights", features + 1);
  if (std::any_of(fit.similarity_weights.features.begin(), fit.similarity_weights.features.end(),
                  [](double weight) { return weight < 0; })) {
    in.fail("weights not below zero");
  }
  fit.similarity_weights.melting_point = fit.similarity_weights.features.back();
  fit.similarity_weights.features.pop_back();
  if (in.next_line_is("melting-point-process")) {
    const std::vector<double> numbers = in.numbers("melting-point-process", 4);
    if (std::any_of(numbers.begin(), numbers.end(), [](double variance) { return variance < 0; }) ||
        numbers[3] == 0) {
      in.fail("variances not below zero, and noise above zero");
    }
    fit.melting_point_process = {numbers[0], numbers[1], numbers[2], numbers[3]};
  } else {
    fit.melting_point_terms = in.numbers("melting-point-terms", features + 1);
  }
  return fit;
}

SummedFit read_summed_fit(LineReader& in, const Data& data, std::string_view mode) {
  SummedFit fit;
  in.line_of("mode");
  in.keyword(mode);
  in.line_of("mean");
  fit.mean = in.number("the mean level");
  in.line_of("melting-point");
  fit.melting_point_k = in.number_above_zero("a melting point above zero");
  fit.variances = read_variances(in);
  fit.alpha = in.numbers("alpha", data.solvents.size());
  fit.alpha_t = in.numbers("alpha-t", data.solvents.size());
  return fit;
}

/// What the process needs of a solid: alpha of its melting point, or where that is unknown the estimate.
void read_melting_point_entry(LineReader& in, const LibrarySolid& solid, FeatureFit& fit) {
  constexpr std::string_view kExpected =
      "alpha of the melting point or its estimate, or `-` without a process";
  const std::string_view entry = in.word('\t', kExpected);
  if (!fit.melting_point_process) {
    if (entry != "-") in.fail(kExpected);
    return;
  }
  const double value = in.to_number(entry, kExpected);
  fit.melting_point_alpha.push_back(solid.melting_point_k ? value : 0.0);
  fit.melting_point_estimate_k.push_back(solid.melting_point_k ? *solid.melting_point_k : value);
}

void read_solids(LineReader& in, Data& data) {
  in.line_of("solids");
  const std::size_t count = in.count("the number of solids");
  const std::size_t most_cells = in.rest_size() / kShortestCell;
  data.solids.reserve(std::min(count, most_cells));
  data.cells.reserve(most_cells);
  for (auto* fit : {&data.structure, &data.groups}) {
    fit->raw_features.reserve(std::min(count * fit->feature_count(), in.rest_size() / 2));
    fit->alpha.reserve(most_cells);
    fit->noise_factor.reserve(most_cells);
  }
  for (std::size_t i = 0; i < count; ++i) {
    LibrarySolid solid;
    in.next_line("a solid");
    if (in.word('\t', "`solid`") != "solid") in.fail("`solid`");
    solid.cell_count = in.to_count(in.word('\t', "the number of cells"), "the number of cells");
    const std::string_view melting_point = in.word('\t', "a melting point or `-`");
    if (melting_point != "-") solid.melting_point_k = in.to_number(melting_point, "a melting point or `-`");
    read_melting_point_entry(in, solid, data.structure);
    solid.canonical_smiles = in.word('\t', "a SMILES");
    const std::string_view flat = in.word('\t', "a SMILES without stereo marks or `=`");
    solid.canonical_smiles_without_stereo = flat == "=" ? solid.canonical_smiles : std::string(flat);
    const std::string_view name = in.word('\t', "a name or `-`");
    if (name != "-") solid.name = name;
    if (solid.cell_count == 0) in.fail("at least one cell");
    in.append_numbers("structure", data.structure.feature_count(), data.structure.raw_features);
    in.append_numbers("groups", data.groups.feature_count(), data.groups.raw_features);
    solid.first_cell = data.cells.size();
    for (std::size_t c = 0; c < solid.cell_count; ++c) {
      in.next_line("a cell");
      const std::size_t number = in.count("the number of a solvent");
      if (number < 1 || number > data.solvents.size()) in.fail("the number of a solvent of this file");
      data.cells.push_back({number - 1, in.number("a level")});
      for (auto* fit : {&data.structure, &data.groups}) {
        fit->alpha.push_back(in.number("alpha"));
        fit->noise_factor.push_back(in.number_above_zero("a noise factor above zero"));
      }
    }
    data.solids.push_back(std::move(solid));
  }
}

Data read(std::string_view text) {
  if (!text.starts_with(kFirstLine)) {
    if (text.starts_with(kFormat)) {
      throw Fault{
          fmt::format("line 1: expected `{}`: this is the fitted model of another version; fit it again "
                      "with the tool of this one",
                      kFirstLine)};
    }
    throw Fault{fmt::format("line 1: expected `{}`: this is no fitted model of this version", kFirstLine)};
  }
  const std::size_t last = text.rfind("\nend ");
  if (last == std::string_view::npos || !text.ends_with('\n')) {
    const auto lines = std::count(text.begin(), text.end(), '\n') + 1;
    throw Fault{fmt::format("line {}: the text stops before its `end` line: the file is cut short", lines)};
  }
  const std::string_view body = text.substr(0, last + 1);
  const std::string_view ending = text.substr(last + 1);
  if (ending != fmt::format("end {:08x}\n", fnv1a_32(body))) {
    throw Fault{"the sum in the `end` line does not fit the text: the file was damaged or edited by hand"};
  }
  Data data;
  LineReader in(body);
  in.line_of("firstcrop");
  in.keyword("solubility");
  in.keyword("model");
  in.keyword("2");
  read_solvents(in, data);
  read_enthalpy(in, data.enthalpy);
  data.structure = read_feature_fit(in, data, "structure");
  data.groups = read_feature_fit(in, data, "groups");
  if (data.groups.melting_point_process) in.fail("`melting-point-terms` in mode groups");
  data.melting_point = read_summed_fit(in, data, "melting-point");
  data.nothing = read_summed_fit(in, data, "nothing");
  read_solids(in, data);
  data.structure.place_solids(data.solids);
  data.groups.place_solids(data.solids);
  return data;
}

}  // namespace

SolubilityModel::SolubilityModel(std::shared_ptr<const Data> data) : data_(std::move(data)) {}

std::variant<SolubilityModel, std::string> SolubilityModel::parse(std::string_view text) {
  try {
    return SolubilityModel(std::make_shared<const Data>(read(text)));
  } catch (const Fault& fault) {
    return fault.sentence;
  }
}

const std::vector<std::string>& SolubilityModel::solvent_ids() const {
  return data_->solvent_ids;
}
const std::vector<SolventTraits>& SolubilityModel::solvents() const {
  return data_->solvents;
}
const EnthalpyModel& SolubilityModel::enthalpy() const {
  return data_->enthalpy;
}
std::size_t SolubilityModel::solid_count() const {
  return data_->solids.size();
}

SolubilityModel SolubilityModel::with_solvents(const std::vector<SolventTraits>& further) const {
  Data data = *data_;
  for (const SolventTraits& traits : further) {
    if (std::find(data.solvent_ids.begin(), data.solvent_ids.end(), traits.id) != data.solvent_ids.end())
      continue;
    data.solvents.push_back(traits);
    data.solvent_ids.push_back(traits.id);
  }
  data.solvent_kernels = SolventKernels(data.solvents, data.fitted_solvents);
  for (std::size_t s = data.enthalpy.solvent_terms.size(); s < data.solvents.size(); ++s) {
    double sum = 0;
    double weights = 1;  // drawn to zero, as the fitted terms are
    for (std::size_t other = 0; other < data.fitted_solvents; ++other) {
      const double weight = data.solvent_kernels.values(s, other)[kNeighbour];
      sum += weight * data.enthalpy.solvent_terms[other];
      weights += weight;
    }
    data.enthalpy.solvent_terms.push_back(sum / weights);
  }
  return SolubilityModel(std::make_shared<const Data>(std::move(data)));
}

}  // namespace firstcrop
