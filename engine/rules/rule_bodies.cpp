#include <algorithm>
#include <utility>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "rules/rule_parts.hpp"

namespace firstcrop::detail {
namespace {

constexpr const char* kExampleOfPoints = "write `[[10 mg/mL, 0.3], [40 mg/mL, 1]]`";

// A ladder as nested choices, the last rung innermost; `value_of` adds the value of a rung to the program.
template <typename ValueOf>
std::optional<std::uint16_t> build_ladder(RuleContext& context, ProgramBuilder& builder, const YamlNode& node,
                                          Rule& rule, FactType type, ValueOf value_of) {
  const auto ladder = read_ladder(context, node, rule.written);
  if (!ladder) return std::nullopt;
  std::vector<std::optional<std::uint16_t>> values;
  for (const Ladder::Rung& rung : ladder->rungs) values.push_back(value_of(*rung.value));
  if (std::find(values.begin(), values.end(), std::nullopt) != values.end()) return std::nullopt;
  std::uint16_t out = *values.back();
  for (std::size_t i = values.size() - 1; i-- > 0;) {
    out = builder.choose(builder.expression(*ladder->rungs[i].condition), *values[i], out, type);
  }
  return out;
}

std::optional<double> read_grade_value(RuleContext& context, const YamlNode& node) {
  const auto grade = context.literal(node, dimension::kNumber);
  if (!grade || (*grade >= kLowestGrade && *grade <= 1)) return grade;
  context.error(node, "a grade lies between 0.01 and 1",
                *grade > 1 ? "write it as a share of 1" : "what must never be is an `exclude` rule");
  return std::nullopt;
}

// The points of a curve; nothing where any of them is wrong.
std::optional<Curve> read_curve(RuleContext& context, const YamlNode& points, const Dimension& of,
                                Rule& rule) {
  if (!points.is_list() || points.items.size() < 2) {
    context.error(points, "`points` is a list of at least two `[x, grade]`", kExampleOfPoints);
    return std::nullopt;
  }
  const bool is_logarithmic = rule.written.scale == "log";
  std::vector<double> xs;
  std::vector<double> grades;
  bool is_good = true;
  for (const YamlNode& point : points.items) {
    if (!point.is_list() || point.items.size() != 2) {
      context.error(point, "a point is `[x, grade]`", kExampleOfPoints);
      is_good = false;
      continue;
    }
    const auto x = context.literal(point.items[0], of);
    const auto grade = read_grade_value(context, point.items[1]);
    if (!x || !grade) {
      is_good = false;
      continue;
    }
    if (!xs.empty() && *x <= xs.back()) {
      context.error(point.items[0], "the points must go up from one to the next",
                    "sort them by x, each x once");
      is_good = false;
    }
    if (is_logarithmic && *x <= 0) {
      context.error(point.items[0], "a logarithmic scale begins above zero",
                    "leave out the point, or `scale: log`");
      is_good = false;
    }
    rule.written.points.emplace_back(point.items[0].text, point.items[1].text);
    xs.push_back(*x);
    grades.push_back(*grade);
  }
  if (!is_good) return std::nullopt;
  rule.lowest_grade = *std::min_element(grades.begin(), grades.end());
  rule.highest_grade = *std::max_element(grades.begin(), grades.end());
  return Curve(std::move(xs), std::move(grades), is_logarithmic);
}

std::optional<std::uint16_t> read_points(RuleContext& context, Fields& fields, ProgramBuilder& builder,
                                         Rule& rule) {
  const YamlNode* of_node = fields.required_node("of", "write what is graded: `of: system.hot_solubility`");
  const YamlNode* points = fields.required_node("points", "write `points: [[x, grade], ...]`");
  if (fields.node("scale") != nullptr) {
    const auto scale = fields.choice("scale", {"log", "linear"});
    if (!scale) context.fail();
    if (scale == "log") rule.written.scale = "log";
  }
  if (of_node == nullptr || points == nullptr) return std::nullopt;
  rule.written.body = of_node->text;
  const auto of = context.expression(*of_node);
  if (!of) return std::nullopt;
  if (of->type.type != FactType::Number) {
    context.error(*of_node, fmt::format("points stand over a number, this is {}", name_of(of->type)),
                  "write a `ladder`");
    return std::nullopt;
  }
  auto curve = read_curve(context, *points, of->type.dimension, rule);
  if (!curve) return std::nullopt;
  return builder.interpolate(builder.expression(of->expression), std::move(*curve));
}

void finish_body(RuleContext& context, const YamlNode& node, ProgramBuilder& builder,
                 const std::optional<std::uint16_t>& result, const ValueType& type, Rule& rule) {
  if (!result) {
    context.fail();
    return;
  }
  if (auto program = builder.finish(*result, type)) {
    rule.body = std::move(*program);
  } else {
    context.error(node, "this is too long", "part the rule into two");
  }
}

// Values of a derive rule: expressions; a text fact may also take one of its words as it stands.
class DerivedValues {
 public:
  DerivedValues(RuleContext& context, ProgramBuilder& builder, const FactInfo& info)
      : context_(context), builder_(builder), info_(info) {}

