#include "plan/vessel.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include <fmt/format.h>

#include "plan/bench_practice.hpp"

namespace firstcrop {
namespace {

struct VesselSize {
  double nominal_ml;
  const char* kind;
};

constexpr std::array<VesselSize, 11> kVessels{{{3, "Craig tube or conical vial"},
                                               {10, "test tube"},
                                               {25, "conical flask"},
                                               {50, "conical flask"},
                                               {100, "conical flask"},
                                               {250, "conical flask"},
                                               {500, "conical flask"},
                                               {1000, "conical flask"},
                                               {2000, "round-bottomed flask"},
                                               {5000, "round-bottomed flask"},
                                               {10000, "round-bottomed flask"}}};

std::string size_text(double ml) {
  return ml < 1000 ? fmt::format("{:.0f} mL", ml) : fmt::format("{:.0f} L", ml / 1000);
}

}  // namespace

Vessel choose_vessel(double largest_volume_ml, double charge_mg) {
  constexpr double kMgPerG = 1000;
  const double needed_ml =
      (largest_volume_ml + charge_mg / kMgPerG / practice::kSolidDensityGMl) / practice::kLargestFill;
  const auto found = std::find_if(kVessels.begin(), kVessels.end(),
                                  [needed_ml](const VesselSize& size) { return size.nominal_ml >= needed_ml; });
  const VesselSize& size = found != kVessels.end() ? *found : kVessels.back();
  Vessel out;
  out.nominal_ml = size.nominal_ml;
  out.count = std::max(static_cast<int>(std::ceil(needed_ml / size.nominal_ml - 1e-9)), 1);
  out.name = fmt::format("{} {}", size_text(size.nominal_ml), size.kind);
  if (out.count > 1) out.name = fmt::format("{} times {}", out.count, out.name);
  out.collector = charge_mg < practice::kTubeChargeMg      ? "filter-tipped pipette or centrifuge"
                  : charge_mg < practice::kBuchnerChargeMg ? "Hirsch funnel"
                                                           : "Buchner funnel";
  return out;
}

}  // namespace firstcrop
