#pragma once

#include "base/finding.hpp"
#include "plan/mass_balance.hpp"

namespace firstcrop {

/// What cannot stand on any bench: amounts that are zero or negative, parts larger than the whole, a cold solubility
/// above the hot one, a wash larger than the liquor. The places are the options of the command line.
void check_charge(const ChargeAmounts& charge, Findings& findings);

}  // namespace firstcrop
