#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "calibration/tube_exam.hpp"
#include "knowledge_fixture.hpp"
#include "rules_fixture.hpp"
#include "solubility/curve.hpp"

namespace firstcrop {
namespace {

constexpr std::size_t kEvery = 10;
constexpr std::size_t kTubes = 2;

const CalibrationTable& table() {
  static const CalibrationTable read =
      read_calibration_table(FIRSTCROP_SOURCE_DIR, fixture::knowledge().library.descriptor_scheme());
  return read;
}

std::vector<ExamSolid> sample() {
  const std::vector<ExamSolid> all = exam_solids(table(), fixture::knowledge().library);
  std::vector<ExamSolid> few;
  for (std::size_t i = 0; i < all.size(); i += kEvery) few.push_back(all[i]);
  return few;
}

}  // namespace

TEST_CASE("a tube of the simulated bench shows what the measured curve says") {
  const ExamSolid exam = sample().front();
  const MeasuredSolvent& measured = exam.solvents.front();
  const CalibrationCurve& curve = table().curves[measured.curve];
  const auto mg_ml_at = [&](double temperature_k) {
    const double molar_mass = table().solids[exam.solid].molar_mass_g_mol;
    return per_solvent_from_log10_molar(
        log10_molar_at(curve.level.value(), curve.enthalpy_kj_mol.value(), temperature_k, molar_mass),
        molar_mass);
  };
  const Bottle bottle{0, 340, 298, 278};
  const auto made = [&](double mg_ml) {
    return SimulatedBench(table(), exam, 1).make(measured.solvent, bottle, {50, 50 / mg_ml});
  };
  REQUIRE(mg_ml_at(340) > 6 * mg_ml_at(278));
  // Twice and half the solubility are 0.3 log10 away, nearly four errors of the eye.
  const Trial scarce = made(mg_ml_at(278) / 2);
  CHECK(scarce.system.text == curve.solvent);
  CHECK(scarce.cold == SeenDissolved::All);
  CHECK(scarce.cooled == SeenOnCooling::Nothing);
  const Trial good = made(mg_ml_at(340) / 2);
  CHECK(good.cold != SeenDissolved::All);
  CHECK(good.hot == SeenDissolved::All);
  CHECK(good.cooled == SeenOnCooling::Crystals);
  const Trial much = made(mg_ml_at(340) * 2);
  CHECK(much.hot == SeenDissolved::Part);
  CHECK_FALSE(much.cooled);
  CHECK(made(mg_ml_at(340) * 12).hot == SeenDissolved::None);
}

TEST_CASE("tubes of the simulated bench serve the choice") {
  double before = 0;
  double after = 0;
  double random = 0;
  double best = 0;
  for (const ExamSolid& exam : sample()) {
    const auto run = run_of_tubes(table(), exam, fixture::knowledge(), fixture::book(), kTubes);
    REQUIRE(run);
    CAPTURE(run->name);
    REQUIRE(run->steps.size() == kTubes + 1);
    CHECK(run->tubes_until_stop() <= run->made);
    CHECK(run->weighed_mg_until(run->made) <= 50.0 * static_cast<double>(run->made));
    before += run->steps.front().usefulness;
    after += run->steps.back().usefulness;
    random += run->random;
    best += run->best;
  }
  CHECK(after > before);
  CHECK(before > random);
  CHECK(after <= best);
}

}  // namespace firstcrop