  std::optional<std::uint16_t> operator()(const YamlNode& node) {
    const bool is_word = std::find(info_.words.begin(), info_.words.end(), "unknown") != info_.words.end();
    if (node.is_scalar() && node.text == "unknown" && !is_word) return builder_.unknown();
    if (info_.type == FactType::Text && node.is_scalar() && is_plain_text(node)) return text(node);
    const auto checked = context_.expression(node);
    if (!checked) return std::nullopt;
    const ValueType wanted{info_.type, info_.dimension};
    const bool fits = checked->type.type == wanted.type &&
                      (wanted.type != FactType::Number || checked->type.dimension == wanted.dimension);
    if (!fits) {
      context_.error(
          node, fmt::format("`{}` is {}, this is {}", info_.name, name_of(wanted), name_of(checked->type)));
      return std::nullopt;
    }
    return builder_.expression(checked->expression);
  }

 private:
  static bool is_plain_text(const YamlNode& node) {
    return !node.text.empty() && node.text.find_first_of(".('") == std::string::npos;
  }
  std::optional<std::uint16_t> text(const YamlNode& node) {
    const auto& words = info_.words;
    if (words.empty() || std::find(words.begin(), words.end(), node.text) != words.end()) {
      return builder_.text(node.text);
    }
    const auto near = nearest_name(node.text, words);
    context_.error(
        node, fmt::format("`{}` is never `{}`", info_.name, node.text.substr(0, 60)),
        near ? fmt::format("did you mean `{}`?", *near) : fmt::format("one of: {}", fmt::join(words, ", ")));
    return std::nullopt;
  }

