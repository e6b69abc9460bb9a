#include "facts/catalogue.hpp"

#include <limits>
#include <utility>

#include <fmt/format.h>

#include "base/error.hpp"
#include "base/finding.hpp"

namespace firstcrop {
namespace {

constexpr std::string_view kEach = "solvent.";
constexpr std::string_view kGood = "good.";
constexpr std::string_view kPoor = "poor.";

}  // namespace

FactId Catalogue::add(FactInfo info) {
  if (facts_.size() > std::numeric_limits<std::uint16_t>::max())
    throw Error("the catalogue of facts is full");
  const FactId id{static_cast<std::uint16_t>(facts_.size())};
  const bool is_new = by_name_.emplace(info.name, id).second;
  if (!is_new) throw Error(fmt::format("two facts are called {}", info.name));
  facts_.push_back(std::move(info));
  return id;
}

const FactInfo& Catalogue::info(FactId id) const {
  return facts_.at(id.index);
}

std::optional<FactReference> Catalogue::find(std::string_view name) const {
  const auto component_fact = [this](std::string_view rest,
                                     Component component) -> std::optional<FactReference> {
    const auto found = by_name_.find(std::string(kEach) + std::string(rest));
    if (found == by_name_.end()) return std::nullopt;
    return FactReference{found->second, component};
  };
  if (name.starts_with(kGood)) return component_fact(name.substr(kGood.size()), Component::Good);
  if (name.starts_with(kPoor)) return component_fact(name.substr(kPoor.size()), Component::Poor);
  const auto found = by_name_.find(name);
  if (found == by_name_.end()) return std::nullopt;
  return FactReference{found->second, name.starts_with(kEach) ? Component::Each : Component::None};
}

std::optional<std::string> Catalogue::nearest(std::string_view name) const {
  std::vector<std::string> names;
  for (const FactInfo& fact : facts_) {
    names.push_back(fact.name);
    if (!fact.name.starts_with(kEach)) continue;
    const std::string rest = fact.name.substr(kEach.size());
    names.push_back(std::string(kGood) + rest);
    names.push_back(std::string(kPoor) + rest);
  }
  if (auto near = nearest_name(name, names)) return near;
  // The right word in the wrong scope is the other common slip: `system.melting_point`.
  const std::size_t dot = name.find('.');
  if (dot == std::string_view::npos) return std::nullopt;
  std::vector<std::string> same_word;
  for (const std::string& candidate : names) {
    if (std::string_view(candidate).substr(candidate.find('.')) == name.substr(dot))
      same_word.push_back(candidate);
  }
  if (same_word.empty()) return std::nullopt;
  return same_word.front();
}

std::string Catalogue::name_of(const FactReference& reference) const {
  const std::string& name = info(reference.fact).name;
  if (reference.component == Component::Good) return std::string(kGood) + name.substr(kEach.size());
  if (reference.component == Component::Poor) return std::string(kPoor) + name.substr(kEach.size());
  return name;
}

bool Catalogue::is_component(FactId id) const {
  return info(id).name.starts_with(kEach);
}

}  // namespace firstcrop
