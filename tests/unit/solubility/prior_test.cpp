#include "solubility/prior.hpp"
#include "solubility/curve.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <span>
#include <string>
#include <vector>

#include "model_fixture.hpp"

namespace firstcrop {
namespace {

std::size_t index_of(const SolubilityModel& model, const std::string& id) {
  const auto& ids = model.solvent_ids();
  return static_cast<std::size_t>(std::find(ids.begin(), ids.end(), id) - ids.begin());
}

/// A solid of the library as its file would describe it.
SoluteInput input_of(const SolubilityModel& model, const LibrarySolid& solid) {
  const auto& data = model.data();
  const auto index = static_cast<std::size_t>(&solid - data.solids.data());
  SoluteInput out;
  const auto features = std::span(data.structure.raw_features).subspan(index * 39, 39);
  const auto groups = std::span(data.groups.raw_features).subspan(index * 31, 31);
  out.structure_features.assign(features.begin(), features.end());
  out.group_features.assign(groups.begin(), groups.end());
  out.melting_point_k = solid.melting_point_k;
  out.canonical_smiles = solid.canonical_smiles;
  out.canonical_smiles_without_stereo = solid.canonical_smiles_without_stereo;
  return out;
}

SoluteInput unlisted(SoluteInput input) {
  input.canonical_smiles.clear();
  input.canonical_smiles_without_stereo.clear();
  return input;
}

/// Whether the matrix has a Cholesky factor once `jitter` is added to its diagonal.
bool is_positive(const Matrix& matrix, double jitter) {
  const std::size_t size = matrix.rows;
  Matrix lower(size, size);
  for (std::size_t i = 0; i < size; ++i) {
    for (std::size_t j = 0; j <= i; ++j) {
      double sum = matrix(i, j) + (i == j ? jitter : 0.0);
      for (std::size_t k = 0; k < j; ++k) sum -= lower(i, k) * lower(j, k);
      if (i == j && sum <= 0) return false;
      lower(i, j) = i == j ? std::sqrt(sum) : sum / lower(j, j);
    }
  }
  return true;
}

}  // namespace

TEST_CASE("what is known of the solid chooses the mode") {
  const SolubilityModel& model = shipped_model();
  const SoluteInput full = input_of(model, library_solid(model, "4-nitrobenzoic acid"));
  CHECK(predict(model, full).mode == ModelMode::Structure);
  SoluteInput less = full;
  less.structure_features.clear();
  CHECK(predict(model, less).mode == ModelMode::Groups);
  less.group_features.clear();
  CHECK(predict(model, less).mode == ModelMode::MeltingPoint);
  less.melting_point_k.reset();
  CHECK(predict(model, less).mode == ModelMode::Nothing);
}

TEST_CASE("features of another number than the model's are taken as not known") {
  const SolubilityModel& model = shipped_model();
  SoluteInput input = input_of(model, library_solid(model, "4-nitrobenzoic acid"));
  input.structure_features.pop_back();
  CHECK(predict(model, input).mode == ModelMode::Groups);
}

TEST_CASE("the covariance is symmetric and positive in every mode") {
  const SolubilityModel& model = shipped_model();
  SoluteInput input = unlisted(input_of(model, library_solid(model, "benzanilide")));
  for (int step = 0; step < 4; ++step) {
    if (step == 1) input.structure_features.clear();
    if (step == 2) input.group_features.clear();
    if (step == 3) input.melting_point_k.reset();
    const SolubilityPrior prior = predict(model, input);
    REQUIRE(prior.mean.size() == 85);
    REQUIRE(prior.covariance.rows == 85);
    double difference = 0;
    for (std::size_t i = 0; i < 85; ++i) {
      for (std::size_t j = 0; j < 85; ++j) {
        difference = std::max(difference, std::abs(prior.covariance(i, j) - prior.covariance(j, i)));
      }
    }
    CHECK(difference < 1e-12);
    CHECK(is_positive(prior.covariance, 1e-9));
  }
}

TEST_CASE("less knowledge means a wider spread") {
  const SolubilityModel& model = shipped_model();
  SoluteInput input = unlisted(input_of(model, library_solid(model, "benzanilide")));
  const std::size_t ethanol = index_of(model, "ethanol");
  double last = 0;
  for (int step = 0; step < 4; ++step) {
    if (step == 1) input.structure_features.clear();
    if (step == 2) input.group_features.clear();
    if (step == 3) input.melting_point_k.reset();
    const double variance = predict(model, input).covariance(ethanol, ethanol);
    INFO(step);
    CHECK(variance > last);
    last = variance;
  }
}

TEST_CASE("an unknown melting point is estimated, said so, and paid for in spread") {
  const SolubilityModel& model = shipped_model();
  SoluteInput input = unlisted(input_of(model, library_solid(model, "4-nitrobenzoic acid")));
  const SolubilityPrior with = predict(model, input);
  CHECK(with.melting_point_assumed == false);
  CHECK(with.melting_point_k == *input.melting_point_k);
  input.melting_point_k.reset();
  const SolubilityPrior without = predict(model, input);
  CHECK(without.melting_point_assumed);
  CHECK(std::abs(without.melting_point_k - with.melting_point_k) < 100);
  CHECK(without.covariance(2, 2) > with.covariance(2, 2) + 0.2);
}

TEST_CASE("for solids of the library the program estimates the melting point that the fit took") {
  const SolubilityModel& model = shipped_model();
  const auto& data = model.data();
  std::size_t unknown = 0;
  for (std::size_t i = 0; i < data.solids.size(); ++i) {
    if (data.solids[i].melting_point_k) continue;
    ++unknown;
    const double estimate_k = predict(model, input_of(model, data.solids[i])).melting_point_k;
    CHECK(std::abs(estimate_k - melting_point_k_of(data.structure.t[i])) < 0.02);
  }
  CHECK(unknown > 100);
}

TEST_CASE("judged as unknown, a solid's own melting point does not help to estimate it") {
  const SolubilityModel& model = shipped_model();
  const auto& data = model.data();
  double known_squares = 0;
  double unknown_squares = 0;
  std::size_t count = 0;
  for (std::size_t i = 0; i < data.solids.size(); i += 20) {
    const LibrarySolid& solid = data.solids[i];
    if (!solid.melting_point_k) continue;
    SoluteInput input = input_of(model, solid);
    input.melting_point_k.reset();
    const double known = predict(model, input).melting_point_k - *solid.melting_point_k;
    input.as_unknown = true;
    const double unknown = predict(model, input).melting_point_k - *solid.melting_point_k;
    known_squares += known * known;
    unknown_squares += unknown * unknown;
    ++count;
  }
  REQUIRE(count > 10);
  CHECK(std::sqrt(known_squares / static_cast<double>(count)) < 40);
  CHECK(unknown_squares > 1.5 * known_squares);
}

TEST_CASE("a known solid is its own nearest neighbour and gets its measured levels back") {
  const SolubilityModel& model = shipped_model();
  const auto& data = model.data();
  const LibrarySolid& solid = library_solid(model, "benzanilide");
  const SolubilityPrior prior = predict(model, input_of(model, solid));
  REQUIRE(prior.similar.size() == 3);
  CHECK(prior.similar[0].smiles == solid.canonical_smiles);
  CHECK(prior.similar[0].similarity == doctest::Approx(1.0));
  CHECK(prior.similar[0].solvents.size() == solid.cell_count);
  std::vector<double> errors;
  for (std::size_t c = solid.first_cell; c < solid.first_cell + solid.cell_count; ++c) {
    errors.push_back(std::abs(prior.mean[data.cells[c].solvent] - data.cells[c].level));
    CHECK(prior.covariance(data.cells[c].solvent, data.cells[c].solvent) < 0.3);
  }
  std::sort(errors.begin(), errors.end());
  CHECK(errors[errors.size() / 2] < 0.1);
}

TEST_CASE("judged as unknown, a known solid is no neighbour of its own and is less sure") {
  const SolubilityModel& model = shipped_model();
  const LibrarySolid& solid = library_solid(model, "benzanilide");
  SoluteInput input = input_of(model, solid);
  const SolubilityPrior known = predict(model, input);
  input.as_unknown = true;
  const SolubilityPrior unknown = predict(model, input);
  for (const SimilarSolid& similar : unknown.similar) CHECK(similar.smiles != solid.canonical_smiles);
  const std::size_t ethanol = index_of(model, "ethanol");
  CHECK(unknown.covariance(ethanol, ethanol) > 3 * known.covariance(ethanol, ethanol));
  CHECK(unknown.mean[ethanol] != doctest::Approx(known.mean[ethanol]).epsilon(1e-6));
}

TEST_CASE("to be judged as unknown changes nothing for a solid that the model never saw") {
  const SolubilityModel& model = shipped_model();
  SoluteInput input = unlisted(input_of(model, library_solid(model, "benzanilide")));
  input.structure_features[0] += 0.2;
  const SolubilityPrior plain = predict(model, input);
  input.as_unknown = true;
  const SolubilityPrior unknown = predict(model, input);
  CHECK(plain.mean == unknown.mean);
  CHECK(plain.covariance.values == unknown.covariance.values);
}

TEST_CASE("of stereoisomers in the library the one that was drawn is taken") {
  const SolubilityModel& model = shipped_model();
  const auto& data = model.data();
  const auto error_of = [&](const LibrarySolid& solid, const SoluteInput& input) {
    const SolubilityPrior prior = predict(model, input);
    double sum = 0;
    for (std::size_t c = solid.first_cell; c < solid.first_cell + solid.cell_count; ++c) {
      sum += std::abs(prior.mean[data.cells[c].solvent] - data.cells[c].level);
    }
    return sum / static_cast<double>(solid.cell_count);
  };
  std::size_t twins = 0;
  for (const LibrarySolid& drawn : data.solids) {
    for (const LibrarySolid& other : data.solids) {
      if (&other == &drawn || drawn.cell_count < 4 ||
          other.canonical_smiles_without_stereo != drawn.canonical_smiles_without_stereo) {
        continue;
      }
      ++twins;
      const SoluteInput as_drawn = input_of(model, drawn);
      SoluteInput as_other = as_drawn;
      as_other.canonical_smiles = other.canonical_smiles;
      INFO(drawn.canonical_smiles);
      CHECK(error_of(drawn, as_drawn) < error_of(drawn, as_other));
    }
  }
  CHECK(twins >= 10);
}

TEST_CASE("with the melting point alone, solubility falls as it rises") {
  const SolubilityModel& model = shipped_model();
  SoluteInput input;
  double last = 10;
  for (const double melting_point_k : {330.0, 380.0, 430.0, 480.0}) {
    input.melting_point_k = melting_point_k;
    const double mean = predict(model, input).mean[index_of(model, "ethyl-acetate")];
    CHECK(mean < last);
    last = mean;
  }
}

TEST_CASE("similar solvents err together") {
  const SolubilityModel& model = shipped_model();
  const SolubilityPrior prior =
      predict(model, unlisted(input_of(model, library_solid(model, "benzanilide"))));
  const auto correlation = [&](const char* a, const char* b) {
    const std::size_t i = index_of(model, a);
    const std::size_t j = index_of(model, b);
    return prior.covariance(i, j) / std::sqrt(prior.covariance(i, i) * prior.covariance(j, j));
  };
  CHECK(correlation("1-propanol", "1-butanol") > 0.9);
  CHECK(correlation("hexane", "heptane") > 0.9);
  CHECK(correlation("1-propanol", "1-butanol") > correlation("1-propanol", "hexane"));
}

TEST_CASE("a further solvent is foretold much as the fitted one it resembles") {
  const SolubilityModel& model = shipped_model();
  SolventTraits twin = model.solvents()[index_of(model, "1-propanol")];
  twin.id = "twin";
  const SolubilityModel larger = model.with_solvents({twin});
  const SolubilityPrior prior =
      predict(larger, unlisted(input_of(model, library_solid(model, "benzanilide"))));
  REQUIRE(prior.mean.size() == 86);
  CHECK(prior.mean[85] == doctest::Approx(prior.mean[index_of(model, "1-propanol")]).epsilon(0.02));
}

TEST_CASE("a model of few solids still answers") {
  const auto parsed = SolubilityModel::parse(sealed(small_body(2)));
  REQUIRE(std::holds_alternative<SolubilityModel>(parsed));
  const SolubilityModel& model = std::get<SolubilityModel>(parsed);
  const SolubilityPrior prior = predict(model, unlisted(input_of(model, model.data().solids[0])));
  CHECK(prior.similar.size() == 2);
  CHECK(std::isfinite(prior.mean[0]));
}

}  // namespace firstcrop
