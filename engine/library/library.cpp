#include "library/library.hpp"

#include <algorithm>
#include <cmath>
#include <set>

#include "library/block_table.hpp"
#include "library/library_data.hpp"

namespace firstcrop {
namespace {

constexpr std::string_view kWholeLibrary = "all";

void claim(std::map<std::string, NameAnswer, std::less<>>& names, const std::string& name,
           const Solvent& solvent, SolventId id) {
  auto [found, fresh] = names.try_emplace(folded_name(name), NameAnswer{id, {}, {}, {}});
  if (fresh) return;
  NameAnswer& answer = found->second;
  if (answer.solvent == id) return;
  answer.solvent.reset();
  answer.choices.push_back(solvent.id);
}

}  // namespace

double AntoineEquation::pressure_kpa(double temperature_k) const {
  if (temperature_k <= -c) return 0;
  return std::pow(10.0, a - b / (temperature_k + c));
}

std::optional<double> AntoineEquation::temperature_k(double pressure_kpa) const {
  if (pressure_kpa <= 0) return std::nullopt;
  const double left = a - std::log10(pressure_kpa);
  if (left <= 0) return std::nullopt;
  const double temperature = b / left - c;
  return temperature > 0 ? std::optional(temperature) : std::nullopt;
}

std::string_view name_of(MiscibilityClass miscibility) {
  switch (miscibility) {
    case MiscibilityClass::Miscible:
      return "miscible";
    case MiscibilityClass::Partial:
      return "partial";
    case MiscibilityClass::Immiscible:
      break;
  }
  return "immiscible";
}

std::string_view name_of(PairEvidence evidence) {
  switch (evidence) {
    case PairEvidence::Published:
      return "published";
    case PairEvidence::Calculated:
      return "calculated";
    case PairEvidence::ByClass:
      break;
  }
  return "class";
}

std::string_view name_of(Confidence confidence) {
  switch (confidence) {
    case Confidence::Low:
      return "low";
    case Confidence::Medium:
      return "medium";
    case Confidence::High:
      break;
  }
  return "high";
}

std::string_view name_of(ReactionSeverity severity) {
  switch (severity) {
    case ReactionSeverity::Caution:
      return "caution";
    case ReactionSeverity::Degrades:
      return "degrades";
    case ReactionSeverity::Reacts:
      return "reacts";
    case ReactionSeverity::Dangerous:
      break;
  }
  return "dangerous";
}

bool Incompatibility::concerns(SolventId solvent) const {
  return std::binary_search(solvents.begin(), solvents.end(), solvent);
}

bool Incompatibility::concerns(SolventId one, SolventId other) const {
  const auto second = [this](SolventId solvent) {
    return std::binary_search(second_solvents.begin(), second_solvents.end(), solvent);
  };
  return (concerns(one) && second(other)) || (concerns(other) && second(one));
}

std::string folded_name(std::string_view name) {
  std::string out;
  for (std::size_t i = 0; i < name.size(); ++i) {
    const auto byte = static_cast<unsigned char>(name[i]);
    if (byte == ' ' || byte == '-' || byte == '_' || byte == '\t') {
      if (!out.empty() && out.back() != ' ') out += ' ';
    } else if (byte >= 'A' && byte <= 'Z') {
      out += static_cast<char>(byte - 'A' + 'a');
    } else if (byte == 0xC3U && i + 1 < name.size()) {
      // Capital letters of Latin-1 (U+00C0 to U+00DE without the multiplication sign) stand 0x20 below the
      // small ones.
      const auto next = static_cast<unsigned char>(name[++i]);
      out += static_cast<char>(byte);
      out += static_cast<char>(next >= 0x80U && next <= 0x9EU && next != 0x97U ? next + 0x20U : next);
    } else {
      out += static_cast<char>(byte);
    }
  }
  while (!out.empty() && out.back() == ' ') out.pop_back();
  return out;
}

void index_names(Library::Data& data) {
  data.names.clear();
  for (std::size_t i = 0; i < data.solvents.size(); ++i) {
    data.names.insert_or_assign(folded_name(data.solvents[i].id), NameAnswer{SolventId{i}, {}, {}, {}});
  }
  std::map<std::string, std::vector<std::size_t>> by_number;
  for (std::size_t i = 0; i < data.solvents.size(); ++i) {
    const Solvent& solvent = data.solvents[i];
    claim(data.names, solvent.name, solvent, {i});
    if (!solvent.cas.empty() && solvent.cas.find('+') == std::string::npos)
      by_number[solvent.cas].push_back(i);
  }
  for (const auto& [number, bearers] : by_number) {
    NameAnswer answer;
    if (bearers.size() == 1) {
      answer.solvent = SolventId{bearers.front()};
    } else {
      for (const std::size_t i : bearers) answer.choices.push_back(data.solvents[i].id);
    }
    data.names.try_emplace(folded_name(number), answer);
  }
  for (const auto& [name, answer] : data.aliases) data.names.try_emplace(name, answer);
}

Library::Library(std::shared_ptr<const Data> data) : data_(std::move(data)) {}

const Library::Data& Library::data() const {
  return *data_;
}
const std::vector<Solvent>& Library::solvents() const {
  return data_->solvents;
}
const Solvent& Library::solvent(SolventId id) const {
  return data_->solvents[id.index];
}
std::optional<SolventId> Library::find_id(std::string_view id) const {
  return data_->find(id);
}

NameAnswer Library::find(std::string_view typed_name) const {
  const std::string name = folded_name(typed_name);
  const auto found = data_->names.find(name);
  if (found != data_->names.end()) return found->second;
  NameAnswer out;
  std::vector<std::string> known;
  for (const auto& [candidate, answer] : data_->names) known.push_back(candidate);
  const auto near = nearest_name(name, known);
  if (!near) return out;
  const NameAnswer& meant = data_->names.find(*near)->second;
  out.nearest = meant.solvent ? data_->solvents[meant.solvent->index].id : *near;
  return out;
}

std::optional<Shelf> Library::shelf(std::string_view name) const {
  if (name == kWholeLibrary) {
    Shelf out;
    out.name = std::string(kWholeLibrary);
    out.about = "The whole library.";
    for (std::size_t i = 0; i < data_->solvents.size(); ++i) out.solvents.push_back({i});
    return out;
  }
  for (const Shelf& shelf : data_->shelves) {
    if (shelf.name == name) return shelf;
  }
  return std::nullopt;
}

std::vector<std::string> Library::shelf_names() const {
  std::vector<std::string> out;
  for (const Shelf& shelf : data_->shelves) out.push_back(shelf.name);
  out.emplace_back(kWholeLibrary);
  return out;
}

const std::string& Library::default_shelf_name() const {
  return data_->default_shelf;
}

const MiscibilityRecord* Library::miscibility(SolventId a, SolventId b) const {
  if (a == b) return nullptr;
  const std::size_t at = data_->miscibility_of_pair[pair_index(a, b)];
  return at == Data::kNoRecord ? nullptr : &data_->miscibilities[at];
}

const std::vector<MiscibilityRecord>& Library::miscibilities() const {
  return data_->miscibilities;
}

const AzeotropeRecord* Library::azeotrope(SolventId a, SolventId b) const {
  if (a == b) return nullptr;
  const auto found = data_->azeotrope_of_pair.find(pair_index(a, b));
  return found == data_->azeotrope_of_pair.end() ? nullptr : &data_->azeotropes[found->second];
}

const std::vector<AzeotropeRecord>& Library::azeotropes() const {
  return data_->azeotropes;
}
const std::vector<Incompatibility>& Library::incompatibilities() const {
  return data_->incompatibilities;
}
const std::vector<Condition>& Library::conditions() const {
  return data_->conditions;
}

const Condition* Library::condition(std::string_view token) const {
  const auto found = std::find_if(data_->conditions.begin(), data_->conditions.end(),
                                  [token](const Condition& condition) { return condition.token == token; });
  return found == data_->conditions.end() ? nullptr : &*found;
}

std::vector<std::string> Library::class_names() const {
  std::set<std::string> names;
  for (const Solvent& solvent : data_->solvents) names.insert(solvent.classes.begin(), solvent.classes.end());
  return {names.begin(), names.end()};
}

std::vector<std::string> Library::residue_words() const {
  std::vector<std::string> out;
  for (const Condition& condition : data_->conditions) {
    if (!condition.word.empty()) out.push_back(condition.word);
  }
  return out;
}

double Library::usual(SolventId a, SolventId b) const {
  return habit(a, b).usual;
}
Habit Library::habit(SolventId solvent) const {
  return data_->habits[solvent.index];
}

Habit Library::habit(SolventId a, SolventId b) const {
  if (a == b) return habit(a);
  const auto found = data_->pair_habits.find(pair_index(a, b));
  return found == data_->pair_habits.end() ? Habit{data_->unlisted_habit, 0} : found->second;
}

std::string Library::source_text(std::string_view keys) const {
  std::string out;
  for (const std::string& word : split_words(keys)) {
    const std::size_t colon = word.find(':');
    const auto found = data_->sources.find(word.substr(0, colon));
    if (found == data_->sources.end()) return std::string(keys);
    if (!out.empty()) out += "; ";
    out += found->second;
    if (colon != std::string::npos) out += " (" + word.substr(colon + 1) + ")";
  }
  return out;
}

const GroupCatalogue& Library::groups() const {
  return *data_->groups;
}
const DescriptorScheme& Library::descriptor_scheme() const {
  return *data_->scheme;
}

}  // namespace firstcrop
