#include "tube_exam.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "base/error.hpp"
#include "facts/normal_score.hpp"
#include "progress.hpp"
#include "ranking/system_judge.hpp"
#include "rule_weights.hpp"
#include "sample.hpp"
#include "solubility/curve.hpp"
#include "solubility/observations.hpp"
#include "systems/fact_list.hpp"

namespace firstcrop {
namespace {

constexpr std::size_t kMostTubes = 6;
constexpr double kReadingSd = 0.08;
constexpr double kHottestK = 383.15;
constexpr double kBeyondMeasuredK = 25;
constexpr std::uint64_t kSeed = 5;

WrittenQuantity written(double value, const char* unit) {
  return {value, value, find_unit(unit).value()};
}

const MeasuredSolvent& measured_in(const ExamSolid& exam, SolventId solvent) {
  const auto found = std::find_if(exam.solvents.begin(), exam.solvents.end(),
                                  [solvent](const MeasuredSolvent& one) { return one.solvent == solvent; });
  if (found == exam.solvents.end()) throw Error("a solvent off the shelf was proposed");
  return *found;
}

double mean_of(const std::vector<double>& values) {
  double sum = 0;
  for (const double value : values) sum += value;
  return values.empty() ? 0 : sum / static_cast<double>(values.size());
}

template <typename Value>
std::vector<double> of_each(const std::vector<TubeRun>& runs, Value value) {
  std::vector<double> out;
  for (const TubeRun& run : runs) out.push_back(value(run));
  return out;
}

std::vector<double> usefulness_after(const std::vector<TubeRun>& runs, std::size_t tubes) {
  return of_each(runs, [tubes](const TubeRun& run) { return run.steps[tubes].usefulness; });
}

std::string against_text(const std::vector<double>& before, const std::vector<double>& after) {
  const PairedChange change = paired_change(before, after);
  return fmt::format("{:+.3f} ± {:.3f}", change.mean, change.standard_error);
}

std::string steps_table(const std::vector<TubeRun>& runs) {
  const std::vector<double> none = usefulness_after(runs, 0);
  std::string out = fmt::format("{:<16}{:>12}{:>17}{:>24}{:>24}\n{:<16}{:>12}{:>17}{:>16}{:>8}{:>16}{:>8}\n",
                                "", "", "", "best or within 0.05", "gain by the next", "tubes", "usefulness",
                                "against none", "stated", "seen", "promised", "got");
  const auto plain = [&](const std::string& name, const std::vector<double>& values) {
    out += fmt::format("{:<16}{:>12.3f}{:>17}\n", name, mean_of(values), against_text(none, values));
  };
  plain("at random", of_each(runs, [](const TubeRun& run) { return run.random; }));
  for (std::size_t tubes = 0; tubes < runs.front().steps.size(); ++tubes) {
    const std::vector<double> now = usefulness_after(runs, tubes);
    const auto stated = of_each(runs, [&](const TubeRun& run) { return run.steps[tubes].best_or_close; });
    const auto seen = of_each(runs, [&](const TubeRun& run) {
      return run.best - run.steps[tubes].usefulness <= kCloseUsefulness ? 1.0 : 0.0;
    });
    out += fmt::format("{:<16}{:>12.3f}{:>17}{:>16.2f}{:>8.2f}", tubes, mean_of(now),
                       tubes == 0 ? "" : against_text(none, now), mean_of(stated), mean_of(seen));
    if (tubes + 1 < runs.front().steps.size()) {
      const auto promised = of_each(runs, [&](const TubeRun& run) { return run.steps[tubes].promised; });
      out += fmt::format("{:>16.3f}{:>8.3f}", mean_of(promised),
                         mean_of(usefulness_after(runs, tubes + 1)) - mean_of(now));
    }
    out += "\n";
  }
  plain("until told stop",
        of_each(runs, [](const TubeRun& run) { return run.steps[run.tubes_until_stop()].usefulness; }));
  plain("best possible", of_each(runs, [](const TubeRun& run) { return run.best; }));
  return out + fmt::format("standard error of the usefulness without a tube, over solids: {:.3f}\n",
                           paired_change(std::vector<double>(none.size(), 0), none).standard_error);
}

std::string stopping_text(const std::vector<TubeRun>& runs) {
  const auto tubes =
      of_each(runs, [](const TubeRun& run) { return static_cast<double>(run.tubes_until_stop()); });
  const auto weighed =
      of_each(runs, [](const TubeRun& run) { return run.weighed_mg_until(run.tubes_until_stop()); });
  std::size_t stopped = 0;
  std::size_t pairs = 0;
  for (const TubeRun& run : runs) {
    stopped += run.steps[run.tubes_until_stop()].done ? 1U : 0U;
    pairs += run.steps.front().pair_first ? 1U : 0U;
  }
  return fmt::format(
      "\nuntil told stop: {:.2f} tubes and {:.0f} mg on average; {} of {} solids within {} tubes;\n"
      "told before any tube to try a pair first: {} solids, which went on with single solvents here\n",
      mean_of(tubes), mean_of(weighed), stopped, runs.size(), runs.front().steps.size() - 1, pairs);
}

std::string promise_text(const std::vector<TubeRun>& runs, std::size_t tubes) {
  const auto promised = of_each(runs, [tubes](const TubeRun& run) {
    double sum = 0;
    for (std::size_t i = 0; i < tubes; ++i) sum += run.steps[i].promised;
    return sum;
  });
  const double got = mean_of(usefulness_after(runs, tubes)) - mean_of(usefulness_after(runs, 0));
  return fmt::format("{} promised {:.3f} in all and brought {:.3f}: {:.0f} % of it\n",
                     tubes == 1 ? "one tube" : fmt::format("{} tubes", tubes), mean_of(promised), got,
                     100 * got / mean_of(promised));
}

}  // namespace

SimulatedBench::SimulatedBench(const CalibrationTable& table, const ExamSolid& exam, std::uint64_t seed)
    : table_(&table), exam_(&exam), bits_(seed) {}

double SimulatedBench::read_log10_molar(const CalibrationCurve& curve, double temperature_k) {
  // 53 bits, never 0 or 1; std::normal_distribution differs from library to library.
  const double probability = (static_cast<double>(bits_() >> 11U) + 0.5) * 0x1p-53;
  return log10_molar_at(curve.level.value(), curve.enthalpy_kj_mol.value(), temperature_k,
                        table_->solids[exam_->solid].molar_mass_g_mol) +
         kReadingSd * normal_score(probability);
}

Trial SimulatedBench::make(SolventId solvent, const Bottle& bottle, const TubeSize& size) {
  const CalibrationCurve& curve = table_->curves[measured_in(*exam_, solvent).curve];
  const double molar_mass_g_mol = table_->solids[exam_->solid].molar_mass_g_mol;
  const double ratio = size.mass_mg / size.volume_ml;
  const double charge = log10_molar_from_per_solvent(ratio, molar_mass_g_mol);
  const double unnoticed = log10_molar_from_per_solvent(kUnnoticedShare * ratio, molar_mass_g_mol);
  const auto look = [&](double temperature_k) {
    const double log10_molar = read_log10_molar(curve, temperature_k);
    return log10_molar > charge      ? SeenDissolved::All
           : log10_molar > unnoticed ? SeenDissolved::Part
                                     : SeenDissolved::None;
  };
  Trial out;
  out.system.text = curve.solvent;
  out.mass = written(size.mass_mg, "mg");
  out.volume = written(size.volume_ml, "mL");
  out.cold = look(bottle.room_k);
  // What is dissolved cold stays dissolved hot.
  out.hot = out.cold == SeenDissolved::All ? SeenDissolved::All : look(bottle.hot_k);
  out.hot_at = written(bottle.hot_k, "°C");
  if (out.hot == SeenDissolved::All) {
    out.cooled = look(bottle.cold_k) == SeenDissolved::All ? SeenOnCooling::Nothing : SeenOnCooling::Crystals;
    out.cooled_to = written(bottle.cold_k, "°C");
  }
  return out;
}

std::size_t TubeRun::tubes_until_stop() const {
  for (std::size_t tubes = 0; tubes < made; ++tubes) {
    if (steps[tubes].done) return tubes;
  }
  return made;
}

double TubeRun::weighed_mg_until(std::size_t tubes) const {
  double sum = 0;
  for (std::size_t i = 0; i < tubes; ++i) sum += steps[i].weighed_mg;
  return sum;
}

double heating_limit_k(const CalibrationTable& table, const ExamSolid& exam) {
  std::vector<double> hottest;
  for (const MeasuredSolvent& one : exam.solvents) hottest.push_back(table.curves[one.curve].hottest_k);
  return std::min(kHottestK, median(std::move(hottest)) + kBeyondMeasuredK);
}

std::optional<TubeRun> run_of_tubes(const CalibrationTable& table, const ExamSolid& exam,
                                    const KnowledgeBase& knowledge, const RuleBook& book, std::size_t most) {
  SoluteFile file = file_of(table.solids[exam.solid], knowledge);
  AimOptions aim = aim_of(exam, knowledge.library);
  aim.heating_limit_k = heating_limit_k(table, exam);
  SimulatedBench bench(table, exam, kSeed + exam.solid);
  TubeRun out;
  out.name = table.solids[exam.solid].name;
  for (const MeasuredSolvent& one : exam.solvents) {
    out.random += one.usefulness / static_cast<double>(exam.solvents.size());
    out.best = std::max(out.best, one.usefulness);
  }
  while (out.steps.size() <= most) {
    const Inquiry inquiry = inquiry_as_unknown(file, aim, knowledge);
    Findings findings;
    const auto judge = SystemJudge::create(book.catalogue(), inquiry, book, findings);
    if (!judge) throw Error(to_text(findings.sorted().front()));
    const TrialPlan plan = plan_trials(*judge, {TrialOptions{}.mass_mg, 1});
    if (plan.solvents.empty()) {
      if (out.steps.empty()) return std::nullopt;
      break;
    }
    TubeStep step{measured_in(exam, plan.choice().id()).usefulness, plan.best_or_close};
    step.done = plan.best_gain < kStopBelow && plan.choice().tubed;
    step.pair_first = plan.advice == TrialAdvice::Pair;
    if (plan.tubes.empty() || out.steps.size() == most) {
      out.steps.push_back(step);
      break;
    }
    const ProposedTube& next = plan.tubes.front();
    const TrialSolvent& solvent = plan.solvents[next.solvent];
    step.promised = next.gain;
    step.weighed_mg = next.top_up ? 0 : next.size.mass_mg;
    out.steps.push_back(step);
    file.trials.push_back(bench.make(solvent.id(), solvent.bottle, next.size));
    file.trials.back().tube = fmt::format("{}", ++out.made);
  }
  // Nothing more to learn: the choice stays.
  TubeStep last = out.steps.back();
  last.promised = last.weighed_mg = 0;
  out.steps.resize(most + 1, last);
  return out;
}

std::string tubes_text(const std::vector<TubeRun>& runs) {
  if (runs.empty()) return "no solid has a solvent that may be tried\n";
  std::string out = steps_table(runs) + stopping_text(runs);
  for (const std::size_t tubes : {std::size_t{1}, std::size_t{3}, runs.front().steps.size() - 1}) {
    if (tubes < runs.front().steps.size()) out += promise_text(runs, tubes);
  }
  return out;
}

std::string tubes_text(const CalibrationTable& table, const std::string& root,
                       const std::string& folds_folder) {
  const Catalogue catalogue = make_catalogue();
  const RuleBook book = shipped_book(root, catalogue);
  std::vector<TubeRun> runs;
  std::size_t solids = 0;
  std::size_t solvents = 0;
  std::optional<Progress> progress;
  for (int fold = 0; fold < kFoldCount; ++fold) {
    const KnowledgeBase knowledge = knowledge_without_fold(root, folds_folder, fold);
    const std::vector<ExamSolid> asked = exam_solids(table, knowledge.library);
    if (!progress) progress.emplace(asked.size());
    for (const ExamSolid& exam : asked) {
      if (exam.fold != fold) continue;
      ++solids;
      solvents += exam.solvents.size();
      if (auto run = run_of_tubes(table, exam, knowledge, book, kMostTubes)) runs.push_back(std::move(*run));
      progress->advance();
    }
  }
  progress.reset();
  return fmt::format(
             "{} solids in {} solvents each on average, judged by a model without their fold;\n"
             "{} more are refused or have no solvent that may be tried\n\n",
             runs.size(), (solvents + solids / 2) / std::max<std::size_t>(solids, 1), solids - runs.size()) +
         tubes_text(runs);
}

}  // namespace firstcrop
