#include "report/words.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "report/table.hpp"
#include "systems/solubility_rows.hpp"

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

// `Measured in ethanol, water and 5 more (our tables, as benzanilide)`.
std::string measured_words(const KnownSolid& known) {
  constexpr std::size_t kShown = 6;
  std::vector<std::string> solvents;
  for (const MeasuredCurve& curve : known.curves) {
    const bool usable = curve.level && curve.doubt.empty();
    if (usable && std::find(solvents.begin(), solvents.end(), curve.solvent) == solvents.end())
      solvents.push_back(curve.solvent);
  }
  const std::size_t further = solvents.size() > kShown ? solvents.size() - kShown : 0;
  solvents.resize(solvents.size() - further);
  std::string out = fmt::format("In our tables: {}, measured in {}",
                                known.name.empty() ? known.canonical_smiles : known.name,
                                fmt::join(solvents, ", "));
  if (further > 0) out += fmt::format(" and {} more", further);
  switch (known.match) {
    case SolidMatch::Same:
      break;
    case SolidMatch::StereoNotDrawn:
      out += "; its stereo marks are not drawn here, so check that it is this form";
      break;
    case SolidMatch::OtherStereoMarks:
      out += "; drawn there with other stereo marks, so check that it is this form";
      break;
    case SolidMatch::Tautomer:
      out += "; drawn there as another tautomer";
      break;
  }
  return out + "; elsewhere predicted from these";
}

std::string outcome_words(PublishedOutcome outcome) {
  switch (outcome) {
    case PublishedOutcome::Works:
      return "works";
    case PublishedOutcome::TooSolubleCold:
      return "too much stays in the cold liquor";
    case PublishedOutcome::InsolubleHot:
      return "does not dissolve hot";
    case PublishedOutcome::Oils:
      return "separates as an oil";
    case PublishedOutcome::Reacts:
      return "reacts";
  }
  return {};
}

std::string use_words(const PublishedUse& use) {
  std::string out = use.system;
  if (const std::size_t plus = out.find('+'); plus != std::string::npos) out.replace(plus, 1, " + ");
  if (use.outcome != PublishedOutcome::Works) out += " " + outcome_words(use.outcome);
  if (use.volume_ml_g) out += fmt::format(", {:.3g} mL/g", *use.volume_ml_g);
  if (use.recovery) out += fmt::format(", {} back", percent(*use.recovery));
  if (use.oils_above_k) out += fmt::format(" above {}", show(*use.oils_above_k, *find_unit("°C")));
  return out;
}

// One line for what worked and one for what did not. A system with both voices is named in both, with a word.
std::vector<std::string> published_lines(const Inquiry& inquiry) {
  const std::vector<PublishedUse>& uses = inquiry.known->published;
  const auto disputed = [&uses](const PublishedUse& use) {
    return std::any_of(uses.begin(), uses.end(), [&use](const PublishedUse& other) {
      return other.system == use.system &&
             (other.outcome == PublishedOutcome::Works) != (use.outcome == PublishedOutcome::Works);
    });
  };
  std::vector<std::string> worked;
  std::vector<std::string> failed;
  for (const PublishedUse& use : uses) {
    std::string words = fmt::format("{} ({}{})", use_words(use), disputed(use) ? "disputed; " : "",
                                    use.from_memory ? "handbook, by memory" : use.source);
    std::vector<std::string>& list = use.outcome == PublishedOutcome::Works ? worked : failed;
    if (std::find(list.begin(), list.end(), words) == list.end()) list.push_back(std::move(words));
  }
  std::vector<std::string> out;
  if (!worked.empty()) out.push_back(fmt::format("Published for this solid, worked: {}", fmt::join(worked, "; ")));
  if (!failed.empty()) out.push_back(fmt::format("Published for this solid, failed: {}", fmt::join(failed, "; ")));
  return out;
}

void append(std::vector<std::string>& lines, const std::vector<std::string>& further) {
  lines.insert(lines.end(), further.begin(), further.end());
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
  static const std::vector<std::string> kOrder{"dissolving", "heating", "mixing", "charcoal", "filtration",
                                               "cooling",    "collecting", "washing", "drying",
                                               "evaporation", "storage", "waste"};
  return static_cast<int>(std::find(kOrder.begin(), kOrder.end(), step) - kOrder.begin());
}

