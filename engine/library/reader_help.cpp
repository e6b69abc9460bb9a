#include "library/reader_help.hpp"

#include <algorithm>

#include <fmt/format.h>

namespace firstcrop {
namespace {

std::string near_help(std::string_view word, const std::vector<std::string>& known,
                      std::string_view otherwise) {
  const auto near = nearest_name(word, known);
  return near ? fmt::format("did you mean `{}`?", *near) : std::string(otherwise);
}

}  // namespace

std::optional<SolventId> solvent_at(const BlockTable& table, const TableRow& row, std::string_view id,
                                    const Library::Data& data) {
  const auto found = data.find(id);
  if (found) return found;
  std::vector<std::string> ids;
  for (const Solvent& solvent : data.solvents) ids.push_back(solvent.id);
  table.error(row, id, fmt::format("no solvent has the id `{}`", id),
              near_help(id, ids, "ids stand in the solvent files"));
  return std::nullopt;
}

std::optional<std::pair<SolventId, SolventId>> pair_at(const BlockTable& table, const TableRow& row,
                                                       std::string_view first, std::string_view second,
                                                       const Library::Data& data) {
  const auto a = solvent_at(table, row, first, data);
  const auto b = solvent_at(table, row, second, data);
  if (!a || !b) return std::nullopt;
  if (first < second) return std::pair{*a, *b};
  table.error(row, first,
              first == second ? fmt::format("`{}` stands here twice", first)
                              : fmt::format("`{}` comes behind `{}` in the alphabet", first, second),
              "write the two ids in alphabetical order");
  return std::nullopt;
}

std::string sources_at(const BlockTable& table, const TableRow& row, std::string_view keys,
                       const Library::Data& data) {
  std::string out(keys);
  std::replace(out.begin(), out.end(), ',', ' ');
  const std::vector<std::string> words = split_words(out);
  if (words.empty()) table.error(row, {}, "this row has no source", "write the key of its source");
  for (const std::string& word : words) {
    const std::string key = word.substr(0, word.find(':'));
    if (data.sources.contains(key)) continue;
    std::vector<std::string> known;
    for (const auto& [name, text] : data.sources) known.push_back(name);
    table.error(row, key, fmt::format("the source `{}` is not explained", key),
                near_help(key, known, "explain it in sources.yaml"));
  }
  return out;
}

std::optional<double> number_at(const BlockTable& table, const TableRow& row, std::string_view text) {
  if (text == "-") return std::nullopt;
  const auto number = read_number(text);
  if (!number)
    table.error(row, text, fmt::format("`{}` is not a number", text), "write a number, or `-` for none");
  return number;
}

}  // namespace firstcrop
