#pragma once

#include "facts/catalogue.hpp"

namespace firstcrop {

/// Every fact that rules can ask about, with its type, unit and meaning. `firstcrop rules --facts` prints it.
[[nodiscard]] Catalogue make_catalogue();

}  // namespace firstcrop
