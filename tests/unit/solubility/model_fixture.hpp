#pragma once

#include <fmt/format.h>

#include <cstdint>
#include <fstream>
#include <sstream>
#include <stdexcept>
#include <string>
#include <string_view>
#include <variant>

#include "solubility/model_data.hpp"
#include "solubility/model_file.hpp"
#include "structure/text_hash.hpp"

namespace firstcrop {

/// The text of the fitted file that the project ships.
inline const std::string& shipped_model_text() {
  static const std::string text = [] {
    std::ifstream file(std::string(FIRSTCROP_SOURCE_DIR) + "/solvents/solubility-model.txt",
                       std::ios::binary);
    std::stringstream content;
    content << file.rdbuf();
    if (content.str().empty()) throw std::runtime_error("cannot read the shipped model");
    return content.str();
  }();
  return text;
}

inline const SolubilityModel& shipped_model() {
  static const SolubilityModel model = [] {
    const auto parsed = SolubilityModel::parse(shipped_model_text());
    if (const auto* fault = std::get_if<std::string>(&parsed)) throw std::runtime_error(*fault);
    return std::get<SolubilityModel>(parsed);
  }();
  return model;
}

/// The text before the last line, closed by a fitting last line.
inline std::string sealed(std::string_view body) {
  return fmt::format("{}end {:08x}\n", body, fnv1a_32(body));
}

/// The shipped text without its last line.
inline std::string_view body_of(std::string_view text) {
  return text.substr(0, text.rfind("\nend ") + 1);
}

/// The body of the shipped file with its first `count` solids only.
inline std::string small_body(std::size_t count) {
  const std::string_view body = body_of(shipped_model_text());
  const std::size_t head = body.find("\nsolids ");
  std::size_t end = body.find("\nsolid\t", head);
  for (std::size_t i = 0; i < count; ++i) end = body.find("\nsolid\t", end + 1);
  const std::size_t first = body.find("\nsolid\t", head);
  return fmt::format("{}solids {}{}\n", body.substr(0, head + 1), count, body.substr(first, end - first));
}

/// What the model knows of a solid of its library, to ask about that solid again.
inline const LibrarySolid& library_solid(const SolubilityModel& model, std::string_view name) {
  for (const LibrarySolid& solid : model.data().solids) {
    if (solid.name == name) return solid;
  }
  throw std::runtime_error(fmt::format("the model has no solid called {}", name));
}

}  // namespace firstcrop
