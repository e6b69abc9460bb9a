#include "phase/miscibility.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <string>
#include <utility>
#include <vector>

#include "csv_table.hpp"
#include "phase/liquid_layers.hpp"
#include "phase_tables.hpp"

using namespace firstcrop;
using phase_tables::id;
using phase_tables::shipped_model;

TEST_CASE(
    "98 of 100 published miscibilities come out right when the record is hidden, and the chances are fair") {
  int count = 0;
  int right = 0;
  double squares = 0;
  for (const MiscibilityRecord& record : shipped_model().library().miscibilities()) {
    if (record.evidence != PairEvidence::Published || record.confidence == Confidence::Low) continue;
    const auto margin = shipped_model().margin(record.first, record.second, 298.15);
    if (!margin) continue;
    const double chance = one_liquid(nullptr, margin, margin, 298.15)->chance;
    const double seen = record.miscibility == MiscibilityClass::Miscible ? 1 : 0;
    ++count;
    right += (chance > 0.5) == (seen > 0.5) ? 1 : 0;
    squares += (chance - seen) * (chance - seen);
  }
  MESSAGE(right << " of " << count << " right, Brier score " << squares / count);
  CHECK(count > 860);
  CHECK(right >= 0.98 * count);
  CHECK(squares / count < 0.016);
}

TEST_CASE("calculated mutual solubilities lie within a factor of 2 of the published ones in the median") {
  std::vector<double> deviations;
  for (const MiscibilityRecord& record : shipped_model().library().miscibilities()) {
    if (!record.first_in_second_weight_percent && !record.second_in_first_weight_percent) continue;
    const auto model = shipped_model().activity(std::array{record.first, record.second});
    if (!model) continue;
    const auto layers = liquid_layers(BinaryActivity(model->at(record.temperature_k))).layers;
    if (!layers) continue;
    const auto& library = shipped_model().library();
    const MutualSolubility limits =
        mutual_solubility(*layers, library.solvent(record.first).molar_mass_g_mol->value,
                          library.solvent(record.second).molar_mass_g_mol->value);
    const auto compare = [&](std::optional<double> published, std::optional<double> calculated) {
      if (published && calculated) deviations.push_back(std::abs(std::log10(*calculated / *published)));
    };
    compare(record.first_in_second_weight_percent, limits.first_in_second_weight_percent);
    compare(record.second_in_first_weight_percent, limits.second_in_first_weight_percent);
  }
  CHECK(deviations.size() > 100);
  std::sort(deviations.begin(), deviations.end());
  const double median = deviations[deviations.size() / 2];
  MESSAGE("median of " << deviations.size() << " deviations: a factor of " << std::pow(10, median));
  CHECK(median < std::log10(2.0));
}

TEST_CASE("margins and chances agree with a second implementation at three temperatures") {
  for (const CsvRow& row : read_csv_table("pair_margins.csv")) {
    CAPTURE(row.at("first"));
    CAPTURE(row.at("second"));
    const SolventId first = id(row.at("first"));
    const SolventId second = id(row.at("second"));
    const std::array<std::pair<std::string, double>, 3> temperatures{
        {{"0c", 273.15}, {"25c", 298.15}, {"hot", 273.15 + number(row, "hot_c")}}};
    for (const auto& [column, temperature_k] : temperatures) {
      CAPTURE(column);
      const auto margin = shipped_model().margin(first, second, temperature_k);
      const std::string& expected = row.at("margin_" + column);
      CHECK(margin.has_value() == !expected.empty());
      // The table holds three decimals and rounds the boiling points to 0.1 K.
      const double tolerance = column == "hot" ? 0.01 : 0.0006;
      if (margin && !expected.empty()) CHECK(std::abs(*margin - std::stod(expected)) < tolerance);
      const auto chance = shipped_model().one_liquid(first, second, temperature_k);
      REQUIRE(chance);
      CHECK(std::abs(chance->chance - number(row, "chance_" + column)) < 10 * tolerance);
    }
  }
}

TEST_CASE("the calculated chance that a little of a solvent dissolves follows published solubilities") {
  int right = 0;
  int count = 0;
  for (const MiscibilityRecord& record : shipped_model().library().miscibilities()) {
    if (record.evidence != PairEvidence::Published || !record.first_in_second_weight_percent) continue;
    const auto& library = shipped_model().library();
    const double density_1 = library.solvent(record.first).density_25c_g_ml->value;
    const double density_2 = library.solvent(record.second).density_25c_g_ml->value;
    for (const double factor : {0.4, 2.5}) {
      const double weight = factor * *record.first_in_second_weight_percent;
      if (weight > 45) continue;
      const double volume = weight / density_1 / (weight / density_1 + (100 - weight) / density_2);
      const auto chance =
          shipped_model().one_liquid_at(record.first, record.second, record.temperature_k, volume);
      REQUIRE(chance);
      right += (chance->chance > 0.5) == (factor < 1) ? 1 : 0;
      ++count;
    }
  }
  CHECK(count > 100);
  CHECK(right == count);
}
