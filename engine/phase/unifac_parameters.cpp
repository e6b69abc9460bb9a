#include "phase/unifac_parameters.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <map>

namespace firstcrop {

struct UnifacParameters::Data {
  std::vector<UnifacSubgroup> subgroups;
  std::vector<int> place_of_subgroup;    ///< by subgroup number, -1 where there is none
  std::vector<int> place_of_main_group;  ///< by main group number, -1 where there is none
  std::size_t main_group_count = 0;
  std::vector<std::optional<GroupInteraction>> interactions;  ///< main_group_count squared, row by row
};

namespace {

constexpr int kMaxNumber = 9999;
constexpr std::size_t kMaxColumns = 8;

struct Row {
  std::array<std::string_view, kMaxColumns> cells;
  std::size_t count = 0;
  bool too_long = false;
};

Row split_row(std::string_view line) {
  Row row;
  std::size_t at = 0;
  while (true) {
    while (at < line.size() && (line[at] == ' ' || line[at] == '\t' || line[at] == '\r')) ++at;
    if (at == line.size()) return row;
    const std::size_t from = at;
    while (at < line.size() && line[at] != ' ' && line[at] != '\t' && line[at] != '\r') ++at;
    if (row.count == kMaxColumns) {
      row.too_long = true;
      return row;
    }
    row.cells[row.count++] = line.substr(from, at - from);
  }
}

template <typename Visit>
void for_each_row(std::string_view text, const Visit& visit) {
  int line = 0;
  while (!text.empty()) {
    const std::size_t end = text.find('\n');
    ++line;
    const Row row = split_row(text.substr(0, end));
    if (row.count > 0) visit(line, row);
    if (end == std::string_view::npos) return;
    text.remove_prefix(end + 1);
  }
}

template <typename Number>
std::optional<Number> number_from(std::string_view text) {
  Number value{};
  const auto [end, fault] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (fault != std::errc() || end != text.data() + text.size()) return std::nullopt;
  return value;
}

std::optional<double> finite_from(std::string_view text) {
  const auto value = number_from<double>(text);
  return value && std::isfinite(*value) ? value : std::nullopt;
}

std::optional<int> group_number_from(std::string_view text) {
  const auto value = number_from<int>(text);
  return value && *value >= 1 && *value <= kMaxNumber ? value : std::nullopt;
}

int place_in(const std::vector<int>& places, int number) {
  const auto at = static_cast<std::size_t>(number);
  return number >= 0 && at < places.size() ? places[at] : -1;
}

class TableReader {
 public:
  void read_groups(std::string_view text) {
    for_each_row(text, [&](int line, const Row& row) { read_group(line, row); });
    if (data_.main_group_count > static_cast<std::size_t>(UnifacParameters::kMaxMainGroups))
      add_fault(UnifacTable::Groups, 1,
                "more than " + std::to_string(UnifacParameters::kMaxMainGroups) + " main groups");
    if (data_.subgroups.empty()) add_fault(UnifacTable::Groups, 1, "no groups");
    data_.interactions.resize(data_.main_group_count * data_.main_group_count);
  }

  void read_interactions(UnifacTable table, std::string_view text) {
    for_each_row(text, [&](int line, const Row& row) { read_interaction(table, line, row); });
  }

  ParsedUnifac take() {
    ParsedUnifac parsed;
    parsed.faults = std::move(faults_);
    if (parsed.faults.empty())
      parsed.parameters.emplace(std::make_shared<const UnifacParameters::Data>(std::move(data_)));
    return parsed;
  }

 private:
  void read_group(int line, const Row& row) {
    constexpr std::size_t kColumns = 6;
    if (row.count != kColumns) return add_fault(UnifacTable::Groups, line, "a group row has 6 columns");
    const auto number = group_number_from(row.cells[0]);
    const auto main_group = group_number_from(row.cells[2]);
    const auto volume = finite_from(row.cells[4]);
    const auto surface = finite_from(row.cells[5]);
    if (!number || !main_group || !volume || !surface || *volume <= 0 || *surface < 0)
      return add_fault(
          UnifacTable::Groups, line,
          "a group row is: number, name, number of the main group, its name, R above 0, Q not below 0");
    if (place_in(data_.place_of_subgroup, *number) >= 0)
      return add_fault(UnifacTable::Groups, line,
                       "subgroup `" + std::to_string(*number) + "` stands here twice");
    enter(data_.place_of_subgroup, *number, data_.subgroups.size());
    if (place_in(data_.place_of_main_group, *main_group) < 0)
      enter(data_.place_of_main_group, *main_group, data_.main_group_count++);
    data_.subgroups.push_back({*number, *main_group, *volume, *surface, std::string(row.cells[1])});
  }

