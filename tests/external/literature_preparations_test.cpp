#include <doctest/doctest.h>

#include <iostream>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "input/csv.hpp"
#include "knowledge_fixture.hpp"
#include "plan/bench_plan.hpp"
#include "ranking/rule_files.hpp"
#include "systems/fact_list.hpp"

namespace firstcrop {
namespace {

// A preparation with the volume that was taken or the share that came back, each with its source in the table.
struct Preparation {
  std::string name;
  std::string smiles;
  std::optional<double> melting_point_c;
  std::string system;
  std::optional<double> volume_ml_g;
  std::optional<double> recovery;
};

// Salts are left out: the solubility model is for neutral solids.
std::vector<Preparation> neutral_preparations() {
  const CsvTable table = read_csv(std::string(FIRSTCROP_SOURCE_DIR) + "/solvents/published-systems.csv");
  std::vector<Preparation> out;
  for (const auto& row : table.rows) {
    Preparation one;
    one.name = row[table.column("name")];
    one.smiles = row[table.column("smiles")];
    one.melting_point_c = csv_number(row[table.column("melting_point_c")]);
    one.system = row[table.column("system")];
    one.volume_ml_g = csv_number(row[table.column("volume_ml_g")]);
    one.recovery = csv_number(row[table.column("recovery_percent")]);
    if (one.recovery) *one.recovery /= 100;
    const bool is_salt = one.smiles.find('.') != std::string::npos;
    if (!is_salt && (one.volume_ml_g || one.recovery)) out.push_back(std::move(one));
  }
  return out;
}

struct Tally {
  int checked = 0;
  int held = 0;
  int tube_first = 0;  ///< sheets refused since the volume is hardly known
  std::string misses;
  void add(bool holds, const std::string& what) {
    ++checked;
    held += holds ? 1 : 0;
    if (!holds) misses += "  " + what + "\n";
  }
};

Tally compare(bool as_unknown) {
  constexpr double kMgPerG = 1000;
  const Catalogue catalogue = make_catalogue();
  Findings findings;
  const auto book = load_rule_book(std::string(FIRSTCROP_SOURCE_DIR) + "/rules", {}, catalogue, findings);
  REQUIRE(book);
  Tally out;
  for (const Preparation& one : neutral_preparations()) {
    std::string lines = fmt::format("smiles: '{}'\ncrude: {{mass: 1 g}}\n", one.smiles);
    if (one.melting_point_c) lines += fmt::format("melting_point: {} °C\n", *one.melting_point_c);
    const Inquiry inquiry = fixture::inquiry(fixture::solute(lines), {}, as_unknown);
    const auto judge = SystemJudge::create(catalogue, inquiry, *book, findings);
    REQUIRE(judge);
    const std::size_t plus = one.system.find('+');
    const System system = plus == std::string::npos
                              ? fixture::system(one.system)
                              : judge->choose_ratio(fixture::solvent(one.system.substr(0, plus)),
                                                    fixture::solvent(one.system.substr(plus + 1)))
                                    .system;
    const BenchPlan plan = make_bench_plan(*judge, system, std::nullopt);
    // Where the volume is hardly known there is no sheet, but its range is told and can be checked.
    const bool tube_first = plan.refused_because.find("first make a tube") != std::string::npos;
    out.tube_first += tube_first ? 1 : 0;
    if (!plan.refused_because.empty() && !tube_first) {
      out.add(false, fmt::format("{} from {}: {}", one.name, one.system, plan.refused_because));
      continue;
    }
    if (one.volume_ml_g) {
      const double low = plan.minimum_volume.low.value_or(plan.minimum_volume.value) * kMgPerG /
                         inquiry.aim.mass_mg;
      out.add(*one.volume_ml_g >= low, fmt::format("{} from {}: {:.3g} mL/g published, at least {:.3g} mL/g here",
                                                   one.name, one.system, *one.volume_ml_g, low));
    }
    if (one.recovery) {
      const double high = plan.recovery_limit.high.value_or(plan.recovery_limit.value);
      out.add(*one.recovery <= high, fmt::format("{} from {}: {:.0f} % published, at most {:.0f} % here", one.name,
                                                 one.system, 100 * *one.recovery, 100 * high));
    }
  }
  return out;
}

}  // namespace

TEST_CASE("published volumes are not below the least volume, published recoveries not above the limit") {
  for (const bool as_unknown : {false, true}) {
    const Tally tally = compare(as_unknown);
    std::cout << fmt::format("literature preparations, {}: {} of {} hold, {} need a tube first\n{}",
                             as_unknown ? "as unknown" : "known", tally.held, tally.checked, tally.tube_first,
                             tally.misses);
    CHECK(tally.checked >= 20);
    CHECK(10 * tally.held >= 9 * tally.checked);
    CHECK(10 * tally.tube_first <= tally.checked);
  }
}

}  // namespace firstcrop
