#include "systems/inquiry.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "phase/vapour_pressure.hpp"
#include "solubility/curve.hpp"
#include "solubility/prior.hpp"
#include "systems/solid_lookup.hpp"
#include "systems/system_phases.hpp"

namespace firstcrop {
namespace {

// Root mean square error of melting points estimated from structural features, five folds of the calibration
// set (45.7 K). The variance that the process itself foretells for a solid says no more: solids with the
// smallest fifth of it err by 45 K, with the largest by 48 K.
constexpr double kEstimatedMeltingPointSdK = 46;
// A kind of solid that the model was not fitted on: its level in all solvents, and each by itself, may be off
// by this much [log10]. Judged.
constexpr double kOutsideSharedSd = 1.0;
constexpr double kOutsideOwnSd = 0.6;
// A surprise beyond this many standard deviations is told.
constexpr double kToldSurprise = 2;
// Share of an impurity of which nothing is said.
constexpr double kAssumedImpurityShare = 0.05;
// 80 % of a normal distribution lie within this many standard deviations.
constexpr double kEightyPercent = 1.2816;

void widen(SolubilityPrior& prior) {
  for (std::size_t i = 0; i < prior.covariance.rows; ++i) {
    for (std::size_t j = 0; j < prior.covariance.columns; ++j) {
      prior.covariance(i, j) += kOutsideSharedSd * kOutsideSharedSd;
    }
    prior.covariance(i, i) += kOutsideOwnSd * kOutsideOwnSd;
  }
}

std::optional<NameFault> fault_of_system(const std::string& text, bool needs_ratio, const Library& library) {
  const SystemAnswer answer = parse_system(text, library);
  if (!answer.system) return NameFault{answer.message, answer.help};
  if (needs_ratio && answer.system->system.is_pair() && !answer.system->ratio_stated) {
    return NameFault{"a measured pair needs its ratio by volume",
                     fmt::format("write e.g. `{}@60:40`", text.substr(0, 60))};
  }
  return std::nullopt;
}

// The place of the entry whose line an observation remembers.
Place place_of_entry(const SoluteFile& file, int line) {
  for (const StatedValue& known : file.known) {
    if (known.place.line == line) return known.place;
  }
  for (const Trial& trial : file.trials) {
    if (trial.place.line == line) return trial.place;
  }
  return Place{file.path, line, 1, 1, {}};
}

// Turns systems, tubes and values of the file into what the update understands.
class EvidenceReader {
 public:
  EvidenceReader(Inquiry& inquiry, Findings& findings) : inquiry_(inquiry), findings_(findings) {}

  void read() {
    for (const StatedValue& known : inquiry_.file.known) read_known(known);
    for (const PublishedSystem& published : inquiry_.file.published) read_published(published);
    for (const Trial& trial : inquiry_.file.trials) read_trial(trial);
  }
  // After the file, which outranks print: what our tables say of the solid.
  void read_tables() {
    if (!inquiry_.known) return;
    for (const MeasuredCurve& curve : inquiry_.known->curves) read_curve(curve);
    for (const PublishedUse& use : inquiry_.known->published) read_use(use);
  }
  [[nodiscard]] const std::vector<KnownValue>& values() const { return values_; }
  [[nodiscard]] const std::vector<Tube>& tubes() const { return tubes_; }

 private:
  std::optional<System> system_of(const WrittenWord& word, bool needs_ratio) {
    const Library& library = inquiry_.knowledge->library;
    if (auto fault = fault_of_system(word.text, needs_ratio, library)) {
      findings_.error(word.place, std::move(fault->message), std::move(fault->help));
      return std::nullopt;
    }
    return parse_system(word.text, library).system->system;
  }
  SystemEvidence& evidence_for(const System& system) {
    return inquiry_.evidence[evidence_key(system, inquiry_.knowledge->library)];
  }
  std::optional<ObservedSystem> observed(const System& system, const Place& place) {
    ObservedSystem out;
    for (std::size_t i = 0; i < system.solvents.size(); ++i) {
      const auto index = inquiry_.knowledge->in_model(system.solvents[i]);
      const auto volume = inquiry_.knowledge->molar_volume_ml_mol(system.solvents[i]);
      if (!index || !volume) {
        const Solvent& solvent = inquiry_.knowledge->library.solvent(system.solvents[i]);
        findings_.warning(
            place, fmt::format("the solubility model does not know {}, so this is not taken in", solvent.id),
            "add molar mass, density, Hansen parameters and Abraham coefficients to its record");
        return std::nullopt;
      }
      const double fraction = i == 0 ? system.first_fraction : 1 - system.first_fraction;
      out.push_back({*index, fraction, *volume});
    }
    return out;
  }

