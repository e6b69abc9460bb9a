#include "structure/groups.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>
#include <utility>

#include "base/error.hpp"
#include "structure/descriptors.hpp"
#include "structure/pattern_set.hpp"

namespace firstcrop {
namespace {

std::string folded(std::string_view name) {
  std::string result(name);
  for (char& character : result) {
    if (character >= 'A' && character <= 'Z') character = static_cast<char>(character - 'A' + 'a');
    if (character == ' ' || character == '_') character = '-';
  }
  return result;
}

/// Fills in the first piece of a pattern by each alternative, then the pieces that are left.
void fill_pieces(const std::string& pattern, const std::map<std::string, std::vector<std::string>>& pieces,
                 std::vector<std::string>& filled) {
  const std::size_t open = pattern.find('{');
  if (open == std::string::npos) {
    filled.push_back(pattern);
    return;
  }
  const std::size_t close = pattern.find('}', open);
  const auto piece =
      close == std::string::npos ? pieces.end() : pieces.find(pattern.substr(open + 1, close - open - 1));
  if (piece == pieces.end()) throw Error(fmt::format("group pattern `{}` names an unknown piece", pattern));
  for (const std::string& alternative : piece->second) {
    fill_pieces(pattern.substr(0, open) + alternative + pattern.substr(close + 1), pieces, filled);
  }
}

std::vector<std::string> filled_patterns(const std::vector<std::string>& patterns,
                                         const std::map<std::string, std::vector<std::string>>& pieces) {
  std::vector<std::string> filled;
  for (const std::string& pattern : patterns) fill_pieces(pattern, pieces, filled);
  return filled;
}

/// A piece may use only the pieces before it, so that filling in comes to an end.
std::map<std::string, std::vector<std::string>> filled_pieces(const std::vector<PatternPiece>& pieces) {
  std::map<std::string, std::vector<std::string>> result;
  for (const PatternPiece& piece : pieces) result[piece.name] = filled_patterns(piece.alternatives, result);
  return result;
}

}  // namespace

struct GroupCatalogue::Data {
  std::vector<GroupDefinition> definitions;
  std::map<std::string, std::size_t, std::less<>> by_token;
  std::map<std::string, std::size_t, std::less<>> by_name;  ///< folded tokens, other names, names for people
  std::vector<std::set<std::size_t>> ancestors;             ///< by definition, itself left out
  std::vector<std::size_t> first_pattern;                   ///< by definition; one more at the end
  std::shared_ptr<const detail::PatternSet> patterns;

  void fill_names() {
    for (std::size_t index = 0; index < definitions.size(); ++index) {
      by_token.emplace(definitions[index].token, index);
      by_name.emplace(folded(definitions[index].token), index);
    }
    for (std::size_t index = 0; index < definitions.size(); ++index) {
      for (const std::string& other : definitions[index].also_known_as) by_name.emplace(folded(other), index);
    }
    for (std::size_t index = 0; index < definitions.size(); ++index) {
      by_name.emplace(folded(definitions[index].name), index);
    }
  }

  void add_ancestors(std::size_t of, std::size_t child) {
    for (const std::string& parent : definitions[child].parents) {
      const auto found = by_token.find(parent);
      if (found == by_token.end()) {
        throw Error(
            fmt::format("group `{}` names the unknown parent `{}`", definitions[child].token, parent));
      }
      if (ancestors[of].insert(found->second).second) add_ancestors(of, found->second);
    }
  }

  [[nodiscard]] std::set<std::size_t> known(const std::vector<std::string>& tokens) const {
    std::set<std::size_t> indices;
    for (const std::string& token : tokens) {
      const auto found = by_token.find(token);
      if (found != by_token.end()) indices.insert(found->second);
    }
    return indices;
  }

  [[nodiscard]] std::set<std::size_t> with_ancestors(const std::set<std::size_t>& indices) const {
    std::set<std::size_t> all = indices;
    for (const std::size_t index : indices) all.insert(ancestors[index].begin(), ancestors[index].end());
    return all;
  }

