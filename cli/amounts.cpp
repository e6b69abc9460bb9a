#include <cmath>

#include <fmt/format.h>
#include <CLI/CLI.hpp>

#include "commands.hpp"
#include "plan/charge_check.hpp"
#include "quantity/quantity.hpp"
#include "quantity/solubility_text.hpp"
#include "report/amounts_report.hpp"

namespace firstcrop::cli {
namespace {

constexpr double kMgPerG = 1000;
constexpr const char* kSolubilityHelp =
    "write `\"9.2 g/100 mL\"`, `\"92 mg/mL\"`, `\"1 g in 11 mL\"`, `\"11 mL/g\"`, or `\"9.2 g/100 g\"` with `--density`";

std::string fault_words(SolubilityFault fault, const std::string& text) {
  switch (fault) {
    case SolubilityFault::MissingUnit:
      return fmt::format("`{}` needs its units", text);
    case SolubilityFault::NeedsDensity:
      return fmt::format("`{}` is per mass of solvent, whose density is not known", text);
    case SolubilityFault::IsRange:
      return fmt::format("`{}` is a range; one number is needed here", text);
    case SolubilityFault::None:
    case SolubilityFault::NotANumber:
    case SolubilityFault::UnknownUnit:
    case SolubilityFault::WrongDimension:
    case SolubilityFault::NotFinite:
      break;
  }
  return fmt::format("`{}` is not a solubility", text);
}

// Reads the options into one charge, with a finding for each that cannot be read.
class Reader {
 public:
  Reader(const AmountsOptions& typed, Findings& findings) : typed_(typed), findings_(findings) {}

  AmountsAnswer read() {
    AmountsAnswer out;
    ChargeAmounts& charge = out.charge;
    density_ = read_number(typed_.density, "--density", dimension::kConcentration, "0.789 g/mL", findings_);
    if (density_) density_ = *density_ / kMgPerG;
    check_density();
    out.density_g_ml = density_;
    const auto crude_mg = mass(typed_.mass, "--mass");
    knows_mass_ = crude_mg.has_value();
    charge.crude_mg = crude_mg.value_or(0);
    charge.isolated_mg = mass(typed_.isolated, "--isolated");
    charge.impurity_mg = part(typed_.impurity_mass, "--impurity-mass", charge.crude_mg);
    charge.insoluble_mg = part(typed_.insoluble, "--insoluble", charge.crude_mg).value_or(0);
    charge.hot_mg_ml = solubility(typed_.hot, "--hot", &out.basis.hot_ml);
    charge.cold_mg_ml = solubility(typed_.cold, "--cold", &out.basis.cold_ml);
    charge.impurity_hot_mg_ml = solubility(typed_.impurity_hot, "--impurity-hot", nullptr);
    charge.impurity_cold_mg_ml = solubility(typed_.impurity_cold, "--impurity-cold", nullptr);
    charge.volume_ml = volume(typed_.volume, "--volume");
    charge.wash_volume_ml = volume(typed_.wash_volume, "--wash-volume");
    charge.boil_down_to_ml = volume(typed_.boil_down_to, "--boil-down-to");
    check_dependants(charge);
    return out;
  }
  [[nodiscard]] bool knows_mass() const { return knows_mass_; }

 private:
  void error(const char* option, std::string message, std::string help) {
    findings_.error(Place{option, 0, 0, 1, {}}, std::move(message), std::move(help));
  }

  void check_density() {
    constexpr double kLightestGMl = 0.3;
    constexpr double kHeaviestGMl = 4;
    if (!density_ || (*density_ >= kLightestGMl && *density_ <= kHeaviestGMl)) return;
    error("--density", fmt::format("no solvent has a density of `{}`", *typed_.density),
          "write it in g/mL: water 1, ethanol 0.79");
    density_.reset();
  }

  std::optional<double> mass(const std::optional<std::string>& text, const char* option) {
    return read_number(text, option, dimension::kMass, "5 g", findings_);
  }

  // A mass, or a share of the crude.
  std::optional<double> part(const std::optional<std::string>& text, const char* option, double crude_mg) {
    if (!text) return std::nullopt;
    const ParsedQuantity share = parse_quantity(*text, dimension::kNumber);
    const bool is_percent = share.fault == QuantityFault::None && share.quantity.unit.symbol == "%";
    if (!is_percent || share.quantity.is_range()) return mass(text, option);
    return share.quantity.middle() * crude_mg;
  }

