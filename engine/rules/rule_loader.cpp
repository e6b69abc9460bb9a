#include "rules/rule_loader.hpp"

#include <algorithm>
#include <array>

#include <fmt/format.h>

#include "rules/rule_parts.hpp"

namespace firstcrop {
namespace {

using detail::RuleContext;

constexpr std::array kKinds{RuleKind::Derive, RuleKind::Exclude, RuleKind::Grade, RuleKind::Caution,
                            RuleKind::Advice};
constexpr std::size_t kLongestId = 60;
constexpr std::string_view kExampleOfSay = "write `say: {high: ..., middle: ..., low: ...}`";

bool is_rule_id(const std::string& id) {
  return !id.empty() && id.size() <= kLongestId && std::all_of(id.begin(), id.end(), [](char letter) {
    return (letter >= 'a' && letter <= 'z') || (letter >= '0' && letter <= '9') || letter == '-';
  });
}

class RuleReader {
 public:
  RuleReader(const YamlDocument& document, const Catalogue& catalogue, Findings& findings,
             const YamlNode& node)
      : context_(document, catalogue, findings),
        node_(node),
        fields_(document, node, name_in(node), findings) {}

  std::optional<Rule> read() {
    const std::size_t before = context_.findings().size();
    read_id();
    const YamlNode* lets = fields_.node("let");
    if (lets != nullptr) context_.read_lets(*lets, rule_.written);
    if (const YamlNode* when = fields_.node("when")) {
      rule_.written.when = when->text;
      rule_.when = context_.condition_program(*when);
    }
    const YamlNode* cases_node = nullptr;
    if (read_kind()) {
      read_weight();
      read_say();
      read_ask();
      read_step();
      rule_.facts = context_.facts();
      rule_.scope = scope();
    } else {
      // What the kind would demand is unknown; one finding is enough.
      for (const char* key : {"weight", "say", "ask", "step"}) (void)fields_.node(key);
    }
    rule_.teach = fields_.text("teach").value_or(std::string());
    rule_.source = fields_.required_text("source", "name it, or write `common practice, no source`")
                       .value_or(std::string());
    cases_node = fields_.required_node("cases", "add one on each side: `- {fact: value, expect: ...}`");
    fields_.finish();
    // Neither lets nor cases of a broken rule can be judged.
    if (context_.has_failed()) return std::nullopt;
    if (lets != nullptr) context_.report_unused_lets(*lets);
    if (cases_node != nullptr) detail::read_cases(context_, *cases_node, rule_);
    if (context_.has_failed() || context_.findings().size() > before) return std::nullopt;
    return std::move(rule_);
  }

 private:
  static std::string name_in(const YamlNode& node) {
    const YamlNode* id = node.find("id");
    return id != nullptr && is_rule_id(id->text) ? fmt::format("rule `{}`", id->text) : "this rule";
  }

  void read_id() {
    rule_.place = context_.document().place_of(node_);
    const YamlNode* id = fields_.required_node("id", "give it a name like `id: hot-window`");
    if (id == nullptr) return;
    rule_.place = context_.document().place_of(*id);
    rule_.id.text = id->text;
    if (is_rule_id(id->text)) return;
    context_.error(*id,
                   fmt::format("an id is made of small letters, digits and hyphens, at most {}", kLongestId),
                   "write it like `hot-window`");
  }

  bool read_kind() {
    const YamlNode* body = nullptr;
    for (const RuleKind kind : kKinds) {
      const YamlNode* found = fields_.node(name_of(kind));
      if (found == nullptr) continue;
      if (body != nullptr) {
        context_.error(*found,
                       fmt::format("a rule has one kind; this one is `{}` already", name_of(rule_.kind)),
                       "part it into two rules");
        continue;
      }
      body = found;
      rule_.kind = kind;
    }
    if (body == nullptr) {
      context_.error(
          node_, "the rule does nothing: it has none of `derive`, `exclude`, `grade`, `caution`, `advice`",
          "add the one that it is meant to be");
      return false;
    }
    if (rule_.kind == RuleKind::Derive) {
      detail::read_derive(context_, *body, rule_);
    } else if (rule_.kind == RuleKind::Grade) {
      detail::read_grade(context_, *body, rule_);
    } else {
      detail::read_condition_and_text(context_, *body, rule_);
    }
    return true;
  }

  void read_weight() {
    const bool is_grade = rule_.kind == RuleKind::Grade;
    const YamlNode* weight =
        is_grade ? fields_.required_node("weight", "write it like `weight: 1`") : fields_.node("weight");
    if (weight == nullptr) return;
    if (!is_grade) {
      context_.error(*weight, "only a grade has a weight", "leave it out");
      return;
    }
    const auto value = context_.literal(*weight, dimension::kNumber);
    if (!value) return;
    rule_.weight = *value;
    if (*value <= 0 || *value > detail::kLargestWeight) {
      context_.error(*weight, fmt::format("a weight lies above 0 and not above {}", detail::kLargestWeight),
                     "delete the rule if it is to weigh nothing");
    }
  }

