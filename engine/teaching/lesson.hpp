#pragma once

#include <string>
#include <vector>

#include "ranking/system_judge.hpp"

namespace firstcrop {

/// One solvent of the gallery.
struct GalleryEntry {
  JudgedSystem judged;   ///< with every rule's word
  std::string rule;      ///< id of the one that decides
  std::string decides;   ///< its sentence
  std::string question;  ///< what a student answers before the laboratory
  bool asked = false;    ///< among the few questions about one solvent
};

/// A question about several solvents of the shelf at once, of which some are the answer.
struct WhichQuestion {
  std::string rule;  ///< id of the one that answers it
  std::string question;
  std::vector<std::size_t> choices;  ///< places in the gallery, in the order of the shelf
  std::vector<std::size_t> right;    ///< those that are the answer
};

/// A shelf as a gallery of what works and what fails with one solid, and why.
struct Lesson {
  std::vector<GalleryEntry> gallery;       ///< best first, what could not be judged last
  std::vector<std::size_t> shelf_order;    ///< places in the gallery as the solvents stand on the shelf
  std::vector<WhichQuestion> questions;
};

inline constexpr std::size_t kMostQuestions = 5;
inline constexpr std::size_t kChoices = 4;
inline constexpr std::size_t kMostSingleQuestions = 6;

/// Judges every solvent of the shelf alone. Questions come from the `ask` of the rules; one about several solvents
/// is put where the rule is sure of all of them, of some one way and of some the other. One about a solvent alone is
/// asked where its answer is clear, of at most kMostSingleQuestions that contrast.
[[nodiscard]] Lesson make_lesson(const SystemJudge& judge);

}  // namespace firstcrop