  std::optional<double> volume(const std::optional<std::string>& text, const char* option) {
    if (!text) return std::nullopt;
    const ParsedQuantity weighed = parse_quantity(*text, dimension::kMass);
    if (weighed.fault != QuantityFault::None || weighed.quantity.is_range())
      return read_number(text, option, dimension::kVolume, "60 mL", findings_);
    if (!density_) {
      if (!typed_.density)
        error(option, fmt::format("`{}` is a mass of solvent, whose density is not known", *text),
              "add `--density \"0.789 g/mL\"`, or write a volume");
      return std::nullopt;
    }
    return weighed.quantity.middle() / kMgPerG / *density_;
  }

  std::optional<double> solubility(const std::optional<std::string>& text, const char* option, double* basis_ml) {
    if (!text) return std::nullopt;
    const ParsedSolubility parsed = parse_solubility(*text, density_);
    if (parsed.fault == SolubilityFault::NeedsDensity && typed_.density) return std::nullopt;
    if (parsed.fault != SolubilityFault::None) {
      error(option, fault_words(parsed.fault, *text),
            parsed.fault == SolubilityFault::NeedsDensity ? "add `--density \"1.0 g/mL\"`" : kSolubilityHelp);
      return std::nullopt;
    }
    if (basis_ml != nullptr) *basis_ml = parsed.solubility.basis_ml;
    return parsed.solubility.mg_ml;
  }

  void check_dependants(const ChargeAmounts& charge) {
    const bool speaks_of_impurity = typed_.impurity_hot || typed_.impurity_cold;
    if (speaks_of_impurity && !typed_.impurity_mass)
      error(typed_.impurity_cold ? "--impurity-cold" : "--impurity-hot", "how much impurity there is was not typed",
            "add `--impurity-mass \"0.2 g\"`");
    const bool has_volume = charge.volume_ml || charge.hot_mg_ml || typed_.volume || typed_.hot;
    for (const auto& [option, text] : {std::pair{"--wash-volume", &typed_.wash_volume},
                                       std::pair{"--boil-down-to", &typed_.boil_down_to}}) {
      if (!*text || (typed_.cold && has_volume)) continue;
      error(option, "what it takes or leaves depends on the cold solubility and the volume",
            "add `--cold`, and `--volume` or `--hot`");
    }
  }

