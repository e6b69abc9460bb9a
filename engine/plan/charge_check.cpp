#include "plan/charge_check.hpp"

#include <string>

#include <fmt/format.h>

#include "quantity/quantity.hpp"

namespace firstcrop {
namespace {

std::string in_unit(double canonical, const char* unit) { return show(canonical, *find_unit(unit)); }

void error(Findings& findings, const char* option, std::string message, std::string help) {
  findings.error(Place{option, 0, 0, 1, {}}, std::move(message), std::move(help));
}

void check_positive(const std::optional<double>& value, const char* option, const char* what, const char* unit,
                    Findings& findings) {
  if (!value || *value > 0) return;
  error(findings, option, fmt::format("a {} of {} is none", what, in_unit(*value, unit)),
        "write an amount above zero, or leave the option out");
}

// Zero is a number here: nothing of it is there, or nothing dissolves.
void check_not_negative(const std::optional<double>& value, const char* option, const std::string& what, const char* unit,
                        Findings& findings) {
  if (!value || *value >= 0) return;
  error(findings, option, fmt::format("{} of {} is less than nothing", what, in_unit(*value, unit)),
        "write zero or more");
}

void check_parts(const ChargeAmounts& charge, Findings& findings) {
  check_not_negative(charge.insoluble_mg, "--insoluble", "insoluble matter", "g", findings);
  if (charge.impurity_mg && *charge.impurity_mg < 0) {
    error(findings, "--impurity-mass",
          fmt::format("an impurity of {} would mean a purity above 100 %", in_unit(*charge.impurity_mg, "g")),
          "write zero or more");
  }
  if (charge.crude_mg > 0 && charge.product_mg() <= 0) {
    error(findings, charge.impurity_mg ? "--impurity-mass" : "--insoluble",
          fmt::format("impurity and insoluble matter, {} together, leave no product in {} of crude",
                      in_unit(charge.crude_mg - charge.product_mg(), "g"), in_unit(charge.crude_mg, "g")),
          "they are parts of `--mass`");
  }
}

void check_order(const std::optional<double>& hot, const std::optional<double>& cold, const char* hot_option,
                 const char* cold_option, Findings& findings) {
  if (!hot || !cold || *hot <= 0 || *cold <= *hot) return;
  error(findings, cold_option,
        fmt::format("more dissolves cold ({}) than hot ({}): nothing would crystallize", in_unit(*cold, "mg/mL"),
                    in_unit(*hot, "mg/mL")),
        fmt::format("exchange `{}` and `{}`, or look at the units", hot_option, cold_option));
}

void check_volumes(const ChargeAmounts& charge, Findings& findings) {
  check_positive(charge.volume_ml, "--volume", "volume", "mL", findings);
  check_positive(charge.wash_volume_ml, "--wash-volume", "wash", "mL", findings);
  check_positive(charge.boil_down_to_ml, "--boil-down-to", "volume", "mL", findings);
  if (findings.has_errors()) return;
  const auto volume = balance_of(charge).volume_ml;
  if (!volume) return;
  if (charge.wash_volume_ml && *charge.wash_volume_ml > *volume) {
    error(findings, "--wash-volume",
          fmt::format("a wash of {} is larger than the liquor, {}", in_unit(*charge.wash_volume_ml, "mL"),
                      in_unit(*volume, "mL")),
          "a wash just covers the cake: a tenth or a fifth of the liquor");
  }
  if (charge.boil_down_to_ml && *charge.boil_down_to_ml >= *volume) {
    error(findings, "--boil-down-to",
          fmt::format("the liquor has {} and cannot be boiled down to {}", in_unit(*volume, "mL"),
                      in_unit(*charge.boil_down_to_ml, "mL")),
          "write a smaller volume");
  }
}

}  // namespace

void check_charge(const ChargeAmounts& charge, Findings& findings) {
  Findings own;
  check_positive(charge.crude_mg, "--mass", "mass", "g", own);
  check_positive(charge.isolated_mg, "--isolated", "mass", "g", own);
  check_parts(charge, own);
  check_positive(charge.hot_mg_ml, "--hot", "solubility", "mg/mL", own);
  check_positive(charge.impurity_hot_mg_ml, "--impurity-hot", "solubility", "mg/mL", own);
  check_not_negative(charge.cold_mg_ml, "--cold", "a solubility", "mg/mL", own);
  check_not_negative(charge.impurity_cold_mg_ml, "--impurity-cold", "a solubility", "mg/mL", own);
  check_order(charge.hot_mg_ml, charge.cold_mg_ml, "--hot", "--cold", own);
  check_order(charge.impurity_hot_mg_ml, charge.impurity_cold_mg_ml, "--impurity-hot", "--impurity-cold", own);
  check_volumes(charge, own);
  findings.append(own);
}

}  // namespace firstcrop
