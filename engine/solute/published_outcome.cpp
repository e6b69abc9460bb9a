#include <array>
#include <utility>

#include "solute/solute_file.hpp"

namespace firstcrop {
namespace {

constexpr std::array<std::pair<std::string_view, PublishedOutcome>, 5> kWords{
    {{"works", PublishedOutcome::Works},
     {"too-soluble-cold", PublishedOutcome::TooSolubleCold},
     {"insoluble-hot", PublishedOutcome::InsolubleHot},
     {"oils", PublishedOutcome::Oils},
     {"reacts", PublishedOutcome::Reacts}}};

}  // namespace

std::string_view word_of(PublishedOutcome outcome) {
  for (const auto& [word, meaning] : kWords) {
    if (meaning == outcome) return word;
  }
  return {};
}

std::optional<PublishedOutcome> outcome_of(std::string_view word) {
  for (const auto& [known, meaning] : kWords) {
    if (known == word) return meaning;
  }
  return std::nullopt;
}

}  // namespace firstcrop
