#include "report/json_tools.hpp"
#include "report/lesson_report.hpp"

namespace firstcrop {

using report::Json;

std::string lesson_json(const SystemJudge& judge, const Lesson& lesson, const std::string& version,
                        const std::string& data_fingerprint, const std::vector<Finding>& findings) {
  const Inquiry& inquiry = judge.inquiry();
  const Library& library = inquiry.knowledge->library;
  Json out = report::head_json({"firstcrop/lesson/1", version, data_fingerprint}, inquiry, findings);
  const auto number = [](const std::optional<double>& value) {
    return value ? report::rounded(*value) : Json(nullptr);
  };
  Json gallery = Json::array();
  for (const GalleryEntry& entry : lesson.gallery) {
    const JudgedSystem& judged = entry.judged;
    const auto quantity = [&judged](const char* fact, const char* unit) {
      return report::quantity_json(quantity_of(judged, fact), unit);
    };
    gallery.push_back({{"system", name_of(judged.system, library)},
                       {"verdict", std::string(name_of(judged.judgement.verdict))},
                       {"chance", number(judged.judgement.chance)},
                       {"score", number(judged.judgement.score)},
                       {"boiling_point", quantity("system.boiling_point", "°C")},
                       {"saturation_temperature", quantity("system.saturation_temperature", "°C")},
                       {"cold_temperature", quantity("system.cold_temperature", "°C")},
                       {"hot_solubility", quantity("system.hot_solubility", "mg/mL")},
                       {"cold_solubility", quantity("system.cold_solubility", "mg/mL")},
                       {"rule", entry.rule.empty() ? Json(nullptr) : Json(entry.rule)},
                       {"decides", entry.decides},
                       {"question", entry.question},
                       {"asked", entry.asked},
                       {"answer", answer_for(entry)}});
  }
  Json questions = Json::array();
  for (const WhichQuestion& question : lesson.questions) {
    const auto names = [&](const std::vector<std::size_t>& places) {
      Json list = Json::array();
      for (const std::size_t place : places) list.push_back(name_of(lesson.gallery[place].judged.system, library));
      return list;
    };
    questions.push_back({{"rule", question.rule},
                         {"question", question.question},
                         {"choices", names(question.choices)},
                         {"right", names(question.right)},
                         {"answer", answer_to(judge, lesson, question)}});
  }
  out["gallery"] = std::move(gallery);
  out["questions"] = std::move(questions);
  return report::to_text(out);
}

}  // namespace firstcrop
