#pragma once

#include <array>
#include <map>
#include <stdexcept>
#include <string>
#include <vector>

#include "base/finding.hpp"
#include "phase/binary_activity.hpp"
#include "phase/bubble_point.hpp"
#include "phase/group_contributions.hpp"

namespace firstcrop::phase_fixture {

/// The tables that the project ships.
inline const UnifacParameters& parameters() {
  static const UnifacParameters shipped = [] {
    Findings findings;
    auto read = load_group_contributions(
        std::string(FIRSTCROP_SOURCE_DIR) + "/solvents/group-contributions.yaml", findings);
    if (!read) throw std::runtime_error("the shipped group contributions cannot be read");
    return *read;
  }();
  return shipped;
}

struct Liquid {
  GroupCounts groups;
  AntoineEquation antoine;
  double boiling_point_k;
};

/// A few liquids for identities that hold whatever their numbers are; the numbers are those of solvents/.
inline const Liquid& liquid(const std::string& name) {
  static const auto equation = [](double a, double b, double c) {
    AntoineEquation antoine;
    antoine.a = a;
    antoine.b = b;
    antoine.c = c;
    return antoine;
  };
  static const std::map<std::string, Liquid> liquids{
      {"water", {{{16, 1}}, equation(7.11564, 1687.537, -42.98), 373.12}},
      {"methanol", {{{15, 1}}, equation(7.20277, 1580.08, -33.65), 337.65}},
      {"ethanol", {{{1, 1}, {2, 1}, {14, 1}}, equation(7.33675, 1648.22, -42.232), 351.39}},
      {"1-butanol", {{{1, 1}, {2, 3}, {14, 1}}, equation(6.6493, 1395.14, -90.411), 390.75}},
      {"acetone", {{{1, 1}, {18, 1}}, equation(6.2184, 1197.01, -45.09), 329.23}},
      {"chloroform", {{{50, 1}}, equation(5.96288, 1106.904, -54.598), 334.35}},
      {"toluene", {{{9, 5}, {11, 1}}, equation(6.05043, 1327.62, -55.525), 383.75}},
      {"hexane", {{{1, 2}, {2, 4}}, equation(6.00139, 1170.875, -48.833), 341.87}},
      {"heptane", {{{1, 2}, {2, 5}}, equation(6.02023, 1263.909, -56.718), 371.53}},
      {"octane", {{{1, 2}, {2, 6}}, equation(6.05075, 1356.36, -63.515), 398.77}},
      {"acetonitrile", {{{40, 1}}, equation(6.52111, 1492.375, -24.208), 354.75}},
      {"formic-acid", {{{43, 1}}, equation(6.48436, 1551.38, -27.44), 374.15}},
      {"pyridine", {{{9, 3}, {37, 1}}, equation(6.16749, 1373.026, -58.46), 388.35}},
  };
  return liquids.at(name);
}

inline ActivityModel model(const std::vector<std::string>& names) {
  std::vector<GroupCounts> molecules;
  for (const std::string& name : names) molecules.push_back(liquid(name).groups);
  return ActivityModel::create(parameters(), molecules).value();
}

inline VapourPressure vapour_pressure(const std::string& name) {
  return VapourPressure::create(liquid(name).antoine, liquid(name).boiling_point_k).value();
}

inline BoilingLiquid boiling(const std::vector<std::string>& names) {
  std::vector<VapourPressure> pressures;
  for (const std::string& name : names) pressures.push_back(vapour_pressure(name));
  return BoilingLiquid(std::move(pressures), model(names));
}

inline BinaryActivity pair(const std::string& first, const std::string& second, double temperature_k) {
  return BinaryActivity(model({first, second}).at(temperature_k));
}

}  // namespace firstcrop::phase_fixture
