#pragma once

#include <stdexcept>
#include <string>

namespace firstcrop {

/// The one exception of the project: a fault of the environment (missing folder, unreadable file, full disk)
/// or of the program itself. What a person wrote is never answered by an exception but by findings.
class Error : public std::runtime_error {
 public:
  explicit Error(const std::string& message) : std::runtime_error(message) {}
};

}  // namespace firstcrop
