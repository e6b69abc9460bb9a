#include <algorithm>
#include <map>
#include <set>

#include <fmt/format.h>

#include "rules/rule_parts.hpp"

namespace firstcrop::detail {
namespace {

// Remembers what earlier rungs catch, so that a rung they leave nothing for is found.
class Caught {
 public:
  // True if every system that `condition` would catch is caught already; else remembers it.
  bool covers(const Expression& condition) {
    if (!seen_.insert(to_text(condition)).second) return true;
    if (is_membership(condition)) return covers_words(condition);
    if (is_limit(condition)) return covers_limit(condition);
    return false;
  }

 private:
  static bool is_membership(const Expression& condition) {
    const bool is_text =
        condition.kind == ExpressionKind::Equal && condition.operands[1].kind == ExpressionKind::Text;
    const bool is_set = (condition.kind == ExpressionKind::In || condition.kind == ExpressionKind::Meets) &&
                        condition.operands[1].kind == ExpressionKind::Set;
    return is_text || is_set;
  }
  bool covers_words(const Expression& condition) {
    std::set<std::string>& known = words_[to_text(condition.operands[0])];
    const Expression& right = condition.operands[1];
    std::vector<std::string> own;
    if (right.kind == ExpressionKind::Text) own.push_back(right.text);
    for (const Expression& member : right.operands) own.push_back(member.text);
    const bool is_covered = std::all_of(own.begin(), own.end(),
                                        [&known](const std::string& word) { return known.contains(word); });
    known.insert(own.begin(), own.end());
    return is_covered;
  }

  static bool is_limit(const Expression& condition) {
    return condition.kind >= ExpressionKind::Less && condition.kind <= ExpressionKind::GreaterEqual &&
           condition.operands[1].kind == ExpressionKind::Number;
  }
  // `x < 5` behind `x < 10`: the limits of one side may only move outwards.
  bool covers_limit(const Expression& condition) {
    const bool is_upper =
        condition.kind == ExpressionKind::Less || condition.kind == ExpressionKind::LessEqual;
    const double limit = condition.operands[1].number;
    const std::string side = (is_upper ? "below " : "above ") + to_text(condition.operands[0]);
    const auto [known, is_new] = limits_.try_emplace(side, limit);
    if (is_new) return false;
    const bool moves_out = is_upper ? limit >= known->second : limit <= known->second;
    if (moves_out) known->second = limit;
    return !moves_out;
  }

  std::set<std::string> seen_;
  std::map<std::string, std::set<std::string>> words_;
  std::map<std::string, double> limits_;
};

}  // namespace

std::optional<Ladder> read_ladder(RuleContext& context, const YamlNode& node, WrittenRule& written) {
  if (!node.is_list() || node.items.empty()) {
    context.error(node, "a ladder is a list of rungs `[condition, value]`",
                  "write `[[condition, value], [else, value]]`");
    return std::nullopt;
  }
  Ladder out;
  Caught caught;
  bool is_good = true;
  bool is_closed = false;
  for (const YamlNode& rung : node.items) {
    if (!rung.is_list() || rung.items.size() != 2) {
      context.error(rung, "a rung is `[condition, value]`",
                    rung.is_list() && rung.items.size() > 2
                        ? "separate the members of a set and the arguments of a function by `;`"
                        : "write `[condition, value]`");
      is_good = false;
      continue;
    }
    const YamlNode& when = rung.items[0];
    written.ladder.emplace_back(when.text, rung.items[1].text);
    if (is_closed) {
      context.error(when, "this rung can never be reached", "it stands behind `else`");
      is_good = false;
      continue;
    }
    Ladder::Rung next;
    next.value = &rung.items[1];
    if (when.is_scalar() && when.text == "else") {
      is_closed = true;
      out.rungs.push_back(std::move(next));
      continue;
    }
    next.condition = context.condition(when);
    if (!next.condition) {
      is_good = false;
      continue;
    }
    if (next.condition->kind == ExpressionKind::Flag) {
      context.error(when, fmt::format("a rung that is always `{}` is of no use", next.condition->flag),
                    next.condition->flag ? "write `else`" : "delete it");
      is_good = false;
    } else if (caught.covers(*next.condition)) {
      context.error(when, "this rung can never be reached", "the rungs before it catch all that it would");
      is_good = false;
    }
    out.rungs.push_back(std::move(next));
  }
  if (is_good && !is_closed) {
    context.error(node.items.back(), "the ladder does not say what holds otherwise",
                  "end it with `[else, value]`");
    is_good = false;
  }
  if (is_good && out.rungs.size() == 1) {
    context.error(node, "a ladder of one rung is no ladder", "add a rung with a condition");
    is_good = false;
  }
  if (!is_good) return std::nullopt;
  return out;
}

}  // namespace firstcrop::detail
