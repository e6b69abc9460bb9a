#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <sstream>
#include <string>
#include <vector>

#include "calibration/rule_weights.hpp"
#include "input/yaml_reader.hpp"
#include "knowledge_fixture.hpp"
#include "rules_fixture.hpp"

namespace firstcrop {
namespace {

const CalibrationTable& table() {
  static const CalibrationTable read =
      read_calibration_table(FIRSTCROP_SOURCE_DIR, fixture::knowledge().library.descriptor_scheme());
  return read;
}

// Every eighth solid, by the shipped model as if unknown: no fold is fitted.
const std::vector<ExaminedSolid>& sample() {
  static const std::vector<ExaminedSolid> examined = [] {
    std::vector<ExamSolid> few;
    const std::vector<ExamSolid> all = exam_solids(table(), fixture::knowledge().library);
    for (std::size_t i = 0; i < all.size(); i += 8) few.push_back(all[i]);
    return examine(table(), few, fixture::knowledge(), fixture::book());
  }();
  return examined;
}

double first_pick(const Weighing& weighing) {
  double sum = 0;
  for (const ExaminedSolid& solid : sample()) sum += mark_of(solid, ranked(solid, weighing)).first;
  return sum / static_cast<double>(sample().size());
}

CalibrationSolid solid_melting_at(double melting_point_k) {
  CalibrationSolid out;
  out.melting_point_k = melting_point_k;
  out.molar_mass_g_mol = 100;
  return out;
}

}  // namespace

TEST_CASE("a measured curve is useful by what comes back and by the volume it takes") {
  const Solvent& ethanol = fixture::knowledge().library.solvent(fixture::solvent("ethanol"));
  const CalibrationSolid solid = solid_melting_at(450);
  // Boils at 351.4 K: hot 350.4 K, cold 278.15 K; 40 kJ/mol carry 10 mg/mL of solution at 298.15 K to 111.1
  // and 3.13, which is 121.7 and 3.14 mg per mL of solvent.
  const CalibrationCurve steep{0, "ethanol", -1, 40, false, 280, 340};
  CHECK(measured_usefulness(steep, solid, ethanol) == doctest::Approx(1 - 3.14 / 121.7).epsilon(0.005));
  // Hot enough only for 8 mg/mL: the window is log(8/5)/log(8).
  const CalibrationCurve scarce{0, "ethanol", std::log10(0.08) - 40 * 0.02613, 40, false, 280, 340};
  CHECK(measured_usefulness(scarce, solid, ethanol) < 0.25);
  CHECK(measured_usefulness(scarce, solid, ethanol) > 0.19);
  // 25 K beyond the measurements is the end, 10 K below melting too, and 15 K must remain.
  const CalibrationCurve cold_only{0, "ethanol", -1, 40, false, 258, 268};
  CHECK(measured_usefulness(cold_only, solid, ethanol) == 0);
  CHECK(measured_usefulness(steep, solid_melting_at(303), ethanol) == 0);
  // More than 300 mg/mL is not worked with.
  const CalibrationCurve strong{0, "ethanol", std::log10(3.0), 5, false, 280, 340};
  CHECK(measured_usefulness(strong, solid, ethanol) < 0.1);
}

TEST_CASE("the numbers carry the choice of a solvent") {
  REQUIRE(sample().size() == 25);
  const Weighing shipped = weighing_of(fixture::book());
  const double as_shipped = first_pick(shipped);
  // 0.711 over all solids (tests/calibration/README.md), standard error of 25 of them 0.06.
  CHECK(as_shipped > 0.6);
  const Weighing without =
      multiplied(shipped, fixture::book(), {"hot-window", "cold-ceiling", "recovery"}, 0);
  CHECK(first_pick(without) < as_shipped - 0.03);
}

TEST_CASE("a multiplier common to all rules changes no choice, and no weight at all judges nothing") {
  const Weighing shipped = weighing_of(fixture::book());
  Weighing doubled = shipped;
  for (double& weight : doubled.weights) weight *= 2;
  Weighing none = shipped;
  for (double& weight : none.weights) weight = 0;
  for (const ExaminedSolid& solid : sample()) {
    CHECK(ranked(solid, doubled) == ranked(solid, shipped));
    for (const ExaminedSolvent& solvent : solid.solvents) CHECK_FALSE(score_of(solvent, none));
  }
}

TEST_CASE("chosen multipliers serve the solids that they were chosen on at least as well") {
  const std::vector<double> chosen = chosen_multipliers(sample(), fixture::book(), free_numbers());
  REQUIRE(chosen.size() == free_numbers().size());
  Weighing weighing = weighing_of(fixture::book());
  const auto aim = [](const Weighing& by) {
    double sum = 0;
    for (const ExaminedSolid& solid : sample()) {
      const Mark mark = mark_of(solid, ranked(solid, by));
      sum += mark.first + mark.best_of_three;
    }
    return sum;
  };
  const double before = aim(weighing);
  weighing = multiplied(std::move(weighing), fixture::book(), free_numbers(), chosen);
  CHECK(aim(weighing) >= before);
}

TEST_CASE("the table of ablations was printed for the weights that are shipped") {
  std::istringstream lines(read_file(std::string(FIRSTCROP_SOURCE_DIR) + "/tests/calibration/README.md"));
  std::size_t rows = 0;
  for (std::string line; std::getline(lines, line);) {
    std::istringstream words(line);
    std::string id;
    double weight = 0;
    if (!line.starts_with("    ") || !(words >> id >> weight)) continue;
    const Rule* rule = fixture::book().find(id);
    if (rule == nullptr) continue;
    INFO(line);
    CHECK(rule->weight == doctest::Approx(weight));
    ++rows;
  }
  CHECK(rows >= 15);
}

TEST_CASE("paired differences have the standard error of a mean") {
  const PairedChange change = paired_change({0.5, 0.5, 0.5, 0.5}, {0.6, 0.6, 0.8, 0.8});
  CHECK(change.mean == doctest::Approx(0.2));
  CHECK(change.standard_error == doctest::Approx(0.057735));
}

}  // namespace firstcrop
