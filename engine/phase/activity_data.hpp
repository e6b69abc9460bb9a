#pragma once

#include <cstddef>
#include <vector>

#include "phase/activity.hpp"

namespace firstcrop {

/// What the mixture needs of the tables, gathered by main group: subgroups of one main group interact alike,
/// so their surfaces may be added. Private to the room.
struct ActivityModel::Data {
  std::size_t components = 0;
  std::size_t groups = 0;
  std::vector<double> volume;              ///< r of each component
  std::vector<double> volume_three_quart;  ///< r^(3/4)
  std::vector<double> surface;             ///< q of each component
  std::vector<double> group_surface;  ///< components x groups: surface of the component in that main group
  std::vector<GroupInteraction> interactions;  ///< groups squared
  bool uses_completed = false;
};

}  // namespace firstcrop