  void read_known(const StatedValue& known) {
    const auto system = system_of(known.system, known.solubility.has_value());
    if (!system) return;
    SystemEvidence& evidence = evidence_for(*system);
    if (known.wet_melting_point) evidence.wet_melting_point_k = known.wet_melting_point->middle();
    if (!known.solubility || !known.at) return;
    const auto parts = observed(*system, known.place);
    if (!parts) return;
    KnownValue value;
    value.system = *parts;
    value.temperature_k = known.at->middle();
    value.value = known.solubility->middle();
    const bool molar = known.solubility->unit.dimension == dimension::kMolarConcentration;
    value.basis = molar                ? SolubilityBasis::MolPerLitre
                  : known.per_solution ? SolubilityBasis::MgPerMlSolution
                                       : SolubilityBasis::MgPerMlSolvent;
    if (known.solubility->is_range()) {
      value.spread_log10 =
          std::max(std::log10(known.solubility->high / known.solubility->low) / (2 * kEightyPercent), 0.01);
    } else if (known.spread) {
      value.spread_log10 = std::log10(1 + *known.spread);
    }
    value.own_laboratory = known.source.find("own") != std::string::npos;
    value.label = fmt::format("known value in {}", known.system.text);
    value.place = known.place.line;
    if (!observation_of_value(inquiry_.posterior.state, value)) {
      findings_.error(
          known.place, "no solution of this solid can hold so much",
          "check the unit and `per`; a solution cannot hold more than the pure melt, about 1270 mg/mL");
      return;
    }
    ++evidence.values;
    evidence.source = known.source;
    values_.push_back(std::move(value));
  }

  void read_published(const PublishedSystem& published) {
    const auto system = system_of(published.system, false);
    if (!system) return;
    SystemEvidence& evidence = evidence_for(*system);
    evidence.outcome = std::string(word_of(published.outcome));
    evidence.outcome_source = published.source;
  }

  void read_trial(const Trial& trial) {
    const auto system = system_of(trial.system, true);
    if (!system || !trial.mass || !trial.volume) return;
    const auto parts = observed(*system, trial.place);
    if (!parts) return;
    Tube tube;
    tube.system = *parts;
    tube.mass_mg = trial.mass->middle();
    tube.volume_ml = trial.volume->middle();
    const auto seen = [](SeenDissolved word) {
      return word == SeenDissolved::All    ? Dissolved::All
             : word == SeenDissolved::Part ? Dissolved::Part
                                           : Dissolved::None;
    };
    if (trial.cold) tube.cold = seen(*trial.cold);
    tube.cold_temperature_k = inquiry_.aim.room_temperature_k;
    if (trial.hot) tube.hot = seen(*trial.hot);
    tube.hot_temperature_k =
        trial.hot_at ? trial.hot_at->middle()
                     : boiling_point_of(*system, inquiry_.pressure_kpa, *inquiry_.knowledge).temperature_k;
    if (trial.cooled) {
      switch (*trial.cooled) {
        case SeenOnCooling::Crystals:
          tube.cooled = OnCooling::Crystals;
          break;
        case SeenOnCooling::Powder:
          tube.cooled = OnCooling::Powder;
          break;
        case SeenOnCooling::Oil:
          tube.cooled = OnCooling::Oil;
          break;
        case SeenOnCooling::Cloud:
          tube.cooled = OnCooling::Cloud;
          break;
        case SeenOnCooling::Nothing:
          tube.cooled = OnCooling::Nothing;
          break;
      }
    }
    tube.cooled_to_k = trial.cooled_to ? trial.cooled_to->middle() : inquiry_.aim.bath_temperature_k;
    tube.doubtful = trial.doubtful;
    tube.holds_insoluble = inquiry_.file.insoluble && inquiry_.file.insoluble->high > 0;
    tube.label = fmt::format("tube {}", trial.tube);
    tube.place = trial.place.line;
    SystemEvidence& evidence = evidence_for(*system);
    ++evidence.tubes;
    if (trial.cooled == SeenOnCooling::Oil && !evidence.outcome) {
      evidence.outcome = "oils";
      evidence.outcome_source = tube.label;
    }
    tubes_.push_back(std::move(tube));
  }

  void read_curve(const MeasuredCurve& curve) {
    const auto system = parse_system(curve.solvent, inquiry_.knowledge->library).system;
    if (!system || !curve.level || !curve.doubt.empty()) return;
    SystemEvidence& evidence = evidence_for(system->system);
    ++evidence.curves;
    if (evidence.source.empty()) evidence.source = curve.source;
    const auto index = inquiry_.knowledge->in_model(system->system.solvents.front());
    // The model that was fitted on the solid holds the curve already.
    if (inquiry_.prior.is_fitted_solid || !index) return;
    KnownValue value;
    value.system = {{*index, 1.0, 0.0}};
    value.value = std::pow(10.0, *curve.level);
    value.basis = SolubilityBasis::MolPerLitre;
    value.label = fmt::format("measured curve in {}", curve.solvent);
    if (observation_of_value(inquiry_.posterior.state, value)) values_.push_back(std::move(value));
  }

