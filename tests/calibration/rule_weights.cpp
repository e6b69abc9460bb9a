#include "rule_weights.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <set>

#include "base/error.hpp"
#include "progress.hpp"
#include "sample.hpp"
#include "systems/fact_list.hpp"

namespace firstcrop {
namespace {

constexpr std::array<double, 4> kMultipliers{1, 0, 0.5, 2};
constexpr double kLeastGain = 0.0005;
constexpr std::size_t kTextWidth = 98;

const std::vector<std::string> kNumbers{"hot-window", "cold-ceiling", "recovery"};
const std::vector<std::string> kLadder{"class-ladder", "like-dissolves-like", "too-like"};
const std::vector<std::string> kHabit{"usual-first-choice", "class-ladder", "like-dissolves-like",
                                      "too-like"};

// One number for each solid.
struct Marks {
  std::vector<double> first;
  std::vector<double> best_of_three;
  std::vector<double> works;  // 1 where the first pick works
  std::vector<std::size_t> picks;

  void add(const ExaminedSolid& solid, const Order& order) {
    const Mark mark = mark_of(solid, order);
    first.push_back(mark.first);
    best_of_three.push_back(mark.best_of_three);
    works.push_back(mark.first >= kWorkingUsefulness ? 1 : 0);
    picks.push_back(mark.pick);
  }
};

double mean_of(const std::vector<double>& values) {
  double sum = 0;
  for (const double value : values) sum += value;
  return values.empty() ? 0 : sum / static_cast<double>(values.size());
}

Marks marks_of(const std::vector<ExaminedSolid>& solids, const Weighing& weighing) {
  Marks out;
  for (const ExaminedSolid& solid : solids) out.add(solid, ranked(solid, weighing));
  return out;
}

double aim_of(const Marks& marks) {
  return (mean_of(marks.first) + mean_of(marks.best_of_three)) / 2;
}

std::vector<std::string> graded_rules(const std::vector<ExaminedSolid>& solids, const RuleBook& book) {
  std::set<std::string> out;
  for (const ExaminedSolid& solid : solids) {
    for (const ExaminedSolvent& solvent : solid.solvents) {
      for (const LogGrade& grade : solvent.grades) out.insert(book.rules()[grade.rule].id.text);
    }
  }
  return {out.begin(), out.end()};
}

std::vector<std::string> unasked_rules(const std::vector<std::string>& graded, const RuleBook& book) {
  std::vector<std::string> out;
  for (const Rule& rule : book.rules()) {
    if (rule.kind != RuleKind::Grade) continue;
    if (!std::binary_search(graded.begin(), graded.end(), rule.id.text)) out.push_back(rule.id.text);
  }
  return out;
}

// `head word, word, word`, broken into lines.
std::string listed(const std::string& head, const std::vector<std::string>& words) {
  std::string out;
  std::string line = head;
  for (std::size_t i = 0; i < words.size(); ++i) {
    const std::string word = words[i] + (i + 1 < words.size() ? "," : "");
    if (line.size() + 1 + word.size() > kTextWidth) {
      out += line + "\n";
      line = "   ";
    }
    line += " " + word;
  }
  return out + line + "\n";
}

std::string order_row(const std::string& name, const Marks& marks) {
  return fmt::format("{:<34}{:>10.3f}{:>15.3f}{:>13.3f}\n", name, mean_of(marks.first),
                     mean_of(marks.best_of_three), mean_of(marks.works));
}

std::string orders_table(const std::vector<ExaminedSolid>& solids, const Marks& shipped) {
  Marks habit;
  Marks chance;
  Marks expected;
  Marks best;
  std::vector<double> random;
  std::vector<double> random_works;
  std::size_t pairs = 0;
  for (const ExaminedSolid& solid : solids) {
    const auto by = [&](Marks& marks, auto value) { marks.add(solid, order_by(solid, value)); };
    by(habit, [](const ExaminedSolvent& solvent) { return solvent.usual; });
    by(chance, [](const ExaminedSolvent& solvent) { return chance_of(solvent).value_or(-1); });
    by(expected, [](const ExaminedSolvent& solvent) { return solvent.expected_usefulness; });
    by(best, [](const ExaminedSolvent& solvent) { return solvent.usefulness; });
    std::vector<double> all;
    std::vector<double> works;
    for (const ExaminedSolvent& solvent : solid.solvents) {
      all.push_back(solvent.usefulness);
      works.push_back(solvent.usefulness >= kWorkingUsefulness ? 1 : 0);
    }
    random.push_back(mean_of(all));
    random_works.push_back(mean_of(works));
    pairs += solid.solvents.size();
  }
  std::string out = fmt::format(
      "{} solids in {} solvents each on average, judged by a model without their fold\n\n"
      "{:<34}{:>10}{:>15}{:>13}\n",
      solids.size(), (pairs + solids.size() / 2) / solids.size(), "ranked by", "first pick", "best of three",
      "first works");
  out += fmt::format("{:<34}{:>10.3f}{:>15}{:>13.3f}\n", "at random", mean_of(random), "",
                     mean_of(random_works));
  out += order_row("habit", habit);
  out += order_row("stated chance", chance);
  out += order_row("expected usefulness", expected);
  out += order_row("as shipped", shipped);
  out += order_row("measured usefulness (the limit)", best);
  const PairedChange spread = paired_change(std::vector<double>(shipped.first.size(), 0), shipped.first);
  out += fmt::format("standard error of the first pick as shipped, over solids: {:.3f}\n",
                     spread.standard_error);
  return out;
}

std::string change_text(const PairedChange& change) {
  constexpr double kClearErrors = 2;
  const bool is_clear =
      std::abs(change.mean) > kClearErrors * change.standard_error && change.standard_error > 0;
  const double mean = std::round(change.mean * 1000) / 1000 + 0.0;  // never -0.000
  return fmt::format("{:>+9.3f} ± {:.3f}{}", mean, change.standard_error, is_clear ? "*" : " ");
}

std::string ablation_row(const std::string& name, const std::string& weight, const Marks& shipped,
                         const Marks& without) {
  std::size_t moved = 0;
  for (std::size_t i = 0; i < shipped.picks.size(); ++i)
    moved += shipped.picks[i] != without.picks[i] ? 1U : 0U;
  std::string out = fmt::format("{:<32}{:>6}{:>7}{}{}{}", name, weight, moved,
                                change_text(paired_change(shipped.first, without.first)),
                                change_text(paired_change(shipped.best_of_three, without.best_of_three)),
                                change_text(paired_change(shipped.works, without.works)));
  out.erase(out.find_last_not_of(' ') + 1);
  return out + "\n";
}

std::string ablation_table(const std::vector<ExaminedSolid>& solids, const RuleBook& book,
                           const Marks& shipped) {
  const Weighing weighing = weighing_of(book);
  const std::vector<std::string> graded = graded_rules(solids, book);
  std::string out = fmt::format("\n{:<32}{:>6}{:>7}{:>17}{:>18}{:>18}\n", "without", "weight", "moved",
                                "first pick", "best of three", "first works");
  const auto row_without = [&](const std::string& name, const std::vector<std::string>& ids) {
    return ablation_row(name, "", shipped, marks_of(solids, multiplied(weighing, book, ids, 0)));
  };
  for (const std::string& id : graded) {
    out += ablation_row(id, fmt::format("{}", book.find(id)->weight), shipped,
                        marks_of(solids, multiplied(weighing, book, {id}, 0)));
  }
  std::vector<std::string> others;
  for (const std::string& id : graded) {
    if (std::find(kNumbers.begin(), kNumbers.end(), id) == kNumbers.end()) others.push_back(id);
  }
  out += row_without("all numbers", kNumbers);
  out += row_without("all habit", kHabit);
  out += row_without("all but the numbers", others);
  Weighing lenient = weighing;
  lenient.with_exclusions = false;
  out += ablation_row("all exclusions", "", shipped, marks_of(solids, lenient));
  out +=
      "change ± its standard error, solid by solid; *: beyond two; moved: solids with another first pick\n";
  out += listed("numbers:", kNumbers) + listed("habit:", kHabit);
  return out + listed("asked of no solid here:", unasked_rules(graded, book));
}

std::string chance_table(const std::vector<ExaminedSolid>& solids) {
  const ChanceMarks marks = chance_marks(solids);
  std::string out = fmt::format(
      "\nchance of {} pairs of solid and solvent: Brier score {:.3f}, of the base rate {:.3f} alone {:.3f},\n"
      "without exclusions {:.3f}; no weight enters it\n{:<14}{:>8}{:>8}{:>8}\n",
      marks.count, marks.brier, marks.base_rate, marks.base_rate * (1 - marks.base_rate),
      chance_marks(solids, false).brier, "said", "mean", "seen", "pairs");
  for (std::size_t i = 0; i < marks.quarters.size(); ++i) {
    const ChanceQuarter& quarter = marks.quarters[i];
    out += fmt::format("{:<14}{:>8.2f}{:>8.2f}{:>8}\n", fmt::format("{} to {}", 25 * i, 25 * (i + 1)),
                       quarter.stated, quarter.seen, quarter.count);
  }
  return out;
}

std::string multipliers_text(const std::vector<double>& multipliers) {
  std::string out;
  for (const double multiplier : multipliers) out += fmt::format("{:>9}", multiplier);
  return out;
}

std::string search_table(const std::vector<ExaminedSolid>& solids, const RuleBook& book,
                         const std::vector<FreeNumber>& numbers) {
  std::string out = fmt::format(
      "\nmultipliers of the shipped weights, {} free numbers, chosen on four folds and scored on the fifth\n",
      numbers.size());
  out += fmt::format("{:<10}{:>7}", "fold", "solids");
  for (const FreeNumber& number : numbers) out += fmt::format("{:>9}", number.name);
  out += fmt::format("{:>9}{:>8}\n", "four", "fifth");
  const Weighing shipped = weighing_of(book);
  Marks before;
  Marks after;
  for (int fold = 0; fold < kFoldCount; ++fold) {
    std::vector<ExaminedSolid> inside;
    std::vector<ExaminedSolid> outside;
    for (const ExaminedSolid& solid : solids) (solid.fold == fold ? outside : inside).push_back(solid);
    if (inside.empty() || outside.empty()) continue;
    const std::vector<double> chosen = chosen_multipliers(inside, book, numbers);
    const Weighing weighing = multiplied(shipped, book, numbers, chosen);
    out += fmt::format("{:<10}{:>7}{}{:>+9.3f}{:>+8.3f}\n", fold, outside.size(), multipliers_text(chosen),
                       aim_of(marks_of(inside, weighing)) - aim_of(marks_of(inside, shipped)),
                       aim_of(marks_of(outside, weighing)) - aim_of(marks_of(outside, shipped)));
    for (const ExaminedSolid& solid : outside) {
      before.add(solid, ranked(solid, shipped));
      after.add(solid, ranked(solid, weighing));
    }
  }
  const std::vector<double> of_all = chosen_multipliers(solids, book, numbers);
  const Marks same = marks_of(solids, multiplied(shipped, book, numbers, of_all));
  out += fmt::format("{:<10}{:>7}{}{:>+9.3f}\n", "all", solids.size(), multipliers_text(of_all),
                     aim_of(same) - aim_of(before));
  out += "four, fifth: gain of the mean of first pick and best of three\n\n";
  out += fmt::format("{:<34}{:>10}{:>15}\n", "all solids", "first pick", "best of three");
  const auto row = [&out](const std::string& name, const Marks& marks) {
    out +=
        fmt::format("{:<34}{:>10.3f}{:>15.3f}\n", name, mean_of(marks.first), mean_of(marks.best_of_three));
  };
  row("as shipped", before);
  row("chosen on the other four folds", after);
  row("chosen on the same solids", same);
  const PairedChange first = paired_change(before.first, after.first);
  const PairedChange three = paired_change(before.best_of_three, after.best_of_three);
  return out + fmt::format("honest gain: first pick {:+.3f} ± {:.3f}, best of three {:+.3f} ± {:.3f}\n",
                           first.mean, first.standard_error, three.mean, three.standard_error);
}

}  // namespace

PairedChange paired_change(const std::vector<double>& before, const std::vector<double>& after) {
  PairedChange out;
  const auto count = static_cast<double>(before.size());
  if (before.size() < 2) return out;
  for (std::size_t i = 0; i < before.size(); ++i) out.mean += (after[i] - before[i]) / count;
  double squares = 0;
  for (std::size_t i = 0; i < before.size(); ++i) {
    const double rest = after[i] - before[i] - out.mean;
    squares += rest * rest;
  }
  out.standard_error = std::sqrt(squares / (count - 1) / count);
  return out;
}

const std::vector<FreeNumber>& free_numbers() {
  static const std::vector<FreeNumber> numbers{
      {"hot", {"hot-window"}},
      {"cold", {"cold-ceiling"}},
      {"recovery", {"recovery"}},
      {"span", {"span"}},
      {"boiling", {"boiling-and-melting", "hot-solvent-for-high-melting", "soft-solvent-for-low-melting"}},
      {"habit", kHabit}};
  return numbers;
}

const std::vector<FreeNumber>& finer_numbers() {
  static const std::vector<FreeNumber> numbers = [] {
    std::vector<FreeNumber> out = free_numbers();
    out.back() = {"usual", {"usual-first-choice"}};
    out.push_back({"ladder", kLadder});
    return out;
  }();
  return numbers;
}

Weighing multiplied(Weighing weighing, const RuleBook& book, const std::vector<std::string>& ids,
                    double multiplier) {
  for (const std::string& id : ids) {
    const Rule* rule = book.find(id);
    if (rule == nullptr) throw Error(fmt::format("no rule is called `{}`", id));
    weighing.weights[static_cast<std::size_t>(rule - book.rules().data())] *= multiplier;
  }
  return weighing;
}

Weighing multiplied(Weighing weighing, const RuleBook& book, const std::vector<FreeNumber>& numbers,
                    const std::vector<double>& multipliers) {
  for (std::size_t i = 0; i < numbers.size(); ++i) {
    weighing = multiplied(std::move(weighing), book, numbers[i].rules, multipliers[i]);
  }
  return weighing;
}

std::vector<double> chosen_multipliers(const std::vector<ExaminedSolid>& solids, const RuleBook& book,
                                       const std::vector<FreeNumber>& numbers) {
  const Weighing shipped = weighing_of(book);
  std::vector<double> out(numbers.size(), 1);
  double best = aim_of(marks_of(solids, shipped));
  while (true) {
    std::vector<double> next = out;
    double next_best = best + kLeastGain;
    for (std::size_t i = 0; i < out.size(); ++i) {
      for (const double multiplier : kMultipliers) {
        if (multiplier == out[i]) continue;
        std::vector<double> tried = out;
        tried[i] = multiplier;
        const double aim = aim_of(marks_of(solids, multiplied(shipped, book, numbers, tried)));
        if (aim <= next_best) continue;
        next_best = aim;
        next = std::move(tried);
      }
    }
    if (next == out) return out;
    out = std::move(next);
    best = next_best;
  }
}

std::string weights_text(const std::vector<ExaminedSolid>& solids, const RuleBook& book) {
  const Marks shipped = marks_of(solids, weighing_of(book));
  return orders_table(solids, shipped) + ablation_table(solids, book, shipped) + chance_table(solids) +
         search_table(solids, book, free_numbers()) + search_table(solids, book, finer_numbers());
}

std::string weights_text(const CalibrationTable& table, const std::string& root,
                         const std::string& folds_folder) {
  const Catalogue catalogue = make_catalogue();
  const RuleBook book = shipped_book(root, catalogue);
  std::vector<ExaminedSolid> solids;
  std::optional<Progress> progress;
  for (int fold = 0; fold < kFoldCount; ++fold) {
    const KnowledgeBase knowledge = knowledge_without_fold(root, folds_folder, fold);
    std::vector<ExamSolid> asked = exam_solids(table, knowledge.library);
    if (!progress) progress.emplace(asked.size());
    std::erase_if(asked, [fold](const ExamSolid& solid) { return solid.fold != fold; });
    for (ExaminedSolid& solid : examine(table, asked, knowledge, book, [&] { progress->advance(); })) {
      solids.push_back(std::move(solid));
    }
  }
  progress.reset();
  return weights_text(solids, book);
}

}  // namespace firstcrop