  [[nodiscard]] std::vector<std::string> tokens(const std::set<std::size_t>& indices) const {
    std::vector<std::string> result;
    result.reserve(indices.size());
    for (const std::size_t index : indices) result.push_back(definitions[index].token);
    return result;
  }
};

GroupCatalogue::GroupCatalogue(std::vector<GroupDefinition> definitions,
                               const std::vector<PatternPiece>& pieces) {
  const auto data = std::make_shared<Data>();
  data->definitions = std::move(definitions);
  data->fill_names();
  data->ancestors.resize(data->definitions.size());
  for (std::size_t index = 0; index < data->definitions.size(); ++index) data->add_ancestors(index, index);

  const auto texts = filled_pieces(pieces);
  std::vector<std::string> all_patterns;
  for (GroupDefinition& definition : data->definitions) {
    definition.smarts = filled_patterns(definition.smarts, texts);
    data->first_pattern.push_back(all_patterns.size());
    all_patterns.insert(all_patterns.end(), definition.smarts.begin(), definition.smarts.end());
  }
  data->first_pattern.push_back(all_patterns.size());
  data->patterns = std::make_shared<const detail::PatternSet>(all_patterns);
  data_ = data;
}

const std::vector<GroupDefinition>& GroupCatalogue::definitions() const {
  return data_->definitions;
}

const GroupDefinition* GroupCatalogue::find(std::string_view name) const {
  const auto found = data_->by_name.find(folded(name));
  return found == data_->by_name.end() ? nullptr : &data_->definitions[found->second];
}

std::vector<std::string> GroupCatalogue::perceive(const Molecule& molecule) const {
  detail::PatternSearch search(*data_->patterns, molecule);
  std::vector<std::string> found;
  for (std::size_t index = 0; index < data_->definitions.size(); ++index) {
    for (std::size_t pattern = data_->first_pattern[index]; pattern < data_->first_pattern[index + 1];
         ++pattern) {
      if (!search.occurs(pattern)) continue;
      found.push_back(data_->definitions[index].token);
      break;
    }
  }
  return found;
}

std::vector<std::string> GroupCatalogue::with_parents(const std::vector<std::string>& tokens) const {
  return data_->tokens(data_->with_ancestors(data_->known(tokens)));
}

std::vector<std::string> GroupCatalogue::most_specific(const std::vector<std::string>& tokens) const {
  const std::set<std::size_t> given = data_->known(tokens);
  std::set<std::size_t> implied;
  for (const std::size_t index : given)
    implied.insert(data_->ancestors[index].begin(), data_->ancestors[index].end());
  std::set<std::size_t> kept;
  for (const std::size_t index : given) {
    if (implied.count(index) == 0 && data_->definitions[index].shown) kept.insert(index);
  }
  return data_->tokens(kept);
}

std::vector<double> GroupCatalogue::group_features(const std::vector<std::string>& tokens) const {
  std::set<std::string> present;
  for (const std::size_t index : data_->with_ancestors(data_->known(tokens))) {
    const GroupDefinition& definition = data_->definitions[index];
    present.insert(definition.model_groups.begin(), definition.model_groups.end());
  }
  std::vector<double> features;
  for (const std::string& name : model_group_names())
    features.push_back(present.count(name) != 0 ? 1.0 : 0.0);
  // A benzene ring and a heteroaromatic ring are always two; any other mention of an aromatic ring is at
  // least one.
  const std::size_t named_rings = present.count("benzene ring") + present.count("heteroaromatic ring");
  features.push_back(static_cast<double>(std::max(named_rings, present.count("aromatic ring"))));
  features.push_back(present.count("other ring") != 0 ? 1.0 : 0.0);
  return features;
}

void GroupCatalogue::check_patterns() const {
  data_->patterns->compile_all();
}

}  // namespace firstcrop
