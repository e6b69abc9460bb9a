#include "rules/rule_loader.hpp"

#include <algorithm>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "rules/rule_parts.hpp"

namespace firstcrop {
namespace {

using detail::RuleContext;

constexpr double kLargestWeight = 100;

RuleScope scope_of(RuleContext& context, const YamlNode& node, const std::vector<FactReference>& facts) {
  bool each = false;
  bool pair = false;
  bool part = false;
  for (const FactReference& fact : facts) {
    each = each || fact.component == Component::Each;
    part = part || fact.component == Component::Good || fact.component == Component::Poor;
    pair = pair || context.catalogue.name_of(fact).starts_with("pair.");
  }
  if (each && (part || pair)) {
    context.error(node, "`solvent.` is mixed with `good.`, `poor.` or `pair.`",
                  "`solvent.` judges each solvent by itself; name the one you mean");
  }
  return each ? RuleScope::Component : pair || part ? RuleScope::Pair : RuleScope::System;
}

void read_say(RuleContext& context, Fields& fields, Rule& rule) {
  const YamlNode* node = fields.required_node("say", "write `say: {high: ..., middle: ..., low: ...}`");
  if (node == nullptr) {
    context.failed = true;
    return;
  }
  Fields say(context.document, *node, "`say`", context.findings);
  const auto read = [&](const char* key, Sentence& target) {
    if (const YamlNode* sentence = say.node(key)) {
      if (auto parsed = context.sentence(*sentence)) target = std::move(*parsed);
    }
  };
  read("high", rule.high);
  read("middle", rule.middle);
  read("low", rule.low);
  say.finish();
}

// Bodies of exclude, caution and advice: a condition and a sentence.
void read_condition_and_text(RuleContext& context, const YamlNode& node, const char* text_key, Rule& rule,
                             const std::string& what) {
  Fields fields(context.document, node, what, context.findings);
  const YamlNode* when = fields.required_node("when", "write `when: true` for always");
  const YamlNode* text = fields.required_node(text_key, "write the sentence for the person at the bench");
  if (rule.kind == RuleKind::Caution) {
    fields.required_node("level", "one of: note, warning, danger");
    const auto level = fields.choice("level", {"note", "warning", "danger"});
    rule.level = level == "danger"    ? CautionLevel::Danger
                 : level == "warning" ? CautionLevel::Warning
                                      : CautionLevel::Note;
  }
  fields.finish();
  if (when == nullptr || text == nullptr) {
    context.failed = true;
    return;
  }
  rule.written.body = when->text;
  if (const auto condition = context.condition(*when))
    rule.body = compile(*condition, ValueType{FactType::Flag, {}}, context.lets);
  if (auto sentence = context.sentence(*text)) rule.text = std::move(*sentence);
}

void read_kind(RuleContext& context, Fields& fields, const YamlNode& node, Rule& rule) {
  const std::vector<std::pair<const char*, RuleKind>> kinds{{"derive", RuleKind::Derive},
                                                            {"exclude", RuleKind::Exclude},
                                                            {"grade", RuleKind::Grade},
                                                            {"caution", RuleKind::Caution},
                                                            {"advice", RuleKind::Advice}};
  const YamlNode* body = nullptr;
  for (const auto& [key, kind] : kinds) {
    const YamlNode* found = fields.node(key);
    if (found == nullptr) continue;
    if (body != nullptr) {
      context.error(*found, "a rule has one kind only", "part it into two rules");
      return;
    }
    body = found;
    rule.kind = kind;
  }
  if (body == nullptr) {
    context.error(node, "this rule says nothing", "give it one of: derive, exclude, grade, caution, advice");
    return;
  }
  switch (rule.kind) {
    case RuleKind::Derive:
      detail::read_derive(context, *body, rule);
      break;
    case RuleKind::Exclude:
      read_condition_and_text(context, *body, "because", rule, "`exclude`");
      break;
    case RuleKind::Grade:
      detail::read_grade(context, *body, rule);
      break;
    case RuleKind::Caution:
      read_condition_and_text(context, *body, "text", rule, "`caution`");
      break;
    case RuleKind::Advice:
      read_condition_and_text(context, *body, "text", rule, "`advice`");
      break;
  }
}

void read_weight(RuleContext& context, Fields& fields, Rule& rule) {
  const YamlNode* node = rule.kind == RuleKind::Grade
                             ? fields.required_node("weight", "write e.g. `weight: 1`")
                             : fields.node("weight");
  if (node == nullptr) {
    context.failed = context.failed || rule.kind == RuleKind::Grade;
    return;
  }
  if (rule.kind != RuleKind::Grade) {
    context.error(*node, "only grades have a weight", "leave `weight` out");
    return;
  }
  const auto weight = context.literal(*node, dimension::kNumber);
  if (!weight) return;
  if (*weight <= 0 || *weight > kLargestWeight)
    context.error(*node, "a weight lies above 0 and at most at 100", {});
  rule.weight = *weight;
}

bool is_rule_name(const std::string& id) {
  return !id.empty() && id.size() <= 60 && std::all_of(id.begin(), id.end(), [](char letter) {
    return (letter >= 'a' && letter <= 'z') || (letter >= '0' && letter <= '9') || letter == '-';
  });
}

std::optional<Rule> load_rule(const YamlDocument& document, const YamlNode& node, const Catalogue& catalogue,
                              Findings& findings) {
  RuleContext context{document, catalogue, findings, {}, {}, {}, false};
  Rule rule;
  Fields fields(document, node, "a rule", findings);
  const YamlNode* id = fields.required_node("id", "give the rule a name, e.g. `id: hot-window`");
  if (id == nullptr) {
    context.failed = true;
  } else if (!is_rule_name(id->text)) {
    context.error(*id, "an id is made of small letters, digits and hyphens", {});
  } else {
    rule.id.text = id->text;
    rule.place = document.place_of(*id);
  }
  if (const YamlNode* lets = fields.node("let")) detail::read_lets(context, *lets, rule.written);
  if (const YamlNode* when = fields.node("when")) {
    rule.written.when = when->text;
    if (const auto condition = context.condition(*when))
      rule.when = compile(*condition, ValueType{FactType::Flag, {}}, context.lets);
  }
  read_kind(context, fields, node, rule);
  read_weight(context, fields, rule);
  if (rule.kind == RuleKind::Grade) {
    read_say(context, fields, rule);
  } else if (const YamlNode* say = fields.node("say")) {
    context.error(*say, "only grades have `say`", {});
  }
  if (const YamlNode* step = fields.node("step")) {
    const bool may = rule.kind == RuleKind::Caution || rule.kind == RuleKind::Advice;
    if (!may) context.error(*step, "only cautions and advice have a step", {});
    if (const auto word = fields.choice("step", known_steps())) rule.step = *word;
  }
  rule.teach = fields.text("teach").value_or("");
  rule.source =
      fields.required_text("source", "name the source, or write `common practice, no source`").value_or("");
  if (rule.source.empty()) context.failed = true;
  if (const YamlNode* cases = fields.required_node("cases", "every rule needs a case on each side")) {
    detail::read_cases(context, *cases, rule);
  } else {
    context.failed = true;
  }
  for (const auto& [name, let] : context.lets) {
    if (std::find(context.used_lets.begin(), context.used_lets.end(), name) == context.used_lets.end()) {
      context.error(*fields.node("let")->find(name),
                    fmt::format("the name `{}` of `let` is never used", name), "delete it");
    }
  }
  const std::size_t before = findings.size();
  fields.finish();
  if (findings.size() > before || !fields.is_map()) context.failed = true;
  rule.facts = context.facts;
  rule.scope = scope_of(context, id != nullptr ? *id : node, context.facts);
  if (rule.kind == RuleKind::Derive && rule.derived.component == Component::Each)
    rule.scope = RuleScope::Component;
  if (context.failed) return std::nullopt;
  return rule;
}

std::optional<VerdictLimits> load_limits(const YamlDocument& document, const YamlNode& node,
                                         const Catalogue& catalogue, Findings& findings) {
  RuleContext context{document, catalogue, findings, {}, {}, {}, false};
  VerdictLimits out;
  out.place = document.place_of(node);
  Fields fields(document, node, "`verdict`", findings);
  const auto group = [&](const char* key, auto read) {
    const YamlNode* part = fields.required_node(key);
    if (part == nullptr) {
      context.failed = true;
      return;
    }
    Fields inner(document, *part, fmt::format("`{}` of `verdict`", key), findings);
    read(inner);
    inner.finish();
  };
  const auto number = [&context](Fields& inner, const char* key, double& target, double highest,
                                 bool required = true) {
    const YamlNode* found = required ? inner.required_node(key) : inner.node(key);
    if (found == nullptr) {
      context.failed = context.failed || required;
      return;
    }
    const auto value = context.literal(*found, dimension::kNumber);
    if (!value) return;
    if (*value < 0 || *value > highest)
      context.error(*found, fmt::format("`{}` lies between 0 and {}", key, highest), {});
    target = *value;
  };
  group("chance", [&](Fields& inner) {
    const YamlNode* of = inner.required_node("of");
    const auto fact = of != nullptr ? catalogue.find(of->text) : std::nullopt;
    if (!fact || catalogue.info(fact->fact).type != FactType::Flag) {
      if (of != nullptr)
        context.error(*of, "the chance is the probability of a flag", "write `of: system.works`");
      context.failed = true;
      return;
    }
    out.chance_of = *fact;
  });
  group("sound", [&](Fields& inner) {
    number(inner, "score", out.sound_score, 1);
    number(inner, "judged", out.sound_judged, 1);
    number(inner, "weak_grade", out.sound_weak_grade, 1);
    number(inner, "heavy_weight", out.sound_heavy_weight, kLargestWeight);
    number(inner, "chance", out.sound_chance, 1, false);
  });
  group("doubtful", [&](Fields& inner) { number(inner, "exclusion", out.doubtful_exclusion, 1); });
  group("unfit", [&](Fields& inner) {
    number(inner, "exclusion", out.unfit_exclusion, 1);
    number(inner, "chance", out.unfit_chance, 1);
  });
  group("caution", [&](Fields& inner) { number(inner, "probability", out.caution_probability, 1); });
  group("words", [&](Fields& inner) {
    number(inner, "high", out.high_grade, 1);
    number(inner, "low", out.low_grade, 1);
  });
  const std::size_t before = findings.size();
  fields.finish();
  if (context.failed || findings.size() > before) return std::nullopt;
  return out;
}

}  // namespace

const std::vector<std::string>& known_steps() {
  static const std::vector<std::string> steps{"always",      "dissolving", "heating", "charcoal",
                                              "filtration",  "cooling",    "washing", "drying",
                                              "evaporation", "waste",      "storage"};
  return steps;
}

RuleFile load_rules(const YamlDocument& document, const Catalogue& catalogue, Findings& findings) {
  RuleFile out;
  Fields file(document, document.root(), "a rule file", findings);
  if (!file.is_map() || !check_format(file, "firstcrop rules 1")) return out;
  const YamlNode* verdict = file.node("verdict");
  if (verdict != nullptr) out.verdict = load_limits(document, *verdict, catalogue, findings);
  if (verdict == nullptr && !file.has("rules")) {
    file.error(document.root(), "this file holds neither `rules` nor `verdict`",
               "begin with `rules:` and a list");
  }
  for (const YamlNode* node : file.map_list("rules")) {
    if (auto rule = load_rule(document, *node, catalogue, findings)) out.rules.push_back(std::move(*rule));
  }
  file.finish();
  return out;
}

}  // namespace firstcrop
