#include <algorithm>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "rules/rule_parts.hpp"

namespace firstcrop::detail {
namespace {

const std::vector<std::pair<std::string, Outcome>>& expected_words() {
  static const std::vector<std::pair<std::string, Outcome>> words{{"high", Outcome::High},
                                                                  {"middle", Outcome::Middle},
                                                                  {"low", Outcome::Low},
                                                                  {"fires", Outcome::Fires},
                                                                  {"silent", Outcome::Silent},
                                                                  {"unknown", Outcome::Unknown},
                                                                  {"not-applicable", Outcome::NotApplicable}};
  return words;
}

std::optional<FactValue> given_value(RuleContext& context, const FactReference& reference,
                                     const YamlNode& node) {
  const FactInfo& info = context.catalogue.info(reference.fact);
  FactValue out;
  // A case states what would have been found, so that `measured` speaks of derived solubility only where it
  // is given.
  out.origin = Origin::Given;
  switch (info.type) {
    case FactType::Number: {
      const auto number = context.literal(node, info.dimension);
      if (!number) return std::nullopt;
      out.value = NumberColumn::of(*number);
      return out;
    }
    case FactType::Flag:
      if (node.is_scalar() && (node.text == "true" || node.text == "false")) {
        out.value = FlagColumn::of(node.text == "true");
        return out;
      }
      context.error(node, "this fact is `true` or `false`", {});
      return std::nullopt;
    case FactType::Text: {
      if (!node.is_scalar() || node.text.empty()) {
        context.error(node, "a word is expected here", {});
        return std::nullopt;
      }
      const bool fits = info.words.empty() ||
                        std::find(info.words.begin(), info.words.end(), node.text) != info.words.end();
      if (!fits) {
        const auto near = nearest_name(node.text, info.words);
        context.error(node, fmt::format("`{}` is never `{}`", info.name, node.text),
                      near ? fmt::format("did you mean `{}`?", *near)
                           : fmt::format("it is one of: {}", fmt::join(info.words, ", ")));
        return std::nullopt;
      }
      out.value = node.text;
      return out;
    }
    case FactType::Set:
      break;
  }
  std::vector<std::string> members;
  if (node.is_list()) {
    for (const YamlNode& item : node.items) {
      if (!item.is_scalar()) {
        context.error(item, "a set holds words", {});
        return std::nullopt;
      }
      members.push_back(item.text);
    }
  } else {
    context.error(node, "a set is a list", "write `[one, two]`");
    return std::nullopt;
  }
  out.value = std::move(members);
  return out;
}

void read_missing(RuleContext& context, const YamlNode& node, RuleCase& out) {
  std::vector<const YamlNode*> names;
  if (node.is_list()) {
    for (const YamlNode& item : node.items) names.push_back(&item);
  } else {
    names.push_back(&node);
  }
  out.missing_place = context.document.place_of(node);
  for (const YamlNode* name : names) {
    const auto reference = context.catalogue.find(name->text);
    if (!reference) {
      const auto near = context.catalogue.nearest(name->text);
      context.error(*name, fmt::format("there is no fact `{}`", name->text),
                    near ? fmt::format("did you mean `{}`?", *near) : "");
      continue;
    }
    out.missing.push_back(*reference);
  }
}

void read_value(RuleContext& context, const YamlNode& node, const Rule& rule, RuleCase& out) {
  out.value_place = context.document.place_of(node);
  out.written_value = node.text;
  if (rule.kind != RuleKind::Derive) {
    context.error(node, "only derive rules have a value", "write `expect` instead");
    return;
  }
  const FactInfo& info = context.catalogue.info(rule.derived.fact);
  switch (info.type) {
    case FactType::Number:
      if (const auto number = context.literal(node, info.dimension)) out.value = *number;
      return;
    case FactType::Flag:
      if (node.text == "true" || node.text == "false") {
        out.value = node.text == "true";
      } else {
        context.error(node, "the value is `true` or `false`", {});
      }
      return;
    case FactType::Text:
      out.value = node.text;
      return;
    case FactType::Set:
      context.error(node, "sets are not derived", {});
      return;
  }
}

}  // namespace

void read_cases(RuleContext& context, const YamlNode& node, Rule& rule) {
  if (!node.is_list()) {
    context.error(node, "`cases` is a list of maps", "write `- {fact: value, expect: high, grade: 1}`");
    return;
  }
  for (const YamlNode& entry : node.items) {
    if (!entry.is_map()) {
      context.error(entry, "a case is a map of facts", "write `- {fact: value, expect: high, grade: 1}`");
      continue;
    }
    RuleCase out;
    out.place = context.document.place_of(entry);
    out.expected_place = out.place;
    for (const auto& [key, value] : entry.entries) {
      if (key.text == "expect") {
        out.expected_place = context.document.place_of(value);
        std::vector<std::string> words;
        for (const auto& [word, outcome] : expected_words()) {
          words.push_back(word);
          if (value.text == word) out.expected = outcome;
        }
        if (!out.expected) {
          const auto near = nearest_name(value.text, words);
          context.error(value, fmt::format("a case cannot expect `{}`", value.text),
                        near ? fmt::format("did you mean `{}`?", *near)
                             : fmt::format("one of: {}", fmt::join(words, ", ")));
        }
      } else if (key.text == "grade") {
        out.grade = context.literal(value, dimension::kNumber);
        out.grade_place = context.document.place_of(value);
      } else if (key.text == "missing") {
        read_missing(context, value, out);
      } else if (key.text == "value") {
        read_value(context, value, rule, out);
      } else if (const auto reference = context.catalogue.find(key.text)) {
        if (auto given = given_value(context, *reference, value))
          out.given.push_back({*reference, std::move(*given)});
      } else {
        const auto near = context.catalogue.nearest(key.text);
        context.error(key, fmt::format("there is no fact `{}`", key.text),
                      near ? fmt::format("did you mean `{}`?", *near)
                           : "a case holds facts, `expect`, `grade`, `value`, `missing`");
      }
    }
    if (!out.expected && !out.value)
      context.error(entry, "this case expects nothing",
                    "add `expect: high` or, for derive rules, `value: ...`");
    rule.cases.push_back(std::move(out));
  }
}

}  // namespace firstcrop::detail
