#include <fmt/format.h>

#include "library/library_readers.hpp"
#include "library/reader_help.hpp"

namespace firstcrop {
namespace {

constexpr std::string_view kTriangleLetters = "abcpqrxyz";
constexpr std::array<std::pair<std::string_view, bool>, 3> kAzeotropeKinds{
    {{"minimum", false}, {"maximum", false}, {"heterogeneous", true}}};
constexpr std::array<std::pair<std::string_view, int>, 4> kAzeotropeEvidence{
    {{"published", 0}, {"fit", 0}, {"memory", 0}, {"calculated", 0}}};
constexpr std::array<std::pair<std::string_view, int>, 4> kCheckMethods{
    {{"unifac", 0}, {"fit", 0}, {"vapour-pressures", 0}, {"-", 0}}};

constexpr double kCelsiusZeroK = 273.15;
constexpr std::array<std::pair<std::string_view, MiscibilityClass>, 3> kClasses{{
    {"miscible", MiscibilityClass::Miscible},
    {"partial", MiscibilityClass::Partial},
    {"immiscible", MiscibilityClass::Immiscible},
}};
constexpr std::array<std::pair<std::string_view, Confidence>, 3> kConfidences{{
    {"high", Confidence::High},
    {"medium", Confidence::Medium},
    {"low", Confidence::Low},
}};
constexpr std::array<std::pair<std::string_view, PairEvidence>, 2> kUnpublished{{
    {"calculated", PairEvidence::Calculated},
    {"class", PairEvidence::ByClass},
}};

std::optional<double> kelvin(const std::optional<double>& celsius) {
  return celsius ? std::optional(*celsius + kCelsiusZeroK) : std::nullopt;
}

struct TriangleCode {
  MiscibilityClass miscibility;
  Confidence confidence;
};

std::optional<TriangleCode> code_of(char small_letter) {
  const std::size_t at = kTriangleLetters.find(small_letter);
  if (at == std::string_view::npos) return std::nullopt;
  return TriangleCode{kClasses[at / 3].second, kConfidences[at % 3].second};
}

class MiscibilityReader {
 public:
  MiscibilityReader(Library::Data& data, Findings& findings) : data_(data), findings_(findings) {
    data_.miscibility_of_pair.assign(data_.solvents.size() * (data_.solvents.size() - 1) / 2,
                                     Library::Data::kNoRecord);
    data_.miscibilities.reserve(data_.miscibility_of_pair.size());
  }

  // Rows of published pairs, or of others that name their evidence.
  void read_rows(const BlockTable& table, bool with_evidence) {
    for (const TableRow& row : table.rows()) {
      const auto parts = table.words(row, with_evidence ? 10 : 9);
      if (!parts) continue;
      const auto& words = parts->words;
      const auto pair = pair_at(table, row, words[0], words[1], data_);
      const auto miscibility = word_at(table, row, words[2], kClasses);
      const auto temperature = number_at(table, row, words[3]);
      std::string_view ucst = words[6];
      MiscibilityRecord record;
      record.first_in_second_weight_percent = number_at(table, row, words[4]);
      record.second_in_first_weight_percent = number_at(table, row, words[5]);
      if (ucst.ends_with('m')) {
        record.upper_critical_from_memory = true;
        ucst.remove_suffix(1);
      }
      record.upper_critical_temperature_k = kelvin(number_at(table, row, ucst));
      const auto confidence = word_at(table, row, words[7], kConfidences);
      const auto evidence = with_evidence ? word_at(table, row, words[8], kUnpublished)
                                          : std::optional(PairEvidence::Published);
      record.source = sources_at(table, row, words.back(), data_);
      if (!pair || !miscibility || !confidence || !evidence) continue;
      record.first = pair->first;
      record.second = pair->second;
      record.miscibility = *miscibility;
      record.confidence = *confidence;
      record.evidence = *evidence;
      if (temperature) record.temperature_k = *temperature + kCelsiusZeroK;
      record.note = parts->rest;
      add(table, row, std::move(record));
    }
  }

  void read_triangle(const BlockTable& table) {
    std::vector<SolventId> above;
    for (const TableRow& row : table.rows()) {
      const std::vector<std::string> words = split_words(row.body);
      const auto solvent = solvent_at(table, row, words[0], data_);
      if (!solvent) return;
      const std::string_view letters = words.size() > 1 ? std::string_view(words[1]) : std::string_view();
      if (letters.size() != above.size() || words.size() > 2) {
        table.error(row, {},
                    fmt::format("{} letters stand here, {} solvents above", letters.size(), above.size()),
                    "write one letter or dot for each solvent of the rows above");
        return;
      }
      for (std::size_t i = 0; i < letters.size(); ++i)
        read_letter(table, row, letters[i], above[i], *solvent);
      above.push_back(*solvent);
    }
  }

