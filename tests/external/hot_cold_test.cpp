#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <ostream>
#include <string>

#include "csv_table.hpp"
#include "knowledge_fixture.hpp"
#include "solubility/curve.hpp"

namespace firstcrop {
namespace {

constexpr double kZeroCelsiusK = 273.15;
constexpr double kHalfOf95Percent = 1.96;

struct Tally {
  int rows = 0;
  int inside = 0;
  double squares = 0;
  double bias = 0;
  double squared_scores = 0;  ///< differences in units of the foretold standard deviation
  double widest_sd = 0;

  void add(double difference, double sd, bool is_inside) {
    ++rows;
    inside += is_inside ? 1 : 0;
    squares += difference * difference;
    bias += difference;
    squared_scores += difference * difference / (sd * sd);
    widest_sd = std::max(widest_sd, sd);
  }
  [[nodiscard]] double share() const { return static_cast<double>(inside) / rows; }
  [[nodiscard]] double error() const { return std::sqrt(squares / rows); }
  [[nodiscard]] double score() const { return std::sqrt(squared_scores / rows); }
};

std::ostream& operator<<(std::ostream& out, const Tally& tally) {
  return out << tally.inside << " of " << tally.rows << " rows inside 95 %, root mean square error "
             << tally.error() << ", mean " << tally.bias / tally.rows << ", root mean square score "
             << tally.score() << ", widest sd " << tally.widest_sd;
}

// What the model says of a solid that it has not seen, or that it has to forget.
Inquiry asked_about(const CsvRow& row) {
  std::string lines = "smiles: \"" + row.at("smiles") + "\"\n";
  if (!row.at("melting_point_c").empty()) lines += "melting_point: " + row.at("melting_point_c") + " °C\n";
  return fixture::inquiry(fixture::solute(lines), {}, true);
}

struct Comparison {
  std::map<std::string, Tally> of;  ///< unseen, forgotten; cold, hot; read, memory of the unseen
  std::map<std::string, Tally> of_solid;
};

Comparison compare() {
  Comparison out;
  std::map<std::string, Inquiry> inquiries;
  for (const CsvRow& row : read_csv_table("hot_cold.csv")) {
    const std::string& name = row.at("solid");
    auto found = inquiries.find(name);
    if (found == inquiries.end()) found = inquiries.emplace(name, asked_about(row)).first;
    const Inquiry& inquiry = found->second;
    CHECK(inquiry.solute.outside_model.empty());
    const auto index = fixture::knowledge().in_model(fixture::solvent(row.at("solvent")));
    REQUIRE(index);
    const double molar_mass = inquiry.solute.molar_mass.value;
    const double temperature_k = number(row, "temperature_c") + kZeroCelsiusK;
    const Moments foretold = log10_molar_moments(inquiry.posterior.state, *index, temperature_k);
    const double most = log10_molar_of_melt(molar_mass);
    const double published = log10_molar_from_per_solvent(number(row, "mg_per_ml_solvent"), molar_mass);
    const double low = std::min(foretold.mean - kHalfOf95Percent * foretold.sd, most);
    const double high = std::min(foretold.mean + kHalfOf95Percent * foretold.sd, most);
    const bool inside = low <= published && published <= high;
    const double difference = std::min(foretold.mean, most) - published;
    if (!inside) {
      MESSAGE(name << " in " << row.at("solvent") << " at " << row.at("temperature_c") << " C: published "
                   << published << ", foretold " << low << " to " << high << " log10 mol/L ("
                   << row.at("confidence") << ")");
    }
    if (row.at("unseen") == "yes") {
      out.of["unseen"].add(difference, foretold.sd, inside);
      out.of[temperature_k < 313.15 ? "unseen cold" : "unseen hot"].add(difference, foretold.sd, inside);
      out.of["unseen, " + row.at("confidence")].add(difference, foretold.sd, inside);
      out.of_solid[name].add(difference, foretold.sd, inside);
    } else {
      out.of["forgotten"].add(difference, foretold.sd, inside);
    }
  }
  return out;
}

}  // namespace

TEST_CASE(
    "published solubilities of solids that the model has not seen lie in its 95 % range, hot and cold") {
  const Comparison comparison = compare();
  for (const auto& [kind, tally] : comparison.of) MESSAGE(kind << ": " << tally);
  CHECK(comparison.of_solid.size() >= 15);
  CHECK(comparison.of.at("unseen").share() >= 0.9);
}

TEST_CASE("published solubilities of solids that the model is told to forget lie in its 95 % range") {
  CHECK(compare().of.at("forgotten").share() >= 0.9);
}

}  // namespace firstcrop
