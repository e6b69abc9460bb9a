#include "report/solvents_text.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "report/json_tools.hpp"
#include "report/table.hpp"

namespace firstcrop {
namespace {

using report::Json;

/// One line of a record: label, value as shown, keys of its sources.
struct Entry {
  std::string key;
  std::string label;
  std::string value;
  std::string source;
};

class RecordLines {
 public:
  explicit RecordLines(std::vector<Entry>& out) : out_(out) {}

  void number(const char* key, const char* label, const std::optional<SourcedValue>& value, const char* unit,
              int decimals) {
    if (!value) {
      out_.push_back({key, label, "unknown", ""});
      return;
    }
    const Unit written = find_unit(unit).value_or(Unit{"", dimension::kNumber, 1, 0});
    // Members are in the unit that their name says, which differs from the canonical one for temperatures
    // only.
    const double shown_value =
        written.dimension == dimension::kTemperature ? written.from_canonical(value->value) : value->value;
    std::string text = fmt::format("{:.{}f}{}{}", shown_value, decimals, *unit == '\0' ? "" : " ", unit);
    if (!value->remark.empty()) text += fmt::format(" ({})", value->remark);
    out_.push_back({key, label, std::move(text), value->source});
  }
  void safety(const char* key, const char* label, const SafetyNumber& value, const char* unit, double scale,
              double offset, int decimals) {
    std::string text = unknown_word(value.knowledge);
    if (value.knowledge == Knowledge::Value) {
      text =
          fmt::format("{:.{}f}{}{}", value.value * scale + offset, decimals, *unit == '\0' ? "" : " ", unit);
    }
    if (!value.basis.empty()) text += fmt::format(" ({})", value.basis);
    out_.push_back({key, label, std::move(text), value.source});
  }
  void safety(const char* key, const char* label, const SafetyText& value) {
    std::string text = value.knowledge == Knowledge::Value ? value.value : unknown_word(value.knowledge);
    if (!value.remark.empty()) text += fmt::format(" ({})", value.remark);
    out_.push_back({key, label, std::move(text), value.source});
  }
  void safety(const char* key, const char* label, const SafetyList& value) {
    std::string text = value.knowledge == Knowledge::Value ? fmt::format("{}", fmt::join(value.values, " "))
                                                           : unknown_word(value.knowledge);
    if (!value.remark.empty()) text += fmt::format(" ({})", value.remark);
    out_.push_back({key, label, std::move(text), value.source});
  }
  void text(const char* key, const char* label, std::string value) {
    if (!value.empty()) out_.push_back({key, label, std::move(value), ""});
  }

