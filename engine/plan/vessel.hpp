#pragma once

#include <string>

namespace firstcrop {

/// What the solid is dissolved in, and with what it is collected.
struct Vessel {
  double nominal_ml = 0;
  std::string name;       ///< `100 mL conical flask`
  std::string collector;  ///< `Buchner funnel`
  int count = 1;          ///< more than one: no usual vessel holds it
};

/// The smallest usual vessel that the largest volume [mL], with the solid [mg] in it, fills to two thirds at most.
[[nodiscard]] Vessel choose_vessel(double largest_volume_ml, double charge_mg);

}  // namespace firstcrop
