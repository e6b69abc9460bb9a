#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "rules/rule_parts.hpp"

namespace firstcrop::detail {
namespace {

constexpr std::array kExpectable{Outcome::High,   Outcome::Middle,  Outcome::Low,          Outcome::Fires,
                                 Outcome::Silent, Outcome::Unknown, Outcome::NotApplicable};
constexpr std::array kOrigins{Origin::Published, Origin::Measured,   Origin::Given,
                              Origin::Predicted, Origin::Calculated, Origin::Assumed};

bool can_come(Outcome outcome, RuleKind kind) {
  switch (outcome) {
    case Outcome::High:
    case Outcome::Middle:
    case Outcome::Low:
      return kind == RuleKind::Grade;
    case Outcome::Fires:
    case Outcome::Possible:
    case Outcome::Silent:
      return kind != RuleKind::Grade && kind != RuleKind::Derive;
    case Outcome::Unknown:
    case Outcome::NotApplicable:
      break;
  }
  return true;
}

std::string kind_in_words(RuleKind kind) {
  switch (kind) {
    case RuleKind::Derive:
      return "a derive rule";
    case RuleKind::Exclude:
      return "an exclusion";
    case RuleKind::Grade:
      return "a grade";
    case RuleKind::Caution:
      return "a caution";
    case RuleKind::Advice:
      break;
  }
  return "an advice";
}

// Half a unit of the last decimal where two or more were written; else nearly exact.
double tolerance_of(const YamlNode& node, double value) {
  const std::string number = node.text.substr(0, node.text.find_first_not_of("0123456789.-"));
  const std::size_t point = number.find('.');
  const std::size_t decimals = point == std::string::npos ? 0 : number.size() - point - 1;
  if (decimals < 2) return 1e-6 * std::max(std::abs(value), 1e-3);
  double last = 0.5;
  for (std::size_t i = 0; i < decimals; ++i) last /= 10;
  const std::size_t unit_at = node.text.find_first_not_of("0123456789.- ");
  const auto unit =
      unit_at == std::string::npos ? std::nullopt : leading_unit(std::string_view(node.text).substr(unit_at));
  return last * (unit ? unit->scale : 1.0);
}

class CaseReader {
 public:
  CaseReader(RuleContext& context, const Rule& rule)
      : context_(context), rule_(rule), facts_(context.all_facts()) {}

  std::optional<RuleCase> read(const YamlNode& entry) {
    if (!entry.is_map()) {
      context_.error(entry, "a case is a map of facts", "write `- {fact: value, expect: ...}`");
      return std::nullopt;
    }
    const std::size_t before = context_.findings().size();
    RuleCase out;
    out.place = context_.document().place_of(entry);
    bool is_whole = true;
    for (const auto& [key, value] : entry.entries) {
      is_whole = is_whole && !value.cut_by_comma;
      read_entry(key, value, out);
    }
    if (!is_whole || context_.findings().size() > before) return std::nullopt;
    check_whole(entry, out);
    return out;
  }

 private:
  void read_entry(const YamlNode& key, const YamlNode& value, RuleCase& out) {
    if (key.text == "expect") {
      read_expected(value, out);
    } else if (key.text == "grade") {
      read_grade(key, value, out);
    } else if (key.text == "missing") {
      read_missing(value, out);
    } else if (key.text == "value") {
      read_value(key, value, out);
    } else {
      read_given(key, value, out);
    }
  }

  void read_expected(const YamlNode& node, RuleCase& out) {
    out.expected_place = context_.document().place_of(node);
    std::vector<std::string> words;
    for (const Outcome outcome : kExpectable) {
      if (!can_come(outcome, rule_.kind)) continue;
      words.emplace_back(name_of(outcome));
      if (node.is_scalar() && node.text == name_of(outcome)) out.expected = outcome;
    }
    if (out.expected) return;
    const auto near = nearest_name(node.text, words);
    context_.error(
        node,
        fmt::format("a case of {} cannot expect `{}`", kind_in_words(rule_.kind), node.text.substr(0, 60)),
        near ? fmt::format("did you mean `{}`?", *near) : fmt::format("one of: {}", fmt::join(words, ", ")));
  }

  void read_grade(const YamlNode& key, const YamlNode& node, RuleCase& out) {
    out.grade_place = context_.document().place_of(node);
    if (rule_.kind == RuleKind::Grade) {
      out.grade = context_.literal(node, dimension::kNumber);
    } else {
      context_.error(key, "only a grade has a grade", "write `expect: ...` alone");
    }
  }

  // A fact that the rule looks at: what it does not look at can make no difference, so it is a slip.
  std::optional<FactReference> find_fact(const YamlNode& node, std::string other_help) {
    const auto found = node.is_scalar() ? context_.catalogue().find(node.text) : std::nullopt;
    if (!found) {
      const auto near = context_.catalogue().nearest(node.text);
      context_.error(node, fmt::format("there is no fact `{}`", node.text.substr(0, 60)),
                     near ? fmt::format("did you mean `{}`?", *near) : std::move(other_help));
      return std::nullopt;
    }
    // A rule that looks at nothing is always said; any fact may show that it makes no difference.
    if (facts_.empty() || std::find(facts_.begin(), facts_.end(), *found) != facts_.end()) return found;
    std::vector<std::string> names;
    for (const FactReference& fact : facts_) names.push_back(context_.catalogue().name_of(fact));
    context_.error(node, fmt::format("the rule never looks at `{}`", node.text),
                   fmt::format("it looks at {}", fmt::join(names, ", ")));
    return std::nullopt;
  }