 private:
  static std::string unknown_word(Knowledge knowledge) {
    return knowledge == Knowledge::NoneKnown ? "none known" : "not checked";
  }
  std::vector<Entry>& out_;
};

std::vector<Entry> identity_of(const Solvent& solvent) {
  std::vector<Entry> out;
  RecordLines lines(out);
  lines.text("name", "name", solvent.name);
  lines.text("cas", "CAS number", solvent.cas);
  lines.text("smiles", "SMILES", solvent.smiles);
  lines.text("formula", "formula", solvent.formula);
  lines.text("family", "family", solvent.family);
  lines.text("classes", "classes", fmt::format("{}", fmt::join(solvent.classes, ", ")));
  lines.text("mixture", "stands for", solvent.mixture);
  return out;
}

std::vector<Entry> properties_of(const Solvent& s) {
  std::vector<Entry> out;
  RecordLines lines(out);
  lines.number("molar_mass", "molar mass", s.molar_mass_g_mol, "g/mol", 2);
  lines.number("boiling_point", "boiling point", s.boiling_point_k, "°C", 1);
  lines.number("freezing_point", "freezing point", s.freezing_point_k, "°C", 1);
  lines.number("density", "density, 25 °C", s.density_25c_g_ml, "g/mL", 3);
  if (s.molar_volume_ml_mol)
    lines.number("molar_volume", "molar volume, 25 °C", s.molar_volume_ml_mol, "cm3/mol", 1);
  if (s.density) {
    out.push_back({"density_line", "density line",
                   fmt::format("{:g} {:+g} T g/mL, {:.0f} to {:.0f} K", s.density->a, s.density->b,
                               s.density->low_k, s.density->high_k),
                   s.density->source});
  }
  if (s.antoine) {
    out.push_back({"antoine", "vapour pressure",
                   fmt::format("log10(p/kPa) = {:g} - {:g}/(T {:+g}), {:.0f} to {:.0f} K", s.antoine->a,
                               s.antoine->b, s.antoine->c, s.antoine->low_k, s.antoine->high_k),
                   s.antoine->source});
  }
  if (s.vapour_pressure_25c_kpa)
    lines.number("vapour_pressure_25c", "vapour pressure, 25 °C", s.vapour_pressure_25c_kpa, "kPa", 2);
  lines.number("enthalpy_of_vaporization", "enthalpy of vaporization", s.enthalpy_of_vaporization_kj_mol,
               "kJ/mol", 1);
  lines.number("polarity", "polarity E_T(N)", s.polarity, "", 3);
  lines.number("permittivity", "permittivity, 25 °C", s.permittivity, "", 1);
  lines.number("dipole", "dipole moment", s.dipole_d, "D", 2);
  lines.number("viscosity", "viscosity, 25 °C", s.viscosity_mpa_s, "mPa s", 2);
  lines.number("refractive_index", "refractive index, 20 °C", s.refractive_index, "", 3);
  lines.number("log_kow", "log P (octanol-water)", s.log_kow, "", 2);
  if (s.hansen_d && s.hansen_p && s.hansen_h) {
    out.push_back(
        {"hansen", "Hansen d, p, h",
         fmt::format("{:.1f} {:.1f} {:.1f} MPa^0.5", s.hansen_d->value, s.hansen_p->value, s.hansen_h->value),
         s.hansen_d->source});
  }
  if (s.abraham) {
    out.push_back({"abraham", "Abraham c e s a b l", fmt::format("{:.3f}", fmt::join(*s.abraham, " ")),
                   s.abraham_source});
  }
  if (s.unifac && !s.unifac->counts.empty()) {
    std::string groups;
    for (const auto& [group, count] : s.unifac->counts)
      groups += fmt::format("{}{}:{:g}", groups.empty() ? "" : " ", group, count);
    if (s.unifac->stand_in) groups += " (stand-in)";
    if (s.from_user && !s.unifac->remark.empty()) groups += fmt::format(" ({})", s.unifac->remark);
    out.push_back({"unifac", "UNIFAC (Dortmund) groups", groups, s.unifac->source});
  }
  if (!s.unifac_missing.empty()) {
    out.push_back({"unifac", "UNIFAC (Dortmund) groups",
                   fmt::format("none: {}; mixing, azeotropes and boiling with others are not calculated",
                               s.unifac_missing),
                   ""});
  }
  out.push_back({"usual", "usual as a first choice", fmt::format("{:.2f} (habit, judged)", s.usual), ""});
  return out;
}

// How the solubility model knows a person's own solvent.
std::vector<Entry> model_of(const KnowledgeBase& knowledge, SolventId id) {
  std::vector<Entry> out;
  if (!knowledge.library.solvent(id).from_user) return out;
  const auto lent = knowledge.borrowed.find(id.index);
  if (lent == knowledge.borrowed.end()) {
    out.push_back({"basis", "solubility", "predicted from the traits of the record", ""});
    return out;
  }
  constexpr std::size_t kShown = 6;
  std::vector<std::string> lenders;
  for (const auto& [lender, weight] : lent->second.lenders) {
    if (lenders.size() < kShown)
      lenders.push_back(fmt::format("{} {:.0f} %", knowledge.library.solvent(lender).id, 100 * weight));
  }
  if (lent->second.lenders.size() > kShown)
    lenders.push_back(fmt::format("{} more", lent->second.lenders.size() - kShown));
  out.push_back({"basis", "solubility", fmt::format("assumed from solvents like it: {}", fmt::join(lenders, ", ")), ""});
  out.push_back({"compared", "compared by", fmt::format("{}", fmt::join(lent->second.compared, ", ")), ""});
  out.push_back({"spread", "spread that adds", fmt::format("{:.2f} log10 units", std::sqrt(lent->second.traits.borrowed_variance)), ""});
  if (!lent->second.helpful.empty()) {
    out.push_back({"helpful", "would tell more",
                   fmt::format("{}; with `abraham`, `hansen`, `density` and `molar_mass` nothing is borrowed",
                               fmt::join(lent->second.helpful, ", ")), ""});
  }
  return out;
}

std::vector<Entry> safety_of(const Solvent& s) {
  std::vector<Entry> out;
  RecordLines lines(out);
  lines.safety("flash_point", "flash point", s.flash_point_k, "°C", 1, -273.15, 0);
  lines.safety("autoignition", "autoignition", s.autoignition_k, "°C", 1, -273.15, 0);
  lines.safety("temperature_class", "temperature class", s.temperature_class);
  lines.safety("lower_flammable_limit", "lower flammable limit", s.lower_flammable_limit, "%", 100, 0, 1);
  lines.safety("upper_flammable_limit", "upper flammable limit", s.upper_flammable_limit, "%", 100, 0, 1);
  lines.safety("signal_word", "signal word", s.signal_word);
  lines.safety("hazard_statements", "hazard statements", s.hazard_statements);
  lines.safety("supplier_statements", "suppliers add", s.supplier_statements);
  lines.safety("euh_statements", "EUH statements", s.euh_statements);
  lines.safety("pictograms", "pictograms", s.pictograms);
  lines.safety("peroxide_class", "peroxide class", s.peroxide_class);
  lines.safety("iarc_group", "IARC group", s.iarc_group);
  lines.safety("ntp_listing", "NTP listing", s.ntp_listing);
  lines.safety("q3c_class", "ICH Q3C class", s.q3c_class);
  lines.safety("q3c_limit", "ICH Q3C limit", s.q3c_limit_ppm, "ppm", 1, 0, 0);
  lines.safety("q3c_daily", "ICH Q3C daily dose", s.q3c_daily_mg, "mg", 1, 0, 1);
  lines.safety("osha_limit", "OSHA limit", s.osha_limit_ppm, "ppm", 1, 0, 0);
  lines.safety("niosh_limit", "NIOSH limit", s.niosh_limit_ppm, "ppm", 1, 0, 0);
  lines.safety("idlh", "danger to life", s.idlh_ppm, "ppm", 1, 0, 0);
  for (const SolventRemark& remark : s.remarks) {
    out.push_back({"remark", remark.topic, remark.text, remark.source});
  }
  lines.text("note", "note", s.note);
  return out;
}

std::string block(const std::string& title, const std::vector<Entry>& entries, const Library& library,
                  const Style& style, std::vector<std::pair<std::string, std::string>>& sources) {
  std::string out = style.strong(title) + "\n";
  for (const Entry& entry : entries) {
    std::string keys;
    std::string rest = entry.source;
    while (!rest.empty()) {
      const std::size_t blank = rest.find(' ');
      const std::string key = rest.substr(0, blank);
      rest = blank == std::string::npos ? "" : rest.substr(blank + 1);
      if (key.empty()) continue;
      keys += fmt::format("{}{}", keys.empty() ? "" : " ", key);
      const bool known = std::any_of(sources.begin(), sources.end(),
                                     [&key](const auto& source) { return source.first == key; });
      if (!known) sources.emplace_back(key, library.source_text(key));
    }
    const std::string value = keys.empty() ? entry.value : fmt::format("{} [{}]", entry.value, keys);
    out += indented("  " + entry.label + " ", value, 28);
  }
  return out;
}

Json entries_json(const std::vector<Entry>& entries, const Library& library) {
  Json out = Json::object();
  for (const Entry& entry : entries) {
    Json value{{"shown", entry.value}};
    if (!entry.source.empty()) value["source"] = library.source_text(entry.source);
    if (entry.key == "remark") {
      out[entry.label] = std::move(value);
    } else {
      out[entry.key] = std::move(value);
    }
  }
  return out;
}

}  // namespace

std::string solvents_text(const Library& library, const Style& style) {
  Table table({{"id"},
               {"boils, °C", true},
               {"freezes, °C", true},
               {"polarity", true},
               {"flash, °C", true},
               {"Q3C"},
               {"peroxides"},
               {"hazards"}});
  for (const Solvent& solvent : library.solvents()) {
    const auto celsius = [](const std::optional<SourcedValue>& value) {
      return value ? fmt::format("{:.0f}", value->value - 273.15) : std::string("?");
    };
    const auto word = [](const SafetyText& text) {
      return text.value == "not-listed"               ? std::string("-")
             : text.knowledge == Knowledge::Value     ? text.value
             : text.knowledge == Knowledge::NoneKnown ? std::string("-")
                                                      : std::string("?");
    };
    std::string hazards = fmt::format("{}", fmt::join(solvent.hazard_statements.values, " "));
    const SafetyNumber& flash = solvent.flash_point_k;
    table.add({solvent.id, celsius(solvent.boiling_point_k), celsius(solvent.freezing_point_k),
               solvent.polarity ? fmt::format("{:.2f}", solvent.polarity->value) : "?",
               flash.knowledge == Knowledge::Value       ? fmt::format("{:.0f}", flash.value - 273.15)
               : flash.knowledge == Knowledge::NoneKnown ? "-"
                                                         : "?",
               word(solvent.q3c_class), word(solvent.peroxide_class), hazards});
  }
  std::string out = table.to_text();
  out += fmt::format(
      "\n{} solvents. `-` none known or not listed, `?` not checked: never read either as safe.\n"
      "`firstcrop solvents NAME` shows a record.\n",
      library.solvents().size());
  out += "Shelves:";
  for (const std::string& name : library.shelf_names()) {
    if (const auto shelf = library.shelf(name)) out += fmt::format(" {} ({})", name, shelf->solvents.size());
  }
  static_cast<void>(style);
  return out + "\n";
}

std::string solvent_text(const KnowledgeBase& knowledge, SolventId id, const Style& style) {
  const Library& library = knowledge.library;
  const Solvent& solvent = library.solvent(id);
  std::vector<std::pair<std::string, std::string>> sources;
  std::string out = block(solvent.id, identity_of(solvent), library, style, sources);
  out += "\n" + block("Properties", properties_of(solvent), library, style, sources);
  const std::vector<Entry> model = model_of(knowledge, id);
  if (!model.empty()) out += "\n" + block("In the solubility model", model, library, style, sources);
  out += "\n" + block("Hazards", safety_of(solvent), library, style, sources);
  out += "\n" + style.strong("Sources") + "\n";
  for (const auto& [key, text] : sources) out += indented("  [" + key + "] ", text, 28);
  out +=
      "\nThe current safety data sheet, local rules and trained supervision decide. `not checked` is\nnot "
      "`safe`.\n";
  return out;
}

std::string solvents_json(const KnowledgeBase& knowledge, std::optional<SolventId> only, const std::string& version,
                          const std::string& data_fingerprint) {
  const Library& library = knowledge.library;
  Json list = Json::array();
  for (std::size_t i = 0; i < library.solvents().size(); ++i) {
    if (only && only->index != i) continue;
    const Solvent& solvent = library.solvents()[i];
    list.push_back({{"id", solvent.id},
                    {"identity", entries_json(identity_of(solvent), library)},
                    {"properties", entries_json(properties_of(solvent), library)},
                    {"hazards", entries_json(safety_of(solvent), library)}});
    if (solvent.from_user) list.back()["model"] = entries_json(model_of(knowledge, SolventId{i}), library);
  }
  return report::to_text(Json{{"format", "firstcrop/solvents/1"},
                              {"program", version},
                              {"data", data_fingerprint},
                              {"solvents", std::move(list)}});
}

}  // namespace firstcrop
