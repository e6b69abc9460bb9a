#include "quantity/unit.hpp"

#include <array>
#include <cctype>

namespace firstcrop {
namespace {

constexpr Dimension kViscosity{.time = 1, .pressure = 1};

constexpr std::array kUnits{
    Unit{"g/100 mL", dimension::kConcentration, 10},
    Unit{"g/100mL", dimension::kConcentration, 10},
    Unit{"cm3/mol", dimension::kMolarVolume, 1e-3},
    Unit{"mL/mol", dimension::kMolarVolume, 1e-3},
    Unit{"kJ/mol", dimension::kEnergyPerAmount, 1},
    Unit{"kg/m3", dimension::kConcentration, 1},
    Unit{"mg/mL", dimension::kConcentration, 1},
    Unit{"mPa s", kViscosity, 1e-6 / 60},
    Unit{"g/mol", dimension::kMolarMass, 1},
    Unit{"mol/L", dimension::kMolarConcentration, 1},
    Unit{"mmol/mL", dimension::kMolarConcentration, 1},
    Unit{"J/mol", dimension::kEnergyPerAmount, 1e-3},
    Unit{"mL/g", dimension::kVolumePerMass, 1e-3},
    Unit{"L/kg", dimension::kVolumePerMass, 1e-3},
    Unit{"mg/L", dimension::kConcentration, 1e-3},
    Unit{"g/mL", dimension::kConcentration, 1e3},
    Unit{"g/cm3", dimension::kConcentration, 1e3},
    Unit{"g/L", dimension::kConcentration, 1},
    Unit{"mmol", dimension::kAmount, 1},
    Unit{"mol", dimension::kAmount, 1e3},
    Unit{"mmHg", dimension::kPressure, 0.133322387415},
    Unit{"mbar", dimension::kPressure, 0.1},
    Unit{"hPa", dimension::kPressure, 0.1},
    Unit{"kPa", dimension::kPressure, 1},
    Unit{"atm", dimension::kPressure, 101.325},
    Unit{"bar", dimension::kPressure, 100},
    Unit{"Pa", dimension::kPressure, 1e-3},
    Unit{"min", dimension::kTime, 1},
    Unit{"ppm", dimension::kNumber, 1e-6},
    Unit{"\u00B0C", dimension::kTemperature, 1, 273.15},
    Unit{"mg", dimension::kMass, 1},
    Unit{"kg", dimension::kMass, 1e6},
    Unit{"\u00B5L", dimension::kVolume, 1e-3},
    Unit{"mL", dimension::kVolume, 1},
    Unit{"km", dimension::kLength, 1e3},
    Unit{"h", dimension::kTime, 60},
    Unit{"s", dimension::kTime, 1.0 / 60},
    Unit{"g", dimension::kMass, 1e3},
    Unit{"L", dimension::kVolume, 1e3},
    Unit{"m", dimension::kLength, 1},
    Unit{"K", dimension::kTemperatureDifference, 1},
    Unit{"D", dimension::kDipole, 1},
    Unit{"%", dimension::kNumber, 0.01},
};

}  // namespace

std::span<const Unit> all_units() {
  return kUnits;
}

std::optional<Unit> find_unit(std::string_view symbol) {
  for (const Unit& unit : kUnits) {
    if (unit.symbol == symbol) return unit;
  }
  return std::nullopt;
}

std::optional<Unit> leading_unit(std::string_view text) {
  std::optional<Unit> best;
  for (const Unit& unit : kUnits) {
    if (!text.starts_with(unit.symbol)) continue;
    const std::string_view rest = text.substr(unit.symbol.size());
    if (!rest.empty() && (std::isalnum(static_cast<unsigned char>(rest.front())) != 0 || rest.front() == '_'))
      continue;
    if (!best || unit.symbol.size() > best->symbol.size()) best = unit;
  }
  return best;
}

std::optional<Unit> display_unit(const Dimension& dimension) {
  constexpr std::array<std::string_view, 14> kShown{"\u00B0C", "K",   "mg/mL", "mL/g",   "g/mol",   "g", "mL",
                                                    "min",     "kPa", "mol/L", "kJ/mol", "cm3/mol", "m", "D"};
  for (const std::string_view symbol : kShown) {
    const std::optional<Unit> unit = find_unit(symbol);
    if (unit && unit->dimension == dimension) return unit;
  }
  return std::nullopt;
}

}  // namespace firstcrop
