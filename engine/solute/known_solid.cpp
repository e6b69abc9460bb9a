#include "solute/known_solid.hpp"

#include <algorithm>
#include <cmath>
#include <set>
#include <utility>
#include <variant>

#include <fmt/format.h>

#include "base/error.hpp"
#include "input/csv.hpp"

namespace firstcrop {
namespace {

// Melting points of one solid in print differ by less than this; isomers and racemates often by more. Judged.
constexpr double kSameMeltingPointK = 8;

constexpr double kZeroCelsiusK = 273.15;

// The structure without stereo marks: an `@`, `/` or `\` occurs in a SMILES for no other purpose, but leaving
// them out does not give the canonical form, so the comparison reads the structure again.
std::string without_stereo(const std::string& smiles) {
  if (smiles.find_first_of("@/\\") == std::string::npos) return smiles;
  const auto parsed = parse_smiles(smiles);
  const auto* molecule = std::get_if<Molecule>(&parsed);
  return molecule != nullptr ? molecule->canonical_smiles_without_stereo() : smiles;
}

struct Wanted {
  std::string canonical;
  std::string flat;
  std::string tautomer_key;
  std::optional<double> melting_point_k;
  [[nodiscard]] bool draws_stereo() const { return canonical != flat; }
};

bool melting_points_agree(const std::optional<double>& left, const std::optional<double>& right) {
  return !left || !right || std::abs(*left - *right) <= kSameMeltingPointK;
}

// Ignoring stereo marks a structure keeps all its letters; this is quick and passes nearly nothing else.
std::string letters(const std::string& smiles) {
  std::string out;
  for (const char character : smiles) {
    const bool is_letter = (character >= 'a' && character <= 'z') || (character >= 'A' && character <= 'Z');
    if (is_letter && character != 'H') out += character;
  }
  std::sort(out.begin(), out.end());
  return out;
}

std::optional<SolidMatch> match_of(const Wanted& wanted, const std::string& smiles,
                                   const std::optional<double>& melting_point_k) {
  if (smiles == wanted.canonical) return SolidMatch::Same;
  if (letters(smiles) != letters(wanted.canonical)) return std::nullopt;
  if (without_stereo(smiles) != wanted.flat) return std::nullopt;
  if (!melting_points_agree(wanted.melting_point_k, melting_point_k)) return std::nullopt;
  return wanted.draws_stereo() ? SolidMatch::OtherStereoMarks : SolidMatch::StereoNotDrawn;
}

// Smaller is better: exact, then the nearest melting point.
std::pair<int, double> preference(SolidMatch match, const Wanted& wanted,
                                  const std::optional<double>& melting_point_k) {
  const double difference =
      wanted.melting_point_k && melting_point_k ? std::abs(*wanted.melting_point_k - *melting_point_k) : 0;
  return {static_cast<int>(match), difference};
}

struct SolidRow {
  std::string number;
  KnownSolid solid;
};

std::optional<SolidRow> find_solid(const CsvTable& table, const Wanted& wanted) {
  const std::size_t number = table.column("solid");
  const std::size_t melting = table.column("melting_point_k");
  const std::size_t name = table.column("name");
  const std::size_t smiles = table.column("smiles");
  const std::size_t key = table.column("tautomer_key");
  std::optional<SolidRow> best;
  std::pair<int, double> best_preference;
  for (const auto& row : table.rows) {
    // Every row with the same structure has the same key, whatever its stereo marks.
    if (row[key] != wanted.tautomer_key) continue;
    const std::optional<double> melting_point_k = csv_number(row[melting]);
    std::optional<SolidMatch> match = match_of(wanted, row[smiles], melting_point_k);
    if (!match && without_stereo(row[smiles]) != wanted.flat &&
        melting_points_agree(wanted.melting_point_k, melting_point_k)) {
      match = SolidMatch::Tautomer;
    }
    if (!match) continue;
    const auto rank = preference(*match, wanted, melting_point_k);
    if (best && best_preference <= rank) continue;
    best_preference = rank;
    best = SolidRow{row[number], KnownSolid{row[name], row[smiles], *match, melting_point_k, {}, {}}};
  }
  return best;
}

std::vector<MeasuredCurve> curves_of(const CsvTable& table, const std::string& number) {
  const std::size_t solid = table.column("solid");
  const std::size_t solvent = table.column("solvent");
  const std::size_t level = table.column("level");
  const std::size_t enthalpy = table.column("enthalpy_kj_mol");
  const std::size_t coldest = table.column("coldest_k");
  const std::size_t hottest = table.column("hottest_k");
  const std::size_t points = table.column("points");
  const std::size_t source = table.column("source");
  const std::size_t doubt = table.column("doubt");
  std::vector<MeasuredCurve> out;
  for (const auto& row : table.rows) {
    if (row[solid] != number) continue;
    MeasuredCurve curve;
    curve.solvent = row[solvent];
    curve.level = csv_number(row[level]);
    curve.enthalpy_kj_mol = csv_number(row[enthalpy]);
    curve.coldest_k = required_csv_number(row[coldest]);
    curve.hottest_k = required_csv_number(row[hottest]);
    curve.points = static_cast<int>(required_csv_number(row[points]));
    curve.source = row[source];
    curve.doubt = row[doubt];
    out.push_back(std::move(curve));
  }
  return out;
}

PublishedUse use_of(const CsvTable& table, const std::vector<std::string>& row) {
  PublishedUse out;
  out.system = row[table.column("system")];
  const std::string& word = row[table.column("outcome")];
  const auto outcome = outcome_of(word);
  if (!outcome) throw Error(fmt::format("{}: `{}` is no outcome", table.path, word));
  out.outcome = *outcome;
  out.volume_ml_g = csv_number(row[table.column("volume_ml_g")]);
  if (const auto percent = csv_number(row[table.column("recovery_percent")])) out.recovery = *percent / 100;
  if (const auto celsius = csv_number(row[table.column("oils_above_c")])) {
    out.oils_above_k = *celsius + kZeroCelsiusK;
  }
  out.source = row[table.column("source")];
  out.from_memory = out.source.ends_with("memory");
  return out;
}

// Published systems name the solid by its structure; stereo marks that are missing on one side do not part them.
std::vector<PublishedUse> uses_of(const CsvTable& table, const Wanted& wanted, KnownSolid& solid) {
  const std::size_t smiles = table.column("smiles");
  std::vector<PublishedUse> out;
  for (const auto& row : table.rows) {
    if (!match_of(wanted, row[smiles], std::nullopt)) continue;
    const bool marks_differ =
        row[smiles] != wanted.canonical && wanted.draws_stereo() && row[smiles] != wanted.flat;
    if (marks_differ) continue;
    out.push_back(use_of(table, row));
    if (solid.name.empty()) solid.name = row[table.column("name")];
    if (!solid.melting_point_k) {
      if (const auto celsius = csv_number(row[table.column("melting_point_c")])) {
        solid.melting_point_k = *celsius + kZeroCelsiusK;
      }
    }
  }
  const auto order = [](const PublishedUse& use) {
    return std::pair(use.outcome != PublishedOutcome::Works, use.from_memory);
  };
  std::stable_sort(out.begin(), out.end(), [&order](const PublishedUse& left, const PublishedUse& right) {
    return order(left) < order(right);
  });
  return out;
}

std::string solids_path(const std::string& folder) { return folder + "/solids.csv"; }
std::string curves_path(const std::string& folder) { return folder + "/solubility-curves.csv"; }
std::string published_path(const std::string& folder) { return folder + "/published-systems.csv"; }

bool contains(const std::vector<std::string>& ids, const std::string& id) {
  return std::find(ids.begin(), ids.end(), id) != ids.end();
}

// One table under check: every complaint names file and row.
class TableCheck {
 public:
  TableCheck(const std::string& path, Findings& findings) : table_(read_csv(path)), findings_(findings) {}

