#include "library/solvent_reader.hpp"

#include <algorithm>
#include <iterator>
#include <variant>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "library/block_table.hpp"
#include "structure/molecule.hpp"
#include "structure/subgroups.hpp"

namespace firstcrop {
namespace {

constexpr Dimension kViscosity{.time = 1, .pressure = 1};
constexpr Dimension kEnergy = dimension::kEnergyPerAmount;

constexpr std::string_view kAntoineExample = "6.10962 1090.64 -41.95 from 229.7 K to 328.3 K [poling]";
constexpr std::string_view kDensityExample = "1.04911 -0.00114 from 273.15 K to 307.55 K [perry]";
constexpr std::string_view kAbrahamExample = "0.29 -0.42 0.92 2.95 -0.12 0.97 spread 0.11 [abraham-fit]";
constexpr double kRoomTemperatureK = 298.15;

bool is_id(std::string_view text) {
  const auto fits = [](char letter) {
    return (letter >= 'a' && letter <= 'z') || (letter >= '0' && letter <= '9') || letter == '-';
  };
  return !text.empty() && std::all_of(text.begin(), text.end(), fits) && text.front() != '-' &&
         text.back() != '-';
}

void check_smiles(Fields& fields, const std::string& smiles) {
  if (smiles.empty()) return;
  const auto parsed = parse_smiles(smiles);
  const auto* fault = std::get_if<SmilesFault>(&parsed);
  if (fault == nullptr) return;
  fields.findings().error(
      fields.document().place_within(*fields.node("smiles"), static_cast<int>(fault->position),
                                     static_cast<int>(fault->width)),
      fmt::format("this SMILES cannot be read: {}", fault->reason), "correct it at the mark, or leave it out");
}

// Incompatibilities speak of classes: a misspelt one would silence them.
void check_classes(RecordReader& reader, const std::vector<std::string>& classes) {
  const std::vector<std::string>& known = reader.policy().classes;
  if (known.empty() || classes.empty()) return;
  const Fields& fields = reader.fields();
  const YamlNode& node = *fields.map_node().find("classes");
  std::size_t from = 0;
  for (const std::string& word : classes) {
    from = node.text.find(word, from);
    if (std::find(known.begin(), known.end(), word) == known.end()) {
      const auto near = nearest_name(word, known);
      fields.findings().error(
          fields.document().place_within(node, character_count(node.text.substr(0, from)),
                                         character_count(word)),
          fmt::format("`{}` is not a class of solvents", word.substr(0, 60)),
          near ? fmt::format("did you mean `{}`?", *near) : fmt::format("known classes: {}", fmt::join(known, ", ")));
    }
    from += word.size();
  }
}

void read_identity(RecordReader& reader, Solvent& solvent) {
  Fields& fields = reader.fields();
  if (const auto id = fields.required_text("id", "write `id: my-solvent`, lower case with hyphens")) {
    if (is_id(*id)) {
      solvent.id = *id;
    } else {
      reader.error(*fields.node("id"), fmt::format("`{}` is not an id", *id),
                   "an id has small letters, digits and hyphens only, such as `ethyl-acetate`");
    }
  }
  if (const auto name = fields.required_text("name", "write the name for people: `name: ethyl acetate`")) {
    solvent.name = *name;
  }
  solvent.cas = fields.text("cas").value_or("");
  solvent.smiles = fields.text("smiles").value_or("");
  if (!reader.policy().of_library) check_smiles(fields, solvent.smiles);
  solvent.formula = fields.text("formula").value_or("");
  solvent.family = fields.text("family").value_or("");
  solvent.classes = split_words(fields.text("classes").value_or(""));
  check_classes(reader, solvent.classes);
  solvent.mixture = fields.text("mixture").value_or("");
  solvent.is_mixture = !solvent.mixture.empty();
  solvent.note = std::string(trimmed_text(fields.text("note").value_or("")));
}

std::optional<DensityLine> read_density_line(RecordReader& reader) {
  const auto numbers = reader.numbers("density_line", 2, kDensityExample);
  if (!numbers) return std::nullopt;
  const auto range = reader.kelvin_range(*numbers, kDensityExample);
  if (!range) return std::nullopt;
  return DensityLine{numbers->values[0], numbers->values[1],     range->first,
                     range->second,      numbers->scalar.source, numbers->scalar.remark};
}

std::optional<AntoineEquation> read_antoine(RecordReader& reader) {
  const auto numbers = reader.numbers("antoine", 3, kAntoineExample);
  if (!numbers) return std::nullopt;
  const auto range = reader.kelvin_range(*numbers, kAntoineExample);
  if (!range) return std::nullopt;
  AntoineEquation out{numbers->values[0], numbers->values[1],     numbers->values[2],    range->first,
                      range->second,      numbers->scalar.source, numbers->scalar.remark};
  if (out.b <= 0 || out.low_k <= -out.c) {
    reader.error(numbers->scalar.value, "such an equation does not rise with temperature",
                 "log10(p/kPa) = A - B/(T + C) with T in kelvin");
    return std::nullopt;
  }
  return out;
}

void read_hansen(RecordReader& reader, Solvent& solvent) {
  const auto numbers = reader.numbers("hansen", 3, "14.7 12.3 22.3 [hansen]");
  if (!numbers) return;
  const auto value = [&numbers](std::size_t i) {
    return SourcedValue{numbers->values[i], numbers->scalar.source, numbers->scalar.remark};
  };
  solvent.hansen_d = value(0);
  solvent.hansen_p = value(1);
  solvent.hansen_h = value(2);
}

void read_abraham(RecordReader& reader, Solvent& solvent) {
  const auto numbers = reader.numbers("abraham", 6, kAbrahamExample);
  if (!numbers) return;
  const auto spread = numbers->rest.size() == 2 && numbers->rest[0] == "spread"
                          ? read_number(numbers->rest[1])
                          : std::nullopt;
  if (!spread || *spread <= 0) {
    reader.error(numbers->scalar.value, "`abraham` ends with its spread",
                 fmt::format("write it like `{}`", kAbrahamExample));
    return;
  }
  solvent.abraham = numbers->values;
  solvent.abraham_spread = *spread;
  solvent.abraham_source = numbers->scalar.source;
}

std::optional<UnifacGroups> read_unifac(RecordReader& reader) {
  const auto scalar = reader.scalar("unifac");
  if (!scalar || scalar->value.text == "unknown") return std::nullopt;
  UnifacGroups out;
  for (const std::string& word : split_words(scalar->value.text)) {
    const std::size_t colon = word.find(':');
    const auto group = read_number(std::string_view(word).substr(0, colon));
    const auto count =
        colon == std::string::npos ? std::nullopt : read_number(std::string_view(word).substr(colon + 1));
    if (!group || !count || *count <= 0 || *group < 1 || *group > 1000 ||
        *group != static_cast<double>(static_cast<int>(*group))) {
      reader.error(scalar->value, fmt::format("`{}` is not a group with its count", word),
                   "write it like `1:1 2:1 14:1 [ddbst-dortmund]`");
      return std::nullopt;
    }
    out.counts[static_cast<int>(*group)] += *count;
  }
  out.hint_only = scalar->remark.starts_with("hint only");
  out.stand_in = out.hint_only || scalar->remark.starts_with("stand-in");
  out.source = scalar->source;
  out.remark = scalar->remark;
  return out;
}

std::string upper_case(std::string text) {
  for (char& letter : text)
    if (letter >= 'a' && letter <= 'z') letter = static_cast<char>(letter - 'a' + 'A');
  return text;
}

// The number of a subgroup that a person named, or wrote as a number; a finding where it is none.
std::optional<int> subgroup_at(RecordReader& reader, const YamlNode& name) {
  const SubgroupNames& known = reader.policy().subgroups;
  if (const auto number = read_number(name.text)) {
    for (const auto& [each, subgroup] : known)
      if (subgroup == *number) return subgroup;
  }
  const auto [first, last] = known.equal_range(upper_case(name.text));
  if (first == last) {
    std::vector<std::string> names;
    std::vector<std::string> kinds;
    for (const auto& [each, subgroup] : known) {
      names.push_back(each);
      if (each.starts_with(upper_case(name.text) + "(")) kinds.push_back(each);
    }
    const auto near = nearest_name(upper_case(name.text), names);
    std::string help = "names are those of modified UNIFAC (Dortmund), such as `CH3`, `CH2`, `OH(P)`, `CH3COO`";
    if (!kinds.empty()) {
      help = fmt::format("write {}", fmt::join(kinds, " or "));
    } else if (near) {
      help = fmt::format("did you mean `{}`?", *near);
    }
    reader.error(name, fmt::format("`{}` is not a group of modified UNIFAC", name.text.substr(0, 40)), help);
    return std::nullopt;
  }
  if (std::next(first) != last) {
    std::vector<int> numbers;
    for (auto at = first; at != last; ++at) numbers.push_back(at->second);
    reader.error(name, fmt::format("{} groups are named `{}`", numbers.size(), name.text),
                 fmt::format("write the number of the one you mean: {}", fmt::join(numbers, " or ")));
    return std::nullopt;
  }
  return first->second;
}

// `groups: {CH3: 2, CH2: 5}`
std::optional<UnifacGroups> read_named_groups(RecordReader& reader) {
  const YamlNode* node = reader.fields().node("groups");
  if (node == nullptr) return std::nullopt;
  constexpr const char* kHelp = "write names and counts: `groups: {CH3: 2, CH2: 5}`";
  if (!node->is_map() || node->entries.empty()) {
    reader.error(*node, "`groups` holds groups of modified UNIFAC with their counts", kHelp);
    return std::nullopt;
  }
  UnifacGroups out;
  bool sound = true;
  for (const YamlEntry& entry : node->entries) {
    const double count = entry.second.is_scalar() ? read_number(entry.second.text).value_or(0) : 0;
    constexpr double kMostOfOne = 100;
    if (!(count > 0) || count > kMostOfOne) {
      reader.error(entry.second, fmt::format("the count of `{}` is a number above 0", entry.first.text.substr(0, 40)),
                   kHelp);
      sound = false;
    }
    const auto number = subgroup_at(reader, entry.first);
    if (number) out.counts[*number] += count;
    sound = sound && number;
  }
  if (!sound) return std::nullopt;
  out.source = reader.policy().fallback_source;
  return out;
}

// What a structure adds to a person's own record: groups, where nobody wrote them, and the molar mass.
void derive_from_structure(RecordReader& reader, Solvent& solvent) {
  if (solvent.smiles.empty() || solvent.is_mixture) {
    if (!solvent.unifac)
      solvent.unifac_missing = solvent.is_mixture ? "it is a mixture" : "the record has neither `groups` nor `smiles`";
    return;
  }
  const auto parsed = parse_smiles(solvent.smiles);
  const auto* molecule = std::get_if<Molecule>(&parsed);
  if (molecule == nullptr) return;
  if (!solvent.molar_mass_g_mol) {
    solvent.molar_mass_g_mol =
        SourcedValue{molecule->molar_mass_g_mol(), reader.policy().fallback_source, "from the SMILES"};
  }
  if (solvent.unifac) return;
  SubgroupAssignment assigned = assign_subgroups(*molecule);
  if (assigned.counts.empty()) {
    solvent.unifac_missing = assigned.reason;
    return;
  }
  UnifacGroups out;
  out.counts = std::move(assigned.counts);
  out.source = reader.policy().fallback_source;
  out.remark = "assigned from the SMILES";
  solvent.unifac = std::move(out);
}

void read_properties(RecordReader& reader, Solvent& s) {
  s.molar_mass_g_mol =
      reader.value("molar_mass", dimension::kMolarMass, "g/mol", "74.12 g/mol [atomic-masses]", true);
  reader.fields().required_node("boiling_point", "write it at 101.325 kPa: `boiling_point: 77.1 °C [crc]`");
  s.boiling_point_k = reader.value("boiling_point", dimension::kTemperature, "", "77.1 °C [crc]", true);
  s.freezing_point_k = reader.value("freezing_point", dimension::kTemperature, "", "-83.8 °C [crc]", true);
  s.density_25c_g_ml = reader.value("density", dimension::kConcentration, "g/mL", "0.894 g/mL [crc]", true);
  s.density = read_density_line(reader);
  s.antoine = read_antoine(reader);
  s.enthalpy_of_vaporization_kj_mol =
      reader.value("enthalpy_of_vaporization", kEnergy, "kJ/mol", "31.9 kJ/mol [crc-vaporization]", true);
  s.enthalpy_of_vaporization_25c_kj_mol =
      reader.value("enthalpy_of_vaporization_25c", kEnergy, "kJ/mol", "35.6 kJ/mol [crc-vaporization]", true);
  s.permittivity = reader.value("permittivity", dimension::kNumber, "", "6.02 [crc-permittivity]", true);
  s.polarity = reader.value("polarity", dimension::kNumber, "", "0.228 [et30-table]");
  s.dipole_d = reader.value("dipole", dimension::kDipole, "D", "1.78 D [cccbdb]");
  s.viscosity_mpa_s = reader.value("viscosity", kViscosity, "mPa s", "0.42 mPa s [thermoml]", true);
  s.refractive_index = reader.value("refractive_index", dimension::kNumber, "", "1.372 [crc]", true);
  s.log_kow = reader.value("log_kow", dimension::kNumber, "", "0.73 [crc]");
  read_hansen(reader, s);
  read_abraham(reader, s);
  s.unifac = read_unifac(reader);
  if (!reader.policy().of_library) {
    if (auto named = read_named_groups(reader)) {
      if (s.unifac) {
        reader.error(*reader.fields().node("groups"), "`unifac` and `groups` say the same", "keep one of them");
      }
      s.unifac = std::move(named);
    }
    derive_from_structure(reader, s);
  }
  if (const auto usual = reader.value("usual", dimension::kNumber, "", "0.3 [own shelf]")) {
    if (usual->value >= 0 && usual->value <= 1) {
      s.usual = usual->value;
    } else {
      reader.error(*reader.fields().node("usual"), "`usual` lies between 0 and 1", "write it like `0.3`");
    }
  }
}

void compute_derived(Solvent& s) {
  if (s.molar_mass_g_mol && s.density_25c_g_ml) {
    s.molar_volume_ml_mol = SourcedValue{s.molar_mass_g_mol->value / s.density_25c_g_ml->value, "computed",
                                         s.density_25c_g_ml->remark};
  }
  if (s.antoine) {
    const double pressure = s.antoine->pressure_kpa(kRoomTemperatureK);
    const bool outside = kRoomTemperatureK < s.antoine->low_k || kRoomTemperatureK > s.antoine->high_k;
    if (pressure > 0)
      s.vapour_pressure_25c_kpa = SourcedValue{pressure, "computed", outside ? "extrapolated" : ""};
  }
}

}  // namespace

std::vector<ReadSolvent> read_solvents(const YamlDocument& document, const RecordPolicy& policy,
                                       Findings& findings) {
  std::vector<ReadSolvent> out;
  Fields file(document, document.root(), "solvent file", findings);
  check_format(file, "firstcrop solvents 1");
  file.required_node("solvents", "write `solvents:` and one record for each");
  for (const YamlNode* record : file.map_list("solvents")) {
    const YamlNode* id = record->find("id");
    const bool named = id != nullptr && id->is_scalar() && !id->text.empty();
    Findings own;
    Fields fields(document, *record, named ? fmt::format("solvent `{}`", id->text) : "a solvent", own);
    RecordReader reader(fields, policy);
    ReadSolvent read;
    read.id = id;
    read_identity(reader, read.solvent);
    read_properties(reader, read.solvent);
    read_safety(reader, read.solvent);
    read.solvent.from_user = !policy.of_library;
    fields.finish();
    findings.append(own);
    if (own.has_errors()) continue;
    compute_derived(read.solvent);
    out.push_back(std::move(read));
  }
  file.finish();
  return out;
}

}  // namespace firstcrop