  void read_interaction(UnifacTable table, int line, const Row& row) {
    if (row.count != kMaxColumns || row.too_long)
      return add_fault(table, line, "an interaction row has 8 columns");
    std::array<int, 2> places{};
    for (std::size_t side = 0; side < 2; ++side) {
      const auto number = group_number_from(row.cells[side]);
      places[side] = number ? place_in(data_.place_of_main_group, *number) : -1;
      if (places[side] < 0)
        return add_fault(table, line,
                         "no subgroup has the main group `" + std::string(row.cells[side]) + "`");
    }
    if (places[0] == places[1]) return add_fault(table, line, "a main group does not interact with itself");
    std::array<double, 6> numbers{};
    for (std::size_t column = 0; column < numbers.size(); ++column) {
      const auto value = finite_from(row.cells[column + 2]);
      if (!value) return add_fault(table, line, "`" + std::string(row.cells[column + 2]) + "` is no number");
      numbers[column] = *value;
    }
    const bool completed = table == UnifacTable::Completed;
    auto& forward = interaction_at(places[0], places[1]);
    auto& backward = interaction_at(places[1], places[0]);
    if (forward) return add_fault(table, line, "this pair of main groups stands in the tables twice");
    forward = GroupInteraction{numbers[0], numbers[1], numbers[2], completed};
    backward = GroupInteraction{numbers[3], numbers[4], numbers[5], completed};
  }

  std::optional<GroupInteraction>& interaction_at(int row, int column) {
    return data_.interactions[static_cast<std::size_t>(row) * data_.main_group_count +
                              static_cast<std::size_t>(column)];
  }

  static void enter(std::vector<int>& places, int number, std::size_t place) {
    const auto at = static_cast<std::size_t>(number);
    if (places.size() <= at) places.resize(at + 1, -1);
    places[at] = static_cast<int>(place);
  }

  void add_fault(UnifacTable table, int line, std::string message) {
    faults_.push_back({table, line, std::move(message)});
  }

  UnifacParameters::Data data_;
  std::vector<UnifacTableFault> faults_;
};

}  // namespace

UnifacParameters::UnifacParameters(std::shared_ptr<const Data> data) : data_(std::move(data)) {}

const UnifacSubgroup* UnifacParameters::subgroup(int number) const {
  const int place = place_in(data_->place_of_subgroup, number);
  return place < 0 ? nullptr : &data_->subgroups[static_cast<std::size_t>(place)];
}

std::optional<GroupInteraction> UnifacParameters::interaction(int main_i, int main_j) const {
  const int row = place_in(data_->place_of_main_group, main_i);
  const int column = place_in(data_->place_of_main_group, main_j);
  if (row < 0 || column < 0) return std::nullopt;
  if (row == column) return GroupInteraction{};
  return data_->interactions[static_cast<std::size_t>(row) * data_->main_group_count +
                             static_cast<std::size_t>(column)];
}

std::size_t UnifacParameters::subgroup_count() const {
  return data_->subgroups.size();
}

std::vector<UnifacSubgroup> UnifacParameters::subgroups() const {
  std::vector<UnifacSubgroup> out = data_->subgroups;
  std::sort(out.begin(), out.end(),
            [](const UnifacSubgroup& a, const UnifacSubgroup& b) { return a.number < b.number; });
  return out;
}

ParsedUnifac parse_unifac(const UnifacTables& tables) {
  TableReader reader;
  reader.read_groups(tables.groups);
  reader.read_interactions(UnifacTable::Published, tables.published);
  reader.read_interactions(UnifacTable::Corrected, tables.corrected);
  reader.read_interactions(UnifacTable::Completed, tables.completed);
  return reader.take();
}

}  // namespace firstcrop
