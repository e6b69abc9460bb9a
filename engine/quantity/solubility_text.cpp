#include "quantity/solubility_text.hpp"

#include <array>
#include <cmath>
#include <string>

#include "quantity/quantity.hpp"

namespace firstcrop {
namespace {

struct Halves {
  std::string_view above;
  std::string_view below;
};

// The first separator of any kind parts the two.
std::optional<Halves> parted(std::string_view text) {
  constexpr std::array<std::string_view, 3> kSeparators{"/", " per ", " in "};
  for (const std::string_view separator : kSeparators) {
    const auto place = text.find(separator);
    if (place == std::string_view::npos) continue;
    return Halves{text.substr(0, place), text.substr(place + separator.size())};
  }
  return std::nullopt;
}

struct Amount {
  SolubilityFault fault = SolubilityFault::None;
  bool is_mass = false;
  double canonical = 0;  ///< mg or mL
};

SolubilityFault fault_of(QuantityFault fault) {
  switch (fault) {
    case QuantityFault::None:
      return SolubilityFault::None;
    case QuantityFault::MissingUnit:
      return SolubilityFault::MissingUnit;
    case QuantityFault::UnknownUnit:
      return SolubilityFault::UnknownUnit;
    case QuantityFault::WrongDimension:
      return SolubilityFault::WrongDimension;
    case QuantityFault::NotFinite:
      return SolubilityFault::NotFinite;
    case QuantityFault::NotANumber:
    case QuantityFault::EmptyRange:
      break;
  }
  return SolubilityFault::NotANumber;
}

Amount amount_of(std::string_view text) {
  const ParsedQuantity mass = parse_quantity(text, dimension::kMass);
  const bool is_mass = mass.fault == QuantityFault::None;
  const ParsedQuantity read = is_mass ? mass : parse_quantity(text, dimension::kVolume);
  Amount out{fault_of(read.fault), is_mass, read.quantity.middle()};
  if (out.fault == SolubilityFault::None && read.quantity.is_range()) out.fault = SolubilityFault::IsRange;
  return out;
}

// `100 mL`, or a bare `mL`, which means one.
Amount amount_below(std::string_view text) {
  const Amount written = amount_of(text);
  if (written.fault != SolubilityFault::NotANumber) return written;
  return amount_of("1 " + std::string(text));
}

ParsedSolubility failed(SolubilityFault fault) {
  ParsedSolubility out;
  out.fault = fault;
  return out;
}

}  // namespace

ParsedSolubility parse_solubility(std::string_view text, std::optional<double> density_g_ml) {
  const auto halves = parted(text);
  if (!halves) {
    const Amount alone = amount_of(text);
    return failed(alone.fault == SolubilityFault::None ? SolubilityFault::WrongDimension : alone.fault);
  }
  const Amount above = amount_of(halves->above);
  if (above.fault != SolubilityFault::None) return failed(above.fault);
  const Amount below = amount_below(halves->below);
  if (below.fault != SolubilityFault::None) return failed(below.fault);
  if (!above.is_mass && !below.is_mass) return failed(SolubilityFault::WrongDimension);
  ParsedSolubility out;
  out.solubility.per_mass = above.is_mass && below.is_mass;
  if (out.solubility.per_mass && !density_g_ml) return failed(SolubilityFault::NeedsDensity);
  const double mass_mg = above.is_mass ? above.canonical : below.canonical;
  constexpr double kMgPerG = 1000;
  double volume_ml = above.is_mass ? below.canonical : above.canonical;
  if (out.solubility.per_mass) volume_ml = below.canonical / kMgPerG / *density_g_ml;
  out.solubility.mg_ml = mass_mg / volume_ml;
  out.solubility.basis_ml = volume_ml;
  if (!(volume_ml > 0) || !std::isfinite(out.solubility.mg_ml)) return failed(SolubilityFault::NotFinite);
  return out;
}

}  // namespace firstcrop
