#include "solubility/kernels.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <vector>

namespace firstcrop {
namespace {

std::size_t at(SolidKernel kernel) {
  return static_cast<std::size_t>(kernel);
}
std::size_t at(SolventKernel kernel) {
  return static_cast<std::size_t>(kernel);
}

std::vector<SolventTraits> four_solvents() {
  std::vector<SolventTraits> out(4);
  out[0] = {"water", {-1.15, 0.99, 2.75, 3.84, 4.78, -0.27}, {15.5, 16, 42.3}, 18.07, 0, true};
  out[1] = {"ethanol", {0.02, -0.2, 0.81, 3.9, 1.3, 0.84}, {15.8, 8.8, 19.4}, 58.67, 0, false};
  out[2] = {"hexane", {0.3, -0.15, -0.12, -0.04, -0.02, 1.0}, {14.9, 0, 0}, 131.6, 1, false};
  out[3] = {"toluene", {0.1, -0.39, 1.04, 0.51, 0.18, 1.0}, {18, 1.4, 2}, 106.9, 0.4, false};
  return out;
}

}  // namespace

TEST_CASE("solid kernels are symmetric, and similarity is one for equal solids and falls with distance") {
  const std::vector<double> a{0.5, -1.0, 2.0};
  const std::vector<double> b{0.0, 1.0, 2.5};
  const SolidPoint first{a, 0.1, false};
  const SolidPoint second{b, -0.4, false};
  const SimilarityWeights equal = SimilarityWeights::equal(3);
  CHECK(solid_kernels(first, second, false, 2, equal) == solid_kernels(second, first, false, 2, equal));
  CHECK(solid_kernels(first, first, false, 2, equal)[at(SolidKernel::Similarity)] == 1);
  // D^2 = (0.25 + 4 + 0.25 + 4 * 0.25)/4
  CHECK(solid_kernels(first, second, false, 2, equal)[at(SolidKernel::Similarity)] ==
        doctest::Approx(std::exp(-std::sqrt(5.5 / 4) / 1.5)));
  CHECK(solid_kernels(first, second, false, 2, equal)[at(SolidKernel::Linear)] == doctest::Approx(-0.5));
  CHECK(solid_kernels(first, second, false, 2, equal)[at(SolidKernel::MeltingPoint)] ==
        doctest::Approx(-0.04));
}

TEST_CASE("weights scale the squared differences of the similarity and nothing else") {
  const std::vector<double> a{0.5, -1.0, 2.0};
  const std::vector<double> b{0.0, 1.0, 2.5};
  const SolidPoint first{a, 0.1, false};
  const SolidPoint second{b, -0.4, false};
  const KernelValues plain = solid_kernels(first, second, false, 2, SimilarityWeights::equal(3));
  KernelValues weighted = solid_kernels(first, second, false, 2, {{4.0, 0.5, 0.0}, 2.0});
  // D^2 = (4 * 0.25 + 0.5 * 4 + 0 + 2 * 4 * 0.25)/4
  CHECK(weighted[at(SolidKernel::Similarity)] == doctest::Approx(std::exp(-std::sqrt(5.0 / 4) / 1.5)));
  weighted[at(SolidKernel::Similarity)] = plain[at(SolidKernel::Similarity)];
  CHECK(weighted == plain);
}

TEST_CASE("the cost of an unknown melting point is met only by the solid itself") {
  const std::vector<double> a{1.0};
  const SolidPoint known{a, 0, false};
  const SolidPoint assumed{a, 0, true};
  const SimilarityWeights equal = SimilarityWeights::equal(1);
  CHECK(solid_kernels(assumed, assumed, true, 1, equal)[at(SolidKernel::MeltingPointUnknown)] == 1);
  CHECK(solid_kernels(known, known, true, 1, equal)[at(SolidKernel::MeltingPointUnknown)] == 0);
  CHECK(solid_kernels(assumed, assumed, false, 1, equal)[at(SolidKernel::MeltingPointUnknown)] == 0);
}

TEST_CASE("without features the melting point alone makes the distance") {
  const SolidPoint first{{}, 0.0, false};
  const SolidPoint second{{}, 1.5, false};
  CHECK(solid_kernels(first, second, false, 0, {})[at(SolidKernel::Similarity)] ==
        doctest::Approx(std::exp(-2.0)));
  CHECK(solid_kernels(first, second, false, 0, {})[at(SolidKernel::Linear)] == 0);
}

TEST_CASE("solvent kernels are symmetric and know water, hydrocarbons and the same solvent") {
  const SolventKernels kernels(four_solvents(), 4);
  for (std::size_t i = 0; i < 4; ++i) {
    for (std::size_t j = 0; j < 4; ++j) CHECK(kernels.values(i, j) == kernels.values(j, i));
  }
  CHECK(kernels.values(0, 0)[at(SolventKernel::Water)] == 1);
  CHECK(kernels.values(0, 1)[at(SolventKernel::Water)] == 0);
  CHECK(kernels.values(2, 3)[at(SolventKernel::Hydrocarbon)] == doctest::Approx(0.4));
  CHECK(kernels.values(2, 2)[at(SolventKernel::SameSolvent)] == 1);
  CHECK(kernels.values(2, 3)[at(SolventKernel::SameSolvent)] == 0);
  CHECK(kernels.values(1, 1)[at(SolventKernel::Neighbour)] == 1);
  CHECK(kernels.values(0, 2)[at(SolventKernel::Neighbour)] <
        kernels.values(1, 3)[at(SolventKernel::Neighbour)]);
}

TEST_CASE("standardised coefficients have mean zero and mean square one over the fitted solvents") {
  const SolventKernels kernels(four_solvents(), 4);
  double squares = 0;
  for (std::size_t i = 0; i < 4; ++i) {
    double row = 0;
    for (std::size_t j = 0; j < 4; ++j) row += kernels.values(i, j)[at(SolventKernel::Coefficients)];
    CHECK(row == doctest::Approx(0).epsilon(1e-9));
    squares += kernels.values(i, i)[at(SolventKernel::Coefficients)];
  }
  CHECK(squares == doctest::Approx(4));
}

TEST_CASE("a weighted sum of solvent kernels is what its parts say") {
  const SolventKernels kernels(four_solvents(), 4);
  const KernelValues weights{0.1, 0.2, 0.3, 0.4, 0.5, 0.6};
  for (std::size_t i = 0; i < 4; ++i) {
    for (std::size_t j = 0; j < 4; ++j) {
      const KernelValues values = kernels.values(i, j);
      double expected = 0;
      for (std::size_t k = 0; k < kKernelCount; ++k) expected += weights[k] * values[k];
      CHECK(kernels.sum(weights, i, j) == doctest::Approx(expected));
    }
  }
}

TEST_CASE("only similarity and the solid's own kernels stay in the residual") {
  VarianceTable variances{};
  for (std::size_t a = 0; a < kKernelCount; ++a) variances[a][0] = 1;
  const KernelValues values{1, 10, 100, 1000, 10000, 100000};
  CHECK(by_solvent_kernel(variances, values)[0] == 111111);
  CHECK(residual_by_solvent_kernel(variances, values)[0] == 111000);
}

}  // namespace firstcrop
