#include "facts/fact_frame.hpp"

#include <utility>

#include "base/error.hpp"

namespace firstcrop {
namespace {

constexpr std::size_t kNoSlot = static_cast<std::size_t>(-1);

const FactValue& not_set() {
  static const FactValue value{Unknown{"not known"}, Origin::Calculated, {}};
  return value;
}

}  // namespace

FactFrame::FactFrame(const Catalogue& catalogue, std::size_t component_count)
    : catalogue_(&catalogue), component_count_(component_count), slots_(2 * catalogue.size()) {
  if (component_count < 1 || component_count > 2) throw Error("a system has one or two solvents");
}

// Each fact owns two neighbouring slots; all but component facts use only the first.
std::size_t FactFrame::slot(const FactReference& reference, std::size_t each) const {
  const std::size_t first = std::size_t{2} * reference.fact.index;
  switch (reference.component) {
    case Component::None:
      return first;
    case Component::Each:
      return each < component_count_ ? first + each : kNoSlot;
    case Component::Good:
      return component_count_ == 2 ? first : kNoSlot;
    case Component::Poor:
      break;
  }
  return component_count_ == 2 ? first + 1 : kNoSlot;
}

const FactValue& FactFrame::get(const FactReference& reference, std::size_t each) const {
  const std::size_t place = slot(reference, each);
  if (place >= slots_.size() || !slots_[place]) return not_set();
  return *slots_[place];
}

void FactFrame::set(const FactReference& reference, FactValue value, std::size_t each) {
  set(reference, std::make_shared<const FactValue>(std::move(value)), each);
}

void FactFrame::set(const FactReference& reference, std::shared_ptr<const FactValue> value,
                    std::size_t each) {
  const std::size_t place = slot(reference, each);
  if (place >= slots_.size()) throw Error("a fact was set for a solvent that the system does not have");
  slots_[place] = std::move(value);
}

}  // namespace firstcrop
