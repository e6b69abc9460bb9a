#pragma once

#include <filesystem>
#include <fstream>
#include <string>

#include <doctest/doctest.h>
#include <unistd.h>

#include "input/yaml_reader.hpp"
#include "library/library_loader.hpp"

namespace firstcrop {

/// The solvent folder of the project.
inline std::string library_folder() {
  return std::string(FIRSTCROP_SOURCE_DIR) + "/solvents";
}

/// The library of the project, read once.
inline const Library& project_library() {
  static const LoadedLibrary loaded = load_library(library_folder());
  REQUIRE(loaded.library.has_value());
  return *loaded.library;
}

/// A copy of the solvent folder that a test may damage; removed at the end.
class TemporaryLibrary {
 public:
  TemporaryLibrary()
      : folder_(std::filesystem::temp_directory_path() / ("firstcrop-library-" + std::to_string(getpid()))) {
    std::filesystem::remove_all(folder_);
    std::filesystem::copy(library_folder(), folder_, std::filesystem::copy_options::recursive);
  }
  TemporaryLibrary(const TemporaryLibrary&) = delete;
  TemporaryLibrary& operator=(const TemporaryLibrary&) = delete;
  ~TemporaryLibrary() { std::filesystem::remove_all(folder_); }

  [[nodiscard]] std::string path(const std::string& file) const { return (folder_ / file).string(); }
  [[nodiscard]] std::string folder() const { return folder_.string(); }

  /// Replaces the first occurrence, which must exist.
  void replace(const std::string& file, const std::string& from, const std::string& to) const {
    std::string text = read_file(path(file));
    const std::size_t at = text.find(from);
    REQUIRE_MESSAGE(at != std::string::npos, from);
    text.replace(at, from.size(), to);
    std::ofstream(path(file), std::ios::binary) << text;
  }
  void append(const std::string& file, const std::string& text) const {
    std::ofstream(path(file), std::ios::binary | std::ios::app) << text;
  }
  void remove(const std::string& file) const { std::filesystem::remove(path(file)); }

  /// All findings of reading the folder as text.
  [[nodiscard]] std::string findings() const {
    std::string out;
    for (const Finding& finding : load_library(folder()).findings.sorted()) out += to_text(finding);
    return out;
  }

 private:
  std::filesystem::path folder_;
};

inline bool holds(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

}  // namespace firstcrop
