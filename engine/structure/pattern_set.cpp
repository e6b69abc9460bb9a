#include "structure/pattern_set.hpp"

#include <GraphMol/GraphMol.h>
#include <GraphMol/SmilesParse/SmilesParse.h>
#include <GraphMol/Substruct/SubstructMatch.h>
#include <RDGeneral/RDLog.h>
#include <fmt/format.h>

#include <algorithm>
#include <deque>
#include <map>
#include <mutex>
#include <optional>

#include "base/error.hpp"
#include "structure/atom_condition.hpp"
#include "structure/molecule_data.hpp"
#include "structure/smarts_outline.hpp"

namespace firstcrop::detail {
namespace {

/// Number of equal atoms that a pattern asks for.
struct AtomDemand {
  std::size_t condition = 0;
  int count = 0;
};

struct Pattern {
  std::string text;
  std::vector<AtomDemand> atoms;
  std::vector<PatternLink> links;  ///< between conditions
  mutable std::once_flag once;
  mutable std::unique_ptr<const RDKit::ROMol> query;
};

[[noreturn]] void refuse(std::string_view smarts) {
  throw Error(fmt::format("`{}` is not a valid search pattern (SMARTS)", smarts));
}

const RDKit::ROMol& compiled(const Pattern& pattern) {
  std::call_once(pattern.once, [&pattern] {
    const RDLog::LogStateSetter silence;
    try {
      pattern.query.reset(RDKit::SmartsToMol(pattern.text));
    } catch (const std::exception&) {
      pattern.query.reset();
    }
  });
  if (!pattern.query) refuse(pattern.text);
  return *pattern.query;
}

/// Kinds of atom and of bond in a molecule: a quick look needs to judge each only once.
struct Kinds {
  std::vector<AtomFacts> atoms;
  std::vector<int> atom_counts;
  struct Bond {
    std::size_t first = 0;
    std::size_t second = 0;
    RDKit::Bond::BondType type = RDKit::Bond::SINGLE;
    friend bool operator==(const Bond&, const Bond&) = default;
  };
  std::vector<Bond> bonds;
};

Kinds kinds_of(const RDKit::ROMol& molecule) {
  Kinds kinds;
  std::vector<std::size_t> kind_of_atom;
  for (const RDKit::Atom* atom : molecule.atoms()) {
    const AtomFacts facts{atom->getAtomicNum(),
                          atom->getIsAromatic(),
                          static_cast<int>(atom->getDegree()),
                          static_cast<int>(atom->getTotalDegree()),
                          static_cast<int>(atom->getTotalNumHs(true)),
                          atom->getFormalCharge()};
    const auto known = std::find(kinds.atoms.begin(), kinds.atoms.end(), facts);
    const auto kind = static_cast<std::size_t>(known - kinds.atoms.begin());
    if (known == kinds.atoms.end()) {
      kinds.atoms.push_back(facts);
      kinds.atom_counts.push_back(0);
    }
    ++kinds.atom_counts[kind];
    kind_of_atom.push_back(kind);
  }
  for (const RDKit::Bond* bond : molecule.bonds()) {
    const Kinds::Bond kind{kind_of_atom[bond->getBeginAtomIdx()], kind_of_atom[bond->getEndAtomIdx()],
                           bond->getBondType()};
    if (std::find(kinds.bonds.begin(), kinds.bonds.end(), kind) == kinds.bonds.end())
      kinds.bonds.push_back(kind);
  }
  return kinds;
}

bool may_be(char bond, RDKit::Bond::BondType type) {
  switch (bond) {
    case '1':
      return type == RDKit::Bond::SINGLE || type == RDKit::Bond::AROMATIC;
    case '-':
      return type == RDKit::Bond::SINGLE;
    case '=':
      return type == RDKit::Bond::DOUBLE;
    case '#':
      return type == RDKit::Bond::TRIPLE;
    case ':':
      return type == RDKit::Bond::AROMATIC;
    default:
      return true;
  }
}

}  // namespace

struct PatternSet::Data {
  std::deque<Pattern> patterns;           ///< distinct texts
  std::vector<std::size_t> index;         ///< from the caller's number to the distinct pattern
  std::vector<AtomCondition> conditions;  ///< distinct atoms of all patterns
};

PatternSet::PatternSet(const std::vector<std::string>& smarts) {
  const auto data = std::make_shared<Data>();
  std::map<std::string, std::size_t, std::less<>> known_patterns;
  std::map<std::string, std::size_t, std::less<>> known_atoms;
  const auto condition_of = [&](std::string_view atom, std::string_view text) {
    const auto known = known_atoms.find(atom);
    if (known != known_atoms.end()) return known->second;
    const std::optional<AtomCondition> condition = AtomCondition::parse(atom);
    if (!condition) refuse(text);
    data->conditions.push_back(*condition);
    return known_atoms.emplace(atom, data->conditions.size() - 1).first->second;
  };
  for (const std::string& text : smarts) {
    const auto [entry, is_new] = known_patterns.emplace(text, data->patterns.size());
    data->index.push_back(entry->second);
    if (!is_new) continue;
    const std::optional<SmartsOutline> outline = outline_smarts(text);
    if (!outline) refuse(text);
    Pattern& pattern = data->patterns.emplace_back();
    pattern.text = text;
    std::vector<std::size_t> conditions;
    std::map<std::size_t, int> demanded;
    for (const std::string_view atom : outline->atoms) {
      conditions.push_back(condition_of(atom, text));
      ++demanded[conditions.back()];
    }
    for (const auto& [condition, count] : demanded) pattern.atoms.push_back({condition, count});
    for (const PatternLink& link : outline->links) {
      pattern.links.push_back({conditions[link.first], conditions[link.second], link.bond});
    }
  }
  data_ = data;
}

std::size_t PatternSet::size() const {
  return data_->index.size();
}

void PatternSet::compile_all() const {
  for (const Pattern& pattern : data_->patterns) static_cast<void>(compiled(pattern));
}

struct PatternSearch::State {
  std::shared_ptr<const PatternSet::Data> patterns;
  std::shared_ptr<const RDKit::ROMol> molecule;
  Kinds kinds;
  std::vector<std::vector<bool>> may_match;  ///< by condition and kind of atom
  std::vector<int> candidates;               ///< by condition: atoms of the molecule that may match it
  std::vector<std::optional<bool>> occurs;   ///< by distinct pattern

