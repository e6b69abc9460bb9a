#pragma once

#include <optional>
#include <string_view>

namespace firstcrop {

/// A solubility as the trade writes it: `9.2 g/100 mL`, `92 mg/mL`, `1 g in 15 mL`, `11 mL/g`, `18 g per 100 g`.
struct WrittenSolubility {
  double mg_ml = 0;       ///< mg of solid per mL of solvent
  double basis_ml = 1;    ///< the volume of solvent that was written: 100 for g/100 mL
  bool per_mass = false;  ///< written per mass of solvent, turned into a volume by its density
};

enum class SolubilityFault { None, NotANumber, MissingUnit, UnknownUnit, WrongDimension, NeedsDensity, IsRange, NotFinite };

struct ParsedSolubility {
  SolubilityFault fault = SolubilityFault::None;
  WrittenSolubility solubility;  ///< meaningful where fault is None
};

/// Reads mass per volume, volume per mass, or mass per mass of solvent, parted by `/`, `per` or `in`; the second
/// number is 1 where none stands. A mass of solvent needs the density of the solvent [g/mL].
[[nodiscard]] ParsedSolubility parse_solubility(std::string_view text, std::optional<double> density_g_ml);

}  // namespace firstcrop
