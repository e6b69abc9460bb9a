#include "teaching/lesson.hpp"

#include <algorithm>
#include <optional>
#include <tuple>
#include <utility>

#include <fmt/format.h>

namespace firstcrop {
namespace {

// The same question with the same answer is asked no oftener than this.
constexpr std::size_t kMostAlike = 2;
// At most this many of the choices are the answer, so that there is something to choose.
constexpr std::size_t kMostRight = 2;
constexpr std::size_t kFewestChoices = 3;
// A condition as good as sure, or as good as sure not.
constexpr double kSure = 0.9;

int worth(Verdict verdict) {
  return verdict == Verdict::Sound ? 2 : verdict == Verdict::Doubtful ? 1 : 0;
}

bool comes_first(const GalleryEntry& left, const GalleryEntry& right) {
  const auto key = [](const GalleryEntry& entry) {
    const Judgement& judgement = entry.judged.judgement;
    return std::tuple(judgement.chance.has_value(), worth(judgement.verdict), judgement.score.value_or(-1));
  };
  return key(left) > key(right);
}

// The rule that decides about a system that is not sound; of a sound one the heaviest that speaks for it out of
// what the chance rests on.
const RuleOutcome* deciding_outcome(const SystemJudge& judge, const JudgedSystem& judged) {
  const Judgement& judgement = judged.judgement;
  const RuleOutcome* best = nullptr;
  for (const RuleOutcome& outcome : judgement.outcomes) {
    if (outcome.text.empty()) continue;
    if (judgement.verdict != Verdict::Sound) {
      if (judgement.deciding_rule == outcome.rule_index) return &outcome;
      continue;
    }
    const bool speaks_for = outcome.kind == RuleKind::Grade && outcome.outcome == Outcome::High &&
                            judge.book().bears_on_chance(outcome.rule_index);
    if (speaks_for && (best == nullptr || outcome.weight > best->weight)) best = &outcome;
  }
  return best;
}

GalleryEntry entry_for(const SystemJudge& judge, SolventId solvent) {
  GalleryEntry out{judge.judge(System{{solvent}, 1}), {}, {}, {}};
  judge.explain(out.judged);
  const Names names = judge.names_of(out.judged.system);
  const RuleOutcome* decides = deciding_outcome(judge, out.judged);
  if (decides != nullptr) {
    const Rule& rule = judge.book().rules()[decides->rule_index];
    out.rule = rule.id.text;
    out.decides = decides->text;
    if (!rule.ask.empty()) {
      out.question = rule.ask.render(out.judged.frame, decides->component.value_or(0), names);
    }
  }
  if (out.question.empty()) out.question = fmt::format("Would you take {} for {}, and why?", names.system, names.solute);
  return out;
}

const RuleOutcome* outcome_of(const GalleryEntry& entry) {
  for (const RuleOutcome& outcome : entry.judged.judgement.outcomes) {
    if (outcome.rule.text == entry.rule && outcome.text == entry.decides) return &outcome;
  }
  return nullptr;
}

// The word that answers a question about one solvent, where 8 scenarios in 10 agree on it; else nothing.
std::optional<Outcome> clear_answer(const GalleryEntry& entry, const RuleBook& book) {
  const RuleOutcome* outcome = outcome_of(entry);
  if (outcome == nullptr) return std::nullopt;
  if (outcome->kind == RuleKind::Grade) {
    if (!outcome->grade) return std::nullopt;
    const Outcome at_worst = book.word_for(outcome->grade_low.value_or(*outcome->grade));
    const Outcome at_best = book.word_for(outcome->grade_high.value_or(*outcome->grade));
    return at_worst == at_best ? std::optional(at_best) : std::nullopt;
  }
  return outcome->probability && *outcome->probability >= kSure ? std::optional(Outcome::Fires) : std::nullopt;
}

// Of the clear questions always the one of which least was asked, in the order of the shelf.
void choose_questions(Lesson& lesson, const RuleBook& book) {
  struct Clear {
    std::size_t place = 0;
    Outcome answer = Outcome::Fires;
  };
  std::vector<Clear> left;
  for (const std::size_t place : lesson.shelf_order) {
    if (const auto answer = clear_answer(lesson.gallery[place], book)) left.push_back({place, *answer});
  }
  std::vector<Clear> asked;
  const auto count_alike = [&](const Clear& one, bool same_answer) {
    return static_cast<std::size_t>(std::count_if(asked.begin(), asked.end(), [&](const Clear& other) {
      return lesson.gallery[other.place].rule == lesson.gallery[one.place].rule &&
             (!same_answer || other.answer == one.answer);
    }));
  };
  while (asked.size() < kMostSingleQuestions && !left.empty()) {
    const auto next = std::min_element(left.begin(), left.end(), [&](const Clear& one, const Clear& other) {
      return std::pair(count_alike(one, true), count_alike(one, false)) <
             std::pair(count_alike(other, true), count_alike(other, false));
    });
    if (count_alike(*next, true) >= kMostAlike) break;
    asked.push_back(*next);
    left.erase(next);
  }
  for (const Clear& one : asked) lesson.gallery[one.place].asked = true;
}

// Whether a rule says of a system what its question asks for: yes, no, or nothing sure.
std::optional<bool> answer_of(const JudgedSystem& judged, std::size_t rule_index, const RuleBook& book) {
  std::optional<bool> out;
  for (const RuleOutcome& outcome : judged.judgement.outcomes) {
    if (outcome.rule_index != rule_index) continue;
    if (outcome.kind == RuleKind::Grade) {
      if (!outcome.grade) return std::nullopt;
      const Outcome at_worst = book.word_for(outcome.grade_low.value_or(*outcome.grade));
      const Outcome at_best = book.word_for(outcome.grade_high.value_or(*outcome.grade));
      if (at_best == Outcome::Low) return true;
      if (at_worst == Outcome::High) return false;
      return std::nullopt;
    }
    if (outcome.outcome == Outcome::NotApplicable) return false;
    if (!outcome.probability) return std::nullopt;
    if (*outcome.probability >= kSure) return true;
    if (*outcome.probability > 1 - kSure) return std::nullopt;
    out = false;
  }
  return out;
}

struct Asking {
  std::size_t rule_index = 0;
  int kind = 0;  // exclusions before grades before the rest
  double weight = 0;
};

std::vector<Asking> asking_rules(const RuleBook& book) {
  std::vector<Asking> out;
  for (std::size_t i = 0; i < book.rules().size(); ++i) {
    const Rule& rule = book.rules()[i];
    if (rule.ask_which.empty()) continue;
    const int kind = rule.kind == RuleKind::Exclude ? 2 : rule.kind == RuleKind::Grade ? 1 : 0;
    out.push_back({i, kind, rule.weight});
  }
  std::stable_sort(out.begin(), out.end(), [](const Asking& left, const Asking& right) {
    return std::tie(left.kind, left.weight) > std::tie(right.kind, right.weight);
  });
  return out;
}

bool looks_at(const Lesson& lesson, std::size_t rule_index, const std::string& fact) {
  return std::any_of(lesson.gallery.begin(), lesson.gallery.end(), [&](const GalleryEntry& entry) {
    return std::any_of(entry.judged.judgement.outcomes.begin(), entry.judged.judgement.outcomes.end(),
                       [&](const RuleOutcome& outcome) {
                         return outcome.rule_index == rule_index &&
                                std::any_of(outcome.facts.begin(), outcome.facts.end(),
                                            [&fact](const UsedFact& used) { return used.name == fact; });
                       });
  });
}

bool is_water(const JudgedSystem& judged) {
  const FactReference id = judged.frame.catalogue().find("solvent.id").value();
  const auto* text = std::get_if<std::string>(&judged.frame.get(id, 0).value);
  return text != nullptr && *text == "water";
}

// `offset` lets each question begin elsewhere on the shelf, so that not all of them speak of the same solvents.
std::optional<WhichQuestion> question_for(const SystemJudge& judge, const Lesson& lesson, std::size_t rule_index,
                                          std::size_t offset) {
  WhichQuestion out;
  std::vector<std::size_t> wrong;
  const bool is_of_oil = looks_at(lesson, rule_index, "system.second_liquid_foreseen");
  const std::size_t count = lesson.shelf_order.size();
  for (std::size_t i = 0; i < count; ++i) {
    const std::size_t place = lesson.shelf_order[(i + offset) % count];
    const auto answer = answer_of(lesson.gallery[place].judged, rule_index, judge.book());
    if (!answer) continue;
    // Water, under which so many solids melt, is the textbook case of an oil.
    const bool leads = is_of_oil && is_water(lesson.gallery[place].judged);
    if (*answer && leads) out.right.insert(out.right.begin(), place);
    if (*answer && !leads) out.right.push_back(place);
    if (!*answer) wrong.push_back(place);
  }
  if (out.right.empty()) return std::nullopt;
  out.right.resize(std::min(out.right.size(), kMostRight));
  wrong.resize(std::min(wrong.size(), kChoices - out.right.size()));
  if (out.right.size() + wrong.size() < kFewestChoices || wrong.empty()) return std::nullopt;
  const auto is_among = [](const std::vector<std::size_t>& places, std::size_t place) {
    return std::find(places.begin(), places.end(), place) != places.end();
  };
  for (const std::size_t place : lesson.shelf_order) {
    if (is_among(out.right, place) || is_among(wrong, place)) out.choices.push_back(place);
  }
  const Rule& rule = judge.book().rules()[rule_index];
  const JudgedSystem& any = lesson.gallery[out.right.front()].judged;
  out.rule = rule.id.text;
  out.question = rule.ask_which.render(any.frame, 0, judge.names_of(any.system));
  return out;
}

}  // namespace

Lesson make_lesson(const SystemJudge& judge) {
  Lesson out;
  const std::vector<SolventId>& shelf = judge.inquiry().aim.shelf.solvents;
  for (const SolventId solvent : shelf) out.gallery.push_back(entry_for(judge, solvent));
  std::stable_sort(out.gallery.begin(), out.gallery.end(), comes_first);
  for (const SolventId solvent : shelf) {
    const auto found = std::find_if(out.gallery.begin(), out.gallery.end(), [solvent](const GalleryEntry& entry) {
      return entry.judged.system.solvents.front() == solvent;
    });
    out.shelf_order.push_back(static_cast<std::size_t>(found - out.gallery.begin()));
  }
  choose_questions(out, judge.book());
  for (const Asking& asking : asking_rules(judge.book())) {
    if (out.questions.size() == kMostQuestions) break;
    const std::size_t offset = out.questions.size() * kChoices;
    if (auto question = question_for(judge, out, asking.rule_index, offset)) {
      out.questions.push_back(std::move(*question));
    }
  }
  return out;
}

}  // namespace firstcrop