  [[nodiscard]] std::size_t row_count() const { return table_.rows.size(); }
  [[nodiscard]] const std::string& cell(std::size_t row, const char* column) const {
    return table_.rows[row][table_.column(column)];
  }
  void complain(std::size_t row, std::string message, std::string help) const {
    findings_.error(Place{table_.path, table_.lines[row], 1, 1, {}}, std::move(message), std::move(help));
  }
  std::optional<double> number(std::size_t row, const char* column, double lowest, double highest,
                               bool may_be_empty) const {
    const std::string& text = cell(row, column);
    if (text.empty() && may_be_empty) return std::nullopt;
    try {
      const double value = required_csv_number(text);
      if (value >= lowest && value <= highest) return value;
    } catch (const Error&) {  // told below
    }
    complain(row, fmt::format("`{}` is no {}", text, column),
             fmt::format("a number from {} to {}", lowest, highest));
    return std::nullopt;
  }
  std::optional<Molecule> structure(std::size_t row) const {
    const std::string& smiles = cell(row, "smiles");
    const auto parsed = parse_smiles(smiles);
    if (const auto* fault = std::get_if<SmilesFault>(&parsed)) {
      complain(row, fmt::format("`{}` cannot be read: {}", smiles, fault->reason), "write a SMILES");
      return std::nullopt;
    }
    Molecule molecule = std::get<Molecule>(parsed);
    if (molecule.canonical_smiles() != smiles) {
      complain(row, fmt::format("`{}` is not in the canonical form", smiles),
               fmt::format("write `{}`", molecule.canonical_smiles()));
    }
    return molecule;
  }
  void source(std::size_t row) const {
    if (cell(row, "source").empty()) complain(row, "a source is missing", "name where the value stands");
  }

