#include "use_exam.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <bit>
#include <cmath>
#include <limits>
#include <map>
#include <numeric>

#include "base/error.hpp"
#include "ranking/rule_files.hpp"
#include "ranking/system_judge.hpp"
#include "rules/rule_run.hpp"
#include "sample.hpp"
#include "solubility/curve.hpp"

namespace firstcrop {
namespace {

constexpr std::size_t kFewestSolvents = 6;
constexpr double kZeroCelsiusK = 273.15;
constexpr double kHottestK = kZeroCelsiusK + 110;
constexpr double kBelowBoilK = 1;
constexpr double kBelowMeltingK = 10;
constexpr double kBeyondMeasuredK = 25;
constexpr double kColdestK = kZeroCelsiusK + 5;
constexpr double kAboveFreezingK = 3;
constexpr double kLeastSpanK = 15;
constexpr double kSyrupMgMl = 300;
constexpr double kClosedMgMl = 5;
constexpr double kOpenMgMl = 40;
constexpr double kSameScore = 1e-9;

std::vector<LogGrade> grades_of(const RuleBook& book, const FactFrame& frame) {
  std::vector<LogGrade> out;
  Workspace workspace;
  detail::GradeRun run;
  for (std::size_t i = 0; i < book.rules().size(); ++i) {
    if (book.rules()[i].kind != RuleKind::Grade) continue;
    detail::run_grade(book.rules()[i], frame, workspace, run);
    if (run.judged == 0) continue;
    LogGrade grade{i, run.judged, run.is_certain ? std::log(run.certain) : 0, {}};
    for (std::size_t k = 0; k < kScenarioCount && !run.is_certain; ++k) {
      grade.spread.push_back(((run.judged >> k) & 1U) != 0 ? std::log(run.values[k]) : 0);
    }
    out.push_back(std::move(grade));
  }
  return out;
}

// A score of exactly 0 is that of a scenario in which an exclusion holds: no grade is 0.
std::uint64_t excluded_in(const Judgement& judgement) {
  std::uint64_t out = 0;
  for (std::size_t k = 0; k < kScenarioCount; ++k) {
    const bool is_zero = ((judgement.scores.known >> k) & 1U) != 0 && judgement.scores.at(k) == 0;
    out |= std::uint64_t{is_zero} << k;
  }
  return out;
}

double mean_of(const FactValue& fact) {
  const auto* column = std::get_if<NumberColumn>(&fact.value);
  if (column == nullptr || column->known == 0) return 0;
  double sum = 0;
  for (std::size_t k = 0; k < kScenarioCount; ++k) {
    if (((column->known >> k) & 1U) != 0) sum += column->at(k);
  }
  return sum / std::popcount(column->known);
}

bool is_same(const std::optional<double>& left, const std::optional<double>& right) {
  if (!left || !right) return left.has_value() == right.has_value();
  return std::abs(*left - *right) < kSameScore;
}

ExaminedSolvent examine(const SystemJudge& judge, const MeasuredSolvent& measured, const Weighing& shipped) {
  const Library& library = judge.inquiry().knowledge->library;
  const JudgedSystem judged = judge.judge(System{{measured.solvent}, 1});
  ExaminedSolvent out;
  out.name = library.solvent(measured.solvent).id;
  out.usefulness = measured.usefulness;
  out.usual = library.habit(measured.solvent).usual;
  out.expected_usefulness = mean_of(judged.frame.get(judge.catalogue().find("system.usefulness").value()));
  out.excluded = judged.judgement.excluded;
  if (!out.excluded) out.excluded_in = excluded_in(judged.judgement);
  if (const auto* works = std::get_if<FlagColumn>(&judged.frame.get(judge.book().limits().chance_of).value)) {
    out.works = *works;
  }
  out.grades = grades_of(judge.book(), judged.frame);
  if (!is_same(score_of(out, shipped), judged.judgement.score) ||
      !is_same(chance_of(out), judged.judgement.chance)) {
    throw Error(fmt::format("{}: the score or chance made again is not that of the engine", out.name));
  }
  return out;
}

}  // namespace

double measured_usefulness(const CalibrationCurve& curve, const CalibrationSolid& solid,
                           const Solvent& solvent) {
  const double hot_k = std::min({solvent.boiling_point_k.value().value - kBelowBoilK,
                                 solid.melting_point_k.value() - kBelowMeltingK,
                                 curve.hottest_k + kBeyondMeasuredK, kHottestK});
  const double cold_k = solvent.freezing_point_k
                            ? std::max(kColdestK, solvent.freezing_point_k->value + kAboveFreezingK)
                            : kColdestK;
  if (hot_k - cold_k < kLeastSpanK) return 0;
  const auto mg_ml_at = [&](double temperature_k) {
    return per_solvent_from_log10_molar(log10_molar_at(curve.level.value(), curve.enthalpy_kj_mol.value(),
                                                       temperature_k, solid.molar_mass_g_mol),
                                        solid.molar_mass_g_mol);
  };
  const double hot_mg_ml = mg_ml_at(hot_k);
  const double recovery = std::max(0.0, 1 - mg_ml_at(cold_k) / std::min(hot_mg_ml, kSyrupMgMl));
  const double window = std::log(hot_mg_ml / kClosedMgMl) / std::log(kOpenMgMl / kClosedMgMl);
  return recovery * std::clamp(window, 0.0, 1.0);
}

KnowledgeBase knowledge_without_fold(const std::string& root, const std::string& folds_folder, int fold) {
  Findings findings;
  auto knowledge = load_knowledge({root, fmt::format("{}/model-{}.txt", folds_folder, fold), {}}, findings);
  if (!knowledge) throw Error(fmt::format("{}/solvents or a model of {} holds errors", root, folds_folder));
  return std::move(*knowledge);
}

RuleBook shipped_book(const std::string& root, const Catalogue& catalogue) {
  Findings findings;
  auto book = load_rule_book(root + "/rules", {}, catalogue, findings);
  if (!book) throw Error(to_text(findings.sorted().front()));
  return std::move(*book);
}

SoluteFile file_of(const CalibrationSolid& solid, const KnowledgeBase& knowledge) {
  Findings findings;
  const std::string text =
      fmt::format("format: firstcrop solute 1\nname: solid\nsmiles: '{}'\nmelting_point: {:.1f} °C\n",
                  solid.canonical_smiles, solid.melting_point_k.value() - kZeroCelsiusK);
  auto file = read_solute_file(solid.name, text, vocabulary_of(knowledge), findings);
  if (!file) throw Error(fmt::format("{}: {}", solid.name, to_text(findings.sorted().front())));
  return std::move(*file);
}

AimOptions aim_of(const ExamSolid& exam, const Library& library) {
  AimOptions aim;
  aim.bath_temperature_k = kColdestK;
  aim.shelf = "";
  for (const MeasuredSolvent& measured : exam.solvents) {
    if (!aim.shelf->empty()) *aim.shelf += ',';
    *aim.shelf += library.solvent(measured.solvent).id;
  }
  return aim;
}

Inquiry inquiry_as_unknown(const SoluteFile& file, const AimOptions& aim, const KnowledgeBase& knowledge) {
  Findings findings;
  auto inquiry = make_inquiry(knowledge, file, aim, true, findings);
  if (!inquiry) throw Error(fmt::format("{}: {}", file.path, to_text(findings.sorted().front())));
  return std::move(*inquiry);
}

std::vector<ExamSolid> exam_solids(const CalibrationTable& table, const Library& library) {
  std::map<std::size_t, std::map<std::string, const CalibrationCurve*>> curves;
  for (const CalibrationCurve& curve : table.curves) {
    if (curve.doubtful || !curve.level || !curve.enthalpy_kj_mol) continue;
    if (!table.solids[curve.solid].melting_point_k || !library.find_id(curve.solvent)) continue;
    const CalibrationCurve*& widest = curves[curve.solid][curve.solvent];
    if (widest == nullptr || curve.hottest_k - curve.coldest_k > widest->hottest_k - widest->coldest_k) {
      widest = &curve;
    }
  }
  std::vector<ExamSolid> out;
  for (const auto& [index, by_solvent] : curves) {
    if (by_solvent.size() < kFewestSolvents) continue;
    ExamSolid solid{index, fold_of(table.solids[index]), {}};
    for (const auto& [id, curve] : by_solvent) {
      const SolventId solvent = library.find_id(id).value();
      solid.solvents.push_back({solvent,
                                measured_usefulness(*curve, table.solids[index], library.solvent(solvent)),
                                static_cast<std::size_t>(curve - table.curves.data())});
    }
    out.push_back(std::move(solid));
  }
  return out;
}

Weighing weighing_of(const RuleBook& book) {
  Weighing out;
  for (const Rule& rule : book.rules()) out.weights.push_back(rule.weight);
  out.unfit_chance = book.limits().unfit_chance;
  return out;
}

std::optional<double> chance_of(const ExaminedSolvent& solvent, bool with_exclusions) {
  const std::uint64_t excluded = with_exclusions ? solvent.excluded_in : 0;
  return FlagColumn::of_mask(solvent.works.truth & ~excluded, solvent.works.known).probability();
}

std::optional<double> score_of(const ExaminedSolvent& solvent, const Weighing& weighing) {
  if (solvent.excluded && weighing.with_exclusions) return std::nullopt;
  ScenarioValues logs{};
  ScenarioValues weights{};
  for (const LogGrade& grade : solvent.grades) {
    const double weight = weighing.weights[grade.rule];
    if (weight == 0) continue;
    for (std::size_t k = 0; k < kScenarioCount; ++k) {
      if (((grade.judged >> k) & 1U) == 0) continue;
      logs[k] += weight * grade.at(k);
      weights[k] += weight;
    }
  }
  const std::uint64_t excluded = weighing.with_exclusions ? solvent.excluded_in : 0;
  double sum = 0;
  int count = 0;
  for (std::size_t k = 0; k < kScenarioCount; ++k) {
    if (weights[k] <= 0) continue;
    ++count;
    if (((excluded >> k) & 1U) == 0) sum += std::exp(logs[k] / weights[k]);
  }
  return count > 0 ? std::optional(sum / count) : std::nullopt;
}

std::vector<ExaminedSolid> examine(const CalibrationTable& table, const std::vector<ExamSolid>& solids,
                                   const KnowledgeBase& knowledge, const RuleBook& book,
                                   const std::function<void()>& judged) {
  const Weighing shipped = weighing_of(book);
  std::vector<ExaminedSolid> out;
  for (const ExamSolid& exam : solids) {
    const CalibrationSolid& solid = table.solids[exam.solid];
    const Inquiry inquiry =
        inquiry_as_unknown(file_of(solid, knowledge), aim_of(exam, knowledge.library), knowledge);
    Findings findings;
    const auto judge = SystemJudge::create(book.catalogue(), inquiry, book, findings);
    if (!judge) throw Error(to_text(findings.sorted().front()));
    ExaminedSolid examined{solid.name, exam.fold, {}};
    for (const MeasuredSolvent& measured : exam.solvents) {
      examined.solvents.push_back(examine(*judge, measured, shipped));
    }
    out.push_back(std::move(examined));
    judged();
  }
  return out;
}

Mark mark_of(const ExaminedSolid& solid, const Order& order) {
  Mark out{order.front(), solid.solvents[order.front()].usefulness, 0};
  for (std::size_t place = 0; place < 3; ++place) {
    out.best_of_three = std::max(out.best_of_three, solid.solvents[order[place]].usefulness);
  }
  return out;
}

Order order_by(const ExaminedSolid& solid, const std::function<double(const ExaminedSolvent&)>& value) {
  std::vector<double> values;
  for (const ExaminedSolvent& solvent : solid.solvents) values.push_back(value(solvent));
  Order out(values.size());
  std::iota(out.begin(), out.end(), 0U);
  std::sort(out.begin(), out.end(), [&](std::size_t left, std::size_t right) {
    if (values[left] != values[right]) return values[left] > values[right];
    return solid.solvents[left].name < solid.solvents[right].name;
  });
  return out;
}

Order ranked(const ExaminedSolid& solid, const Weighing& weighing) {
  return order_by(solid, [&](const ExaminedSolvent& solvent) {
    const auto chance = chance_of(solvent, weighing.with_exclusions);
    const auto score = score_of(solvent, weighing);
    // Not judged, then excluded, then other unfit ones (scores go from 0 to 1), then the list.
    if (solvent.excluded && weighing.with_exclusions) return -2.0;
    if (!chance || !score) return -3.0;
    return *chance < weighing.unfit_chance ? *score - 1.5 : *score;
  });
}

ChanceMarks chance_marks(const std::vector<ExaminedSolid>& solids, bool with_exclusions) {
  ChanceMarks out;
  for (const ExaminedSolid& solid : solids) {
    for (const ExaminedSolvent& solvent : solid.solvents) {
      const auto chance = chance_of(solvent, with_exclusions);
      if (!chance) continue;
      const double works = solvent.usefulness >= kWorkingUsefulness ? 1 : 0;
      ChanceQuarter& quarter = out.quarters[std::min<std::size_t>(static_cast<std::size_t>(*chance * 4), 3)];
      quarter.stated += *chance;
      quarter.seen += works;
      ++quarter.count;
      out.brier += (*chance - works) * (*chance - works);
      out.base_rate += works;
      ++out.count;
    }
  }
  if (out.count == 0) return out;
  out.brier /= static_cast<double>(out.count);
  out.base_rate /= static_cast<double>(out.count);
  for (ChanceQuarter& quarter : out.quarters) {
    if (quarter.count == 0) continue;
    quarter.stated /= static_cast<double>(quarter.count);
    quarter.seen /= static_cast<double>(quarter.count);
  }
  return out;
}

}  // namespace firstcrop
