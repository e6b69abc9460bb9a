#include "ranking/solubility_study.hpp"

#include <algorithm>

#include "systems/system_phases.hpp"

namespace firstcrop {
namespace {

constexpr int kSteps = 10;
constexpr double kCurveStepK = 2.5;

}  // namespace

double hot_temperature_k(const SystemJudge& judge, const System& system) {
  JudgedSystem judged = judge.judge(system);
  judge.explain(judged);
  const Catalogue& catalogue = judge.catalogue();
  const FactReference hot = catalogue.find("system.hot_temperature").value();
  const auto temperature = summary(judged.frame.get(hot), catalogue.info(hot.fact).dimension);
  return temperature ? temperature->value : judge.inquiry().aim.heating_limit_k;
}

PairSolubility pair_over_composition(const SystemJudge& judge, const System& pair,
                                     const std::vector<double>& temperatures_k) {
  const Inquiry& inquiry = judge.inquiry();
  const ChosenPair chosen = judge.choose_ratio(pair.solvents[0], pair.solvents[1]);
  PairSolubility out;
  out.best = chosen.system;
  out.window = chosen.window;
  out.hot_temperature_k = hot_temperature_k(judge, System{{chosen.system.solvents[0]}, 1});
  out.cloud_volume = cloud_volume(inquiry, chosen.system, out.hot_temperature_k);
  for (int step = 0; step <= kSteps; ++step) {
    System system = chosen.system;
    system.first_fraction = 1 - static_cast<double>(step) / kSteps;
    // The mixing rule holds to both ends; the ends themselves are the pure solvents.
    for (const double temperature : temperatures_k) {
      const bool good_alone = step == 0;
      const bool poor_alone = step == kSteps;
      const System asked = good_alone   ? System{{system.solvents[0]}, 1}
                           : poor_alone ? System{{system.solvents[1]}, 1}
                                        : system;
      SolubilityRow row = solubility_at(inquiry, asked, temperature);
      if (good_alone || poor_alone) row.system = system;
      out.rows.push_back(std::move(row));
    }
  }
  return out;
}

SolubilityCurve solubility_curve(const Inquiry& inquiry, const System& system) {
  SolubilityCurve out{system, {}};
  const double boiling =
      boiling_point_of(system, inquiry.pressure_kpa, *inquiry.knowledge).temperature_k;
  const double melting = inquiry.melting_point_sd_k > 0 ? boiling : inquiry.melting_point_k;
  const auto freezing = freezing_point_of(system, *inquiry.knowledge);
  const double coldest = std::max(inquiry.aim.bath_temperature_k, freezing ? freezing->temperature_k : 0.0);
  const double hottest = std::max(std::min(boiling, melting), coldest + 2 * kCurveStepK);
  for (double temperature = coldest; temperature < hottest; temperature += kCurveStepK) {
    out.rows.push_back(solubility_at(inquiry, system, temperature));
  }
  out.rows.push_back(solubility_at(inquiry, system, hottest));
  return out;
}

}  // namespace firstcrop
