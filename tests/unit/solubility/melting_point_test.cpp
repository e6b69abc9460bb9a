#include "solubility/melting_point.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <optional>
#include <vector>

namespace firstcrop {
namespace {

constexpr MeltingPointProcess kProcess{2.0, 0.1, 0.4, 0.2};

}  // namespace

TEST_CASE("the covariance of melting points is constant, linear and similarity") {
  const std::vector<double> a{1.0, -1.0};
  const std::vector<double> b{1.0, 2.0};
  // 2 + 0.1 (1 - 2)/2 + 0.4 exp(-3/(1.5 sqrt 2))
  CHECK(kProcess.covariance(a, b) == doctest::Approx(2 - 0.05 + 0.4 * std::exp(-std::sqrt(2.0))));
  CHECK(kProcess.covariance(a, a) == doctest::Approx(2 + 0.1 + 0.4));
}

TEST_CASE("one known melting point is drawn to the mean by the noise") {
  const std::vector<double> features{1.0, -1.0};
  const std::vector<double> alpha = kProcess.alpha(features, {500.0});
  REQUIRE(alpha.size() == 1);
  CHECK(alpha[0] == doctest::Approx(1 / 2.7));
  CHECK(kProcess.estimate_k(features, features, alpha) == doctest::Approx(400 + 100 * 2.5 / 2.7));
}

TEST_CASE("solids of unknown melting point teach nothing") {
  const std::vector<double> features{1.0, -1.0, 0.3, 0.2, -0.5, 1.5};
  const std::vector<std::optional<double>> with_gap{500.0, std::nullopt, 350.0};
  const std::vector<double> alpha = kProcess.alpha(features, with_gap);
  CHECK(alpha[1] == 0);
  const std::vector<double> without{1.0, -1.0, -0.5, 1.5};
  const std::vector<double> asked{0.1, 0.1};
  CHECK(kProcess.estimate_k(asked, features, alpha) ==
        doctest::Approx(kProcess.estimate_k(asked, without, kProcess.alpha(without, {500.0, 350.0}))));
}

}  // namespace firstcrop
