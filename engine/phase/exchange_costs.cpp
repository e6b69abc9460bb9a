#include "phase/exchange_costs.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <set>
#include <sstream>

#include "input/fields.hpp"
#include "input/yaml_reader.hpp"

namespace firstcrop {

namespace {

std::optional<double> cost_from(const std::string& text) {
  double value = 0;
  const auto [end, fault] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (fault != std::errc() || end != text.data() + text.size() || !std::isfinite(value) || value < 0)
    return std::nullopt;
  return value;
}

void read_hazard_rows(const YamlDocument& document, const YamlNode& node, ExchangeCosts& costs,
                      Findings& findings) {
  std::istringstream lines(node.text);
  std::string line;
  int offset = 0;
  while (std::getline(lines, line)) {
    std::istringstream cells(line);
    std::string kind, mark, cost, rest;
    cells >> kind >> mark >> cost;
    const auto value = cost_from(cost);
    const Place place = document.place_within(node, offset, std::max(1, character_count(line)));
    offset += character_count(line) + 1;
    if (!value || cells >> rest)
      findings.error(place, "this row is not a kind, a mark and a cost",
                     "write for instance `fire H225 0.5`");
    else if (!costs.hazards[kind].emplace(mark, *value).second)
      findings.error(place, "`" + mark + "` stands under `" + kind + "` twice", "keep one of the two rows");
  }
}

double required_number(Fields& fields, std::string_view key, std::string_view example) {
  fields.required_node(key, "write `" + std::string(example) + "`");
  const auto value = fields.quantity(key, dimension::kNumber, example);
  return value ? value->middle() : 0;
}

std::set<std::string> marks_of(const Solvent& solvent) {
  std::set<std::string> marks;
  for (const std::string& statement : solvent.hazard_statements.values) {
    // H360FD and the like are special cases of H360.
    constexpr std::size_t kCodeLength = 4;
    marks.insert(statement.substr(0, kCodeLength));
  }
  if (solvent.q3c_class.knowledge == Knowledge::Value) marks.insert("q3c-" + solvent.q3c_class.value);
  if (solvent.peroxide_class.knowledge == Knowledge::Value)
    marks.insert("peroxide-" + solvent.peroxide_class.value);
  return marks;
}

}  // namespace

std::optional<ExchangeCosts> read_exchange_costs(std::string path, std::string text, Findings& findings) {
  const auto document = read_yaml(std::move(path), std::move(text), findings);
  if (!document) return std::nullopt;
  Findings found;
  ExchangeCosts costs;
  Fields file(*document, document->root(), "exchange costs", found);
  check_format(file, "firstcrop exchange costs 1");
  (void)file.required_text("source", "say where the numbers come from");
  costs.step = required_number(file, "step", "step: 1");
  costs.unpublished_chance = required_number(file, "unpublished_chance", "unpublished_chance: 90 %");
  costs.slow_drying = required_number(file, "slow_drying", "slow_drying: 1");
  file.required_node("slow_drying_above", "write `slow_drying_above: 130 °C`");
  if (const auto above = file.quantity("slow_drying_above", dimension::kTemperature, "slow_drying_above: 130 °C"))
    costs.slow_drying_above_k = above->middle();
  const YamlNode* hazards_node = file.required_node("hazards");
  const YamlNode* strip_node = file.required_node("strip");
  file.finish();
  if (hazards_node != nullptr) {
    Fields fields(*document, *hazards_node, "hazards", found);
    const auto columns = fields.required_text("columns", "write `columns: kind mark cost`");
    if (columns && *columns != "kind mark cost")
      fields.error(*fields.node("columns"), "these are not the columns of this table",
                   "write `columns: kind mark cost`");
    const YamlNode* rows = fields.required_node("rows");
    fields.finish();
    if (rows != nullptr && rows->is_scalar()) read_hazard_rows(*document, *rows, costs, found);
  }
  if (strip_node != nullptr) {
    Fields fields(*document, *strip_node, "strip", found);
    costs.residue = required_number(fields, "residue", "residue: 1 %");
    costs.least_volatility = required_number(fields, "least_volatility", "least_volatility: 1.05");
    costs.most_volumes = required_number(fields, "most_volumes", "most_volumes: 10");
    costs.most_between = required_number(fields, "most_between", "most_between: 2");
    if (!found.has_errors() && (costs.residue <= 0 || costs.residue >= 1))
      fields.error(*fields.node("residue"), "the residue lies between 0 and 100 %",
                   "write for instance `1 %`");
    if (!found.has_errors() && costs.least_volatility <= 1)
      fields.error(*fields.node("least_volatility"),
                   "only what is more volatile than the solvent can be distilled out of it",
                   "write a number above 1");
    fields.finish();
  }
  findings.append(found);
  return found.has_errors() ? std::nullopt : std::optional(std::move(costs));
}

std::optional<ExchangeCosts> load_exchange_costs(const std::string& path, Findings& findings) {
  return read_exchange_costs(path, read_file(path), findings);
}

double hazard_cost(const Solvent& solvent, const ExchangeCosts& costs) {
  const std::set<std::string> marks = marks_of(solvent);
  double sum = 0;
  for (const auto& [kind, cost_of_mark] : costs.hazards) {
    double dearest = 0;
    for (const auto& [mark, cost] : cost_of_mark)
      if (marks.count(mark) > 0) dearest = std::max(dearest, cost);
    sum += dearest;
  }
  return sum;
}

std::optional<double> volumes_to_strip(double volatility, double residue) {
  if (volatility <= 1) return std::nullopt;
  return std::pow(1 / residue, 1 / (volatility - 1)) - 1;
}

StepCost rinse_cost(const PhaseModel& model, const ExchangeCosts& costs) {
  return [&model, &costs](std::size_t, std::size_t to) -> std::optional<double> {
    return costs.step + hazard_cost(model.library().solvent({to}), costs);
  };
}

std::optional<SeparatorStep> separator_step(const PhaseModel& model, SolventId from, SolventId to,
                                            double pressure_kpa) {
  const AzeotropeRecord* record = model.library().azeotrope(from, to);
  if (record == nullptr || !record->heterogeneous) return std::nullopt;
  if (record->evidence == "memory" || record->evidence == "calculated") return std::nullopt;
  const auto azeotrope = model.azeotrope(from, to, pressure_kpa);
  if (!azeotrope) return std::nullopt;
  SeparatorStep out{azeotrope->temperature_k, std::nullopt};
  const auto& fraction = azeotrope->first_fraction;
  if (!fraction || *fraction <= 0 || *fraction >= 1) return out;
  const auto volumes = model.volume_fractions(std::array{from, to}, std::array{*fraction, 1 - *fraction});
  if (volumes) out.volumes = (*volumes)[1] / (*volumes)[0];
  return out;
}

StepCost strip_cost(const PhaseModel& model, const ExchangeCosts& costs, double pressure_kpa) {
  return [&model, &costs, pressure_kpa](std::size_t from, std::size_t to) -> std::optional<double> {
    const double next = costs.step + hazard_cost(model.library().solvent({to}), costs);
    if (const auto separator = separator_step(model, {from}, {to}, pressure_kpa))
      return next + std::log1p(separator->volumes.value_or(costs.most_volumes));
    const auto volatility = model.volatility_of_trace({from}, {to}, pressure_kpa);
    if (!volatility || *volatility <= costs.least_volatility) return std::nullopt;
    const auto volumes = volumes_to_strip(*volatility, costs.residue);
    if (!volumes || *volumes > costs.most_volumes) return std::nullopt;
    return next + std::log1p(*volumes);
  };
}

StepCost doubt_cost(const MiscibilityGraph& graph) {
  return [&graph](std::size_t from, std::size_t to) -> std::optional<double> {
    const auto edge = graph.edge(from, to);
    if (!edge || edge->chance <= 0) return std::nullopt;
    return std::max(0.0, -std::log(edge->chance));
  };
}

}  // namespace firstcrop
