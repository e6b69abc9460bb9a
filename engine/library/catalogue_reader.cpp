#include <fmt/format.h>

#include "base/error.hpp"
#include "library/library_readers.hpp"
#include "library/reader_help.hpp"

namespace firstcrop {
namespace {

constexpr std::array<std::pair<std::string_view, bool>, 2> kShown{{{"yes", true}, {"no", false}}};
constexpr std::array<std::pair<std::string_view, bool>, 3> kFragmentKinds{
    {{"base", true}, {"correction", false}, {"constant", false}}};

// Takes `key: text` rows; the text may hold further colons.
void read_source_rows(const BlockTable& table, Library::Data& data) {
  for (const TableRow& row : table.rows()) {
    std::string whole = row.body;
    if (!row.text.empty()) whole += ' ' + row.text;
    const std::size_t colon = whole.find(": ");
    if (colon == std::string::npos) {
      table.error(row, {}, "a colon and a blank must part the key from its meaning",
                  "write `key: what it means`");
      continue;
    }
    const std::string key = whole.substr(0, colon);
    if (key.find(' ') != std::string::npos) {
      table.error(row, key, fmt::format("the key `{}` holds a blank", key), "part its words by hyphens");
    }
    if (!data.sources.emplace(key, whole.substr(colon + 2)).second) {
      table.error(row, key, fmt::format("the source `{}` stands twice", key), "keep one of them");
    }
  }
}

void check_written_sources(Fields& fields, std::string_view key, const Library::Data& data,
                           std::string& out) {
  const auto text = fields.required_text(key, "write the keys of its sources");
  if (!text) return;
  out = *text;
  for (const std::string& word : split_words(*text)) {
    if (!data.sources.contains(word.substr(0, word.find(':')))) {
      fields.error(*fields.node(key), fmt::format("the source `{}` is not explained", word),
                   "explain it in sources.yaml");
    }
  }
}

// Marks a name as meaning something; two meanings of one name are a fault.
void add_name(const BlockTable& table, const TableRow& row, const std::string& name, NameAnswer answer,
              Library::Data& data) {
  if (data.aliases.emplace(folded_name(name), std::move(answer)).second) return;
  table.error(row, name, fmt::format("the name `{}` stands twice", name), "keep one of them");
}

std::optional<std::pair<SolventId, std::optional<SolventId>>> system_at(const BlockTable& table,
                                                                        const TableRow& row,
                                                                        const std::string& system,
                                                                        const Library::Data& data) {
  const std::size_t plus = system.find('+');
  if (plus == std::string::npos) {
    const auto solvent = solvent_at(table, row, system, data);
    if (!solvent) return std::nullopt;
    return std::pair{*solvent, std::optional<SolventId>()};
  }
  const auto pair = pair_at(table, row, system.substr(0, plus), system.substr(plus + 1), data);
  if (!pair) return std::nullopt;
  return std::pair{pair->first, std::optional(pair->second)};
}

}  // namespace

void read_sources(const YamlDocument& document, Library::Data& data, Findings& findings) {
  Fields file(document, document.root(), "source file", findings);
  check_format(file, "firstcrop sources 1");
  read_source_rows(BlockTable(file, "sources"), data);
  file.finish();
}

void read_groups(const YamlDocument& document, Library::Data& data, Findings& findings) {
  Fields file(document, document.root(), "group file", findings);
  check_format(file, "firstcrop groups 1");
  std::vector<PatternPiece> pieces;
  const BlockTable piece_table(file, "pieces");
  for (const TableRow& row : piece_table.rows()) {
    const auto cells = piece_table.cells(row, 3);
    if (cells) pieces.push_back({(*cells)[0], split_words((*cells)[1])});
  }
  std::vector<GroupDefinition> groups;
  const BlockTable table(file, "rows", "columns",
                         "token | name | smarts | aka | parents | model_group | show | note");
  for (const TableRow& row : table.rows()) {
    const auto cells = table.cells(row, 8);
    if (!cells) continue;
    const auto shown = word_at(table, row, (*cells)[6], kShown);
    if (!shown) continue;
    groups.push_back({(*cells)[0], (*cells)[1], split_words((*cells)[2]), split_text((*cells)[3], ";"),
                      split_text((*cells)[4], ";"), *shown, split_text((*cells)[5], ";"), (*cells)[7]});
  }
  file.finish();
  if (findings.has_errors()) return;
  try {
    data.groups = std::make_shared<const GroupCatalogue>(std::move(groups), pieces);
  } catch (const Error& fault) {
    findings.error(Place{document.path(), 0, 0, 1, {}}, fault.what());
  }
}

void read_descriptor_increments(const YamlDocument& document, Library::Data& data, Findings& findings) {
  Fields file(document, document.root(), "increment file", findings);
  check_format(file, "firstcrop descriptor increments 1");
  std::vector<AdditiveFragment> fragments;
  const BlockTable table(file, "rows", "columns",
                         "name | kind | smarts | meaning | molecules | E | S | A | B | L");
  for (const TableRow& row : table.rows()) {
    const auto cells = table.cells(row, 10);
    if (!cells) continue;
    AdditiveFragment fragment;
    fragment.name = (*cells)[0];
    const auto base = word_at(table, row, (*cells)[1], kFragmentKinds);
    fragment.smarts = (*cells)[2];
    bool complete = base.has_value();
    for (std::size_t i = 0; i < fragment.increments.size(); ++i) {
      const auto number = number_at(table, row, (*cells)[5 + i]);
      complete = complete && number;
      fragment.increments[i] = number.value_or(0);
    }
    if (!complete) continue;
    fragment.covers_atoms = *base;
    fragments.push_back(std::move(fragment));
  }
  file.finish();
  if (findings.has_errors()) return;
  try {
    data.scheme = std::make_shared<const DescriptorScheme>(std::move(fragments));
  } catch (const Error& fault) {
    findings.error(Place{document.path(), 0, 0, 1, {}}, fault.what());
  }
}

void read_shelves(const YamlDocument& document, Library::Data& data, Findings& findings) {
  Fields file(document, document.root(), "shelf file", findings);
  check_format(file, "firstcrop shelves 1");
  data.default_shelf = file.required_text("default", "write `default: common`").value_or("");
  file.required_node("shelves");
  for (const YamlNode* entry : file.map_list("shelves")) {
    Fields fields(document, *entry, "a shelf", findings);
    Shelf shelf;
    shelf.name = fields.required_text("name", "write `name: common`").value_or("");
    shelf.about = std::string(trimmed_text(fields.required_text("about", "say what it is for").value_or("")));
    check_written_sources(fields, "source", data, shelf.source);
    const BlockTable table(fields, "rows");
    for (const TableRow& row : table.rows()) {
      const auto cells = table.cells(row, 2);
      const auto solvent = cells ? solvent_at(table, row, (*cells)[0], data) : std::nullopt;
      if (!solvent) continue;
      if (std::find(shelf.solvents.begin(), shelf.solvents.end(), *solvent) != shelf.solvents.end()) {
        table.error(row, (*cells)[0], fmt::format("`{}` stands twice on this shelf", (*cells)[0]),
                    "keep one of them");
        continue;
      }
      shelf.solvents.push_back(*solvent);
      shelf.reasons.push_back((*cells)[1]);
    }
    fields.finish();
    data.shelves.push_back(std::move(shelf));
  }
  const auto is_default = [&data](const Shelf& shelf) { return shelf.name == data.default_shelf; };
  if (!data.default_shelf.empty() && std::none_of(data.shelves.begin(), data.shelves.end(), is_default)) {
    file.error(*file.node("default"), fmt::format("no shelf is called `{}`", data.default_shelf),
               "name one of the shelves below");
  }
  file.finish();
}

void read_names(const YamlDocument& document, Library::Data& data, Findings& findings) {
  Fields file(document, document.root(), "name file", findings);
  check_format(file, "firstcrop names 1");
  const BlockTable plain(file, "names");
  for (const TableRow& row : plain.rows()) {
    const auto list = plain.named_list(row);
    const auto solvent = list ? solvent_at(plain, row, list->head, data) : std::nullopt;
    if (!solvent) continue;
    for (const std::string& name : list->names) add_name(plain, row, name, {*solvent, {}, {}, {}}, data);
  }
  const BlockTable ambiguous(file, "ambiguous");
  for (const TableRow& row : ambiguous.rows()) {
    const auto list = ambiguous.named_list(row);
    if (!list) continue;
    NameAnswer answer;
    for (const std::string& id : split_words(list->head)) {
      if (solvent_at(ambiguous, row, id, data)) answer.choices.push_back(id);
    }
    for (const std::string& name : list->names) add_name(ambiguous, row, name, answer, data);
  }
  const BlockTable caveats(file, "caveats");
  for (const TableRow& row : caveats.rows()) {
    const auto list = caveats.named_list(row);
    if (!list) continue;
    const std::vector<std::string> head = split_text(list->head, "|");
    if (head.size() != 2) {
      caveats.error(row, {}, "an id and a caveat are expected", "write `id | caveat: names`");
      continue;
    }
    const auto solvent = solvent_at(caveats, row, head[0], data);
    for (const std::string& name : list->names)
      add_name(caveats, row, name, {solvent, {}, head[1], {}}, data);
  }
  const BlockTable none(file, "not_solvents");
  for (const TableRow& row : none.rows()) {
    const auto list = none.named_list(row);
    if (!list) continue;
    for (const std::string& name : list->names) add_name(none, row, name, {{}, {}, list->head, {}}, data);
  }
  file.finish();
}

void read_habits(const YamlDocument& document, Library::Data& data, Findings& findings) {
  Fields file(document, document.root(), "habit file", findings);
  check_format(file, "firstcrop habits 1");
  std::string source;
  check_written_sources(file, "source", data, source);
  const auto unlisted = file.quantity("unlisted", dimension::kNumber, "0.05");
  file.required_node("unlisted", "write `unlisted: 0.05`");
  data.unlisted_habit = unlisted ? unlisted->low : 0;
  data.habits.assign(data.solvents.size(), {data.unlisted_habit, 0});
  const BlockTable table(file, "rows", "columns", "system usual working");
  std::vector<bool> listed(data.solvents.size());
  for (const TableRow& row : table.rows()) {
    const auto parts = table.words(row, 3);
    if (!parts) continue;
    const auto system = system_at(table, row, parts->words[0], data);
    const auto usual = number_at(table, row, parts->words[1]);
    const auto working = number_at(table, row, parts->words[2]);
    if (!system || !usual || !working) continue;
    if (*usual < 0 || *usual > 1 || *working < 0 || *working > 1e6) {
      table.error(row, parts->words[1], "habit lies between 0 and 1, and the count is not negative");
      continue;
    }
    const Habit habit{*usual, static_cast<int>(*working)};
    bool fresh = true;
    if (system->second) {
      fresh = data.pair_habits.emplace(pair_index(system->first, *system->second), habit).second;
    } else {
      fresh = !listed[system->first.index];
      listed[system->first.index] = true;
      data.habits[system->first.index] = habit;
      data.solvents[system->first.index].usual = habit.usual;
    }
    if (!fresh)
      table.error(row, parts->words[0], fmt::format("`{}` stands twice", parts->words[0]),
                  "keep one of them");
  }
  file.finish();
}

}  // namespace firstcrop
