#include <algorithm>
#include <set>

#include <fmt/format.h>

#include "library/library_readers.hpp"
#include "library/reader_help.hpp"

namespace firstcrop {
namespace {

constexpr std::array<std::pair<std::string_view, ReactionSeverity>, 4> kSeverities{{
    {"caution", ReactionSeverity::Caution},
    {"degrades", ReactionSeverity::Degrades},
    {"reacts", ReactionSeverity::Reacts},
    {"dangerous", ReactionSeverity::Dangerous},
}};
constexpr std::array<std::pair<std::string_view, ConditionKind>, 6> kKinds{{
    {"residue", ConditionKind::Residue},
    {"solid", ConditionKind::Solid},
    {"procedure", ConditionKind::Procedure},
    {"step", ConditionKind::Step},
    {"equipment", ConditionKind::Equipment},
    {"bottle", ConditionKind::Bottle},
}};
constexpr std::array<std::pair<std::string_view, ConditionDefault>, 3> kDefaults{{
    {"no", ConditionDefault::No},
    {"yes", ConditionDefault::Yes},
    {"unknown", ConditionDefault::Unknown},
}};

class IncompatibilityReader {
 public:
  explicit IncompatibilityReader(Library::Data& data) : data_(data) {
    if (data.groups) {
      for (const GroupDefinition& group : data.groups->definitions()) groups_.insert(group.token);
    }
    tokens_ = groups_;
    for (const Condition& condition : data.conditions) tokens_.insert(condition.token);
    classes_.insert("any");
    for (const Solvent& solvent : data.solvents) {
      classes_.insert(solvent.id);
      for (const std::string& name : solvent.classes) classes_.insert("class:" + name);
    }
  }

  void read_rows(const BlockTable& table, bool between_solvents) {
    for (const TableRow& row : table.rows()) {
      const auto cells = table.cells(row, between_solvents ? 6 : 7);
      if (!cells) continue;
      Incompatibility read;
      read.id = (*cells)[0];
      read.between_solvents = between_solvents;
      const auto severity = word_at(table, row, (*cells)[1], kSeverities);
      read.party_a = split_words((*cells)[2]);
      read.party_b = split_words((*cells)[3]);
      for (const std::string& condition : split_text((*cells)[4], ";")) {
        for (const std::string& word : split_text(condition, " or "))
          check(table, row, word, tokens_, "condition");
        read.conditions.push_back(condition);
      }
      if (!between_solvents) read.exceptions = split_words((*cells)[5]);
      for (const std::string& word : read.exceptions) check(table, row, word, groups_, "group");
      read.source = sources_at(table, row, cells->back(), data_);
      read.text = row.text;
      read.solvents = party(table, row, read.party_a);
      if (between_solvents) {
        read.second_solvents = party(table, row, read.party_b);
      } else {
        for (const std::string& word : read.party_b) check(table, row, word, tokens_, "group");
      }
      if (read.text.empty())
        table.error(row, {}, "this row does not say what happens", "write `+ text` below it");
      if (!ids_.insert(read.id).second) {
        table.error(row, read.id, fmt::format("the row `{}` stands twice", read.id),
                    "give each row its own id");
      }
      if (!severity) continue;
      read.severity = *severity;
      data_.incompatibilities.push_back(std::move(read));
    }
  }

 private:
  void check(const BlockTable& table, const TableRow& row, const std::string& word,
             const std::set<std::string>& known, std::string_view what) const {
    // Without a readable group file every group would seem unknown.
    if (known.contains(word) || !data_.groups) return;
    const auto near = nearest_name(word, std::vector<std::string>(known.begin(), known.end()));
    table.error(row, word, fmt::format("no {} is called `{}`", what, word),
                near ? fmt::format("did you mean `{}`?", *near) : "see groups.yaml and conditions.yaml");
  }

  std::vector<SolventId> party(const BlockTable& table, const TableRow& row,
                               const std::vector<std::string>& words) {
    std::vector<std::string> unknown;
    std::vector<SolventId> out = solvents_of_party(data_, words, unknown);
    for (const std::string& word : unknown) check(table, row, word, classes_, "solvent or class");
    if (unknown.empty() && out.empty()) {
      table.error(row, {}, "this party comes to no solvent at all", "name solvents, a class, or `any`");
    }
    return out;
  }

  Library::Data& data_;
  std::set<std::string> groups_;
  std::set<std::string> tokens_;
  std::set<std::string> classes_;
  std::set<std::string> ids_;
};

}  // namespace

std::vector<SolventId> solvents_of_party(const Library::Data& data, const std::vector<std::string>& party,
                                         std::vector<std::string>& unknown) {
  std::set<SolventId> chosen;
  std::set<SolventId> left_out;
  for (const std::string& word : party) {
    if (word == "any") {
      for (std::size_t i = 0; i < data.solvents.size(); ++i) chosen.insert({i});
      continue;
    }
    if (word.starts_with("class:")) {
      const std::string name = word.substr(6);
      bool found = false;
      for (std::size_t i = 0; i < data.solvents.size(); ++i) {
        const auto& classes = data.solvents[i].classes;
        if (std::find(classes.begin(), classes.end(), name) == classes.end()) continue;
        chosen.insert({i});
        found = true;
      }
      if (!found) unknown.push_back(word);
      continue;
    }
    const bool minus = word.starts_with('!');
    const std::string id = minus ? word.substr(1) : word;
    if (const auto solvent = data.find(id)) {
      (minus ? left_out : chosen).insert(*solvent);
    } else {
      unknown.push_back(id);
    }
  }
  std::vector<SolventId> out;
  for (const SolventId solvent : chosen) {
    if (!left_out.contains(solvent)) out.push_back(solvent);
  }
  return out;
}

void read_conditions(const YamlDocument& document, Library::Data& data, Findings& findings) {
  Fields file(document, document.root(), "condition file", findings);
  check_format(file, "firstcrop conditions 1");
  const BlockTable table(file, "rows", "columns",
                         "token | kind | word | default | sets | set_by | meaning | stated_as | effect");
  std::set<std::string> tokens;
  for (const TableRow& row : table.rows()) {
    const auto cells = table.cells(row, 9);
    if (!cells) continue;
    const auto kind = word_at(table, row, (*cells)[1], kKinds);
    const auto unstated = word_at(table, row, (*cells)[3], kDefaults);
    if (!tokens.insert((*cells)[0]).second) {
      table.error(row, (*cells)[0], fmt::format("the condition `{}` stands twice", (*cells)[0]),
                  "keep one of them");
    }
    if (!kind || !unstated) continue;
    data.conditions.push_back({(*cells)[0], *kind, (*cells)[2], *unstated, split_words((*cells)[4]),
                               split_words((*cells)[5]), (*cells)[6], (*cells)[7], (*cells)[8]});
  }
  file.finish();
}

void read_incompatibilities(const YamlDocument& document, Library::Data& data, Findings& findings) {
  Fields file(document, document.root(), "incompatibility file", findings);
  check_format(file, "firstcrop incompatibilities 1");
  IncompatibilityReader reader(data);
  reader.read_rows(BlockTable(file, "solid_rows", "solid_columns",
                              "id | severity | solvent | group | when | unless | source"),
                   false);
  reader.read_rows(
      BlockTable(file, "pair_rows", "pair_columns", "id | severity | solvent | with | when | source"), true);
  file.finish();
}

}  // namespace firstcrop