  void read_missing(const YamlNode& node, RuleCase& out) {
    out.missing_place = context_.document().place_of(node);
    std::vector<const YamlNode*> names;
    for (const YamlNode& item : node.items) names.push_back(&item);
    if (node.is_scalar()) names.push_back(&node);
    if (names.empty())
      context_.error(node, "`missing` names one fact or more", "write `missing: [a.b, c.d]`");
    for (const YamlNode* name : names) {
      if (const auto fact = find_fact(*name, {})) out.missing.push_back(*fact);
    }
  }

  void read_value(const YamlNode& key, const YamlNode& node, RuleCase& out) {
    if (rule_.kind != RuleKind::Derive) {
      context_.error(key, "only a derive rule has a value", "write `expect: ...`");
      return;
    }
    out.value_place = context_.document().place_of(node);
    out.written_value = node.text;
    const FactInfo& info = context_.catalogue().info(rule_.derived.fact);
    if (info.type == FactType::Number) {
      const auto number = context_.literal(node, info.dimension);
      if (!number) return;
      out.value = *number;
      out.value_tolerance = tolerance_of(node, *number);
    } else if (info.type == FactType::Flag) {
      if (const auto flag = read_flag(node, info)) out.value = *flag;
    } else if (const auto word = read_word(node, info)) {
      out.value = *word;
    }
  }

  void read_given(const YamlNode& key, const YamlNode& node, RuleCase& out) {
    const auto fact = find_fact(key, "a case holds facts, `expect`, `grade`, `value` and `missing`");
    if (!fact) return;
    RuleCase::Given given{*fact, {}};
    given.value.origin = Origin::Given;
    YamlNode plain = node;
    const SourcedText parts = node.is_scalar() ? split_source(node.text) : SourcedText{};
    if (!parts.source.empty()) {
      const auto origin = std::find_if(kOrigins.begin(), kOrigins.end(), [&parts](Origin candidate) {
        return name_of(candidate) == parts.source;
      });
      if (origin == kOrigins.end()) {
        context_.error(node, fmt::format("`{}` is not an origin", parts.source.substr(0, 60)),
                       "one of: published, measured, given, predicted, calculated, assumed");
        return;
      }
      given.value.origin = *origin;
      plain.text = parts.text;
    }
    if (auto value = read_fact_value(plain, context_.catalogue().info(fact->fact))) {
      given.value.value = std::move(*value);
      out.given.push_back(std::move(given));
    }
  }

  std::optional<decltype(FactValue::value)> read_fact_value(const YamlNode& node, const FactInfo& info) {
    if (info.type == FactType::Number) {
      const auto number = context_.literal(node, info.dimension);
      if (!number) return std::nullopt;
      return NumberColumn::of(*number);
    }
    if (info.type == FactType::Flag) {
      const auto flag = read_flag(node, info);
      if (!flag) return std::nullopt;
      return FlagColumn::of(*flag);
    }
    if (info.type == FactType::Text) {
      auto word = read_word(node, info);
      if (!word) return std::nullopt;
      return std::move(*word);
    }
    if (!node.is_list()) {
      context_.error(node, fmt::format("`{}` is a set", info.name), "write `[one, two]`, or `[]` for none");
      return std::nullopt;
    }
    std::vector<std::string> members;
    for (const YamlNode& item : node.items) {
      auto word = read_word(item, info);
      if (!word) return std::nullopt;
      members.push_back(std::move(*word));
    }
    return members;
  }

  std::optional<bool> read_flag(const YamlNode& node, const FactInfo& info) {
    if (node.is_scalar() && node.text == "true") return true;
    if (node.is_scalar() && node.text == "false") return false;
    context_.error(node, fmt::format("`{}` is `true` or `false`", info.name));
    return std::nullopt;
  }

  std::optional<std::string> read_word(const YamlNode& node, const FactInfo& info) {
    if (!node.is_scalar() || node.text.empty()) {
      context_.error(node, fmt::format("a word is expected for `{}`", info.name));
      return std::nullopt;
    }
    const auto& words = info.words;
    if (words.empty() || std::find(words.begin(), words.end(), node.text) != words.end()) return node.text;
    const auto near = nearest_name(node.text, words);
    context_.error(
        node, fmt::format("`{}` is never `{}`", info.name, node.text.substr(0, 60)),
        near ? fmt::format("did you mean `{}`?", *near) : fmt::format("one of: {}", fmt::join(words, ", ")));
    return std::nullopt;
  }

  void check_whole(const YamlNode& entry, const RuleCase& out) {
    const bool has_no_grade = out.expected == Outcome::Unknown || out.expected == Outcome::NotApplicable;
    if (!out.expected && !out.value) {
      context_.error(entry, "the case expects nothing",
                     rule_.kind == RuleKind::Derive ? "add `value: ...`" : "add `expect: ...`");
    } else if (out.expected && out.value) {
      context_.error(entry, "the case expects a value and none", "keep one of `value` and `expect`");
    } else if (out.grade && has_no_grade) {
      context_.error(entry, "the case expects a grade and none", "keep one of `grade` and `expect`");
    } else if (!out.missing.empty() && out.expected != Outcome::Unknown) {
      context_.error(entry, "something is missing only where the outcome is unknown",
                     "write `expect: unknown`");
    }
  }

  RuleContext& context_;
  const Rule& rule_;
  std::vector<FactReference> facts_;
};

}  // namespace

void read_cases(RuleContext& context, const YamlNode& node, Rule& rule) {
  if (!node.is_list()) {
    context.error(node, "`cases` is a list of maps", "write `- {fact: value, expect: ...}`");
    return;
  }
  CaseReader reader(context, rule);
  for (const YamlNode& entry : node.items) {
    if (auto read = reader.read(entry)) rule.cases.push_back(std::move(*read));
  }
}

}  // namespace firstcrop::detail