  [[nodiscard]] const Pattern& pattern(std::size_t number) const {
    return patterns->patterns[patterns->index[number]];
  }

  [[nodiscard]] bool has_bond(const PatternLink& link) const {
    return std::any_of(kinds.bonds.begin(), kinds.bonds.end(), [&](const Kinds::Bond& bond) {
      if (!may_be(link.bond, bond.type)) return false;
      const std::vector<bool>& first = may_match[link.first];
      const std::vector<bool>& second = may_match[link.second];
      return (first[bond.first] && second[bond.second]) || (first[bond.second] && second[bond.first]);
    });
  }
};

PatternSearch::PatternSearch(const PatternSet& patterns, const Molecule& molecule)
    : state_(std::make_unique<State>()) {
  state_->patterns = patterns.data_;
  state_->molecule = molecule.data().molecule;
  state_->kinds = kinds_of(*state_->molecule);
  state_->occurs.resize(patterns.data_->patterns.size());
  const Kinds& kinds = state_->kinds;
  for (const AtomCondition& condition : patterns.data_->conditions) {
    std::vector<bool> row;
    int candidates = 0;
    for (std::size_t kind = 0; kind < kinds.atoms.size(); ++kind) {
      row.push_back(condition.may_match(kinds.atoms[kind]));
      candidates += row.back() ? kinds.atom_counts[kind] : 0;
    }
    state_->may_match.push_back(std::move(row));
    state_->candidates.push_back(candidates);
  }
}

PatternSearch::~PatternSearch() = default;

bool PatternSearch::may_match(std::size_t pattern) const {
  const Pattern& wanted = state_->pattern(pattern);
  const auto has_atoms = [this](const AtomDemand& demand) {
    return state_->candidates[demand.condition] >= demand.count;
  };
  return std::all_of(wanted.atoms.begin(), wanted.atoms.end(), has_atoms) &&
         std::all_of(wanted.links.begin(), wanted.links.end(),
                     [this](const PatternLink& link) { return state_->has_bond(link); });
}

bool PatternSearch::occurs(std::size_t pattern) {
  std::optional<bool>& answer = state_->occurs[state_->patterns->index[pattern]];
  if (!answer) {
    RDKit::MatchVectType match;
    answer = may_match(pattern) &&
             RDKit::SubstructMatch(*state_->molecule, compiled(state_->pattern(pattern)), match);
  }
  return *answer;
}

std::vector<MatchedAtoms> PatternSearch::matches(std::size_t pattern) const {
  std::vector<MatchedAtoms> result;
  if (!may_match(pattern)) return result;
  std::vector<RDKit::MatchVectType> found;
  RDKit::SubstructMatch(*state_->molecule, compiled(state_->pattern(pattern)), found);
  for (const RDKit::MatchVectType& match : found) {
    MatchedAtoms& atoms = result.emplace_back();
    for (const auto& [query_atom, atom] : match) atoms.push_back(atom);
  }
  return result;
}

}  // namespace firstcrop::detail
