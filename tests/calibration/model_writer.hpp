#pragma once

#include <string>

#include "solubility/model_data.hpp"

namespace firstcrop {

/// The text of a model file; `SolubilityModel::parse` reads it back.
[[nodiscard]] std::string model_text(const SolubilityModel::Data& data);

}  // namespace firstcrop
