#include "progress.hpp"

#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <cstdio>
#include <string>

namespace firstcrop {
namespace {

constexpr std::size_t kWidth = 40;

}  // namespace

Progress::Progress(std::size_t steps)
    : total_(std::max<std::size_t>(steps, 1)), visible_(isatty(STDERR_FILENO) == 1) {
  advance(0);
}

Progress::~Progress() {
  if (visible_) fmt::print(stderr, "\r{:{}}\r", "", kWidth + 8);
}

void Progress::advance(std::size_t steps) {
  done_ = std::min(done_ + steps, total_);
  const int percent = static_cast<int>(100 * done_ / total_);
  if (!visible_ || percent == shown_percent_) return;
  shown_percent_ = percent;
  const std::size_t filled = kWidth * done_ / total_;
  fmt::print(stderr, "\r[{}{}] {:>3} %", std::string(filled, '#'), std::string(kWidth - filled, '.'),
             percent);
  std::fflush(stderr);
}

}  // namespace firstcrop
