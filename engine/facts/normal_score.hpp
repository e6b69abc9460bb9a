#pragma once

namespace firstcrop {

/// The normal score with the given probability (above 0, below 1) below it.
[[nodiscard]] double normal_score(double probability);

}  // namespace firstcrop
