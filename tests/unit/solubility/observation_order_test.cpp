#include "solubility/observation_order.hpp"

#include <doctest/doctest.h>

#include <algorithm>

using namespace firstcrop;

TEST_CASE("observations are ordered by what they say, whatever their place") {
  std::vector<Observation> observations(6);
  for (std::size_t i = 0; i < observations.size(); ++i) {
    observations[i].weights = {{i / 2, 1.0}};
    observations[i].value = i % 2 == 0 ? -1.0 : -2.0;
    observations[i].label = std::to_string(i);
  }
  const auto labels = [](const std::vector<Observation>& list) {
    std::vector<std::string> result;
    for (const std::size_t i : order_by_content(list)) result.push_back(list[i].label);
    return result;
  };
  const auto expected = labels(observations);
  CHECK(expected == std::vector<std::string>{"1", "0", "3", "2", "5", "4"});
  std::reverse(observations.begin(), observations.end());
  CHECK(labels(observations) == expected);
  std::rotate(observations.begin(), observations.begin() + 2, observations.end());
  CHECK(labels(observations) == expected);
}
