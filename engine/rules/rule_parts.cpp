#include "rules/rule_parts.hpp"

#include <algorithm>

#include <fmt/format.h>

namespace firstcrop::detail {
namespace {

constexpr double kLowestGrade = 0.01;

// A ladder as nested choices, last rung first; the value of a rung is made by `value_of`.
template <typename ValueOf>
std::optional<std::uint16_t> build_ladder(RuleContext& context, ProgramBuilder& builder,
                                          const YamlNode& ladder, WrittenRule& written, ValueOf value_of) {
  if (!ladder.is_list() || ladder.items.empty()) {
    context.error(ladder, "a ladder is a list of `[condition, value]`", "end it with `[else, value]`");
    return std::nullopt;
  }
  std::vector<std::optional<Expression>> conditions;
  std::vector<std::uint16_t> values;
  std::vector<std::string> seen;
  bool good = true;
  bool closed = false;
  for (const YamlNode& rung : ladder.items) {
    if (!rung.is_list() || rung.items.size() != 2) {
      context.error(rung, "a rung is `[condition, value]`",
                    "part the members of a set by `;`; a comma parts condition and value");
      good = false;
      continue;
    }
    if (closed) {
      context.error(rung, "this rung can never be reached",
                    "rungs stand before `[else, value]` or a rung that is always true");
      good = false;
      continue;
    }
    const YamlNode& when = rung.items[0];
    std::optional<Expression> condition;
    if (when.is_scalar() && when.text == "else") {
      closed = true;
    } else {
      condition = context.condition(when);
      if (!condition) {
        good = false;
      } else {
        const std::string spelled = to_text(*condition);
        if (std::find(seen.begin(), seen.end(), spelled) != seen.end()) {
          context.error(when, "this condition stands in an earlier rung already", "it can never be reached");
          good = false;
        }
        seen.push_back(spelled);
        if (condition->kind == ExpressionKind::Flag && condition->flag) closed = true;
      }
    }
    const std::optional<std::uint16_t> value = value_of(rung.items[1]);
    written.ladder.emplace_back(when.text, rung.items[1].text);
    if (!value) good = false;
    conditions.push_back(std::move(condition));
    values.push_back(value.value_or(0));
  }
  if (good && !closed) {
    context.error(ladder, "the ladder has no last rung", "end it with `[else, value]`");
    good = false;
  }
  if (!good) return std::nullopt;
  std::uint16_t out = values.back();
  for (std::size_t i = values.size() - 1; i-- > 0;) {
    out = builder.choose(builder.expression(*conditions[i]), values[i], out);
  }
  return out;
}

bool is_in_range(RuleContext& context, const YamlNode& node, double grade) {
  if (grade >= kLowestGrade && grade <= 1) return true;
  context.error(node, "a grade lies between 0.01 and 1",
                "solubility never excludes: the worst grade is 0.01");
  return false;
}

std::optional<std::uint16_t> read_points(RuleContext& context, Fields& fields, ProgramBuilder& builder,
                                         Rule& rule) {
  const YamlNode* of_node = fields.required_node("of", "write what is graded: `of: system.hot_solubility`");
  const YamlNode* points = fields.required_node("points", "write `points: [[x, grade], ...]`");
  if (const auto scale = fields.choice("scale", {"log", "linear"})) rule.written.scale = *scale;
  if (of_node == nullptr || points == nullptr) {
    context.failed = true;
    return std::nullopt;
  }
  rule.written.body = of_node->text;
  const auto of = context.expression(*of_node);
  if (!of) return std::nullopt;
  if (of->second.type != FactType::Number) {
    context.error(*of_node, fmt::format("a grade is given by a number, this is {}", name_of(of->second)),
                  "use `ladder` instead");
    return std::nullopt;
  }
  Curve curve;
  curve.is_logarithmic = rule.written.scale == "log";
  bool good = points->is_list() && points->items.size() >= 2;
  if (!good)
    context.error(*points, "points are a list of at least two `[x, grade]`",
                  "write `[[10 mg/mL, 0.3], [40 mg/mL, 1]]`");
  for (const YamlNode& point : points->items) {
    if (!point.is_list() || point.items.size() != 2) {
      context.error(point, "a point is `[x, grade]`", "write e.g. `[10 mg/mL, 0.3]`");
      good = false;
      continue;
    }
    const auto x = context.literal(point.items[0], of->second.dimension);
    const auto y = context.literal(point.items[1], dimension::kNumber);
    if (!x || !y || !is_in_range(context, point.items[1], *y)) {
      good = false;
      continue;
    }
    if (!curve.x.empty() && *x <= curve.x.back()) {
      context.error(point.items[0], "points must rise from left to right", "sort them by x");
      good = false;
    }
    if (curve.is_logarithmic && *x <= 0) {
      context.error(point.items[0], "a logarithmic scale begins above zero", {});
      good = false;
    }
    rule.written.points.emplace_back(point.items[0].text, point.items[1].text);
    curve.x.push_back(*x);
    curve.y.push_back(*y);
  }
  if (!good) return std::nullopt;
  rule.lowest_grade = *std::min_element(curve.y.begin(), curve.y.end());
  rule.highest_grade = *std::max_element(curve.y.begin(), curve.y.end());
  return builder.interpolate(builder.expression(of->first), std::move(curve));
}

}  // namespace

void RuleContext::tell(const YamlNode& node, const std::vector<TextFault>& faults) {
  for (const TextFault& fault : faults) {
    findings.error(document.place_within(node, fault.offset, fault.width), fault.message, fault.help);
    failed = true;
  }
}

void RuleContext::error(const YamlNode& node, std::string message, std::string help) {
  findings.error(document.place_of(node), std::move(message), std::move(help));
  failed = true;
}

void RuleContext::note_facts(const Expression& checked) {
  for (const FactReference& fact : facts_of(checked)) {
    if (std::find(facts.begin(), facts.end(), fact) == facts.end()) facts.push_back(fact);
  }
  for (const std::string& name : names_in(checked)) {
    if (std::find(used_lets.begin(), used_lets.end(), name) != used_lets.end()) continue;
    used_lets.push_back(name);
    if (const auto let = lets.find(name); let != lets.end()) note_facts(let->second.first);
  }
}

std::optional<std::pair<Expression, ValueType>> RuleContext::expression(const YamlNode& node) {
  if (!node.is_scalar() || node.text.empty()) {
    error(node, "an expression is expected here",
          node.is_map() || node.is_list() ? "quote an expression that begins with `[` or `{`" : "");
    return std::nullopt;
  }
  std::vector<TextFault> faults;
  auto parsed = parse_expression(node.text, faults);
  std::optional<ValueType> type;
  if (parsed) {
    NamedTypes types;
    for (const auto& [name, let] : lets) types.emplace(name, let.second);
    type = check_types(*parsed, catalogue, types, faults);
  }
  tell(node, faults);
  if (!parsed || !type) {
    failed = true;
    return std::nullopt;
  }
  note_facts(*parsed);
  return std::pair{std::move(*parsed), *type};
}

std::optional<Expression> RuleContext::condition(const YamlNode& node) {
  auto checked = expression(node);
  if (!checked) return std::nullopt;
  if (checked->second.type != FactType::Flag) {
    error(node, fmt::format("a condition is expected, this is {}", name_of(checked->second)),
          "compare it with something");
    return std::nullopt;
  }
  return std::move(checked->first);
}

std::optional<double> RuleContext::literal(const YamlNode& node, const Dimension& dimension) {
  std::vector<TextFault> faults;
  std::optional<Expression> parsed;
  if (node.is_scalar()) parsed = parse_expression(node.text, faults);
  tell(node, faults);
  if (!parsed && !faults.empty()) return std::nullopt;
  if (!parsed || parsed->kind != ExpressionKind::Number) {
    error(node, "a number is expected here", {});
    return std::nullopt;
  }
  const Dimension own = parsed->unit ? parsed->unit->dimension : dimension::kNumber;
  if (own != dimension) {
    const auto unit = display_unit(dimension);
    error(node, fmt::format("a {} is expected, this is a {}", name_of(dimension), name_of(own)),
          unit ? fmt::format("write e.g. `10 {}`", unit->symbol) : "write a plain number");
    return std::nullopt;
  }
  return parsed->number;
}

std::optional<Sentence> RuleContext::sentence(const YamlNode& node) {
  if (!node.is_scalar() || node.text.empty()) {
    error(node, "a sentence is expected here", "quote a sentence that begins with `{`");
    return std::nullopt;
  }
  std::vector<TextFault> faults;
  auto out = Sentence::parse(node.text, catalogue, lets, faults);
  tell(node, faults);
  if (!out) return std::nullopt;
  for (const std::string& name : out->let_names()) {
    if (std::find(used_lets.begin(), used_lets.end(), name) == used_lets.end()) used_lets.push_back(name);
  }
  return out;
}

void read_lets(RuleContext& context, const YamlNode& node, WrittenRule& written) {
  if (!node.is_map()) {
    context.error(node, "`let` is a map of names and expressions",
                  "write `let: {margin: solute.melting_point - system.boiling_point}`");
    return;
  }
  std::vector<const YamlEntry*> waiting;
  for (const auto& entry : node.entries) {
    written.lets.emplace_back(entry.first.text, entry.second.text);
    if (entry.first.text.find('.') != std::string::npos || entry.first.text.empty()) {
      context.error(entry.first, "a name of `let` is one word without a point", {});
      continue;
    }
    waiting.push_back(&entry);
  }
  // A let is read once all names that it uses are known.
  while (!waiting.empty()) {
    const std::size_t before = waiting.size();
    std::vector<const YamlEntry*> later;
    for (const auto* entry : waiting) {
      std::vector<TextFault> ignored;
      const auto parsed =
          entry->second.is_scalar() ? parse_expression(entry->second.text, ignored) : std::nullopt;
      bool must_wait = false;
      if (parsed) {
        for (const std::string& name : names_in(*parsed)) {
          must_wait = must_wait || std::any_of(waiting.begin(), waiting.end(), [&name](const auto* other) {
                        return other->first.text == name;
                      });
        }
      }
      if (must_wait) {
        later.push_back(entry);
        continue;
      }
      const auto used = context.used_lets;
      const auto facts = context.facts;
      auto checked = context.expression(entry->second);
      // Using a name inside another let is not yet a use, and its facts count where it is used.
      context.used_lets = used;
      context.facts = facts;
      if (checked) context.lets.emplace(entry->first.text, std::move(*checked));
    }
    if (later.size() == before) {
      context.error(
          later.front()->first,
          fmt::format("the names of `let` need each other in a circle: `{}`", later.front()->first.text), {});
      return;
    }
    waiting = std::move(later);
  }
}

void read_grade(RuleContext& context, const YamlNode& node, Rule& rule) {
  Fields fields(context.document, node, "`grade`", context.findings);
  ProgramBuilder builder(context.lets);
  std::optional<std::uint16_t> result;
  if (const YamlNode* ladder = fields.node("ladder")) {
    rule.lowest_grade = 1;
    rule.highest_grade = kLowestGrade;
    result = build_ladder(context, builder, *ladder, rule.written,
                          [&](const YamlNode& value) -> std::optional<std::uint16_t> {
                            const auto grade = context.literal(value, dimension::kNumber);
                            if (!grade || !is_in_range(context, value, *grade)) return std::nullopt;
                            rule.lowest_grade = std::min(rule.lowest_grade, *grade);
                            rule.highest_grade = std::max(rule.highest_grade, *grade);
                            return builder.number(*grade);
                          });
  } else {
    result = read_points(context, fields, builder, rule);
  }
  fields.finish();
  if (!result) {
    context.failed = true;
    return;
  }
  if (builder.is_too_long()) context.error(node, "this grade is too long", "part it into two rules");
  rule.body = builder.finish(*result, ValueType{FactType::Number, dimension::kNumber});
}

void read_derive(RuleContext& context, const YamlNode& node, Rule& rule) {
  Fields fields(context.document, node, "`derive`", context.findings);
  const YamlNode* fact_node = fields.required_node("fact", "write `fact: system.hot_temperature`");
  const YamlNode* value = fields.node("value");
  const YamlNode* ladder = fields.node("ladder");
  fields.finish();
  if (fact_node == nullptr || (value == nullptr) == (ladder == nullptr)) {
    if (fact_node != nullptr) context.error(node, "a derive rule has either `value` or `ladder`", {});
    context.failed = true;
    return;
  }
  const auto fact = context.catalogue.find(fact_node->text);
  if (!fact || fact->component == Component::Good || fact->component == Component::Poor) {
    const auto near = context.catalogue.nearest(fact_node->text);
    context.error(*fact_node, fmt::format("`{}` is not a fact that can be derived", fact_node->text),
                  near ? fmt::format("did you mean `{}`?", *near) : "`firstcrop rules --facts` lists them");
    return;
  }
  rule.derived = *fact;
  const FactInfo& info = context.catalogue.info(fact->fact);
  const ValueType wanted{info.type, info.dimension};
  const auto fits = [&context, &wanted, fact_node](const YamlNode& at, const ValueType& type) {
    const bool same =
        type.type == wanted.type && (wanted.type != FactType::Number || type.dimension == wanted.dimension);
    if (!same)
      context.error(
          at, fmt::format("`{}` is {}, this is {}", fact_node->text, name_of(wanted), name_of(type)), {});
    return same;
  };
  ProgramBuilder builder(context.lets);
  std::optional<std::uint16_t> result;
  if (value != nullptr) {
    rule.written.body = value->text;
    if (const auto checked = context.expression(*value); checked && fits(*value, checked->second))
      result = builder.expression(checked->first);
  } else {
    result = build_ladder(
        context, builder, *ladder, rule.written, [&](const YamlNode& rung) -> std::optional<std::uint16_t> {
          // Texts need no quotes in a ladder of texts.
          if (wanted.type == FactType::Text && rung.is_scalar() && rung.text.find('\'') == std::string::npos)
            return builder.text(rung.text);
          const auto checked = context.expression(rung);
          if (!checked || !fits(rung, checked->second)) return std::nullopt;
          return builder.expression(checked->first);
        });
  }
  if (!result) {
    context.failed = true;
    return;
  }
  if (builder.is_too_long()) context.error(node, "this rule is too long", "part it into two");
  rule.body = builder.finish(*result, wanted);
}

}  // namespace firstcrop::detail