 private:
  CsvTable table_;
  Findings& findings_;
};

void check_solids(const std::string& folder, std::set<std::string>& numbers, Findings& findings) {
  const TableCheck table(solids_path(folder), findings);
  for (std::size_t row = 0; row < table.row_count(); ++row) {
    if (!numbers.insert(table.cell(row, "solid")).second) {
      table.complain(row, fmt::format("solid {} stands here again", table.cell(row, "solid")),
                     "give every solid its own number");
    }
    table.number(row, "melting_point_k", 150, 900, true);
    const auto molecule = table.structure(row);
    if (molecule && molecule->tautomer_key() != table.cell(row, "tautomer_key")) {
      table.complain(row, "the tautomer key does not belong to the structure",
                     fmt::format("write `{}`", molecule->tautomer_key()));
    }
  }
}

void check_curves(const std::string& folder, const std::set<std::string>& numbers, const std::vector<std::string>& solvent_ids,
                  Findings& findings) {
  const TableCheck table(curves_path(folder), findings);
  for (std::size_t row = 0; row < table.row_count(); ++row) {
    if (!numbers.contains(table.cell(row, "solid"))) {
      table.complain(row, fmt::format("no solid has the number `{}`", table.cell(row, "solid")),
                     "numbers stand in solids.csv");
    }
    if (!contains(solvent_ids, table.cell(row, "solvent"))) {
      table.complain(row, fmt::format("no solvent `{}`", table.cell(row, "solvent")),
                     "write an id of the library");
    }
    table.number(row, "level", -12, 2, true);
    table.number(row, "enthalpy_kj_mol", -150, 150, true);
    const auto coldest = table.number(row, "coldest_k", 150, 650, false);
    const auto hottest = table.number(row, "hottest_k", 150, 650, false);
    if (coldest && hottest && *coldest > *hottest) {
      table.complain(row, "the coldest temperature is above the hottest", "exchange them");
    }
    table.number(row, "points", 1, 1000, false);
    table.source(row);
  }
}

void check_published(const std::string& folder, const std::vector<std::string>& solvent_ids, Findings& findings) {
  const TableCheck table(published_path(folder), findings);
  for (std::size_t row = 0; row < table.row_count(); ++row) {
    (void)table.structure(row);
    const std::string& system = table.cell(row, "system");
    const std::size_t plus = system.find('+');
    const bool known = contains(solvent_ids, system.substr(0, plus)) &&
                       (plus == std::string::npos || contains(solvent_ids, system.substr(plus + 1)));
    if (!known) table.complain(row, fmt::format("no system `{}`", system), "write ids, a pair with `+`");
    if (!outcome_of(table.cell(row, "outcome"))) {
      table.complain(row, fmt::format("`{}` is no outcome", table.cell(row, "outcome")),
                     "works, too-soluble-cold, insoluble-hot, oils or reacts");
    }
    table.number(row, "melting_point_c", -50, 500, true);
    table.number(row, "volume_ml_g", 0.1, 1000, true);
    table.number(row, "recovery_percent", 0, 100, true);
    table.number(row, "oils_above_c", -20, 250, true);
    table.source(row);
  }
}

}  // namespace

std::optional<KnownSolid> find_known_solid(const std::string& folder, const SolidIdentity& identity) {
  const Molecule& molecule = identity.molecule;
  const Wanted wanted{molecule.canonical_smiles(), molecule.canonical_smiles_without_stereo(),
                      molecule.tautomer_key(), identity.melting_point_k};
  std::optional<SolidRow> found = find_solid(read_csv(solids_path(folder)), wanted);
  KnownSolid out;
  if (found) {
    out = std::move(found->solid);
    out.curves = curves_of(read_csv(curves_path(folder)), found->number);
  }
  out.published = uses_of(read_csv(published_path(folder)), wanted, out);
  if (!found) {
    if (out.published.empty()) return std::nullopt;
    out.canonical_smiles = wanted.canonical;
    out.match = SolidMatch::Same;
  }
  return out;
}

void check_known_solids(const std::string& folder, const std::vector<std::string>& solvent_ids, Findings& findings) {
  std::set<std::string> numbers;
  check_solids(folder, numbers, findings);
  check_curves(folder, numbers, solvent_ids, findings);
  check_published(folder, solvent_ids, findings);
}

}  // namespace firstcrop
