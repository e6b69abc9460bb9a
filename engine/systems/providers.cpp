#include "systems/providers.hpp"

#include <algorithm>
#include <bit>
#include <cmath>
#include <utility>

#include <fmt/format.h>

#include "solubility/oiling.hpp"
#include "systems/frames.hpp"
#include "systems/system_phases.hpp"
#include "systems/system_solubility.hpp"

namespace firstcrop {
namespace {

// Where no second liquid is foreseen the solid still softens below its melting point.
constexpr double kSofteningK = 5;
constexpr double kSoluteDensityGMl = 1.27;

FactValue unknown(std::string reason) {
  return {Unknown{std::move(reason)}, Origin::Calculated, {}};
}

// Hands out the references of one catalogue; every name used here is one of make_catalogue.
class Facts {
 public:
  explicit Facts(const Catalogue& catalogue) : catalogue_(&catalogue) {}
  FactReference operator()(const char* name) const { return catalogue_->find(name).value(); }
  std::vector<FactReference> all(std::initializer_list<const char*> names) const {
    std::vector<FactReference> out;
    for (const char* name : names) out.push_back((*this)(name));
    return out;
  }

 private:
  const Catalogue* catalogue_;
};

// system_of with the names of its facts looked up once.
class SystemReader {
 public:
  SystemReader(const Facts& fact, const Inquiry& inquiry)
      : library_(&inquiry.knowledge->library), id_(fact("solvent.id")), fraction_(fact("system.good_fraction")) {}
  System operator()(const FactFrame& frame) const {
    System out;
    out.solvents.reserve(frame.component_count());
    for (std::size_t i = 0; i < frame.component_count(); ++i)
      out.solvents.push_back(library_->find_id(std::get<std::string>(frame.get(id_, i).value)).value());
    out.first_fraction = std::get<NumberColumn>(frame.get(fraction_).value).certain;
    return out;
  }

