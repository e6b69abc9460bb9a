#include "solute/solute_file.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "input/fields.hpp"
#include "solute/solute_evidence.hpp"

namespace firstcrop {
namespace {

using detail::check_within;

constexpr const char* kFormat = "firstcrop solute 1";
constexpr double kLargestShare = 0.99;

std::optional<Molecule> read_structure(Fields& fields, std::string_view help, std::string& written) {
  const auto text = fields.text("smiles");
  if (!text || fields.node("smiles")->cut_by_comma) return std::nullopt;
  auto parsed = parse_smiles(*text);
  if (auto* molecule = std::get_if<Molecule>(&parsed)) {
    written = *text;
    return std::move(*molecule);
  }
  const auto& fault = std::get<SmilesFault>(parsed);
  fields.findings().error(
      fields.document().place_within(*fields.node("smiles"), static_cast<int>(fault.position),
                                     static_cast<int>(fault.width)),
      fmt::format("this SMILES cannot be read: {}", fault.reason), std::string(help));
  return std::nullopt;
}

// Words of a list that must be in a closed vocabulary.
std::vector<WrittenWord> words_of(Fields& fields, const char* key, const std::vector<std::string>& vocabulary,
                                  const char* what) {
  std::vector<WrittenWord> out;
  for (const YamlNode* node : fields.scalar_list(key)) {
    if (std::find(vocabulary.begin(), vocabulary.end(), node->text) == vocabulary.end()) {
      const auto near = nearest_name(node->text, vocabulary);
      fields.error(*node, fmt::format("`{}` is not {}", node->text, what),
                   near ? fmt::format("did you mean `{}`?", *near)
                        : fmt::format("known words: {} ...", vocabulary.empty() ? "" : vocabulary.front()));
      continue;
    }
    out.push_back({node->text, fields.place_of(*node)});
  }
  return out;
}

void read_groups(Fields& fields, const GroupCatalogue& catalogue, SoluteFile& solute) {
  const YamlNode* list = fields.node("groups");
  if (list == nullptr) return;
  solute.groups_stated = true;
  std::vector<std::string> tokens;
  for (const YamlNode* node : fields.scalar_list("groups")) {
    const GroupDefinition* group = catalogue.find(node->text);
    if (group != nullptr) {
      tokens.push_back(group->token);
      continue;
    }
    std::vector<std::string> names;
    for (const GroupDefinition& known : catalogue.definitions()) {
      if (known.shown) names.push_back(known.token);
      names.insert(names.end(), known.also_known_as.begin(), known.also_known_as.end());
    }
    const auto near = nearest_name(node->text, names);
    fields.error(*node, fmt::format("`{}` is not a functional group known here", node->text),
                 near ? fmt::format("did you mean `{}`?", *near)
                      : "write e.g. `carboxylic-acid`, `secondary-amide`, `ether`, `arene`");
  }
  solute.groups = catalogue.with_parents(tokens);
}

bool is_plain_word(const std::string& text) {
  return !text.empty() && std::all_of(text.begin(), text.end(), [](char letter) {
    return (letter >= 'a' && letter <= 'z') || (letter >= 'A' && letter <= 'Z') || letter == '-' ||
           letter == '_' || letter == ' ';
  });
}

void tell_word_for_temperature(Fields& fields, const YamlNode& node) {
  const bool says_not_known = node.text == "unknown" || node.text == "not known";
  fields.error(node, fmt::format("a temperature or `none-known` is expected, not `{}`", node.text.substr(0, 60)),
               says_not_known ? "leave the key out; `none-known` says that it was looked for"
                              : "write `none-known` if it was looked for, or a temperature like `180 °C`");
}

void read_melting(Fields& fields, SoluteFile& solute) {
  solute.melting_point = fields.quantity("melting_point", dimension::kTemperature, "122 °C");
  check_within(fields, fields.node("melting_point"), solute.melting_point, 173.15, 873.15,
               "melting point of a solid", "in °C; below 600 °C");
  if (const YamlNode* node = fields.node("melting_point")) solute.melting_point_place = fields.place_of(*node);
  solute.crude_melting_range = fields.quantity("crude_melting_range", dimension::kTemperature, "66 to 70 °C");
  check_within(fields, fields.node("crude_melting_range"), solute.crude_melting_range, 173.15, 873.15,
               "melting range of a solid", "in °C; below 600 °C");
  if (solute.melting_point && solute.crude_melting_range &&
      solute.crude_melting_range->high > solute.melting_point->high + 10) {
    fields.findings().warning(fields.place_of(*fields.node("crude_melting_range")),
                              "the crude melts higher than the pure solid",
                              "impurities lower a melting point: check which solid this is");
  }
  if (const YamlNode* node = fields.node("decomposes_at"); node != nullptr) {
    if (node->is_scalar() && node->text == "none-known") {
      solute.decomposes_at.none_known = true;
    } else if (node->is_scalar() && is_plain_word(node->text)) {
      tell_word_for_temperature(fields, *node);
    } else {
      solute.decomposes_at.temperature = fields.quantity("decomposes_at", dimension::kTemperature, "180 °C");
      check_within(fields, node, solute.decomposes_at.temperature, 273.15, 1073.15,
                   "decomposition temperature", "in °C, or `none-known`");
    }
  }
}

void read_crude(Fields& file, SoluteFile& solute) {
  const YamlNode* node = file.node("crude");
  if (node == nullptr) return;
  Fields crude(file.document(), *node, "`crude`", file.findings());
  solute.crude_mass = crude.quantity("mass", dimension::kMass, "4 g");
  check_within(crude, crude.node("mass"), solute.crude_mass, 0.1, 1e8, "mass to recrystallize",
               "above 0.1 mg");
  solute.insoluble = crude.quantity("insoluble", dimension::kNumber, "0 to 2 %");
  check_within(crude, crude.node("insoluble"), solute.insoluble, 0, 0.99, "share of insoluble matter",
               "between 0 and 99 %");
  solute.moisture = crude.quantity("moisture", dimension::kNumber, "10 %");
  check_within(crude, crude.node("moisture"), solute.moisture, 0, 0.95, "share of water",
               "between 0 and 95 %");
  crude.finish();
}

void read_impurities(Fields& file, SoluteFile& solute) {
  double total_low = 0;
  for (const YamlNode* node : file.map_list("impurities")) {
    Fields entry(file.document(), *node, "an entry of `impurities`", file.findings());
    WrittenImpurity impurity;
    impurity.place = file.place_of(*node);
    const auto name = entry.required_text("name", "name the impurity");
    std::string written;
    impurity.molecule =
        read_structure(entry, "correct it at the mark, or leave it out: the name alone will do", written);
    impurity.share = entry.quantity("share", dimension::kNumber, "3 to 8 %");
    check_within(entry, entry.node("share"), impurity.share, 0, kLargestShare, "share of an impurity",
                 "between 0 and 99 %");
    entry.finish();
    // A share that is impossible by itself was told.
    if (impurity.share && impurity.share->high <= kLargestShare) total_low += impurity.share->low;
    impurity.name = name.value_or("");
    solute.impurities.push_back(std::move(impurity));
  }
  if (total_low >= 1) {
    file.error(*file.node("impurities"), "the impurities together are the whole crude",
               "shares are of the crude");
  }
}

void read_shelf(Fields& aim, const SoluteVocabulary& vocabulary, WrittenAim& out) {
  const std::vector<const YamlNode*> names = aim.scalar_list("shelf", true);
  const YamlNode* node = aim.node("shelf");
  if (node != nullptr && node->is_list() && node->items.empty()) {
    aim.error(*node, "`shelf` names no solvent", "name at least one, or leave `shelf` out for the usual one");
  }
  for (const YamlNode* name : names) {
    detail::check_name(aim, *name, names.size() == 1 ? vocabulary.shelf : vocabulary.solvent);
    out.shelf.push_back({name->text, aim.place_of(*name)});
  }
}

void read_bottles(Fields& aim, const SoluteVocabulary& vocabulary, WrittenAim& out) {
  const YamlNode* bottles = aim.node("bottle");
  if (bottles == nullptr) return;
  if (!bottles->is_map()) {
    aim.error(*bottles, "`bottle` must be a map of solvent and state",
              "write `bottle: {diisopropyl-ether: dated}`");
    return;
  }
  Fields states(aim.document(), *bottles, "`bottle`", aim.findings());
  for (const auto& [solvent, state] : bottles->entries) {
    detail::check_name(aim, solvent, vocabulary.solvent);
    const auto word = states.choice(solvent.text, {"fresh", "dated", "old", "crystals", "ethanol-stabilised",
                                                   "amylene-stabilised", "stabilised", "unstabilised"});
    if (word) out.bottle.emplace(solvent.text, WrittenWord{*word, aim.place_of(solvent)});
  }
}

void read_aim(Fields& file, const SoluteVocabulary& vocabulary, SoluteFile& solute) {
  const YamlNode* node = file.node("aim");
  if (node == nullptr) return;
  Fields aim(file.document(), *node, "`aim`", file.findings());
  WrittenAim& out = solute.aim;
  out.want = aim.choice("want", {"purity", "yield", "large-crystals"});
  read_shelf(aim, vocabulary, out);
  const auto temperature = [&aim](const char* key, double low_c, double high_c, const char* help) {
    const auto value = aim.quantity(key, dimension::kTemperature, "25 °C");
    check_within(aim, aim.node(key), value, low_c + 273.15, high_c + 273.15, "temperature here", help);
    return value;
  };
  out.heating_limit = temperature("heating_limit", 20, 300, "between 20 and 300 °C");
  out.bath_temperature = temperature("bath_temperature", -80, 40, "between -80 and 40 °C");
  if (out.heating_limit) out.heating_limit_place = aim.place_of(*aim.node("heating_limit"));
  if (out.bath_temperature) out.bath_temperature_place = aim.place_of(*aim.node("bath_temperature"));
  out.room_temperature = temperature("room_temperature", 0, 45, "between 0 and 45 °C");
  out.altitude = aim.quantity("altitude", dimension::kLength, "300 m");
  check_within(aim, aim.node("altitude"), out.altitude, -430, 6000, "height of a laboratory",
               "between -430 and 6000 m");
  out.open_flame = aim.flag("open_flame");
  out.heating = aim.choice("heating", {"water-bath", "steam-bath", "oil-bath", "hot-plate", "mantle"});
  out.ban = words_of(aim, "ban", vocabulary.ban_words, "a class of solvents or a hazard that can be banned");
  out.ingested = aim.flag("ingested");
  read_bottles(aim, vocabulary, out);
  out.hot_time = aim.quantity("hot_time", dimension::kTime, "30 min");
  check_within(aim, aim.node("hot_time"), out.hot_time, 0, 7 * 24 * 60.0, "time at the boil",
               "between 0 and 168 h");
  out.peroxide_test = aim.choice("peroxide_test", {"negative", "positive", "not-tested"});
  out.light = aim.flag("light");
  aim.finish();
}

void read_colour(Fields& file, SoluteFile& solute) {
  const YamlNode* node = file.node("colour");
  if (node == nullptr) return;
  Fields colour(file.document(), *node, "`colour`", file.findings());
  solute.crude_colour = colour.text("crude");
  solute.pure_colour = colour.text("pure");
  colour.finish();
}

void check_together(Fields& file, const SoluteFile& solute) {
  if (solute.molecule && solute.molar_mass) {
    const double mass = solute.molecule->molar_mass_g_mol();
    if (solute.molar_mass->low > mass * 1.02 || solute.molar_mass->high < mass * 0.98) {
      file.error(*file.node("molar_mass"), fmt::format("the structure weighs {:.2f} g/mol", mass),
                 "leave `molar_mass` out, or correct the structure");
    }
  }
  if (solute.molecule && solute.groups_stated) {
    file.error(*file.node("groups"), "both `smiles` and `groups` are stated", "keep `smiles`; it says more");
  }
}

}  // namespace

std::optional<SoluteFile> read_solute_file(const std::string& path, std::string text,
                                           const SoluteVocabulary& vocabulary, Findings& findings) {
  Findings own;
  std::optional<SoluteFile> out;
  if (const auto document = read_yaml(path, std::move(text), own)) {
    SoluteFile solute;
    solute.path = path;
    Fields file(*document, document->root(), "a solute file", own);
    if (file.is_map()) {
      check_format(file, kFormat);
      if (const auto name = file.required_text("name", "add `name: ...`, what stands on the jar"))
        solute.name = *name;
      solute.molecule =
          read_structure(file, "correct it at the mark, or state `groups` instead", solute.smiles);
      read_groups(file, *vocabulary.groups, solute);
      solute.molar_mass = file.quantity("molar_mass", dimension::kMolarMass, "150 g/mol");
      check_within(file, file.node("molar_mass"), solute.molar_mass, 20, 20000, "molar mass",
                   "between 20 and 20000 g/mol");
      solute.form = file.choice("form", {"neutral", "salt", "hydrate", "solvate"});
      read_melting(file, solute);
      read_colour(file, solute);
      for (const WrittenWord& word :
           words_of(file, "contains", vocabulary.residues, "a residue known here")) {
        solute.contains.push_back(word.text);
      }
      solute.energetic = file.flag("energetic");
      read_crude(file, solute);
      read_impurities(file, solute);
      detail::read_known(file, vocabulary, solute);
      detail::read_published(file, vocabulary, solute);
      detail::read_trials(file, vocabulary, solute);
      read_aim(file, vocabulary, solute);
      check_together(file, solute);
      file.finish();
    }
    if (!own.has_errors()) out = std::move(solute);
  }
  findings.append(own);
  return out;
}

}  // namespace firstcrop
