#include "systems/frames.hpp"

#include <algorithm>
#include <cctype>

#include <fmt/format.h>

#include "systems/reactions.hpp"

namespace firstcrop {
namespace {

using Shared = std::shared_ptr<const FactValue>;

Shared share(FactValue value) {
  return std::make_shared<const FactValue>(std::move(value));
}

FactValue number(double value, Origin origin, std::string source = {}) {
  return {NumberColumn::of(value), origin, std::move(source)};
}
FactValue flag(bool value, Origin origin = Origin::Given) {
  return {FlagColumn::of(value), origin, {}};
}
FactValue text(std::string value, Origin origin = Origin::Published, std::string source = {}) {
  return {std::move(value), origin, std::move(source)};
}
FactValue set(std::vector<std::string> value, Origin origin = Origin::Published, std::string source = {}) {
  return {std::move(value), origin, std::move(source)};
}
FactValue unknown(std::string reason) {
  return {Unknown{std::move(reason)}, Origin::Calculated, {}};
}

FactValue sourced(const std::optional<SourcedValue>& value, const Library& library, const char* what) {
  if (!value) return unknown(fmt::format("{} is not in the library", what));
  return number(value->value, Origin::Published, library.source_text(value->source));
}

FactValue safety(const SafetyNumber& value, const Library& library, const char* what) {
  if (value.knowledge == Knowledge::Value)
    return number(value.value, Origin::Published, library.source_text(value.source));
  return unknown(value.knowledge == Knowledge::NoneKnown ? fmt::format("no {} is known", what)
                                                         : fmt::format("{} was not checked", what));
}

FactValue safety(const SafetyText& value, const Library& library, const char* none, const char* not_looked) {
  switch (value.knowledge) {
    case Knowledge::Value:
      return text(value.value, Origin::Published, library.source_text(value.source));
    case Knowledge::NoneKnown:
      return text(none, Origin::Published, library.source_text(value.source));
    case Knowledge::Unknown:
      break;
  }
  return text(not_looked, Origin::Assumed, "not checked");
}

std::string severity_word(const Reaction& reaction) {
  return reaction.severity ? std::string(name_of(*reaction.severity)) : std::string("none-known");
}

// A stated range becomes scenarios of which eight in ten lie between its ends.
FactValue stated_share(const std::optional<WrittenQuantity>& written, const char* reason) {
  if (!written) return unknown(reason);
  if (!(written->low < written->high)) return number(written->middle(), Origin::Given, "solute file");
  constexpr double kAtTheEnds = 0.12;
  ScenarioValues values{};
  for (std::size_t k = 0; k < kScenarioCount; ++k) {
    const double place = (static_cast<double>(k) + 0.5) / static_cast<double>(kScenarioCount);
    const double inner = std::clamp((place - kAtTheEnds) / (1 - 2 * kAtTheEnds), 0.0, 1.0);
    values[k] = written->low + inner * (written->high - written->low);
  }
  return {NumberColumn::of(values), Origin::Given, "solute file"};
}

}  // namespace

std::vector<std::string> with_base_codes(const std::vector<std::string>& codes) {
  std::vector<std::string> out = codes;
  for (const std::string& code : codes) {
    const std::string base = code.substr(0, 4);
    const bool longer =
        code.size() > 4 && code.front() == 'H' && std::isdigit(static_cast<unsigned char>(code[3])) != 0;
    if (longer && std::find(out.begin(), out.end(), base) == out.end()) out.push_back(base);
  }
  return out;
}

FrameMaker::FrameMaker(const Catalogue& catalogue, const Inquiry& inquiry)
    : catalogue_(&catalogue), inquiry_(&inquiry) {
  add_solute_facts();
  add_aim_facts();
  const auto& solvents = inquiry.knowledge->library.solvents();
  for (std::size_t i = 0; i < solvents.size(); ++i) by_solvent_.push_back(solvent_facts(SolventId{i}));
}

FactReference FrameMaker::fact(const char* name) const {
  // Every name used here is one of make_catalogue; a slip would be a fault of the program.
  return catalogue_->find(name).value();
}

void FrameMaker::add_solute_facts() {
  const Solute& solute = inquiry_->solute;
  const SoluteFile& file = inquiry_->file;
  const auto add = [this](const char* name, FactValue value) {
    common_.push_back({fact(name), share(std::move(value))});
  };
  if (inquiry_->melting_point_sd_k > 0) {
    ScenarioValues values{};
    for (std::size_t k = 0; k < kScenarioCount; ++k) {
      values[k] = inquiry_->melting_point_k + inquiry_->scenarios.melting_shift_k[k];
    }
    add("solute.melting_point",
        {NumberColumn::of(values), Origin::Assumed, "estimated from what is known of the structure"});
  } else {
    const bool given = inquiry_->melting_point_origin == Origin::Given;
    add("solute.melting_point", number(inquiry_->melting_point_k, inquiry_->melting_point_origin,
                                       given ? "solute file" : "our tables of solids"));
  }
  add("solute.melting_range", file.crude_melting_range
                                  ? number(file.crude_melting_range->high - file.crude_melting_range->low,
                                           Origin::Given, "solute file")
                                  : unknown("the melting range of the crude is not stated"));
  add("solute.decomposes_at",
      file.decomposes_at.temperature
          ? number(file.decomposes_at.temperature->low, Origin::Given, "solute file")
          : unknown(file.decomposes_at.none_known ? "none known" : "`decomposes_at` is not stated"));
  add("solute.molar_mass",
      number(solute.molar_mass.value, solute.molar_mass.origin, solute.molar_mass.source));
  add("solute.groups", solute.groups_known
                           ? set(solute.groups, Origin::Calculated, "structure or stated groups")
                           : unknown("neither `smiles` nor `groups` is stated"));
  add("solute.contains", set(file.contains, Origin::Given, "solute file"));
  add("solute.form", text(solute.form, Origin::Given));
  add("solute.insoluble", stated_share(file.insoluble, "`crude: {insoluble: ...}` is not stated"));
  const bool colours_known = file.crude_colour && file.pure_colour;
  add("solute.coloured", colours_known ? flag(*file.crude_colour != *file.pure_colour)
                                       : unknown("`colour: {crude: ..., pure: ...}` is not stated"));
  add("solute.energetic", solute.energetic ? flag(*solute.energetic, Origin::Calculated)
                                           : unknown("neither structure nor `energetic` is stated"));
  add("solute.outside_model", flag(!solute.outside_model.empty(), Origin::Calculated));
}

void FrameMaker::add_aim_facts() {
  const Aim& aim = inquiry_->aim;
  const auto add = [this](const char* name, FactValue value) {
    common_.push_back({fact(name), share(std::move(value))});
  };
  add("aim.heating_limit", number(aim.heating_limit_k, Origin::Given));
  add("aim.bath_temperature", number(aim.bath_temperature_k, Origin::Given));
  add("aim.room_temperature", number(aim.room_temperature_k, Origin::Given));
  add("aim.mass", number(aim.mass_mg, aim.mass_given ? Origin::Given : Origin::Assumed));
  add("aim.want", text(aim.want, Origin::Given));
  add("aim.banned", set(aim.ban, Origin::Given));
  add("aim.open_flame", flag(aim.open_flame));
  add("aim.ingested", flag(aim.ingested));
  add("aim.heating", text(aim.heating, Origin::Given));
  add("aim.hot_time", number(aim.hot_time_min, Origin::Given));
  add("aim.altitude", number(aim.altitude_m, Origin::Given));
  add("aim.peroxide_test", text(aim.peroxide_test, Origin::Given));
}

std::vector<FrameMaker::NamedValue> FrameMaker::solvent_facts(SolventId id) const {
  const Library& library = inquiry_->knowledge->library;
  const Solvent& solvent = library.solvent(id);
  std::vector<NamedValue> out;
  const auto add = [this, &out](const char* name, FactValue value) {
    out.push_back({fact(name), share(std::move(value))});
  };
  add("solvent.boiling_point", sourced(solvent.boiling_point_k, library, "the boiling point"));
  add("solvent.freezing_point", sourced(solvent.freezing_point_k, library, "the freezing point"));
  add("solvent.flash_point", safety(solvent.flash_point_k, library, "flash point"));
  add("solvent.autoignition", safety(solvent.autoignition_k, library, "autoignition temperature"));
  add("solvent.polarity", sourced(solvent.polarity, library, "the polarity"));
  std::vector<std::string> hazards = with_base_codes(solvent.hazard_statements.values);
  hazards.insert(hazards.end(), solvent.euh_statements.values.begin(), solvent.euh_statements.values.end());
  add("solvent.hazards",
      solvent.hazard_statements.knowledge == Knowledge::Unknown
          ? unknown("the hazard statements were not checked")
          : set(hazards, Origin::Published, library.source_text(solvent.hazard_statements.source)));
  add("solvent.classes", set(solvent.classes));
  add("solvent.id", text(solvent.id));
  add("solvent.name", text(solvent.name));
  add("solvent.family", text(solvent.family));
  add("solvent.peroxide_class", safety(solvent.peroxide_class, library, "none-known", "unknown"));
  add("solvent.iarc_group", safety(solvent.iarc_group, library, "none-known", "unknown"));
  add("solvent.q3c_class", safety(solvent.q3c_class, library, "not-listed", "not-listed"));
  const Reaction reaction = reaction_with_solid(id, inquiry_->reactions, inquiry_->aim, library);
  add("solvent.reaction", reaction.severity || was_looked_up(solvent)
                              ? text(severity_word(reaction), Origin::Published, reaction.source)
                              : unknown("nobody looked up a solvent without classes"));
  add("solvent.reaction_text", reaction.severity ? text(reaction.text, Origin::Published, reaction.source)
                                                 : unknown("no reaction is known"));
  add("solvent.usual", number(solvent.usual, Origin::Assumed, "habit, judged"));
  return out;
}

void FrameMaker::add_pair_facts(FactFrame& frame, const System& system) const {
  const Library& library = inquiry_->knowledge->library;
  const Solvent& good = library.solvent(system.solvents[0]);
  const Solvent& poor = library.solvent(system.solvents[1]);
  const Reaction reaction =
      reaction_between(system.solvents[0], system.solvents[1], inquiry_->reactions, inquiry_->aim, library);
  frame.set(fact("pair.reaction"), reaction.severity || (was_looked_up(good) && was_looked_up(poor))
                                       ? text(severity_word(reaction), Origin::Published, reaction.source)
                                       : unknown("nobody looked up a solvent without classes"));
  frame.set(fact("pair.reaction_text"), reaction.severity
                                            ? text(reaction.text, Origin::Published, reaction.source)
                                            : unknown("no reaction is known"));
  frame.set(fact("pair.boiling_gap"),
            number(poor.boiling_point_k->value - good.boiling_point_k->value, Origin::Published));
  const AzeotropeRecord* azeotrope = library.azeotrope(system.solvents[0], system.solvents[1]);
  frame.set(fact("pair.azeotrope"),
            azeotrope != nullptr
                ? FactValue{FlagColumn::of(true), Origin::Published, library.source_text(azeotrope->source)}
                : unknown("no azeotrope is on record; that is no proof of none"));
}

void FrameMaker::add_system_facts(FactFrame& frame, const System& system) const {
  const Library& library = inquiry_->knowledge->library;
  std::vector<std::string> ids;
  std::vector<std::string> classes;
  for (const SolventId id : system.solvents) {
    const Solvent& solvent = library.solvent(id);
    ids.push_back(solvent.id);
    for (const std::string& name : solvent.classes) {
      if (std::find(classes.begin(), classes.end(), name) == classes.end()) classes.push_back(name);
    }
  }
  frame.set(fact("system.solvents"), set(ids));
  frame.set(fact("system.classes"), set(classes));
  frame.set(fact("system.is_pair"), flag(system.is_pair()));
  const double usual = system.is_pair() ? library.usual(system.solvents[0], system.solvents[1])
                                        : library.solvent(system.solvents[0]).usual;
  frame.set(fact("system.usual"), number(usual, Origin::Assumed, "habit, judged"));
  const SystemEvidence* evidence = inquiry_->evidence_of(system);
  const bool has_outcome = evidence != nullptr && evidence->outcome;
  frame.set(fact("system.published"), flag(has_outcome && *evidence->outcome == "works"));
  frame.set(fact("system.published_outcome"),
            has_outcome ? text(*evidence->outcome,
                                   evidence->outcome_from_tables ? Origin::Published : Origin::Given,
                                   evidence->outcome_source)
                        : text("none-known", Origin::Given));
  System at = system;
  set_first_fraction(frame, at, system.first_fraction);
}

FactFrame FrameMaker::frame_for(const System& system) const {
  FactFrame frame(*catalogue_, system.solvents.size());
  for (const NamedValue& value : common_) frame.set(value.reference, value.value);
  for (std::size_t i = 0; i < system.solvents.size(); ++i) {
    for (const NamedValue& value : by_solvent_[system.solvents[i].index])
      frame.set(value.reference, value.value, i);
  }
  if (system.is_pair()) add_pair_facts(frame, system);
  add_system_facts(frame, system);
  return frame;
}

void FrameMaker::set_first_fraction(FactFrame& frame, System& system, double first_fraction) const {
  system.first_fraction = first_fraction;
  const Library& library = inquiry_->knowledge->library;
  double polarity = 0;
  double water = 0;
  bool polarity_known = true;
  for (std::size_t i = 0; i < system.solvents.size(); ++i) {
    const Solvent& solvent = library.solvent(system.solvents[i]);
    const double fraction = i == 0 ? first_fraction : 1 - first_fraction;
    if (solvent.polarity) {
      polarity += fraction * solvent.polarity->value;
    } else {
      polarity_known = false;
    }
    if (solvent.id == "water") water += fraction;
    // 95 % ethanol is a pair already: its water counts.
    if (solvent.id == "ethanol-95") water += 0.05 * fraction;
  }
  frame.set(fact("system.polarity"),
            polarity_known ? number(polarity, system.is_pair() ? Origin::Assumed : Origin::Published,
                                    system.is_pair() ? "mean by volume" : "E_T(N)")
                           : unknown("the polarity of a solvent is not in the library"));
  frame.set(fact("system.good_fraction"), number(first_fraction, Origin::Given));
  frame.set(fact("system.water_fraction"), number(water, Origin::Given));
}

Producer FrameMaker::owner() const {
  Producer out;
  out.name = "solute file and library";
  for (const NamedValue& value : common_) out.gives.push_back(value.reference);
  for (const char* name :
       {"pair.reaction", "pair.reaction_text", "pair.boiling_gap", "pair.azeotrope", "system.solvents",
        "system.classes", "system.polarity", "system.is_pair", "system.good_fraction",
        "system.water_fraction", "system.usual", "system.published", "system.published_outcome"}) {
    out.gives.push_back(fact(name));
  }
  out.run = [](FactFrame&, std::size_t) {};
  return out;
}

System system_of(const FactFrame& frame, const Library& library) {
  const Catalogue& catalogue = frame.catalogue();
  System out;
  const FactReference id = catalogue.find("solvent.id").value();
  for (std::size_t i = 0; i < frame.component_count(); ++i) {
    out.solvents.push_back(library.find_id(std::get<std::string>(frame.get(id, i).value)).value());
  }
  out.first_fraction =
      std::get<NumberColumn>(frame.get(catalogue.find("system.good_fraction").value()).value).certain;
  return out;
}

}  // namespace firstcrop