 private:
  const Library* library_;
  FactReference id_;
  FactReference fraction_;
};

const NumberColumn* number_of(const FactValue& value) {
  return std::get_if<NumberColumn>(&value.value);
}

FactValue temperature_value(const SystemTemperature& temperature) {
  return {NumberColumn::of(temperature.temperature_k), temperature.origin, temperature.source};
}

std::string source_for(const Inquiry& inquiry, const System& system) {
  const SystemEvidence* evidence = inquiry.evidence_of(system);
  if (evidence == nullptr || !evidence->is_measured()) {
    return inquiry.knowledge->is_borrowed(system.solvents) ? "solubility model, by solvents like it" : "solubility model";
  }
  std::string out;
  if (evidence->tubes > 0) out = fmt::format("{} tube{}", evidence->tubes, evidence->tubes == 1 ? "" : "s");
  if (evidence->values + evidence->curves > 0)
    out += (out.empty() ? "" : ", ") + (evidence->source.empty() ? "known value" : evidence->source);
  return out;
}

Producer boiling(const Facts& fact, const Inquiry& inquiry, Precision precision) {
  const SystemReader system_in(fact, inquiry);
  Producer out;
  out.name = "boiling point";
  out.gives = {fact("system.boiling_point")};
  out.run = [given = out.gives.front(), &inquiry, precision, system_in](FactFrame& frame, std::size_t) {
    const KnowledgeBase& knowledge = *inquiry.knowledge;
    const System system = system_in(frame);
    if (precision == Precision::Central) {
      frame.set(given, {NumberColumn::of(lowest_boiling_point_k(system, inquiry.pressure_kpa, knowledge)),
                        Origin::Assumed,
                        {}});
    } else {
      frame.set(given, temperature_value(boiling_point_of(system, inquiry.pressure_kpa, knowledge)));
    }
  };
  return out;
}

Producer freezing(const Facts& fact, const Inquiry& inquiry) {
  const SystemReader system_in(fact, inquiry);
  Producer out;
  out.name = "freezing point";
  out.gives = {fact("system.freezing_point")};
  out.run = [given = out.gives.front(), &inquiry, system_in](FactFrame& frame, std::size_t) {
    const auto temperature =
        freezing_point_of(system_in(frame), *inquiry.knowledge);
    frame.set(given,
              temperature ? temperature_value(*temperature) : unknown("no freezing point in the library"));
  };
  return out;
}

Producer flash(const Facts& fact, const Inquiry& inquiry) {
  const SystemReader system_in(fact, inquiry);
  Producer out;
  out.name = "flash point";
  out.gives = {fact("system.flash_point")};
  out.run = [given = out.gives.front(), &inquiry, system_in](FactFrame& frame, std::size_t) {
    const auto temperature = flash_point_of(system_in(frame), *inquiry.knowledge);
    frame.set(given, temperature ? temperature_value(*temperature) : unknown("no flash point is known"));
  };
  return out;
}

NumberColumn wet_melting_column(const Inquiry& inquiry, const SplitNormal& spread,
                                double mean_melting_point_k, Precision precision) {
  if (precision == Precision::Central) return NumberColumn::of(spread.at(0));
  ScenarioValues values{};
  for (std::size_t k = 0; k < kScenarioCount; ++k) {
    values[k] = spread.at(inquiry.scenarios.wet_melting_score[k]) + inquiry.scenarios.melting_shift_k[k];
    values[k] =
        std::min(values[k], mean_melting_point_k + inquiry.scenarios.melting_shift_k[k] - kSofteningK);
  }
  return NumberColumn::of(values);
}

Producer wet_melting(const Facts& fact, const Inquiry& inquiry, Precision precision) {
  const SystemReader system_in(fact, inquiry);
  Producer out;
  out.name = "wet melting point";
  out.gives = {fact("system.wet_melting_point"), fact("system.second_liquid_foreseen")};
  out.run = [given = out.gives.front(), foreseen = out.gives.back(), water = fact("system.water_fraction"),
             &inquiry, precision, system_in](FactFrame& frame, std::size_t) {
    const System system = system_in(frame);
    const SystemEvidence* evidence = inquiry.evidence_of(system);
    if (evidence != nullptr && evidence->wet_melting_point_k) {
      frame.set(given, {NumberColumn::of(*evidence->wet_melting_point_k), Origin::Given, evidence->source});
      frame.set(foreseen, {FlagColumn::of(true), Origin::Given, evidence->source});
      return;
    }
    const double melting_point = inquiry.melting_point_k;
    const auto solubility = SystemSolubility::create(inquiry, system);
    std::optional<WetMeltingPoint> wet;
    if (solubility && melting_point > kReferenceTemperatureK + 1) {
      const OilingSolute solute{melting_point, fusion_enthalpy_by_walden_kj_mol(melting_point),
                                inquiry.solute.molar_mass.value / kSoluteDensityGMl};
      OilingSolvent solvent;
      solvent.molar_volume_ml_mol = solubility->molar_volume_ml_mol(system.first_fraction);
      solvent.mole_fraction = solubility->central_mole_fraction(system.first_fraction);
      solvent.water_volume_fraction = number_of(frame.get(water))->certain;
      wet = wet_melting_point(solute, solvent);
    }
    // The dry melting point less a little: where nothing else is known, and where no second liquid is
    // foreseen.
    const SplitNormal dry{melting_point - kSofteningK, 0, 0, melting_point};
    frame.set(given, {wet_melting_column(inquiry, wet ? wet->temperature_k : dry, melting_point, precision),
                      wet                              ? Origin::Predicted
                      : inquiry.melting_point_sd_k > 0 ? Origin::Assumed
                                                       : Origin::Calculated,
                      precision == Precision::Central ? ""
                      : wet                           ? "rough foresight of a second liquid"
                                                      : "no second liquid is foreseen"});
    if (solubility) {
      frame.set(foreseen, {FlagColumn::of(wet.has_value()), Origin::Predicted, "rough foresight"});
    } else {
      frame.set(foreseen, unknown("the solubility model does not know this solvent"));
    }
  };
  return out;
}

// Everything that follows from solubility at three temperatures.
Producer solubilities(const Facts& fact, const Inquiry& inquiry, Precision precision) {
  const SystemReader system_in(fact, inquiry);
  Producer out;
  out.name = "solubility";
  out.needs = fact.all({"system.saturation_temperature", "system.cold_temperature"});
  out.gives = fact.all({"system.hot_solubility", "system.cold_solubility", "system.room_solubility",
                        "system.solubility_spread"});
  out.run = [needs = out.needs, gives = out.gives, &inquiry, precision, system_in](FactFrame& frame, std::size_t) {
    const System system = system_in(frame);
    const auto solubility = SystemSolubility::create(inquiry, system);
    const NumberColumn* saturation = number_of(frame.get(needs[0]));
    const NumberColumn* cold_temperature = number_of(frame.get(needs[1]));
    if (!solubility || saturation == nullptr || cold_temperature == nullptr) {
      const FactValue missing = unknown(!solubility ? "the solubility model does not know this solvent"
                                                    : "the working temperatures are unknown");
      for (const FactReference& given : gives) frame.set(given, missing);
      return;
    }
    const Origin origin = solubility_origin(inquiry, system);
    // Nobody is told where the means that choose a ratio come from.
    const std::string source = precision == Precision::Central ? "" : source_for(inquiry, system);
    NumberColumn hot;
    NumberColumn cold;
    NumberColumn room;
    if (precision == Precision::Central) {
      const auto at = [&](double temperature) {
        return NumberColumn::of(solubility->central_at(temperature, system.first_fraction));
      };
      hot = at(saturation->at(0));
      cold = at(cold_temperature->at(0));
      room = cold;
    } else {
      hot = solubility->at(*saturation);
      cold = solubility->at(*cold_temperature);
      room = solubility->at(NumberColumn::of(inquiry.aim.room_temperature_k));
    }
    frame.set(gives[0], {hot, origin, source});
    frame.set(gives[1], {cold, origin, source});
    frame.set(gives[2], {room, origin, source});
    if (precision == Precision::Central) return;
    double sum = 0;
    double sum_of_squares = 0;
    const std::uint64_t known = hot.known & cold.known;
    for (std::size_t k = 0; k < kScenarioCount; ++k) {
      if ((known >> k & 1U) == 0U) continue;
      const double level = std::log10(cold.at(k));
      sum += level;
      sum_of_squares += level * level;
    }
    const auto count = static_cast<double>(std::max(std::popcount(known), 1));
    const double variance = std::max(sum_of_squares / count - sum * sum / (count * count), 0.0);
    frame.set(gives[3], {NumberColumn::of(std::sqrt(variance)), origin, source});
  };
  return out;
}

Producer component_solubilities(const Facts& fact, const Inquiry& inquiry) {
  const SystemReader system_in(fact, inquiry);
  Producer out;
  out.name = "solubility in each solvent alone";
  out.needs = fact.all({"system.saturation_temperature", "system.cold_temperature"});
  out.gives = fact.all({"solvent.hot_solubility", "solvent.cold_solubility"});
  out.run = [needs = out.needs, gives = out.gives, &inquiry, system_in](FactFrame& frame, std::size_t each) {
    const System whole = system_in(frame);
    const System alone{{whole.solvents[each]}, 1};
    const auto solubility = SystemSolubility::create(inquiry, alone);
    for (std::size_t i = 0; i < 2; ++i) {
      const NumberColumn* temperature = number_of(frame.get(needs[i]));
      if (!solubility || temperature == nullptr) {
        frame.set(gives[i], unknown("the solubility model does not know this solvent"), each);
      } else {
        frame.set(gives[i],
                  {solubility->at(*temperature), solubility_origin(inquiry, alone), source_for(inquiry, alone)},
                  each);
      }
    }
  };
  return out;
}

Producer contrast_of_pair(const Facts& fact) {
  Producer out;
  out.name = "contrast of a pair";
  FactReference solubility = fact("solvent.cold_solubility");
  out.needs = {solubility};
  out.gives = {fact("pair.contrast")};
  out.run = [solubility, given = out.gives.front()](FactFrame& frame, std::size_t) {
    if (frame.component_count() != 2) return;
    const NumberColumn* good = number_of(frame.get(solubility, 0));
    const NumberColumn* poor = number_of(frame.get(solubility, 1));
    if (good == nullptr || poor == nullptr) {
      frame.set(given, unknown("the solubility in one of the two is unknown"));
      return;
    }
    ScenarioValues values{};
    for (std::size_t k = 0; k < kScenarioCount; ++k) values[k] = std::log10(good->at(k) / poor->at(k));
    frame.set(given,
              {NumberColumn::of(values, good->known & poor->known), Origin::Predicted, "solubility model"});
  };
  return out;
}

Producer lowest_boiling(const Facts& fact, const Inquiry& inquiry) {
  const SystemReader system_in(fact, inquiry);
  Producer out;
  out.name = "lowest boiling point of a pair";
  out.gives = {fact("pair.lowest_boiling_point")};
  out.run = [given = out.gives.front(), &inquiry, system_in](FactFrame& frame, std::size_t) {
    if (frame.component_count() != 2) return;
    const System system = system_in(frame);
    frame.set(given, temperature_value(lowest_boiling_of_mixtures(system, inquiry.pressure_kpa,
                                                                  *inquiry.knowledge)));
  };
  return out;
}

// A flag that is true in the given share of the scenarios, always the same ones for one pair.
FlagColumn flag_with_chance(double chance, const ScenarioValues& scores) {
  std::array<std::size_t, kScenarioCount> order{};
  for (std::size_t k = 0; k < kScenarioCount; ++k) order[k] = k;
  std::sort(order.begin(), order.end(), [&scores](std::size_t left, std::size_t right) {
    return scores[left] != scores[right] ? scores[left] < scores[right] : left < right;
  });
  const auto count = static_cast<std::size_t>(std::lround(chance * static_cast<double>(kScenarioCount)));
  std::uint64_t mask = 0;
  for (std::size_t i = 0; i < count; ++i) mask |= std::uint64_t{1} << order[i];
  return FlagColumn::of_mask(mask);
}

Producer phases(const Facts& fact, const Inquiry& inquiry) {
  const SystemReader system_in(fact, inquiry);
  Producer out;
  out.name = "phases of a pair";
  out.needs = fact.all({"system.hot_temperature", "system.cold_temperature"});
  out.gives = fact.all({"pair.two_phases_hot", "pair.two_phases_cold", "pair.phase_evidence"});
  out.run = [needs = out.needs, gives = out.gives, &inquiry, system_in](FactFrame& frame, std::size_t) {
    if (frame.component_count() != 2) return;
    const System system = system_in(frame);
    frame.set(gives[2], unknown("neither a record nor a calculation of the phases exists"));
    double most_doubt = -1;
    for (std::size_t i = 0; i < 2; ++i) {
      const auto temperature = number_of(frame.get(needs[i]));
      const auto answer =
          temperature == nullptr ? std::nullopt : phases_of(system, temperature->at(0), *inquiry.knowledge);
      if (!answer) {
        frame.set(gives[i], unknown("neither a record nor a calculation of the phases exists"));
        continue;
      }
      const ScenarioValues& scores =
          inquiry.scenarios.phase_score(system.solvents[0].index, system.solvents[1].index);
      frame.set(gives[i], {flag_with_chance(1 - answer->one_liquid, scores), answer->origin, answer->source});
      // The less certain of the two temperatures tells what the pair rests on.
      const double doubt = std::min(answer->one_liquid, 1 - answer->one_liquid);
      if (doubt <= most_doubt) continue;
      most_doubt = doubt;
      frame.set(gives[2], {answer->evidence, answer->origin, answer->source});
    }
  };
  return out;
}

Producer impurity_held(const Facts& fact, const Inquiry& inquiry) {
  const SystemReader system_in(fact, inquiry);
  Producer out;
  out.name = "impurities held";
  out.needs = fact.all({"system.volume_per_gram", "system.cold_temperature"});
  out.gives = {fact("system.impurity_held")};
  out.run = [needs = out.needs, given = out.gives.front(), &inquiry, system_in](FactFrame& frame, std::size_t) {
    const NumberColumn* volume = number_of(frame.get(needs[0]));
    const NumberColumn* temperature = number_of(frame.get(needs[1]));
    if (inquiry.impurities.empty() || volume == nullptr || temperature == nullptr) {
      frame.set(given,
                unknown(inquiry.impurities.empty() ? "no impurity with a structure is named"
                                                   : "the solubility model does not know this solvent"));
      return;
    }
    const System system = system_in(frame);
    ScenarioValues held{};
    double total = 0;
    for (std::size_t i = 0; i < inquiry.impurities.size(); ++i) {
      const ImpurityPrediction& impurity = inquiry.impurities[i];
      const auto moments =
          impurity_log10_solubility(impurity, system, temperature->at(0), *inquiry.knowledge);
      if (!moments) {
        frame.set(given, unknown("the solubility model does not know this solvent"));
        return;
      }
      const ScenarioValues& score = inquiry.scenarios.impurity_score(i);
      total += impurity.share;
      for (std::size_t k = 0; k < kScenarioCount; ++k) {
        const double solubility = std::pow(10.0, moments->mean + moments->sd * score[k]);
        // One mg of crude is held by `volume` mL and brings `share` mg of the impurity.
        held[k] +=
            impurity.share * std::min(1.0, solubility * volume->at(k) / std::max(impurity.share, 1e-6));
      }
    }
    for (double& share : held) share /= std::max(total, 1e-9);
    frame.set(given, {NumberColumn::of(held, volume->known), Origin::Predicted, "solubility model"});
  };
  return out;
}

// A tube of the file in which an oil or a cloud came on cooling, and in none as strong crystals.
struct OiledTube {
  System system;
  std::string name;
  double mg_ml = 0;
};

bool is_same_system(const System& one, const System& other) {
  constexpr double kSameFraction = 0.1;
  if (one.solvents.size() != other.solvents.size()) return false;
  if (!one.is_pair()) return one.solvents == other.solvents;
  const bool turned = one.solvents.front() == other.solvents.back() && one.solvents.back() == other.solvents.front();
  if (!turned && !(one.solvents == other.solvents)) return false;
  const double fraction = turned ? 1 - other.first_fraction : other.first_fraction;
  return std::abs(one.first_fraction - fraction) <= kSameFraction + 1e-9;
}

std::vector<OiledTube> oiled_tubes(const Inquiry& inquiry) {
  std::vector<OiledTube> oiled;
  std::vector<OiledTube> crystallized;
  for (const Trial& trial : inquiry.file.trials) {
    if (!trial.cooled || *trial.cooled == SeenOnCooling::Nothing || trial.doubtful) continue;
    const SystemAnswer answer = parse_system(trial.system.text, inquiry.knowledge->library);
    if (!answer.system || !trial.mass || !trial.volume || trial.volume->middle() <= 0) continue;
    const bool is_oil = *trial.cooled == SeenOnCooling::Oil || *trial.cooled == SeenOnCooling::Cloud;
    (is_oil ? oiled : crystallized)
        .push_back({answer.system->system, trial.tube, trial.mass->middle() / trial.volume->middle()});
  }
  std::erase_if(oiled, [&crystallized](const OiledTube& tube) {
    return std::any_of(crystallized.begin(), crystallized.end(), [&tube](const OiledTube& other) {
      return is_same_system(tube.system, other.system) && other.mg_ml >= tube.mg_ml * (1 - 1e-9);
    });
  });
  // The weakest says most.
  std::stable_sort(oiled.begin(), oiled.end(),
                   [](const OiledTube& left, const OiledTube& right) { return left.mg_ml < right.mg_ml; });
  return oiled;
}

// Places from 0 to 1 in the order of the scores, each once.
NumberColumn places_of(const ScenarioValues& scores) {
  std::array<std::size_t, kScenarioCount> order{};
  for (std::size_t k = 0; k < kScenarioCount; ++k) order[k] = k;
  std::stable_sort(order.begin(), order.end(),
                   [&scores](std::size_t left, std::size_t right) { return scores[left] < scores[right]; });
  ScenarioValues places{};
  for (std::size_t i = 0; i < kScenarioCount; ++i) {
    places[order[i]] = (static_cast<double>(i) + 0.5) / static_cast<double>(kScenarioCount);
  }
  return NumberColumn::of(places);
}

Producer oil_in_tubes(const Facts& fact, const Inquiry& inquiry) {
  Producer out;
  out.name = "tubes that oiled";
  out.gives = fact.all({"system.tube_oiled", "system.oiled_tube", "system.oil_place"});
  out.run = [gives = out.gives, oiled = oiled_tubes(inquiry), &inquiry](FactFrame& frame, std::size_t) {
    const auto tube = [&]() -> const OiledTube* {
      if (oiled.empty()) return nullptr;
      const System system = system_of(frame, inquiry.knowledge->library);
      const auto found = std::find_if(oiled.begin(), oiled.end(),
                                      [&](const OiledTube& one) { return is_same_system(one.system, system); });
      return found == oiled.end() ? nullptr : &*found;
    }();
    if (tube == nullptr) {
      for (const FactReference& given : gives) frame.set(given, unknown("no tube of the file oiled in it"));
      return;
    }
    const std::string source = "tube " + tube->name;
    frame.set(gives[0], {NumberColumn::of(tube->mg_ml), Origin::Given, source});
    frame.set(gives[1], {source, Origin::Given, source});
    // A solvent makes no pair with itself: the score is free.
    const std::size_t own = tube->system.solvents.front().index;
    frame.set(gives[2], {places_of(inquiry.scenarios.phase_score(own, own)), Origin::Assumed, "drawn"});
  };
  return out;
}

}  // namespace

std::vector<Producer> make_providers(const Catalogue& catalogue, const Inquiry& inquiry,
                                     Precision precision) {
  const Facts fact(catalogue);
  std::vector<Producer> out;
  out.push_back(boiling(fact, inquiry, precision));
  out.push_back(freezing(fact, inquiry));
  out.push_back(wet_melting(fact, inquiry, precision));
  out.push_back(oil_in_tubes(fact, inquiry));
  out.push_back(solubilities(fact, inquiry, precision));
  if (precision == Precision::Central) return out;
  out.push_back(flash(fact, inquiry));
  out.push_back(component_solubilities(fact, inquiry));
  out.push_back(contrast_of_pair(fact));
  out.push_back(lowest_boiling(fact, inquiry));
  out.push_back(phases(fact, inquiry));
  out.push_back(impurity_held(fact, inquiry));
  return out;
}

}  // namespace firstcrop
