#include "quantity/solubility_text.hpp"

#include <doctest/doctest.h>

#include <string>

namespace firstcrop {
namespace {

WrittenSolubility good(std::string_view text, std::optional<double> density_g_ml = std::nullopt) {
  const ParsedSolubility parsed = parse_solubility(text, density_g_ml);
  REQUIRE_MESSAGE(parsed.fault == SolubilityFault::None, std::string(text));
  return parsed.solubility;
}

SolubilityFault fault_of(std::string_view text) { return parse_solubility(text, std::nullopt).fault; }

}  // namespace

TEST_CASE("a solubility is read in every unit of the trade") {
  CHECK(good("9.2 g/100 mL").mg_ml == doctest::Approx(92));
  CHECK(good("9.2 g/100mL").mg_ml == doctest::Approx(92));
  CHECK(good("92 mg/mL").mg_ml == doctest::Approx(92));
  CHECK(good("92 g/L").mg_ml == doctest::Approx(92));
  CHECK(good("1.4 g/10 mL").mg_ml == doctest::Approx(140));
  CHECK(good("1 g in 15 mL").mg_ml == doctest::Approx(1000.0 / 15));
  CHECK(good("1 g/1.4 mL").mg_ml == doctest::Approx(1000 / 1.4));
  CHECK(good("15 mL/g").mg_ml == doctest::Approx(1000.0 / 15));
  CHECK(good("18 g per 100 mL").mg_ml == doctest::Approx(180));
}

TEST_CASE("the volume that the number stands on is kept") {
  CHECK(good("9.2 g/100 mL").basis_ml == doctest::Approx(100));
  CHECK(good("92 g/L").basis_ml == doctest::Approx(1000));
  CHECK(good("92 mg/mL").basis_ml == doctest::Approx(1));
}

TEST_CASE("a solubility per mass of solvent needs the density") {
  CHECK(fault_of("18 g/100 g") == SolubilityFault::NeedsDensity);
  CHECK(good("18 g/100 g", 0.789).mg_ml == doctest::Approx(180 * 0.789));
  CHECK(good("18 g/100 g", 0.789).per_mass);
  CHECK_FALSE(good("18 g/100 mL", 0.789).per_mass);
}

TEST_CASE("what is no solubility is refused with its fault") {
  CHECK(fault_of("9.2") == SolubilityFault::MissingUnit);
  CHECK(fault_of("9.2 g") == SolubilityFault::WrongDimension);
  CHECK(fault_of("9 mL/100 mL") == SolubilityFault::WrongDimension);
  CHECK(fault_of("9.2 g/100") == SolubilityFault::MissingUnit);
  CHECK(fault_of("9.2 gr/100 mL") == SolubilityFault::UnknownUnit);
  CHECK(fault_of("soluble") == SolubilityFault::NotANumber);
  CHECK(fault_of("9 to 10 g/100 mL") == SolubilityFault::IsRange);
  CHECK(fault_of("1 g/0 mL") == SolubilityFault::NotFinite);
  CHECK(fault_of("0 mL/g") == SolubilityFault::NotFinite);
}

}  // namespace firstcrop
