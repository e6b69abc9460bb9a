#pragma once

#include <cstddef>

namespace firstcrop {

/// A bar on standard error, drawn only where that is a terminal.
class Progress {
 public:
  explicit Progress(std::size_t steps);
  ~Progress();
  Progress(const Progress&) = delete;
  Progress& operator=(const Progress&) = delete;
  void advance(std::size_t steps = 1);

 private:
  std::size_t total_;
  std::size_t done_ = 0;
  int shown_percent_ = -1;
  bool visible_;
};

}  // namespace firstcrop
