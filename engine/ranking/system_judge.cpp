#include "ranking/system_judge.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "systems/providers.hpp"
#include "systems/system_solubility.hpp"

namespace firstcrop {
namespace {

// Volume fractions of the good solvent that are tried.
constexpr std::array<double, 11> kRatios{0.05, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 0.95};
// From this chance on a pair counts as one liquid at every ratio.
constexpr double kAsGoodAsOneLiquid = 0.98;
// Ratios whose usefulness is at least this share of the best one's are told as the window.
constexpr double kWindowShare = 0.9;
constexpr double kAsGoodShare = 0.97;

std::optional<FactGraph> graph_of(const Catalogue& catalogue, const Inquiry& inquiry, const RuleBook& book,
                                  Precision precision, const Producer& owner, Findings& findings) {
  std::vector<Producer> producers = book.producers();
  producers.push_back(owner);
  for (Producer& provider : make_providers(catalogue, inquiry, precision))
    producers.push_back(std::move(provider));
  return FactGraph::build(catalogue, std::move(producers), findings);
}

}  // namespace

std::optional<SystemJudge> SystemJudge::create(const Catalogue& catalogue, const Inquiry& inquiry,
                                               const RuleBook& book, Findings& findings) {
  const Producer owner = FrameMaker(catalogue, inquiry).owner();
  auto exact = graph_of(catalogue, inquiry, book, Precision::Scenarios, owner, findings);
  if (!exact) return std::nullopt;
  auto central = graph_of(catalogue, inquiry, book, Precision::Central, owner, findings);
  if (!central) return std::nullopt;
  return SystemJudge(catalogue, inquiry, book, std::move(*exact), std::move(*central));
}

SystemJudge::SystemJudge(const Catalogue& catalogue, const Inquiry& inquiry, const RuleBook& book,
                         FactGraph exact, FactGraph central)
    : catalogue_(&catalogue),
      inquiry_(&inquiry),
      book_(&book),
      frames_(std::make_shared<const FrameMaker>(catalogue, inquiry)),
      exact_(std::move(exact)),
      central_(std::move(central)),
      wanted_(book.facts_of_verdict()) {}

System SystemJudge::with_good_first(System system) const {
  if (!system.is_pair()) return system;
  std::array<double, 2> level{};
  for (std::size_t i = 0; i < 2; ++i) {
    const auto alone = SystemSolubility::create(*inquiry_, System{{system.solvents[i]}, 1});
    if (!alone) return system;
    level[i] = alone->central_at(inquiry_->aim.room_temperature_k, 1);
  }
  if (level[0] < level[1]) {
    std::swap(system.solvents[0], system.solvents[1]);
    system.first_fraction = 1 - system.first_fraction;
  }
  return system;
}

ChosenPair SystemJudge::choose_ratio(SolventId first, SolventId second) const {
  const FactReference usefulness = catalogue_->find("system.usefulness").value();
  const FactReference cold = catalogue_->find("system.cold_temperature").value();
  ChosenPair out;
  out.system = with_good_first(System{{first, second}, 0.5});
  System system = out.system;
  FactFrame frame = frames_->frame_for(system);
  const auto number = [&frame](const FactReference& fact) -> std::optional<double> {
    const auto* value = std::get_if<NumberColumn>(&frame.get(fact).value);
    return value != nullptr && value->known != 0 ? std::optional(value->at(0)) : std::nullopt;
  };
  std::array<double, kRatios.size()> useful{};
  std::array<double, kRatios.size()> one_liquid{};
  for (std::size_t step = 0; step < kRatios.size(); ++step) {
    frames_->set_first_fraction(frame, system, kRatios[step]);
    central_.run_for(frame, {usefulness, cold});
    useful[step] = number(usefulness).value_or(0);
  }
  // Two liquids come on cooling first, so the cold temperature of the last ratio serves for all.
  const double temperature_k = number(cold).value_or(inquiry_->aim.bath_temperature_k);
  const auto by_ratio = inquiry_->knowledge->phase.one_liquid_by_ratio(system.solvents[0], system.solvents[1],
                                                                       temperature_k, kAsGoodAsOneLiquid);
  for (std::size_t step = 0; step < kRatios.size(); ++step) {
    one_liquid[step] = by_ratio ? by_ratio->chance_at(kRatios[step]) : 1;
    useful[step] *= one_liquid[step];
  }
  std::size_t best = kRatios.size() / 2;
  for (std::size_t step = 0; step < kRatios.size(); ++step) {
    if (useful[step] > useful[best] + 1e-9) best = step;
  }
  // The window ends where the ratio serves clearly worse, and before the gap.
  const auto is_good = [&](std::size_t step) {
    return useful[step] >= kWindowShare * useful[best] && one_liquid[step] >= kWindowShare * one_liquid[best];
  };
  std::size_t from = best;
  std::size_t to = best;
  while (from > 0 && is_good(from - 1)) --from;
  while (to + 1 < kRatios.size() && is_good(to + 1)) ++to;
  out.window = {kRatios[from], kRatios[to]};
  // Of ratios that serve as well the middle one: the solubilities may be off to either side.
  const auto is_as_good = [&](std::size_t step) { return useful[step] >= kAsGoodShare * useful[best]; };
  std::size_t low = best;
  std::size_t high = best;
  while (low > from && is_as_good(low - 1)) --low;
  while (high < to && is_as_good(high + 1)) ++high;
  const std::size_t chosen = (low + high + 1) / 2;
  out.system.first_fraction = kRatios[chosen];
  out.usefulness = useful[chosen];
  return out;
}

JudgedSystem SystemJudge::judge(const System& system) const {
  JudgedSystem out{system, frames_->frame_for(system), {}, std::nullopt};
  exact_.run_for(out.frame, wanted_);
  out.judgement = firstcrop::judge(*book_, out.frame);
  return out;
}

void SystemJudge::explain(JudgedSystem& judged) const {
  exact_.run(judged.frame);
  judged.judgement.outcomes = firstcrop::explain(*book_, judged.frame, names_of(judged.system));
}

Names SystemJudge::names_of(const System& system) const {
  Names out;
  const Library& library = inquiry_->knowledge->library;
  out.solute = inquiry_->solute.name;
  for (const SolventId solvent : system.solvents) {
    out.components.push_back(name_in_sentence(library.solvent(solvent)));
  }
  out.system = system.is_pair() ? name_of(system, library) : out.components.front();
  return out;
}

}  // namespace firstcrop
