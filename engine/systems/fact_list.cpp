#include "systems/fact_list.hpp"

namespace firstcrop {
namespace {

using dimension::kConcentration;
using dimension::kLength;
using dimension::kMass;
using dimension::kMolarMass;
using dimension::kNumber;
using dimension::kTemperature;
using dimension::kTemperatureDifference;
using dimension::kTime;
using dimension::kVolumePerMass;

struct Builder {
  Catalogue catalogue;

  void number(const char* name, const Dimension& dimension, const char* unit, const char* meaning) {
    catalogue.add({name, FactType::Number, dimension, unit, meaning, {}});
  }
  void temperature(const char* name, const char* meaning) { number(name, kTemperature, "°C", meaning); }
  void difference(const char* name, const char* meaning) {
    number(name, kTemperatureDifference, "K", meaning);
  }
  void solubility(const char* name, const char* meaning) { number(name, kConcentration, "mg/mL", meaning); }
  void share(const char* name, const char* meaning) { number(name, kNumber, "%", meaning); }
  void plain(const char* name, const char* meaning) { number(name, kNumber, "", meaning); }
  void flag(const char* name, const char* meaning) {
    catalogue.add({name, FactType::Flag, kNumber, "", meaning, {}});
  }
  void text(const char* name, const char* meaning, std::vector<std::string> words = {}) {
    catalogue.add({name, FactType::Text, kNumber, "", meaning, std::move(words)});
  }
  void set(const char* name, const char* meaning) {
    catalogue.add({name, FactType::Set, kNumber, "", meaning, {}});
  }
};

void add_solute_facts(Builder& facts) {
  facts.temperature("solute.melting_point",
                    "melting point of the pure solid (clear point), estimated if not given");
  facts.difference("solute.melting_range", "width of the melting range of the crude");
  facts.temperature("solute.decomposes_at", "temperature at which the solid decomposes");
  facts.number("solute.molar_mass", kMolarMass, "g/mol", "molar mass");
  facts.plain("solute.polarity",
              "place on the polarity scale from 0 (alkane) to 1 (water), judged from the groups");
  facts.set("solute.groups", "functional groups, their parents included");
  facts.set("solute.contains", "residues in the crude and conditions that the solute file states");
  facts.text("solute.form", "what the solid is", {"neutral", "salt", "hydrate", "solvate"});
  facts.share("solute.insoluble", "share of insoluble matter in the crude");
  facts.flag("solute.coloured", "the crude is coloured and the pure solid is not");
  facts.flag("solute.may_sublime", "small and held by no hydrogen bonds: may leave the dish with the solvent");
  facts.flag("solute.energetic", "may explode when heated, rubbed or struck");
  facts.flag("solute.outside_model", "a kind of solid that the solubility model was not fitted on");
}

void add_solvent_facts(Builder& facts) {
  facts.temperature("solvent.boiling_point", "normal boiling point");
  facts.temperature("solvent.freezing_point", "freezing point");
  facts.temperature("solvent.flash_point", "lowest credible closed-cup flash point");
  facts.temperature("solvent.autoignition", "lowest published autoignition temperature");
  facts.plain("solvent.polarity", "E_T(N), from 0 (alkane) to 1 (water)");
  facts.set("solvent.hazards", "H codes; a code with letters counts as its base code too");
  facts.set("solvent.classes", "chemical classes; they overlap");
  facts.text("solvent.id", "id in the library");
  facts.text("solvent.name", "name");
  facts.text("solvent.family", "family under which the library files it");
  facts.text("solvent.peroxide_class", "how readily it forms peroxides",
             {"A", "B", "C", "none-known", "unknown"});
  facts.text("solvent.iarc_group", "cancer group of the IARC",
             {"1", "2A", "2B", "3", "none-known", "unknown"});
  facts.text("solvent.q3c_class", "residual solvent class of ICH Q3C", {"1", "2", "3", "not-listed"});
  facts.text("solvent.gravest_hazard", "the gravest thing that it does to people or by fire, in words");
  facts.text("solvent.reaction", "worst known reaction with the solid",
             {"dangerous", "reacts", "degrades", "caution", "none-known"});
  facts.text("solvent.reaction_text", "what happens with the solid");
  facts.plain("solvent.usual", "how usual it is as a first choice, 0 to 1 (habit)");
  facts.solubility("solvent.hot_solubility",
                   "solubility in it alone at the saturation temperature of the system");
  facts.solubility("solvent.cold_solubility", "solubility in it alone at the cold temperature of the system");
}

void add_pair_facts(Builder& facts) {
  facts.flag("pair.two_phases_hot", "the two part into layers at the hot temperature");
  facts.flag("pair.two_phases_cold", "the two part into layers at the cold temperature");
  facts.text("pair.phase_evidence", "how the miscibility is known", {"published", "calculated", "class", "not known"});
  facts.flag("pair.azeotrope", "an azeotrope is known or calculated");
  facts.temperature("pair.lowest_boiling_point", "lowest boiling point of the two and of all their mixtures");
  facts.difference("pair.boiling_gap", "boiling point of the poor minus that of the good solvent");
  facts.plain("pair.contrast", "log10 of the ratio of solubilities in the good and the poor solvent, cold");
  facts.text("pair.reaction", "worst known reaction between the two",
             {"dangerous", "reacts", "degrades", "caution", "none-known"});
  facts.text("pair.reaction_text", "what happens between the two");
}

void add_system_facts(Builder& facts) {
  facts.temperature("system.boiling_point", "boiling point at the altitude; of a pair at its composition");
  facts.temperature("system.freezing_point", "temperature below which it may freeze");
  facts.temperature("system.flash_point",
                    "flash point; of a pair the lower one of the two where not calculated");
  facts.temperature("system.wet_melting_point",
                    "temperature above which undissolved solid is a liquid in it");
  facts.flag("system.second_liquid_foreseen",
             "undissolved solid is seen, or foreseen, to turn to an oil in it below its dry melting point");
  facts.temperature("system.hot_temperature", "highest working temperature");
  facts.temperature("system.saturation_temperature",
                    "temperature at which the planned volume just holds the charge");
  facts.temperature("system.cold_temperature", "temperature at which the crystals are collected");
  facts.solubility("system.hot_solubility", "solubility at the saturation temperature");
  facts.solubility("system.working_solubility",
                   "solubility at the saturation temperature, no more than a workable liquor holds");
  facts.solubility("system.room_solubility", "solubility at room temperature");
  facts.solubility("system.cold_solubility", "solubility at the cold temperature");
  facts.plain("system.solubility_spread", "standard deviation of log10 solubility cold");
  facts.number("system.volume_per_gram", kVolumePerMass, "mL/g", "minimum volume for one gram of solid");
  facts.share("system.recovery_limit",
              "most that can come back at minimum volume: 1 - cold / working solubility");
  facts.share("system.impurity_held", "share of the named impurities that the minimum volume holds cold");
  facts.share("system.good_fraction", "volume fraction of the good solvent; 100 % for a single");
  facts.share("system.water_fraction", "volume fraction of water");
  facts.plain("system.polarity", "polarity; of a pair the mean by volume");
  facts.plain("system.usual", "how usual the system is as a first choice, 0 to 1 (habit)");
  facts.set("system.solvents", "ids of its solvents");
  facts.set("system.classes", "chemical classes of its solvents together");
  facts.flag("system.is_pair", "two solvents");
  facts.flag("system.published", "somebody published that it works for this solid");
  facts.text("system.published_outcome", "what was published or seen with this solid",
             {"works", "too-soluble-cold", "insoluble-hot", "oils", "reacts", "none-known"});
  facts.solubility("system.tube_oiled",
                   "strength of the weakest tube of the file that oiled or clouded in it on cooling, where none as strong "
                   "crystallized");
  facts.text("system.oiled_tube", "name of that tube");
  facts.share("system.oil_place", "place, drawn anew in every scenario, for what nobody can foresee of that oil");
  facts.share("system.after_oil", "what an oil in a tube leaves of its usefulness");
  facts.share("system.usefulness", "recovery limit from at most 300 mg/mL, times the hot window and what an oil in a tube leaves");
  facts.flag("system.works", "useful enough; its probability is the chance");
}

void add_aim_facts(Builder& facts) {
  facts.temperature("aim.heating_limit", "no hotter than this");
  facts.temperature("aim.bath_temperature", "temperature of the cold bath");
  facts.temperature("aim.room_temperature", "temperature of the room");
  facts.number("aim.mass", kMass, "g", "mass of crude to purify");
  facts.text("aim.want", "what counts most", {"purity", "yield", "large-crystals"});
  facts.set("aim.banned", "solvent classes and hazards that the user bans");
  facts.flag("aim.open_flame", "a flame burns in the room");
  facts.flag("aim.ingested", "the product will be eaten or injected");
  facts.text("aim.heating", "how it is heated",
             {"water-bath", "steam-bath", "oil-bath", "hot-plate", "mantle", "unknown"});
  facts.number("aim.hot_time", kTime, "min", "how long it stays hot");
  facts.number("aim.altitude", kLength, "m", "height above the sea");
  facts.text("aim.peroxide_test", "today's test for peroxides", {"negative", "positive", "not-tested"});
}

// Known on the bench sheet only; a rule about the sheet asks `known(plan.volume)` first.
void add_plan_facts(Builder& facts) {
  const auto volume = [&facts](const char* name, const char* meaning) {
    facts.number(name, dimension::kVolume, "mL", meaning);
  };
  volume("plan.volume", "volume of solvent taken, in all");
  volume("plan.minimum_volume", "volume that just dissolves the product hot");
  volume("plan.good_volume", "of a pair: volume of the good solvent");
  volume("plan.poor_volume", "of a pair: volume of the poor solvent");
  volume("plan.reserve", "solvent kept ready for what boils off");
  volume("plan.extra_volume", "more solvent for the hot filtration, boiled off again");
  volume("plan.wash_volume", "cold solvent for washing the crystals");
  volume("plan.oil_free_volume", "volume from which on the solid separates before an oil");
  volume("plan.second_volume", "volume to which the liquor is boiled down for a second crop");
  volume("plan.impurity_joins", "volume of the liquor below which a named impurity crystallizes too");
  facts.flag("plan.volume_typed", "the volume was asked for and does not follow from the solubility");
  facts.flag("plan.premixed", "of a pair: mixed beforehand, since so little of the good solvent would not dissolve it");
  facts.flag("plan.filters_hot", "the hot solution is filtered");
  facts.flag("plan.uses_charcoal", "the hot solution is treated with charcoal");
  facts.number("plan.charcoal", kMass, "mg", "charcoal in all");
  facts.temperature("plan.hold_at", "temperature of the hot solution");
  facts.flag("plan.keeps_moist", "the crop is not dried to the end and the liquor not boiled down");
  facts.temperature("plan.crystals_from", "temperature at which crystals start on cooling");
  facts.temperature("plan.filter_above", "temperature at which crystals start in the hot funnel");
  facts.temperature("plan.seed_at", "temperature at which a seed is put in");
  facts.temperature("plan.dry_below", "hottest that the crystals are dried");
  facts.plain("plan.supersaturation", "what is dissolved over what the cold solvent holds");
  facts.share("plan.expected_recovery", "crop over charge expected with the volume taken and the losses");
  facts.share("plan.ice_gain", "share of the charge that only the cold bath brings");
  facts.share("plan.liquor_share", "share of the product that the cold liquor holds");
  facts.share("plan.wash_loss", "share of the product that the wash dissolves");
  facts.share("plan.second_crop", "share of the charge that a second crop may bring");
}

void add_later_facts(Builder& facts) {
  facts.number("trial.ratio", kVolumePerMass, "mL/g", "volume of solvent per mass of solid in the tube");
  facts.text("trial.cold", "what was seen cold", {"all", "part", "none"});
  facts.text("trial.hot", "what was seen hot", {"all", "part", "none"});
  facts.text("trial.cooled", "what was seen on cooling", {"crystals", "powder", "oil", "cloud", "nothing"});
  facts.share("impurity.share", "share of a named impurity in the crude");
  facts.share("crop.recovery", "mass of the crop over mass of the crude");
  facts.share("crop.recovery_of_pure", "product in the crop over product in the crude");
  facts.share("crop.purity", "purity of the crop by mole, from its clear point");
  facts.difference("crop.melting_range", "width of the melting range of the crop");
  facts.difference("crop.melting_depression", "melting point of the pure solid minus clear point of the crop");
  facts.difference("crop.melting_gain", "clear point of the crop minus clear point of the crude");
}

}  // namespace

Catalogue make_catalogue() {
  Builder facts;
  add_solute_facts(facts);
  add_solvent_facts(facts);
  add_pair_facts(facts);
  add_system_facts(facts);
  add_aim_facts(facts);
  add_plan_facts(facts);
  add_later_facts(facts);
  return std::move(facts.catalogue);
}

}  // namespace firstcrop