std::string known_by(const JudgedSystem& judged, const Inquiry& inquiry) {
  const SystemEvidence* evidence = inquiry.evidence_of(judged.system);
  const std::string unmeasured = inquiry.knowledge->is_borrowed(judged.system.solvents) ? "assumed" : "predicted";
  if (evidence == nullptr) return unmeasured;
  if (evidence->tubes > 0) return fmt::format("{} tube{}", evidence->tubes, evidence->tubes == 1 ? "" : "s");
  if (evidence->values + evidence->curves > 0) return "measured";
  return evidence->outcome ? "published" : unmeasured;
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

std::string borrowed_line(SolventId solvent, const BorrowedTraits& lent, const Library& library) {
  constexpr std::size_t kShown = 3;
  std::vector<std::string> lenders;
  for (std::size_t i = 0; i < std::min(kShown, lent.lenders.size()); ++i)
    lenders.push_back(library.solvent(lent.lenders[i].first).id);
  std::vector<std::string> helpful = lent.helpful;
  helpful.resize(std::min(helpful.size(), kShown));
  return fmt::format("Solubility in {} is assumed from solvents like it ({}{}; compared by {}): it may be off by a "
                     "factor of {:.1f} more.{}",
                     library.solvent(solvent).id, fmt::join(lenders, ", "),
                     lent.lenders.size() > kShown ? fmt::format(" and {} more", lent.lenders.size() - kShown) : "",
                     fmt::join(lent.compared, ", "), std::pow(10.0, 1.2816 * std::sqrt(lent.traits.borrowed_variance)),
                     helpful.empty() ? "" : fmt::format(" Its record would tell more with: {}.", fmt::join(helpful, ", ")));
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
  const bool measured = inquiry.known && inquiry.prior.is_fitted_solid;
  std::string basis = measured ? measured_words(*inquiry.known)
                               : fmt::format("Solubility predicted from {}", mode_words(inquiry));
  if (!measured && inquiry.prior.mode == ModelMode::Structure && !inquiry.prior.similar.empty()) {
    std::vector<std::string> names;
    for (const SimilarSolid& solid : inquiry.prior.similar) {
      names.push_back(fmt::format("{} ({:.2f})", solid.name, solid.similarity));
    }
    if (!names.empty()) basis += fmt::format("; most like {}", fmt::join(names, ", "));
  }
  out.push_back(basis + ".");
  if (const auto nearest = reach(inquiry); !measured && nearest && *nearest < kFarFromAllSolids) {
    out.push_back(fmt::format("No measured solid is much like it (nearest {:.2f}): a test tube tells more than "
                              "these numbers.",
                              *nearest));
  }
  for (const auto& [solvent, lent] : inquiry.knowledge->borrowed) {
    const bool on_shelf = std::find(aim.shelf.solvents.begin(), aim.shelf.solvents.end(), SolventId{solvent}) !=
                          aim.shelf.solvents.end();
    if (on_shelf) out.push_back(borrowed_line(SolventId{solvent}, lent, inquiry.knowledge->library));
  }
  if (inquiry.known_parent) {
    out.push_back(
        fmt::format("Our tables have {} itself. A salt, hydrate or solvate of it dissolves otherwise, so its "
                    "measurements are not used.",
                    *inquiry.known_parent));
  }
  if (inquiry.known) append(out, published_lines(inquiry));
  if (!inquiry.solute.outside_model.empty()) {
    out.push_back(
        fmt::format("Outside what the model knows: {}. The ranges are wide on purpose; trust a tube more.",
                    fmt::join(inquiry.solute.outside_model, ", ")));
  }
  for (const ObservationReport& report : inquiry.posterior.reports) {
    if (inquiry.posterior.converged && report.weight < 0.5) {
      const std::string against =
          report.contradicts ? inquiry.posterior.reports[*report.contradicts].label : std::string("the prediction");
      out.push_back(fmt::format("{}, and {} disagree: it was believed to {:.0f} % only. Repeat {}.", report.label, against,
                                report.weight * 100,
                                report.contradicts ? "one of the two" : report.label.substr(0, report.label.find(','))));
    }
  }
  return out;
}

std::string cloud_words(const Quantity& ratio) {
  return fmt::format("{:.1g} to {:.1g}", ratio.low.value_or(ratio.value), ratio.high.value_or(ratio.value));
}

std::vector<std::string> like_lines(const Inquiry& inquiry) {
  constexpr std::size_t kShown = 8;
  std::vector<std::string> out;
  for (const SimilarSolid& solid : inquiry.prior.similar) {
    std::vector<std::string> solvents = solid.solvents;
    const std::size_t further = solvents.size() > kShown ? solvents.size() - kShown : 0;
    solvents.resize(solvents.size() - further);
    out.push_back(fmt::format("like {} ({:.2f}), measured in {}{}", solid.name.empty() ? solid.smiles : solid.name,
                              solid.similarity, fmt::join(solvents, ", "),
                              further > 0 ? fmt::format(" and {} more", further) : ""));
  }
  return out;
}

}  // namespace firstcrop
