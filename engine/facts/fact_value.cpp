#include "facts/fact_value.hpp"

#include <algorithm>
#include <cmath>

namespace firstcrop {
namespace {

// Each of n equally weighted values stands for its share; the quantile at p lies at p n - 1/2 (A. Hazen,
// Trans. Am. Soc. Civ. Eng. 1914, 77, 1539).
double quantile(const std::vector<double>& sorted, double share) {
  const double position = std::clamp(share * static_cast<double>(sorted.size()) - 0.5, 0.0,
                                     static_cast<double>(sorted.size() - 1));
  const auto below = static_cast<std::size_t>(position);
  const std::size_t above = std::min(below + 1, sorted.size() - 1);
  if (sorted[below] == sorted[above]) return sorted[below];
  return sorted[below] + (position - static_cast<double>(below)) * (sorted[above] - sorted[below]);
}

}  // namespace

std::optional<Quantity> summary(const FactValue& value, const Dimension& dimension) {
  const auto* number = std::get_if<NumberColumn>(&value.value);
  if (number == nullptr || number->known == 0) return std::nullopt;
  Quantity out;
  out.dimension = dimension;
  out.origin = value.origin;
  out.source = value.source;
  if (number->is_certain()) {
    out.value = number->certain;
    return out;
  }
  std::vector<double> sorted;
  sorted.reserve(kScenarioCount);
  for (std::size_t i = 0; i < kScenarioCount; ++i) {
    if (((number->known >> i) & 1U) != 0) sorted.push_back((*number->spread)[i]);
  }
  std::sort(sorted.begin(), sorted.end());
  out.value = quantile(sorted, 0.5);
  if (sorted.front() != sorted.back()) {
    out.low = quantile(sorted, 0.1);
    out.high = quantile(sorted, 0.9);
  }
  return out;
}

}  // namespace firstcrop
