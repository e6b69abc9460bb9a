#pragma once

#include <string>
#include <vector>

#include "report/words.hpp"
#include "teaching/lesson.hpp"

namespace firstcrop {

/// The answer of `lesson`: a sheet with questions, and with `with_answers` a second part that holds the gallery
/// (solubility cold and hot, verdict, what decides), the answers, and what the rules teach.
[[nodiscard]] std::string lesson_text(const SystemJudge& judge, const Lesson& lesson, bool with_answers,
                                      const Style& style);
/// The same as Markdown, the second part behind a rule.
[[nodiscard]] std::string lesson_markdown(const SystemJudge& judge, const Lesson& lesson, bool with_answers);
/// The same for machines, format firstcrop/lesson/1, answers included.
[[nodiscard]] std::string lesson_json(const SystemJudge& judge, const Lesson& lesson, const std::string& version,
                                      const std::string& data_fingerprint, const std::vector<Finding>& findings);

/// The answer to a question about several solvents, with what the rule said of each that is right.
[[nodiscard]] std::string answer_to(const SystemJudge& judge, const Lesson& lesson, const WhichQuestion& question);
/// `unfit, chance 3 %: ...`: the answer to the question about one solvent.
[[nodiscard]] std::string answer_for(const GalleryEntry& entry);
/// The rules that the lesson leaned on, each once, in the order of the gallery.
[[nodiscard]] std::vector<const Rule*> rules_of(const SystemJudge& judge, const Lesson& lesson);

}  // namespace firstcrop