  const AmountsOptions& typed_;
  Findings& findings_;
  std::optional<double> density_;
  bool knows_mass_ = false;
};

// Half a unit of the last figure of a written number: 0.5 for `8`, 0.05 for `8.0`, 5 for `1.5e2`.
double half_of_last(std::string_view number) {
  double step = 1;
  bool behind_point = false;
  for (const char letter : number) {
    if (letter == '.') behind_point = true;
    if (letter == 'e' || letter == 'E') {
      step *= std::pow(10.0, std::atoi(number.substr(number.find(letter) + 1).data()));
      break;
    }
    if (letter != '.' && letter != '-' && letter != '+' && (letter < '0' || letter > '9')) break;
    if (behind_point && letter != '.') step /= 10;
  }
  return step / 2;
}

std::optional<Claim> read_claim(const std::string& text, Findings& findings) {
  const Place place{"--claim", 0, 0, 1, {}};
  const auto sign = text.find('=');
  const auto figure = claimed_figure_of(text.substr(0, sign));
  if (sign == std::string::npos || !figure) {
    findings.error(place, fmt::format("`{}` is no claim", text),
                   "write `recovery=`, `volume=`, `crystals=`, `liquor=` or `purity=` and a number with its unit");
    return std::nullopt;
  }
  const bool is_share = *figure == ClaimedFigure::Recovery || *figure == ClaimedFigure::Purity;
  const bool is_volume = *figure == ClaimedFigure::Volume;
  const Dimension& dimension = is_share ? dimension::kNumber : is_volume ? dimension::kVolume : dimension::kMass;
  const char* const example = is_share ? "recovery=91 %" : is_volume ? "volume=54 mL" : "crystals=4.6 g";
  const std::string written = text.substr(sign + 1);
  const auto value = read_number(written, "--claim", dimension, example, findings);
  if (!value) return std::nullopt;
  const ParsedQuantity parsed = parse_quantity(written, dimension);
  const std::string_view number = std::string_view(written).substr(std::min(written.find_first_not_of(' '), written.size()));
  return Claim{*figure, *value, half_of_last(number) * parsed.quantity.unit.scale};
}

// The amounts whose absence keeps a claim from being judged.
std::string what_lacks(ClaimedFigure figure) {
  switch (figure) {
    case ClaimedFigure::Volume:
      return "add `--hot`";
    case ClaimedFigure::Recovery:
      return "add `--cold` with `--hot` or `--volume`, or `--isolated`";
    case ClaimedFigure::Purity:
      return "add `--impurity-mass` and `--impurity-cold`, `--cold`, and `--hot` or `--volume`";
    case ClaimedFigure::Crystals:
    case ClaimedFigure::Liquor:
      break;
  }
  return "add `--cold`, and `--hot` or `--volume`";
}

}  // namespace

void declare_amounts(CLI::App& command, Options& options) {
  AmountsOptions& amounts = options.amounts;
  const auto add = [&command](const char* name, std::optional<std::string>& where, const char* about, const char* type) {
    return command.add_option(name, where, about)->type_name(type);
  };
  add("--mass", amounts.mass, "Crude; impurity and insoluble matter are parts of it", "M")->required();
  add("--hot", amounts.hot, "Solubility hot: \"9.2 g/100 mL\", \"92 mg/mL\", \"1 g in 11 mL\", \"11 mL/g\"", "S");
  add("--cold", amounts.cold, "Solubility cold", "S");
  add("--volume", amounts.volume, "Solvent taken; default: the minimum volume", "V");
  add("--wash-volume", amounts.wash_volume, "Cold solvent poured over the cake", "V");
  add("--isolated", amounts.isolated, "What was weighed in the end", "M");
  add("--insoluble", amounts.insoluble, "Matter that never dissolves, a mass or a share of the crude", "M");
  add("--impurity-mass", amounts.impurity_mass, "Impurity, a mass or a share of the crude", "M");
  add("--impurity-hot", amounts.impurity_hot, "Its solubility hot; default: it dissolves", "S");
  add("--impurity-cold", amounts.impurity_cold, "Its solubility cold", "S");
  add("--boil-down-to", amounts.boil_down_to, "Volume to which the liquor is boiled down for a second crop", "V");
  add("--density", amounts.density, "Of the solvent, for solubilities per 100 g of it", "D");
  command
      .add_option("--claim", amounts.claims,
                  "An answer to be checked: recovery=8 %, volume=, crystals=, liquor=, purity=")
      ->type_name("FIGURE=VALUE");
  command.add_flag("--json", options.json, "Answer for machines on standard output, and nothing else there");
  command.add_option("--data", options.data_folder, "Not needed here: the sum uses no files")->type_name("DIR");
  command.footer(
      "Example: firstcrop amounts --mass \"5 g\" --hot \"9.2 g/100mL\" --cold \"0.8 g/100mL\" --claim \"recovery=8 %\"");
}

Answer run_amounts(const Options& options) {
  Findings findings;
  Reader reader(options.amounts, findings);
  AmountsAnswer answer = reader.read();
  std::vector<Claim> claims;
  for (const std::string& text : options.amounts.claims) {
    if (const auto claim = read_claim(text, findings)) claims.push_back(*claim);
  }
  // A mass that could not be read would only be told a second time.
  if (reader.knows_mass()) check_charge(answer.charge, findings);
  if (findings.has_errors()) return bad_input(findings);
  answer.balance = balance_of(answer.charge);
  for (const Claim& claim : claims) {
    if (auto diagnosis = diagnose(claim, answer.charge, answer.basis)) {
      answer.claims.push_back(std::move(*diagnosis));
    } else {
      findings.error(Place{"--claim", 0, 0, 1, {}},
                     fmt::format("the amounts do not give the {}", name_of(claim.figure)), what_lacks(claim.figure));
    }
  }
  if (findings.has_errors()) return bad_input(findings);
  Answer out;
  out.findings = findings.sorted();
  out.text = options.json ? amounts_json(answer, FIRSTCROP_VERSION, out.findings) : amounts_text(answer, terminal_style());
  return out;
}

}  // namespace firstcrop::cli
