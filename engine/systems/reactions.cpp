#include "systems/reactions.hpp"

#include <algorithm>

#include <fmt/format.h>

namespace firstcrop {
namespace {

constexpr double kLongRefluxMin = 60;
constexpr double kSmallMoleculeGMol = 200;

bool has(const std::vector<std::string>& words, const std::string& word) {
  return std::find(words.begin(), words.end(), word) != words.end();
}

enum class Holds { No, Unknown, Yes };

// A condition about the bottle holds for one solvent only.
Holds bottle_condition(const std::string& token, const std::string& solvent_id, const Aim& aim) {
  const auto found = aim.bottle.find(solvent_id);
  if (found == aim.bottle.end()) return Holds::Unknown;
  const std::string& state = found->second;
  const bool old = state == "old" || state == "crystals";
  if (token == "stabiliser") {
    return state == "ethanol-stabilised" || state == "stabilised" || old ? Holds::Yes : Holds::No;
  }
  return old ? Holds::Yes : Holds::No;
}

Holds condition_holds(const std::string& token, SolventId solvent, const ReactionSetting& setting,
                      const Aim& aim, const Library& library) {
  if (has(setting.groups, token) || has(setting.yes, token)) return Holds::Yes;
  const Condition* condition = library.condition(token);
  if (condition == nullptr) return setting.groups_known ? Holds::No : Holds::Unknown;
  if (condition->kind == ConditionKind::Bottle) {
    const Holds stated = bottle_condition(token, library.solvent(solvent).id, aim);
    if (stated == Holds::Unknown && condition->when_unstated == ConditionDefault::Yes) return Holds::Yes;
    return stated;
  }
  return has(setting.unknown, token) ? Holds::Unknown : Holds::No;
}

// Alternatives of one entry are joined by ` or `; the best known answer counts.
Holds entry_holds(const std::string& entry, SolventId solvent, const ReactionSetting& setting, const Aim& aim,
                  const Library& library) {
  Holds best = Holds::No;
  for (std::size_t start = 0; start <= entry.size();) {
    const std::size_t end = std::min(entry.find(" or ", start), entry.size());
    best = std::max(best, condition_holds(entry.substr(start, end - start), solvent, setting, aim, library));
    start = end + 4;
  }
  return best;
}

Holds row_holds(const Incompatibility& row, SolventId solvent, const ReactionSetting& setting, const Aim& aim,
                const Library& library) {
  Holds out = Holds::Yes;
  for (const std::string& entry : row.conditions) {
    out = std::min(out, entry_holds(entry, solvent, setting, aim, library));
  }
  return out;
}

std::string name_of_condition(const std::string& entry, const Library& library) {
  const Condition* condition = library.condition(entry.substr(0, entry.find(" or ")));
  return condition != nullptr ? condition->meaning : entry;
}

void take_if_graver(Reaction& worst, const Incompatibility& row, Holds holds, const Library& library) {
  if (holds == Holds::No) return;
  const ReactionSeverity severity = holds == Holds::Yes ? row.severity : ReactionSeverity::Caution;
  if (worst.severity && *worst.severity >= severity) return;
  worst.severity = severity;
  worst.text = row.text;
  if (holds == Holds::Unknown && !row.conditions.empty()) {
    worst.text = fmt::format("If {}: {}", name_of_condition(row.conditions.front(), library), row.text);
  }
  worst.source = library.source_text(row.source);
  worst.row = row.id;
}

}  // namespace

ReactionSetting make_reaction_setting(const Solute& solute, const std::vector<std::string>& contains,
                                      bool moist, const Aim& aim, const Library& library) {
  ReactionSetting setting;
  setting.groups = solute.groups;
  setting.groups_known = solute.groups_known;
  const auto hold = [&setting](const std::string& token, bool value, bool known = true) {
    if (!known) {
      setting.unknown.push_back(token);
    } else if (value) {
      setting.yes.push_back(token);
    }
  };
  for (const Condition& condition : library.conditions()) {
    const bool stated = !condition.word.empty() && has(contains, condition.word);
    const bool brought =
        std::any_of(condition.set_by.begin(), condition.set_by.end(),
                    [&solute](const std::string& group) { return has(solute.groups, group); });
    if (!stated && !brought) continue;
    setting.yes.push_back(condition.token);
    setting.groups.insert(setting.groups.end(), condition.sets.begin(), condition.sets.end());
  }
  if (moist) setting.yes.emplace_back("wet-solute");
  hold("energetic-solute", solute.energetic.value_or(false), solute.energetic.has_value());
  hold("small-molecule", solute.molar_mass.value < kSmallMoleculeGMol,
       solute.molar_mass.origin != Origin::Assumed);
  hold("long-reflux", aim.hot_time_min > kLongRefluxMin);
  hold("light", aim.light);
  hold("peroxide-tested", aim.peroxide_test == "negative");
  const bool hot_surface = aim.heating == "hot-plate" || aim.heating == "oil-bath" ||
                           aim.heating == "mantle" || aim.heating == "steam-bath";
  hold("hot-surface", hot_surface, aim.heating != "unknown");
  hold("hot-surface-or-flame", aim.open_flame, aim.open_flame || aim.heating == "water-bath");
  return setting;
}

bool was_looked_up(const Solvent& solvent) {
  return !solvent.from_user || !solvent.classes.empty();
}

Reaction reaction_with_solid(SolventId solvent, const ReactionSetting& setting, const Aim& aim,
                             const Library& library) {
  Reaction worst;
  for (const Incompatibility& row : library.incompatibilities()) {
    if (row.between_solvents || !row.concerns(solvent)) continue;
    const bool meets =
        row.party_b.empty() ||
        std::any_of(row.party_b.begin(), row.party_b.end(), [&setting](const std::string& group) {
          return has(setting.groups, group) || has(setting.yes, group);
        });
    if (!meets) continue;
    const bool excepted =
        std::any_of(row.exceptions.begin(), row.exceptions.end(),
                    [&setting](const std::string& group) { return has(setting.groups, group); });
    if (excepted) continue;
    take_if_graver(worst, row, row_holds(row, solvent, setting, aim, library), library);
  }
  return worst;
}

Reaction reaction_between(SolventId first, SolventId second, const ReactionSetting& setting, const Aim& aim,
                          const Library& library) {
  Reaction worst;
  for (const Incompatibility& row : library.incompatibilities()) {
    if (!row.between_solvents || !row.concerns(first, second)) continue;
    take_if_graver(worst, row, row_holds(row, first, setting, aim, library), library);
  }
  return worst;
}

}  // namespace firstcrop
