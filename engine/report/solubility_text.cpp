#include <algorithm>
#include <cmath>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "report/solubility_report.hpp"
#include "report/table.hpp"

namespace firstcrop {
namespace {

std::string celsius(double temperature_k) { return show(temperature_k, *find_unit("°C")); }

// Rows of one system stand together; each becomes one line of the table.
std::vector<std::vector<const SolubilityRow*>> by_system(const std::vector<SolubilityRow>& rows) {
  std::vector<std::vector<const SolubilityRow*>> out;
  for (const SolubilityRow& row : rows) {
    if (out.empty() || !(out.back().front()->system == row.system)) out.emplace_back();
    out.back().push_back(&row);
  }
  return out;
}

std::string origin_word(const SolubilityRow& row) {
  return row.solubility ? std::string(name_of(row.solubility->origin)) : "?";
}

std::string cell_of(const SolubilityRow& row) {
  std::string out = shown_bare(row.solubility, "mg/mL");
  if (!row.remark.empty() && row.solubility) out += "*";
  return out;
}

// Remarks in the order of temperature: `98 °C: above its boiling point`.
std::vector<std::string> remarks_of(const std::vector<const SolubilityRow*>& line) {
  std::vector<std::string> out;
  for (const SolubilityRow* row : line) {
    if (!row->remark.empty()) out.push_back(fmt::format("{}: {}", celsius(row->temperature_k), row->remark));
  }
  return out;
}

std::vector<Table::Column> columns_for(const char* first, const std::vector<double>& temperatures_k) {
  std::vector<Table::Column> out{{first, false}};
  for (const double temperature : temperatures_k) out.push_back({celsius(temperature), true});
  return out;
}

std::string singles_table(const Inquiry& inquiry, const SolubilityAnswer& answer) {
  std::vector<Table::Column> columns = columns_for("system", answer.temperatures_k);
  columns.push_back({"known by"});
  columns.push_back({"*"});
  Table table(std::move(columns));
  for (const auto& line : by_system(answer.rows)) {
    std::vector<std::string> cells{spoken_name(line.front()->system, inquiry.knowledge->library)};
    for (const SolubilityRow* row : line) cells.push_back(cell_of(*row));
    cells.push_back(origin_word(*line.front()));
    cells.push_back(fmt::format("{}", fmt::join(remarks_of(line), "; ")));
    table.add(std::move(cells));
  }
  return table.to_text(2);
}

std::string composition(const System& system, const Library& library) {
  return fmt::format("{:.0f} % {}", system.first_fraction * 100, library.solvent(system.solvents[0]).id);
}

std::string pair_table(const Inquiry& inquiry, const SolubilityAnswer& answer, const PairSolubility& pair) {
  const Library& library = inquiry.knowledge->library;
  std::string out = fmt::format("{} + {} by volume before mixing, mg per mL of solvents\n",
                                library.solvent(pair.best.solvents[0]).id,
                                library.solvent(pair.best.solvents[1]).id);
  std::vector<Table::Column> columns = columns_for("composition", answer.temperatures_k);
  columns.push_back({"*"});
  Table table(std::move(columns));
  for (const auto& line : by_system(pair.rows)) {
    std::vector<std::string> cells{composition(line.front()->system, library)};
    for (const SolubilityRow* row : line) cells.push_back(cell_of(*row));
    cells.push_back(fmt::format("{}", fmt::join(remarks_of(line), "; ")));
    table.add(std::move(cells));
  }
  out += table.to_text(2);
  const std::string good = library.solvent(pair.best.solvents[0]).id;
  const std::string poor = library.solvent(pair.best.solvents[1]).id;
  // What keeps the two from being a pair at all stands in the remarks; then no ratio is good.
  const bool is_no_pair = std::any_of(pair.rows.begin(), pair.rows.end(), [](const SolubilityRow& row) {
    return row.remark == "two liquids here" || row.remark == "the two solvents react" ||
           row.remark == "reacts with the solid" || row.remark == "separates as an oil here";
  });
  if (is_no_pair) return out + "  No ratio and no cloud are told: see the remarks.\n";
  if (pair.window.from < pair.window.to) {
    out += wrapped(fmt::format("Nearly as useful as at best between {:.0f} and {:.0f} % {}.", pair.window.from * 100,
                               pair.window.to * 100, good),
                   2, 2);
  }
  if (pair.cloud_volume) {
    out += wrapped(fmt::format("A hot solution ({}, 80 % saturated in {}) clouds after {} mL of {} per mL: go by the "
                               "cloud, not by the number.",
                               celsius(pair.hot_temperature_k), good, cloud_words(*pair.cloud_volume), poor),
                   2, 2);
  } else {
    out += wrapped(fmt::format("No cloud is foreseen when {} is added hot to the solution in {}.", poor, good), 2, 2);
  }
  return out;
}

}  // namespace

std::string solubility_text(const Inquiry& inquiry, const SolubilityAnswer& answer, const Style& style) {
  std::string out = style.strong(inquiry.solute.name) + "\n";
  for (const std::string& line : heading(inquiry)) out += wrapped(line, 2, 2);
  if (!answer.rows.empty()) {
    out += "\nSolubility, mg per mL of solvent\n" + singles_table(inquiry, answer);
  }
  for (const PairSolubility& pair : answer.pairs) out += "\n" + pair_table(inquiry, answer, pair);
  const std::vector<std::string> like = like_lines(inquiry);
  if (!like.empty()) {
    out += "\nSolubilities lean on\n";
    for (const std::string& line : like) out += wrapped(line, 2, 4);
  }
  out += "\nRanges hold 8 times in 10, laboratory scatter included; nobody can tell more than 1500 mg/mL.\n";
  return out;
}

}  // namespace firstcrop
