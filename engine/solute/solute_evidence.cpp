#include "solute/solute_evidence.hpp"

#include <fmt/format.h>

namespace firstcrop::detail {
namespace {

constexpr double kColdestK = 173.15;
constexpr double kHottestK = 573.15;
constexpr double kLargestTrialMg = 5000;
constexpr double kLargestTrialMl = 100;

std::optional<WrittenWord> required_system(Fields& fields, const NameCheck& check) {
  const auto text = fields.required_text("system", "name the solvent, e.g. `system: ethanol`");
  if (!text) return std::nullopt;
  const YamlNode& node = *fields.node("system");
  check_name(fields, node, check);
  return WrittenWord{*text, fields.place_of(node)};
}

std::optional<WrittenQuantity> temperature(Fields& fields, const char* key) {
  const auto out = fields.quantity(key, dimension::kTemperature, "25 °C");
  check_within(fields, fields.node(key), out, kColdestK, kHottestK, "temperature", "between -100 and 300 °C");
  return out;
}

// Solubilities come as mass per volume or as moles per volume.
std::optional<WrittenQuantity> read_solubility(Fields& fields) {
  const YamlNode* node = fields.node("solubility");
  if (node == nullptr) return std::nullopt;
  if (node->is_scalar()) {
    const ParsedQuantity molar = parse_quantity(node->text, dimension::kMolarConcentration);
    if (molar.fault == QuantityFault::None) return molar.quantity;
  }
  return fields.quantity_from(*node, dimension::kConcentration, "30 mg/mL");
}

}  // namespace

void check_name(const Fields& fields, const YamlNode& node, const NameCheck& check) {
  if (!check) return;
  if (auto fault = check(node.text)) fields.error(node, std::move(fault->message), std::move(fault->help));
}

void check_within(const Fields& fields, const YamlNode* node, const std::optional<WrittenQuantity>& quantity,
                  double low, double high, const std::string& meaning, const std::string& help) {
  if (node == nullptr || !quantity) return;
  if (quantity->low < low || quantity->high > high) {
    fields.error(*node, fmt::format("`{}` cannot be a {}", node->text, meaning), help);
  }
}

void read_known(Fields& file, const SoluteVocabulary& vocabulary, SoluteFile& solute) {
  for (const YamlNode* node : file.map_list("known")) {
    Fields entry(file.document(), *node, "an entry of `known`", file.findings());
    StatedValue known;
    known.place = file.place_of(*node);
    const auto system = required_system(
        entry, entry.node("solubility") != nullptr ? vocabulary.measured_system : vocabulary.system);
    known.at = temperature(entry, "at");
    known.solubility = read_solubility(entry);
    const YamlNode* solubility_node = entry.node("solubility");
    if (known.solubility && known.solubility->low <= 0) {
      entry.error(*solubility_node, "a solubility is above zero",
                  "leave the entry out, or write the limit that you could have seen as a tube in `trials`");
    }
    const auto per = entry.choice("per", {"solvent", "solution"});
    known.per_solution = per == "solution";
    if (const auto spread = entry.quantity("spread", dimension::kNumber, "20 %")) {
      check_within(entry, entry.node("spread"), spread, 0.001, 3, "relative spread",
                   "between 0.1 % and 300 %");
      known.spread = spread->middle();
    }
    known.wet_melting_point = temperature(entry, "wet_melting_point");
    if (const auto source = entry.text("source")) known.source = *source;
    if (solubility_node == nullptr && entry.node("wet_melting_point") == nullptr) {
      entry.error(*node, "this entry states neither `solubility` nor `wet_melting_point`",
                  "write e.g. `solubility: 30 mg/mL`");
    }
    if (solubility_node != nullptr && entry.node("at") == nullptr) {
      entry.error(*node, "a solubility needs its temperature", "add `at: 25 °C`");
    }
    entry.finish();
    if (!system) continue;
    known.system = *system;
    solute.known.push_back(std::move(known));
  }
}

void read_published(Fields& file, const SoluteVocabulary& vocabulary, SoluteFile& solute) {
  for (const YamlNode* node : file.map_list("published")) {
    Fields entry(file.document(), *node, "an entry of `published`", file.findings());
    const auto system = required_system(entry, vocabulary.system);
    entry.required_node("outcome", "one of: works, too-soluble-cold, insoluble-hot, oils, reacts");
    const auto outcome =
        entry.choice("outcome", {"works", "too-soluble-cold", "insoluble-hot", "oils", "reacts"});
    const auto source = entry.text("source");
    entry.finish();
    if (!system || !outcome) continue;
    PublishedSystem published;
    published.system = *system;
    published.source = source.value_or("solute file");
    published.outcome = outcome_of(*outcome).value_or(PublishedOutcome::Works);
    solute.published.push_back(std::move(published));
  }
}

void read_trials(Fields& file, const SoluteVocabulary& vocabulary, SoluteFile& solute) {
  for (const YamlNode* node : file.map_list("trials")) {
    Fields entry(file.document(), *node, "a tube of `trials`", file.findings());
    Trial trial;
    trial.place = file.place_of(*node);
    trial.tube = entry.text("tube").value_or(fmt::format("{}", solute.trials.size() + 1));
    const auto system = required_system(entry, vocabulary.measured_system);
    entry.required_node("mass", "add e.g. `mass: 50 mg`");
    trial.mass = entry.quantity("mass", dimension::kMass, "50 mg");
    check_within(entry, entry.node("mass"), trial.mass, 0.1, kLargestTrialMg, "mass in a test tube",
                 "between 0.1 mg and 5 g");
    entry.required_node("volume", "add e.g. `volume: 0.5 mL`");
    trial.volume = entry.quantity("volume", dimension::kVolume, "0.5 mL");
    check_within(entry, entry.node("volume"), trial.volume, 0.01, kLargestTrialMl, "volume in a test tube",
                 "between 0.01 and 100 mL");
    const auto dissolved = [&entry](const char* key) -> std::optional<SeenDissolved> {
      const auto word = entry.choice(key, {"all", "part", "none"});
      if (!word) return std::nullopt;
      return *word == "all"    ? SeenDissolved::All
             : *word == "part" ? SeenDissolved::Part
                               : SeenDissolved::None;
    };
    trial.cold = dissolved("cold");
    trial.hot = dissolved("hot");
    if (const YamlNode* at = entry.node("hot_at");
        at != nullptr && !(at->is_scalar() && at->text == "boil")) {
      trial.hot_at = temperature(entry, "hot_at");
    }
    if (const auto word = entry.choice("cooled", {"crystals", "powder", "oil", "cloud", "nothing"})) {
      trial.cooled = *word == "crystals" ? SeenOnCooling::Crystals
                     : *word == "powder" ? SeenOnCooling::Powder
                     : *word == "oil"    ? SeenOnCooling::Oil
                     : *word == "cloud"  ? SeenOnCooling::Cloud
                                         : SeenOnCooling::Nothing;
    }
    trial.cooled_to = temperature(entry, "cooled_to");
    trial.doubtful = entry.flag("doubtful").value_or(false);
    if (entry.node("cold") == nullptr && entry.node("hot") == nullptr && entry.node("cooled") == nullptr) {
      entry.error(*node, "this tube says nothing that was seen", "add `cold`, `hot` or `cooled`");
    }
    if (trial.cold == SeenDissolved::All && trial.hot && *trial.hot != SeenDissolved::All) {
      entry.error(*entry.node("hot"), "all dissolved cold, yet not all hot",
                  "check the two lines of this tube");
    }
    entry.finish();
    if (!system) continue;
    trial.system = *system;
    solute.trials.push_back(std::move(trial));
  }
}

}  // namespace firstcrop::detail
