#include "ranking/system_judge.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "systems/providers.hpp"
#include "systems/system_solubility.hpp"

namespace firstcrop {
namespace {

constexpr int kRatioSteps = 10;
// Ratios whose usefulness is at least this share of the best one's are told as the window.
constexpr double kWindowShare = 0.9;

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
      wanted_(book.facts()) {}

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
  ChosenPair out;
  out.system = with_good_first(System{{first, second}, 0.5});
  System system = out.system;
  FactFrame frame = frames_->frame_for(system);
  std::array<double, kRatioSteps> useful{};
  int best = kRatioSteps / 2;
  for (int step = 1; step < kRatioSteps; ++step) {
    frames_->set_first_fraction(frame, system, static_cast<double>(step) / kRatioSteps);
    central_.run_for(frame, {usefulness});
    const auto* value = std::get_if<NumberColumn>(&frame.get(usefulness).value);
    const auto index = static_cast<std::size_t>(step);
    useful[index] = value != nullptr && value->known != 0 ? value->at(0) : 0;
  }
  for (int step = 1; step < kRatioSteps; ++step) {
    if (useful[static_cast<std::size_t>(step)] > useful[static_cast<std::size_t>(best)] + 1e-9) best = step;
  }
  const double most = useful[static_cast<std::size_t>(best)];
  const auto is_good = [&](int step) {
    return step >= 1 && step < kRatioSteps && useful[static_cast<std::size_t>(step)] >= kWindowShare * most;
  };
  int from = best;
  int to = best;
  while (is_good(from - 1)) --from;
  while (is_good(to + 1)) ++to;
  out.system.first_fraction = static_cast<double>(best) / kRatioSteps;
  out.window = {static_cast<double>(from) / kRatioSteps, static_cast<double>(to) / kRatioSteps};
  out.usefulness = most;
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
    const Solvent& record = library.solvent(solvent);
    // A name with a comma would cut the sentence that it stands in.
    out.components.push_back(record.name.find(',') == std::string::npos ? record.name : record.id);
  }
  out.system = system.is_pair() ? name_of(system, library) : out.components.front();
  return out;
}

}  // namespace firstcrop