  void read_say() {
    const bool is_grade = rule_.kind == RuleKind::Grade;
    const YamlNode* node = is_grade ? fields_.required_node("say", kExampleOfSay) : fields_.node("say");
    if (node == nullptr) return;
    if (!is_grade) {
      context_.error(*node, "only a grade has `say`", "the sentence of this kind stands beside its `when`");
      return;
    }
    Fields say(context_.document(), *node, "`say`", context_.findings());
    const auto read = [&](const char* key, Sentence& target) {
      const YamlNode* text = say.node(key);
      if (text == nullptr) return;
      if (auto sentence = context_.sentence(*text)) target = std::move(*sentence);
    };
    read("high", rule_.high);
    read("middle", rule_.middle);
    read("low", rule_.low);
    read("unsure", rule_.unsure);
    say.finish();
  }

  // Questions for teaching, answered by what the rule says of a system.
  void read_ask() {
    const YamlNode* node = fields_.node("ask");
    if (node == nullptr) return;
    if (rule_.kind == RuleKind::Derive) {
      context_.error(*node, "a derive rule says nothing of a system, so it answers no question", "leave it out");
      return;
    }
    Fields ask(context_.document(), *node, "`ask`", context_.findings());
    const auto read = [&](const char* key, Sentence& target) {
      const YamlNode* text = ask.node(key);
      if (text == nullptr) return;
      if (auto sentence = context_.sentence(*text)) target = std::move(*sentence);
    };
    read("one", rule_.ask);
    read("which", rule_.ask_which);
    ask.finish();
  }

  void read_step() {
    const YamlNode* step = fields_.node("step");
    if (step == nullptr) return;
    if (rule_.kind != RuleKind::Caution && rule_.kind != RuleKind::Advice) {
      context_.error(*step, "only a caution or an advice has a step", "leave it out");
      return;
    }
    rule_.step = fields_.choice("step", known_steps()).value_or(std::string());
  }

  // What the rule is judged on follows from the facts that it and its sentences name.
  RuleScope scope() {
    bool has_each = context_.names_solvent();
    bool has_pair = context_.names_good_or_poor();
    for (const FactReference& fact : context_.all_facts()) {
      has_each = has_each || fact.component == Component::Each;
      has_pair = has_pair || fact.component == Component::Good || fact.component == Component::Poor ||
                 context_.catalogue().name_of(fact).starts_with("pair.");
    }
    if (rule_.kind == RuleKind::Derive && !context_.has_failed()) {
      const bool gives_each = rule_.derived.component == Component::Each;
      if (has_each && !gives_each) {
        context_.error(node_,
                       fmt::format("`{}` is one value, but `solvent.` stands for each of two solvents",
                                   context_.catalogue().name_of(rule_.derived)),
                       "name the one you mean: `good.` or `poor.`");
      }
      has_each = has_each || gives_each;
    }
    if (has_each && has_pair) {
      context_.error(node_, "`solvent` stands beside `good`, `poor` or `pair`",
                     "`solvent` means each of the two in turn; name the one you mean, or part the rule");
    }
    return has_each ? RuleScope::Component : has_pair ? RuleScope::Pair : RuleScope::System;
  }

  RuleContext context_;
  const YamlNode& node_;
  Fields fields_;
  Rule rule_;
};

}  // namespace

const std::vector<std::string>& known_steps() {
  static const std::vector<std::string> steps{"always",      "dissolving", "heating", "charcoal",
                                              "filtration",  "cooling",    "washing", "drying",
                                              "evaporation", "waste",      "storage",
                                              "collecting",  "mixing",     "if-no-crystals", "if-oil", "if-clogged",
                                              "if-coloured", "if-low-recovery"};
  return steps;
}

RuleFile load_rules(const YamlDocument& document, const Catalogue& catalogue, Findings& findings) {
  RuleFile out;
  Fields file(document, document.root(), "this rule file", findings);
  if (!file.is_map() || !check_format(file, "firstcrop rules 1")) return out;
  const YamlNode* verdict = file.node("verdict");
  if (verdict != nullptr) out.verdict = detail::read_verdict(document, *verdict, catalogue, findings);
  if (verdict == nullptr && !file.has("rules")) {
    file.error(document.root(), "the file holds neither `rules` nor `verdict`",
               "add `rules:` and a list of rules");
  }
  for (const YamlNode* node : file.map_list("rules")) {
    if (auto rule = RuleReader(document, catalogue, findings, *node).read()) {
      out.rules.push_back(std::move(*rule));
    }
  }
  file.finish();
  return out;
}

}  // namespace firstcrop