  void read_use(const PublishedUse& use) {
    const auto system = parse_system(use.system, inquiry_.knowledge->library).system;
    if (!system) return;
    SystemEvidence& evidence = evidence_for(system->system);
    if (use.oils_above_k && !evidence.wet_melting_point_k) {
      evidence.wet_melting_point_k = use.oils_above_k;
      if (evidence.source.empty()) evidence.source = use.source;
    }
    if (evidence.outcome) return;
    evidence.outcome = std::string(word_of(use.outcome));
    evidence.outcome_source = use.source;
    evidence.outcome_from_tables = true;
  }

  Inquiry& inquiry_;
  Findings& findings_;
  std::vector<KnownValue> values_;
  std::vector<Tube> tubes_;
};

// What the file and our tables say of systems, and what that teaches. The state must be the one before.
void take_in_observations(Inquiry& inquiry, Findings& findings) {
  EvidenceReader reader(inquiry, findings);
  reader.read();
  reader.read_tables();
  if (findings.has_errors()) return;
  inquiry.values = reader.values();
  inquiry.tubes = reader.tubes();
  inquiry.posterior = learn(inquiry.posterior.state, inquiry.values, inquiry.tubes);
}

SolubilityScenarios scenarios_of(const Inquiry& inquiry) {
  const Quantity& molar_mass = inquiry.solute.molar_mass;
  double molar_mass_sd = 0;
  if (molar_mass.low && molar_mass.high) {
    molar_mass_sd = std::log10(*molar_mass.high / *molar_mass.low) / (2 * kEightyPercent);
  }
  return draw_scenarios(inquiry.posterior.state, inquiry.melting_point_sd_k, molar_mass_sd);
}

// Solids that detonate are no example to hold up, however alike they are.
void hide_explosives(std::vector<SimilarSolid>& similar, const GroupCatalogue& groups) {
  std::erase_if(similar, [&groups](const SimilarSolid& solid) {
    const auto parsed = parse_smiles(solid.smiles);
    const auto* molecule = std::get_if<Molecule>(&parsed);
    if (molecule == nullptr) return false;
    const std::vector<std::string> tokens = groups.perceive(*molecule);
    return std::find(tokens.begin(), tokens.end(), "energetic") != tokens.end();
  });
}

void predict_impurities(Inquiry& inquiry) {
  const KnowledgeBase& knowledge = *inquiry.knowledge;
  for (const WrittenImpurity& written : inquiry.file.impurities) {
    const auto impurity =
        make_impurity(written, knowledge.library.groups(), knowledge.library.descriptor_scheme());
    if (!impurity) continue;
    SolubilityPrior prior = predict(knowledge.model, model_input(*impurity));
    if (!impurity->outside_model.empty()) widen(prior);
    ImpurityPrediction out;
    out.name = impurity->name;
    out.molar_mass_g_mol = impurity->molar_mass.value;
    out.share = written.share ? written.share->middle() : kAssumedImpurityShare;
    out.share_assumed = !written.share.has_value();
    out.state = initial_state(prior, knowledge.model.enthalpy(), out.molar_mass_g_mol);
    inquiry.impurities.push_back(std::move(out));
  }
}

}  // namespace

void report_learning(const Posterior& posterior, const SoluteFile& file, Findings& findings) {
  if (!posterior.converged) {
    const int first = posterior.reports.empty() ? 0 : posterior.reports.front().place;
    findings.warning(place_of_entry(file, first),
                     "the values and tubes of this file contradict each other so much that none was taken in: "
                     "all numbers are the model's alone",
                     "repeat the doubtful ones, or mark them `doubtful: true`");
    return;
  }
  for (const ObservationReport& report : posterior.reports) {
    if (std::abs(report.surprise) <= kToldSurprise) continue;
    const double factor = std::pow(10.0, std::min(std::abs(report.surprise) * report.predicted_sd, 6.0));
    const std::string against = report.contradicts ? posterior.reports[*report.contradicts].label
                                                   : std::string("what the model expects");
    findings.warning(place_of_entry(file, report.place),
                     fmt::format("{} disagrees with {} by a factor of {:.0f}", report.label, against, factor),
                     "repeat it, or mark it `doubtful: true`");
  }
}

std::string evidence_key(const System& system, const Library& library) {
  std::vector<std::string> ids;
  for (const SolventId solvent : system.solvents) ids.push_back(library.solvent(solvent).id);
  std::sort(ids.begin(), ids.end());
  return ids.size() == 2 ? ids[0] + "+" + ids[1] : ids[0];
}

const SystemEvidence* Inquiry::evidence_of(const System& system) const {
  if (evidence.empty()) return nullptr;
  const auto found = evidence.find(evidence_key(system, knowledge->library));
  return found == evidence.end() ? nullptr : &found->second;
}

SoluteVocabulary vocabulary_of(const KnowledgeBase& knowledge) {
  SoluteVocabulary out;
  out.groups = &knowledge.library.groups();
  out.residues = knowledge.library.residue_words();
  out.ban_words = knowledge.library.class_names();
  for (const char* hazard : {"carcinogenic", "mutagenic", "reprotoxic"}) out.ban_words.emplace_back(hazard);
  const Library& library = knowledge.library;
  out.solvent = [&library](const std::string& name) -> std::optional<NameFault> {
    const SolventAnswer answer = parse_solvent(name, library);
    if (answer.solvent) return std::nullopt;
    return NameFault{answer.message, answer.help};
  };
  out.shelf = [&library, solvent = out.solvent](const std::string& name) {
    return library.shelf(name) ? std::nullopt : solvent(name);
  };
  out.system = [&library](const std::string& name) { return fault_of_system(name, false, library); };
  out.measured_system = [&library](const std::string& name) { return fault_of_system(name, true, library); };
  return out;
}

std::optional<Inquiry> make_inquiry(const KnowledgeBase& knowledge, const SoluteFile& file,
                                    const AimOptions& options, bool as_unknown, Findings& findings) {
  Findings own;
  Inquiry inquiry;
  inquiry.knowledge = &knowledge;
  inquiry.file = file;
  inquiry.solute = make_solute(file, knowledge.library.groups(), knowledge.library.descriptor_scheme());
  inquiry.aim = make_aim(file, options, knowledge.library, own);
  inquiry.pressure_kpa =
      inquiry.aim.altitude_m == 0 ? kStandardPressureKpa : pressure_at_altitude_kpa(inquiry.aim.altitude_m);
  const bool moist = file.moisture && file.moisture->high > 0;
  inquiry.reactions =
      make_reaction_setting(inquiry.solute, file.contains, moist, inquiry.aim, knowledge.library);

  if (!as_unknown) look_up_solid(inquiry, own);
  inquiry.prior = predict(knowledge.model, model_input(inquiry, as_unknown));
  hide_explosives(inquiry.prior.similar, knowledge.library.groups());
  // What was measured on this very solid needs no caution about its kind.
  if (!inquiry.solute.outside_model.empty() && !inquiry.prior.is_fitted_solid) widen(inquiry.prior);
  inquiry.melting_point_k = inquiry.prior.melting_point_k;
  inquiry.melting_point_sd_k = inquiry.prior.melting_point_assumed ? kEstimatedMeltingPointSdK : 0;
  inquiry.melting_point_origin = inquiry.prior.melting_point_assumed ? Origin::Assumed
                                 : inquiry.solute.melting_point      ? Origin::Given
                                                                     : Origin::Published;
  const Quantity& molar_mass = inquiry.solute.molar_mass;
  inquiry.posterior.state = initial_state(inquiry.prior, knowledge.model.enthalpy(), molar_mass.value);
  if (inquiry.known) {
    inquiry.posterior.state =
        with_measured_enthalpies(inquiry.posterior.state, measured_enthalpies(inquiry));
  }

  inquiry.before_learning = inquiry.posterior.state;
  take_in_observations(inquiry, own);
  if (!own.has_errors()) report_learning(inquiry.posterior, file, own);
  const bool failed = own.has_errors();
  findings.append(own);
  if (failed) return std::nullopt;
  predict_impurities(inquiry);
  inquiry.scenarios = scenarios_of(inquiry);
  return inquiry;
}

Inquiry with_first_tubes(const Inquiry& inquiry, std::size_t tube_count) {
  Inquiry out = inquiry;
  out.tubes.resize(std::min(tube_count, inquiry.tubes.size()));
  out.posterior = learn(out.before_learning, out.values, out.tubes);
  out.scenarios = scenarios_of(out);
  return out;
}

Inquiry with_tubes(const Inquiry& inquiry, const std::vector<Trial>& trials) {
  Inquiry out = inquiry;
  out.file.trials.insert(out.file.trials.end(), trials.begin(), trials.end());
  out.evidence.clear();
  out.posterior = Posterior{};
  out.posterior.state = out.before_learning;
  Findings untold;  // what is wrong with the file was told when it was read
  take_in_observations(out, untold);
  out.scenarios = scenarios_of(out);
  return out;
}

}  // namespace firstcrop
