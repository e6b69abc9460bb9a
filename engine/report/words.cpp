#include "report/words.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "report/table.hpp"

namespace firstcrop {
namespace {

std::string painted(bool colour, const char* code, const std::string& text) {
  return colour ? fmt::format("\x1b[{}m{}\x1b[0m", code, text) : text;
}

std::string mode_words(const Inquiry& inquiry) {
  const std::string melting = inquiry.prior.melting_point_assumed ? "" : " and melting point";
  switch (inquiry.prior.mode) {
    case ModelMode::Structure:
      return "structure" + melting;
    case ModelMode::Groups:
      return "functional groups" + melting;
    case ModelMode::MeltingPoint:
      return "the melting point only";
    case ModelMode::Nothing:
      break;
  }
  return "nothing about the solid: these are the habits of solids at large";
}

}  // namespace

std::string Style::strong(const std::string& text) const {
  return painted(colour, "1", text);
}

std::string Style::verdict(Verdict verdict, const std::string& text) const {
  return painted(colour, verdict == Verdict::Sound ? "32" : verdict == Verdict::Doubtful ? "33" : "31", text);
}

std::string Style::level(CautionLevel level, const std::string& text) const {
  return painted(colour,
                 level == CautionLevel::Danger    ? "1;31"
                 : level == CautionLevel::Warning ? "33"
                                                  : "2",
                 text);
}

std::optional<Quantity> quantity_of(const JudgedSystem& judged, const char* fact) {
  const Catalogue& catalogue = judged.frame.catalogue();
  const auto reference = catalogue.find(fact);
  if (!reference) return std::nullopt;
  return summary(judged.frame.get(*reference), catalogue.info(reference->fact).dimension);
}

std::string shown(const std::optional<Quantity>& quantity, const char* unit) {
  if (!quantity) return "?";
  const Unit written = find_unit(unit).value_or(Unit{"", dimension::kNumber, 1, 0});
  if (quantity->low && quantity->high) return show_range(*quantity->low, *quantity->high, written);
  return show(quantity->value, written);
}

std::string shown_bare(const std::optional<Quantity>& quantity, const char* unit) {
  std::string out = shown(quantity, unit);
  const std::string tail = fmt::format(" {}", unit);
  if (out.ends_with(tail)) out.resize(out.size() - tail.size());
  return out;
}

std::string spoken_name(const System& system, const Library& library) {
  std::string out = name_of(system, library);
  const std::size_t plus = out.find('+');
  if (plus == std::string::npos) return out;
  out.replace(plus, 1, " + ");
  out.replace(out.find('@'), 1, " ");
  return out;
}

std::string percent(double share) {
  return fmt::format("{:.0f} %", share * 100);
}

int place_in_work(const std::string& step) {
  static const std::vector<std::string> kOrder{"dissolving", "heating", "charcoal", "filtration",
                                               "cooling",    "washing", "drying",   "evaporation",
                                               "storage",    "waste"};
  return static_cast<int>(std::find(kOrder.begin(), kOrder.end(), step) - kOrder.begin());
}

std::string known_by(const JudgedSystem& judged, const Inquiry& inquiry) {
  const SystemEvidence* evidence = inquiry.evidence_of(judged.system);
  if (evidence == nullptr) return "predicted";
  if (evidence->tubes > 0) return fmt::format("{} tube{}", evidence->tubes, evidence->tubes == 1 ? "" : "s");
  if (evidence->values > 0) return "measured";
  return evidence->outcome ? "published" : "predicted";
}

std::string main_reason(const JudgedSystem& judged) {
  const Judgement& judgement = judged.judgement;
  if (judgement.deciding_rule && judgement.verdict != Verdict::Sound) {
    for (const RuleOutcome& outcome : judgement.outcomes) {
      if (outcome.rule_index == *judgement.deciding_rule && !outcome.text.empty()) return outcome.text;
    }
  }
  // Of a sound system: the two heaviest rules that speak for it, and what costs it most.
  std::vector<const RuleOutcome*> grades;
  for (const RuleOutcome& outcome : judgement.outcomes) {
    if (outcome.kind == RuleKind::Grade && outcome.grade && !outcome.text.empty()) grades.push_back(&outcome);
  }
  // What was worked out for this solid says more than what holds for any.
  const auto is_about_solid = [](const RuleOutcome* outcome) {
    return std::any_of(outcome->facts.begin(), outcome->facts.end(), [](const UsedFact& fact) {
      return fact.name.ends_with("_solubility") && fact.name.starts_with("system.");
    });
  };
  std::stable_sort(grades.begin(), grades.end(),
                   [&is_about_solid](const RuleOutcome* left, const RuleOutcome* right) {
                     if (is_about_solid(left) != is_about_solid(right)) return is_about_solid(left);
                     return left->weight * *left->grade > right->weight * *right->grade;
                   });
  std::string out;
  for (std::size_t i = 0; i < std::min<std::size_t>(grades.size(), 2); ++i) {
    if (grades[i]->outcome == Outcome::High) out += (out.empty() ? "" : "; ") + grades[i]->text;
  }
  const auto cost = [](const RuleOutcome* outcome) {
    return -outcome->weight * std::log(std::max(*outcome->grade, 0.01));
  };
  const auto dearest = std::max_element(
      grades.begin(), grades.end(),
      [&cost](const RuleOutcome* left, const RuleOutcome* right) { return cost(left) < cost(right); });
  if (dearest != grades.end() && (*dearest)->outcome != Outcome::High) {
    out += (out.empty() ? "" : "; but ") + (*dearest)->text;
  }
  return out;
}

std::vector<std::string> heading(const Inquiry& inquiry) {
  std::vector<std::string> out;
  const Unit celsius = *find_unit("°C");
  std::string melts;
  if (inquiry.prior.melting_point_assumed) {
    melts = fmt::format("melts near {} (assumed: not stated)",
                        show_range(inquiry.melting_point_k - 1.28 * inquiry.melting_point_sd_k,
                                   inquiry.melting_point_k + 1.28 * inquiry.melting_point_sd_k, celsius));
  } else {
    melts = fmt::format("melts at {}", show(inquiry.melting_point_k, celsius));
  }
  const Aim& aim = inquiry.aim;
  const std::string want = aim.want == "large-crystals" ? "large crystals" : aim.want;
  out.push_back(fmt::format("{}; {} {}; for {}; {} solvent{} ({})", melts, show(aim.mass_mg, *find_unit("g")),
                            aim.mass_given ? "crude" : "crude (assumed)", want, aim.shelf.solvents.size(),
                            aim.shelf.solvents.size() == 1 ? "" : "s",
                            aim.shelf.name == "own shelf" || aim.shelf.name == "shelf of the solute file"
                                ? aim.shelf.name
                                : fmt::format("shelf {}", aim.shelf.name)));
  std::string basis = fmt::format("Solubility predicted from {}", mode_words(inquiry));
  if (inquiry.prior.mode == ModelMode::Structure && !inquiry.prior.similar.empty()) {
    std::vector<std::string> names;
    for (const SimilarSolid& solid : inquiry.prior.similar) {
      if (!solid.name.empty() && solid.name != "None")
        names.push_back(fmt::format("{} ({:.2f})", solid.name, solid.similarity));
    }
    if (!names.empty()) basis += fmt::format("; most like {}", fmt::join(names, ", "));
  }
  out.push_back(basis + ".");
  if (!inquiry.solute.outside_model.empty()) {
    out.push_back(
        fmt::format("Outside what the model knows: {}. The ranges are wide on purpose; trust a tube more.",
                    fmt::join(inquiry.solute.outside_model, ", ")));
  }
  for (const ObservationReport& report : inquiry.posterior.reports) {
    if (report.weight < 0.5) {
      out.push_back(fmt::format("{} was believed to {:.0f} % only: it disagrees with the rest.", report.label,
                                report.weight * 100));
    }
  }
  return out;
}

}  // namespace firstcrop