  // Every pair of library solvents must stand once.
  void report_missing(const Place& place) {
    std::size_t missing = 0;
    std::string example;
    for (std::size_t high = 1; high < data_.solvents.size(); ++high) {
      for (std::size_t low = 0; low < high; ++low) {
        if (data_.miscibility_of_pair[pair_index({low}, {high})] != Library::Data::kNoRecord) continue;
        if (missing++ == 0) example = fmt::format("{} + {}", data_.solvents[low].id, data_.solvents[high].id);
      }
    }
    if (missing == 0) return;
    findings_.error(place,
                    fmt::format("{} pairs of solvents have no record, the first is {}", missing, example),
                    "add a row, or a letter in the triangle");
  }

 private:
  void read_letter(const BlockTable& table, const TableRow& row, char letter, SolventId one,
                   SolventId other) {
    if (letter == '.') return;
    const bool calculated = letter >= 'A' && letter <= 'Z';
    const auto code = code_of(calculated ? static_cast<char>(letter - 'A' + 'a') : letter);
    if (!code) {
      table.error(row, std::string(1, letter), fmt::format("the letter `{}` means nothing here", letter),
                  "letters: a b c p q r x y z, small or capital, or a dot");
      return;
    }
    const bool in_order = data_.solvents[one.index].id < data_.solvents[other.index].id;
    MiscibilityRecord record;
    record.first = in_order ? one : other;
    record.second = in_order ? other : one;
    record.miscibility = code->miscibility;
    record.confidence = code->confidence;
    record.evidence = calculated ? PairEvidence::Calculated : PairEvidence::ByClass;
    record.source = calculated ? "calculated-unifac" : "by-class";
    add(table, row, std::move(record));
  }

  void add(const BlockTable& table, const TableRow& row, MiscibilityRecord record) {
    std::size_t& slot = data_.miscibility_of_pair[pair_index(record.first, record.second)];
    if (slot != Library::Data::kNoRecord) {
      table.error(row, {},
                  fmt::format("{} + {} stands twice", data_.solvents[record.first.index].id,
                              data_.solvents[record.second.index].id),
                  "keep one record a pair; write a dot in the triangle for a pair that has a row");
      return;
    }
    slot = data_.miscibilities.size();
    data_.miscibilities.push_back(std::move(record));
  }

  Library::Data& data_;
  Findings& findings_;
};

}  // namespace

void read_miscibility(const YamlDocument& document, Library::Data& data, Findings& findings) {
  Fields file(document, document.root(), "miscibility file", findings);
  check_format(file, "firstcrop miscibility 1");
  if (data.solvents.empty()) return;
  MiscibilityReader reader(data, findings);
  reader.read_rows(
      BlockTable(file, "rows", "columns",
                 "first second class at first_in_second second_in_first ucst confidence source note"),
      false);
  reader.read_rows(
      BlockTable(
          file, "other_rows", "other_columns",
          "first second class at first_in_second second_in_first ucst confidence evidence source note"),
      true);
  reader.read_triangle(BlockTable(file, "triangle"));
  reader.report_missing(document.place_of(document.root()));
  file.finish();
}

void read_azeotropes(const YamlDocument& document, Library::Data& data, Findings& findings) {
  Fields file(document, document.root(), "azeotrope file", findings);
  check_format(file, "firstcrop azeotropes 1");
  const BlockTable table(file, "rows", "columns",
                         "first second at first_wt kind evidence source check_at check_wt check_by note");
  for (const TableRow& row : table.rows()) {
    const auto parts = table.words(row, 10);
    if (!parts) continue;
    const auto& words = parts->words;
    const auto pair = pair_at(table, row, words[0], words[1], data);
    const auto temperature = number_at(table, row, words[2]);
    if (words[2] == "-")
      table.error(row, words[2], "an azeotrope needs its boiling temperature", "write it in °C");
    const auto kind = word_at(table, row, words[4], kAzeotropeKinds);
    const bool known =
        word_at(table, row, words[5], kAzeotropeEvidence) && word_at(table, row, words[9], kCheckMethods);
    AzeotropeRecord record;
    record.first_weight_percent = number_at(table, row, words[3]);
    record.source = sources_at(table, row, words[6], data);
    record.check_temperature_k = kelvin(number_at(table, row, words[7]));
    record.check_first_weight_percent = number_at(table, row, words[8]);
    if (!pair || !temperature || !kind || !known) continue;
    record.first = pair->first;
    record.second = pair->second;
    record.temperature_k = *temperature + kCelsiusZeroK;
    record.kind = words[4];
    record.heterogeneous = *kind;
    record.evidence = words[5];
    if (words[9] != "-") record.check_method = words[9];
    record.note = parts->rest;
    if (!data.azeotrope_of_pair.emplace(pair_index(pair->first, pair->second), data.azeotropes.size())
             .second) {
      table.error(row, {}, fmt::format("{} + {} stands twice", words[0], words[1]), "keep one record a pair");
      continue;
    }
    data.azeotropes.push_back(std::move(record));
  }
  file.finish();
}

}  // namespace firstcrop
