#include "phase/activity.hpp"

#include <doctest/doctest.h>

#include <cmath>

#include "phase_fixture.hpp"

using namespace firstcrop;
using doctest::Approx;

namespace {

const std::vector<std::vector<std::string>> kMixtures{{"ethanol", "water"},
                                                      {"acetone", "chloroform"},
                                                      {"hexane", "methanol"},
                                                      {"acetonitrile", "toluene", "water"},
                                                      {"ethanol", "water", "toluene", "acetone"}};

/// A composition with all components, different for each.
std::vector<double> some_composition(std::size_t count) {
  std::vector<double> fractions;
  double sum = 0;
  for (std::size_t i = 0; i < count; ++i) {
    fractions.push_back(1.0 + 0.7 * static_cast<double>(i));
    sum += fractions.back();
  }
  for (double& fraction : fractions) fraction /= sum;
  return fractions;
}

}  // namespace

TEST_CASE("a pure component has an activity coefficient of 1") {
  for (const auto& names : kMixtures) {
    const ActivityModel model = phase_fixture::model(names);
    for (std::size_t pure = 0; pure < names.size(); ++pure) {
      std::vector<double> fractions(names.size(), 0.0);
      fractions[pure] = 1;
      CHECK(std::abs(model.ln_gamma(fractions, 320)[pure]) < 1e-12);
    }
  }
}

TEST_CASE("activity coefficients obey the Gibbs-Duhem equation") {
  for (const auto& names : kMixtures) {
    CAPTURE(names[0]);
    const auto at_temperature = phase_fixture::model(names).at(310);
    const std::vector<double> fractions = some_composition(names.size());
    // Moves from the last component to each other one: sum x_i d ln gamma_i = 0.
    for (std::size_t to = 0; to + 1 < names.size(); ++to) {
      constexpr double kStep = 1e-5;
      auto forward = fractions;
      auto backward = fractions;
      forward[to] += kStep;
      forward.back() -= kStep;
      backward[to] -= kStep;
      backward.back() += kStep;
      const auto after = at_temperature.ln_gamma(forward);
      const auto before = at_temperature.ln_gamma(backward);
      double sum = 0;
      for (std::size_t i = 0; i < names.size(); ++i)
        sum += fractions[i] * (after[i] - before[i]) / (2 * kStep);
      CHECK(std::abs(sum) < 1e-8);
    }
  }
}

TEST_CASE("the order of the components does not matter") {
  const std::vector<double> fractions{0.2, 0.5, 0.3};
  const auto straight = phase_fixture::model({"acetonitrile", "toluene", "water"}).ln_gamma(fractions, 300);
  const std::vector<double> turned_fractions{0.3, 0.2, 0.5};
  const auto turned =
      phase_fixture::model({"water", "acetonitrile", "toluene"}).ln_gamma(turned_fractions, 300);
  CHECK(straight[0] == Approx(turned[1]).epsilon(1e-12));
  CHECK(straight[1] == Approx(turned[2]).epsilon(1e-12));
  CHECK(straight[2] == Approx(turned[0]).epsilon(1e-12));
}

TEST_CASE("a component written twice behaves as one component") {
  const std::vector<double> halves{0.2, 0.2, 0.6};
  const auto with_twin = phase_fixture::model({"ethanol", "ethanol", "water"}).ln_gamma(halves, 330);
  const std::vector<double> together{0.4, 0.6};
  const auto plain = phase_fixture::model({"ethanol", "water"}).ln_gamma(together, 330);
  CHECK(with_twin[0] == Approx(plain[0]).epsilon(1e-12));
  CHECK(with_twin[1] == Approx(plain[0]).epsilon(1e-12));
  CHECK(with_twin[2] == Approx(plain[1]).epsilon(1e-12));
}

TEST_CASE("a component that is absent changes nothing for the others") {
  const std::vector<double> without_third{0.4, 0.6, 0};
  const auto three = phase_fixture::model({"ethanol", "water", "toluene"}).ln_gamma(without_third, 330);
  const std::vector<double> two_fractions{0.4, 0.6};
  const auto two = phase_fixture::model({"ethanol", "water"}).ln_gamma(two_fractions, 330);
  CHECK(three[0] == Approx(two[0]).epsilon(1e-12));
  CHECK(three[1] == Approx(two[1]).epsilon(1e-12));
}

TEST_CASE("neighbouring alkanes are nearly ideal, with coefficients a little below 1") {
  const std::vector<double> fractions{0.5, 0.5};
  const auto ln_gamma = phase_fixture::model({"hexane", "heptane"}).ln_gamma(fractions, 320);
  for (const double value : ln_gamma) {
    CHECK(value < 0);
    CHECK(value > -0.01);
  }
}

TEST_CASE("alkanes in water are repelled the more, the longer they are") {
  const std::vector<double> trace{0, 1};
  double before = 0;
  for (const std::string name : {"hexane", "heptane", "octane"}) {
    const double ln_gamma = phase_fixture::model({name, "water"}).ln_gamma(trace, 298.15)[0];
    CHECK(ln_gamma > before);
    before = ln_gamma;
  }
}

TEST_CASE("missing groups or parameters give no model, never a number") {
  const UnifacParameters& parameters = phase_fixture::parameters();
  const GroupCounts water{{16, 1}};
  const std::vector<GroupCounts> unknown_group{water, {{9999, 1}}};
  CHECK_FALSE(ActivityModel::create(parameters, unknown_group).has_value());
  const std::vector<GroupCounts> empty_molecule{water, {}};
  CHECK_FALSE(ActivityModel::create(parameters, empty_molecule).has_value());
  const std::vector<GroupCounts> negative{water, {{1, -1}}};
  CHECK_FALSE(ActivityModel::create(parameters, negative).has_value());
  CHECK_FALSE(ActivityModel::create(parameters, {}).has_value());

  const auto without_interaction = parse_unifac({"1 CH3 1 CH2 0.6 1.1\n16 H2O 7 H2O 1.7 2.4\n", "", "", ""});
  REQUIRE(without_interaction.parameters);
  const std::vector<GroupCounts> apart{{{1, 1}}, {{16, 1}}};
  CHECK_FALSE(ActivityModel::create(*without_interaction.parameters, apart).has_value());
}

TEST_CASE("a mixture that needs filled-in parameters says so") {
  // Main groups 2 (double bonds) and 44 (formic acid) have no published interaction.
  const std::vector<GroupCounts> filled_in{{{1, 1}, {5, 1}}, {{43, 1}}};
  const auto model = ActivityModel::create(phase_fixture::parameters(), filled_in);
  REQUIRE(model);
  CHECK(model->uses_completed_parameters());
  CHECK_FALSE(phase_fixture::model({"ethanol", "water"}).uses_completed_parameters());
}
