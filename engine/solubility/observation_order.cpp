#include "solubility/observation_order.hpp"

#include <algorithm>
#include <numeric>
#include <tuple>

namespace firstcrop {

std::vector<std::size_t> order_by_content(const std::vector<Observation>& observations) {
  std::vector<std::size_t> order(observations.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  const auto numbers = [](const Observation& o) {
    const MixtureError mixture = o.mixture_error.value_or(MixtureError{});
    return std::tuple(o.temperature_k, o.offset, o.value.has_value(), o.value.value_or(0.0), o.low, o.high,
                      o.noise_sd, o.error_chance, o.other_laboratory, mixture.sd);
  };
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    const Observation& first = observations[a];
    const Observation& second = observations[b];
    if (first.weights != second.weights) return first.weights < second.weights;
    return numbers(first) < numbers(second);
  });
  return order;
}

}  // namespace firstcrop
