#include <doctest/doctest.h>

#include <cmath>
#include <optional>
#include <sstream>
#include <string>
#include <vector>

#include "csv_table.hpp"
#include "plan/charge_check.hpp"
#include "plan/claim_diagnosis.hpp"
#include "quantity/quantity.hpp"
#include "quantity/solubility_text.hpp"

namespace firstcrop {
namespace {

struct Example {
  ChargeAmounts charge;
  WrittenVolumes basis;
};

std::optional<double> amount(const CsvRow& row, const std::string& column, const Dimension& dimension) {
  const auto found = row.find(column);
  if (found == row.end() || found->second.empty()) return std::nullopt;
  const ParsedQuantity parsed = parse_quantity(found->second, dimension);
  REQUIRE_MESSAGE(parsed.fault == QuantityFault::None, found->second);
  return parsed.quantity.middle();
}

std::optional<double> solubility(const CsvRow& row, const std::string& column, std::optional<double> density_g_ml,
                                 double* basis_ml = nullptr) {
  const std::string& text = row.at(column);
  if (text.empty()) return std::nullopt;
  const ParsedSolubility parsed = parse_solubility(text, density_g_ml);
  REQUIRE_MESSAGE(parsed.fault == SolubilityFault::None, text);
  if (basis_ml != nullptr) *basis_ml = parsed.solubility.basis_ml;
  return parsed.solubility.mg_ml;
}

Example example_of(const CsvRow& row) {
  constexpr double kMgPerG = 1000;
  Example out;
  std::optional<double> density = amount(row, "density", dimension::kConcentration);
  if (density) *density /= kMgPerG;
  ChargeAmounts& charge = out.charge;
  charge.crude_mg = *amount(row, "mass", dimension::kMass);
  charge.hot_mg_ml = solubility(row, "hot", density, &out.basis.hot_ml);
  charge.cold_mg_ml = solubility(row, "cold", density, &out.basis.cold_ml);
  charge.impurity_hot_mg_ml = solubility(row, "impurity_hot", density);
  charge.impurity_cold_mg_ml = solubility(row, "impurity_cold", density);
  charge.volume_ml = amount(row, "volume", dimension::kVolume);
  charge.wash_volume_ml = amount(row, "wash", dimension::kVolume);
  charge.boil_down_to_ml = amount(row, "boil_down_to", dimension::kVolume);
  charge.isolated_mg = amount(row, "isolated", dimension::kMass);
  const std::string& impurity = row.at("impurity_mass");
  if (impurity.ends_with("%")) {
    charge.impurity_mg = *amount(row, "impurity_mass", dimension::kNumber) * charge.crude_mg;
  } else {
    charge.impurity_mg = amount(row, "impurity_mass", dimension::kMass);
  }
  return out;
}

// A figure as a source writes it, and half a unit of its last digit.
struct Written {
  double value = 0;
  double half_of_last = 0;
};

Written written(const std::string& text, const Dimension& dimension) {
  const ParsedQuantity parsed = parse_quantity(text, dimension);
  REQUIRE_MESSAGE(parsed.fault == QuantityFault::None, text);
  const std::string number = text.substr(0, text.find(' '));
  const auto point = number.find('.');
  const double decimals = point == std::string::npos ? 0 : static_cast<double>(number.size() - point - 1);
  return {parsed.quantity.middle(), 0.5 * std::pow(10.0, -decimals) * parsed.quantity.unit.scale};
}

struct Figure {
  std::optional<double> value;
  Dimension dimension;
};

Figure figure_of(const std::string& name, const MassBalance& balance) {
  using namespace dimension;
  const auto of_impurity = [&](std::optional<double> ComponentBalance::*part) {
    return balance.impurity ? (*balance.impurity).*part : std::nullopt;
  };
  if (name == "minimum_volume") return {balance.minimum_volume_ml, kVolume};
  if (name == "crystals") return {balance.product.crystals_mg, kMass};
  if (name == "liquor") return {balance.product.liquor_mg, kMass};
  if (name == "undissolved") return {balance.product.undissolved_mg, kMass};
  if (name == "recovery") return {balance.recovery, kNumber};
  if (name == "recovery_limit") return {balance.recovery_limit, kNumber};
  if (name == "purity") return {balance.purity, kNumber};
  if (name == "unexplained") return {balance.unexplained_mg, kMass};
  if (name == "implied_cold") return {balance.implied_cold_mg_ml, kConcentration};
  if (name == "impurity_crystals") return {of_impurity(&ComponentBalance::crystals_mg), kMass};
  if (name == "impurity_undissolved") return {of_impurity(&ComponentBalance::undissolved_mg), kMass};
  if (name == "second_crop" && balance.second_crop) return {balance.second_crop->crystals_mg, kMass};
  if (name == "total_recovery" && balance.second_crop)
    return {balance.second_crop->both_crops_mg / balance.product_mg, kNumber};
  return {std::nullopt, kNumber};
}

Claim claim_of(const std::string& text) {
  const auto sign = text.find('=');
  const auto figure = claimed_figure_of(text.substr(0, sign));
  REQUIRE(figure);
  const bool is_share = *figure == ClaimedFigure::Recovery || *figure == ClaimedFigure::Purity;
  const Written value = written(text.substr(sign + 1), is_share                           ? dimension::kNumber
                                                       : *figure == ClaimedFigure::Volume ? dimension::kVolume
                                                                                          : dimension::kMass);
  return {*figure, value.value, value.half_of_last};
}

}  // namespace

TEST_CASE("published worked examples are reproduced to their last figure") {
  int figures = 0;
  for (const CsvRow& row : read_csv_table("worked_examples.csv")) {
    CAPTURE(row.at("id"));
    const Example example = example_of(row);
    Findings findings;
    check_charge(example.charge, findings);
    CHECK_FALSE(findings.has_errors());
    const MassBalance balance = balance_of(example.charge);
    std::istringstream expected(row.at("expect"));
    for (std::string entry; std::getline(expected, entry, ';');) {
      CAPTURE(entry);
      const auto sign = entry.find('=');
      const Figure figure = figure_of(entry.substr(0, sign), balance);
      REQUIRE(figure.value);
      const Written source = written(entry.substr(sign + 1), figure.dimension);
      CHECK(std::abs(*figure.value - source.value) <= source.half_of_last * (1 + 1e-6));
      ++figures;
    }
  }
  CHECK(figures >= 75);
}

TEST_CASE("the right figure of an example is never called wrong") {
  for (const CsvRow& row : read_csv_table("worked_examples.csv")) {
    CAPTURE(row.at("id"));
    const Example example = example_of(row);
    std::istringstream expected(row.at("expect"));
    for (std::string entry; std::getline(expected, entry, ';');) {
      CAPTURE(entry);
      std::string name = entry.substr(0, entry.find('='));
      if (name == "minimum_volume") name = "volume";
      if (!claimed_figure_of(name)) continue;
      const auto diagnosis = diagnose(claim_of(name + entry.substr(entry.find('='))), example.charge, example.basis);
      REQUIRE(diagnosis);
      CHECK(diagnosis->verdict == ClaimVerdict::Right);
    }
  }
}

TEST_CASE("published wrong keys are called wrong, with the slip that gives them") {
  for (const CsvRow& row : read_csv_table("worked_wrong_keys.csv")) {
    CAPTURE(row.at("id"));
    CAPTURE(row.at("claim"));
    const Example example = example_of(row);
    const Claim claim = claim_of(row.at("claim"));
    const auto diagnosis = diagnose(claim, example.charge, example.basis);
    REQUIRE(diagnosis);
    CHECK(diagnosis->verdict == ClaimVerdict::Wrong);
    const bool is_share = claim.figure == ClaimedFigure::Recovery || claim.figure == ClaimedFigure::Purity;
    const double scale = is_share ? 0.01 : claim.figure == ClaimedFigure::Volume ? 1 : 1000;
    CHECK(diagnosis->right == doctest::Approx(number(row, "right") * scale).epsilon(1e-3));
    if (row.at("slip") == "none") {
      CHECK(diagnosis->slips.empty());
      continue;
    }
    REQUIRE_FALSE(diagnosis->slips.empty());
    CHECK(diagnosis->slips.front().id == row.at("slip"));
  }
}

}  // namespace firstcrop