  RuleContext& context_;
  ProgramBuilder& builder_;
  const FactInfo& info_;
};

}  // namespace

void read_grade(RuleContext& context, const YamlNode& node, Rule& rule) {
  Fields fields(context.document(), node, "`grade`", context.findings());
  if (!fields.is_map()) {
    context.fail();
    return;
  }
  ProgramBuilder builder(context.lets());
  std::optional<std::uint16_t> result;
  if (const YamlNode* ladder = fields.node("ladder")) {
    rule.lowest_grade = 1;
    rule.highest_grade = kLowestGrade;
    const auto value_of = [&](const YamlNode& value) -> std::optional<std::uint16_t> {
      const auto grade = read_grade_value(context, value);
      if (!grade) return std::nullopt;
      rule.lowest_grade = std::min(rule.lowest_grade, *grade);
      rule.highest_grade = std::max(rule.highest_grade, *grade);
      rule.rung_grades.push_back(*grade);
      return builder.number(*grade);
    };
    result = build_ladder(context, builder, *ladder, rule, FactType::Number, value_of);
    for (const char* key : {"of", "points", "scale"}) {
      const YamlNode* other = fields.node(key);
      if (other == nullptr) continue;
      context.error(*other, fmt::format("`{}` and `ladder` exclude each other", key), "keep one of the two");
    }
  } else {
    result = read_points(context, fields, builder, rule);
  }
  const std::size_t before = context.findings().size();
  fields.finish();
  if (context.findings().size() > before) context.fail();
  finish_body(context, node, builder, result, ValueType{FactType::Number, dimension::kNumber}, rule);
}

void read_derive(RuleContext& context, const YamlNode& node, Rule& rule) {
  Fields fields(context.document(), node, "`derive`", context.findings());
  const YamlNode* fact_node = fields.required_node("fact", "write `fact: system.hot_temperature`");
  const YamlNode* value = fields.node("value");
  const YamlNode* ladder = fields.node("ladder");
  const std::size_t before = context.findings().size();
  fields.finish();
  if (context.findings().size() > before || fact_node == nullptr) {
    context.fail();
    return;
  }
  if ((value == nullptr) == (ladder == nullptr)) {
    context.error(node, "`derive` has either `value` or `ladder`",
                  value != nullptr ? "keep one of the two" : "add `value: ...`");
    return;
  }
  const auto fact = fact_node->is_scalar() ? context.catalogue().find(fact_node->text) : std::nullopt;
  if (!fact) {
    const auto near = context.catalogue().nearest(fact_node->text);
    context.error(*fact_node, fmt::format("there is no fact `{}`", fact_node->text.substr(0, 60)),
                  near ? fmt::format("did you mean `{}`?", *near) : "`firstcrop rules --facts` lists them");
    return;
  }
  if (fact->component == Component::Good || fact->component == Component::Poor) {
    context.error(*fact_node, "a fact of a solvent is derived for both alike", "write `solvent.` here");
    return;
  }
  const FactInfo& info = context.catalogue().info(fact->fact);
  if (info.type == FactType::Set) {
    context.error(*fact_node, "a set cannot be derived");
    return;
  }
  rule.derived = *fact;
  ProgramBuilder builder(context.lets());
  DerivedValues value_of(context, builder, info);
  std::optional<std::uint16_t> result;
  if (value != nullptr) {
    rule.written.body = value->text;
    result = value_of(*value);
  } else {
    result = build_ladder(context, builder, *ladder, rule, info.type, value_of);
  }
  finish_body(context, node, builder, result, ValueType{info.type, info.dimension}, rule);
}

namespace {

// From how probable on a caution or advice is given, where the rule wants another limit than the verdict's.
void read_probability(RuleContext& context, Fields& fields, Rule& rule) {
  const YamlNode* node = fields.node("probability");
  if (node == nullptr) return;
  const auto share = context.literal(*node, dimension::kNumber);
  if (!share) return;
  if (*share <= 0 || *share > 1) {
    context.error(*node, "a `probability` lies above 0 and not above 1", "write it like `probability: 0.5`");
    return;
  }
  rule.least_probability = *share;
}

}  // namespace

void read_condition_and_text(RuleContext& context, const YamlNode& node, Rule& rule) {
  const std::string_view text_key = rule.kind == RuleKind::Exclude ? "because" : "text";
  Fields fields(context.document(), node, fmt::format("`{}`", name_of(rule.kind)), context.findings());
  const YamlNode* when = fields.required_node("when", "write when it fires; `when: true` for always");
  const YamlNode* text = fields.required_node(text_key, "write the sentence for the person at the bench");
  if (rule.kind == RuleKind::Caution) {
    const bool is_there = fields.required_node("level", "one of: note, warning, danger") != nullptr;
    const auto level = fields.choice("level", {"note", "warning", "danger"});
    if (!is_there || !level) context.fail();
    rule.level = level == "danger"    ? CautionLevel::Danger
                 : level == "warning" ? CautionLevel::Warning
                                      : CautionLevel::Note;
    if (fields.node("at_most") != nullptr) {
      rule.keeps_doubtful = fields.choice("at_most", {"doubtful"}).has_value();
      if (!rule.keeps_doubtful) context.fail();
    }
  }
  const YamlNode* perhaps = rule.kind == RuleKind::Exclude ? fields.node("perhaps") : nullptr;
  if (rule.kind != RuleKind::Exclude) read_probability(context, fields, rule);
  const std::size_t before = context.findings().size();
  fields.finish();
  if (context.findings().size() > before || when == nullptr || text == nullptr) {
    context.fail();
    if (when == nullptr || text == nullptr) return;
  }
  rule.written.body = when->text;
  if (auto program = context.condition_program(*when)) rule.body = std::move(*program);
  if (auto sentence = context.sentence(*text)) rule.text = std::move(*sentence);
  if (perhaps == nullptr) return;
  if (auto sentence = context.sentence(*perhaps, SentencePlace::Perhaps)) rule.perhaps = std::move(*sentence);
}

}  // namespace firstcrop::detail
