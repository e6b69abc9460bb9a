#include <algorithm>
#include <array>
#include <utility>

#include <fmt/format.h>

#include "rules/rule_parts.hpp"
#include "rules/tokens.hpp"

namespace firstcrop::detail {
namespace {

template <typename Item>
void add_once(std::vector<Item>& items, const Item& item) {
  if (std::find(items.begin(), items.end(), item) == items.end()) items.push_back(item);
}

// Words that a `let` cannot have for a name: they mean something else in expressions, ladders or sentences.
constexpr std::array<std::string_view, 14> kTaken{"min",   "max",      "abs",    "log10",      "first",
                                                  "known", "measured", "else",   "solute",     "solvent",
                                                  "good",  "poor",     "system", "probability"};

bool is_taken(std::string_view word) {
  return is_reserved_word(word) || std::find(kTaken.begin(), kTaken.end(), word) != kTaken.end();
}

bool is_word(std::string_view text) {
  std::vector<TextFault> ignored;
  const auto tokens = cut_into_tokens(text, ignored);
  return tokens && tokens->size() == 2 && tokens->front().kind == TokenKind::Word &&
         tokens->front().text == text;
}

}  // namespace

void RuleContext::tell(const YamlNode& node, const std::vector<TextFault>& faults) {
  for (const TextFault& fault : faults) {
    // That a comma cut this text was told; what is wrong with the half follows from it.
    if (!node.cut_by_comma)
      findings_.error(document_.place_within(node, fault.offset, fault.width), fault.message, fault.help);
    has_failed_ = true;
  }
}

void RuleContext::error(const YamlNode& node, std::string message, std::string help) {
  if (!node.cut_by_comma)
    findings_.error(document_.place_of(node), std::move(message), std::move(help));
  has_failed_ = true;
}

void RuleContext::use(const Expression& checked, std::vector<FactReference>& facts) {
  for (const FactReference& fact : facts_of(checked)) add_once(facts, fact);
  for (const std::string& name : names_in(checked)) use_let(name, facts);
}

void RuleContext::use_let(const std::string& name, std::vector<FactReference>& facts) {
  const auto let = lets_.find(name);
  if (let == lets_.end()) return;
  add_once(used_lets_, name);
  use(let->second.first, facts);
}

std::optional<CheckedExpression> RuleContext::expression(const YamlNode& node) {
  if (!node.is_scalar() || node.text.empty()) {
    error(node, "an expression is expected here",
          node.is_scalar() ? std::string() : "quote an expression that begins with `[` or `{`");
    return std::nullopt;
  }
  std::vector<TextFault> faults;
  auto parsed = parse_expression(node.text, faults);
  std::optional<ValueType> type;
  if (parsed) type = check_types(*parsed, catalogue_, types_, faults);
  tell(node, faults);
  if (!parsed || !type) {
    has_failed_ = true;
    return std::nullopt;
  }
  use(*parsed, facts_);
  return CheckedExpression{std::move(*parsed), *type};
}

std::optional<Expression> RuleContext::condition(const YamlNode& node) {
  auto checked = expression(node);
  if (!checked) return std::nullopt;
  if (checked->type.type != FactType::Flag) {
    error(node, fmt::format("a condition is expected here, this is {}", name_of(checked->type)),
          checked->type.type == FactType::Number ? "compare the number with another" : std::string());
    return std::nullopt;
  }
  return std::move(checked->expression);
}

std::optional<Program> RuleContext::condition_program(const YamlNode& node) {
  const auto checked = condition(node);
  if (!checked) return std::nullopt;
  auto program = compile(*checked, ValueType{FactType::Flag, {}}, lets_);
  if (!program) error(node, "this condition is too long", "part the rule into two");
  return program;
}

std::optional<double> RuleContext::literal(const YamlNode& node, const Dimension& dimension) {
  std::vector<TextFault> faults;
  std::optional<Expression> parsed;
  if (node.is_scalar()) parsed = parse_expression(node.text, faults);
  tell(node, faults);
  if (!faults.empty()) return std::nullopt;
  const std::string wanted = name_of(ValueType{FactType::Number, dimension});
  const auto unit = display_unit(dimension);
  if (!parsed || parsed->kind != ExpressionKind::Number) {
    error(node, fmt::format("{} is expected here", wanted),
          unit ? fmt::format("write it like `10 {}`", unit->symbol) : "write it like `0.5`");
    return std::nullopt;
  }
  const Dimension own = parsed->unit ? parsed->unit->dimension : dimension::kNumber;
  if (own == dimension) return parsed->number;
  std::string help = unit ? fmt::format("write it like `10 {}`", unit->symbol) : "write a plain number";
  if (unit && !parsed->unit) help = fmt::format("write `{} {}`", node.text, unit->symbol);
  error(node, fmt::format("{} is expected here, not {}", wanted, name_of(ValueType{FactType::Number, own})),
        std::move(help));
  return std::nullopt;
}

std::optional<Sentence> RuleContext::sentence(const YamlNode& node, SentencePlace place) {
  if (!node.is_scalar() || node.text.empty()) {
    error(node, "a sentence is expected here", "quote a sentence that begins with `{` or `[`");
    return std::nullopt;
  }
  std::vector<TextFault> faults;
  auto out = Sentence::parse(node.text, catalogue_, lets_, faults, place);
  tell(node, faults);
  if (!out) return std::nullopt;
  for (const std::string& name : out->let_names()) use_let(name, sentence_facts_);
  for (const Sentence::Part& part : out->parts()) {
    using Kind = Sentence::Part::Kind;
    if (part.kind == Kind::Fact) add_once(sentence_facts_, part.fact);
    if (part.kind == Kind::Solvent) names_solvent_ = true;
    if (part.kind == Kind::Good || part.kind == Kind::Poor) names_good_or_poor_ = true;
  }
  return out;
}

std::vector<FactReference> RuleContext::all_facts() const {
  std::vector<FactReference> out = facts_;
  for (const FactReference& fact : sentence_facts_) add_once(out, fact);
  return out;
}

void RuleContext::read_let(const YamlNode& name, const YamlNode& node) {
  const std::vector<FactReference> facts = facts_;
  const std::vector<std::string> used = used_lets_;
  auto checked = expression(node);
  // The facts of a let count where the let is used, and being used by a let that nothing uses is no use.
  facts_ = facts;
  used_lets_ = used;
  types_.insert_or_assign(name.text, checked ? std::optional(checked->type) : std::nullopt);
  if (checked) lets_.emplace(name.text, std::pair{std::move(checked->expression), checked->type});
}

void RuleContext::read_lets(const YamlNode& node, WrittenRule& written) {
  if (!node.is_map() || node.entries.empty()) {
    error(node, "`let` is a map of names and expressions",
          "write `let: {margin: solute.melting_point - system.boiling_point}`");
    return;
  }
  struct Waiting {
    const YamlNode* name;
    const YamlNode* node;
    std::vector<std::string> needs;
  };
  std::vector<Waiting> waiting;
  for (const auto& [name, value] : node.entries) {
    written.lets.emplace_back(name.text, value.text);
    if (is_taken(name.text)) {
      error(name, fmt::format("`{}` cannot be the name of a `let`: it means something else", name.text),
            "take another name");
      continue;
    }
    if (!is_word(name.text)) {
      error(name, fmt::format("`{}` cannot be the name of a `let`", name.text.substr(0, 60)),
            "a name is one word of letters, digits and `_`");
      continue;
    }
    std::vector<TextFault> ignored;
    const auto parsed = value.is_scalar() ? parse_expression(value.text, ignored) : std::nullopt;
    waiting.push_back({&name, &value, parsed ? names_in(*parsed) : std::vector<std::string>{}});
  }
  const auto is_waiting = [&waiting](const std::string& word) {
    return std::any_of(waiting.begin(), waiting.end(),
                       [&word](const Waiting& other) { return other.name->text == word; });
  };
  while (!waiting.empty()) {
    const auto ready = std::find_if(waiting.begin(), waiting.end(), [&is_waiting](const Waiting& candidate) {
      return std::none_of(candidate.needs.begin(), candidate.needs.end(), is_waiting);
    });
    if (ready == waiting.end()) break;
    const Waiting next = *ready;
    waiting.erase(ready);
    read_let(*next.name, *next.node);
  }
  if (waiting.empty()) return;
  std::string names;
  for (const Waiting& stuck : waiting) {
    names += fmt::format("{}`{}`", names.empty() ? "" : ", ", stuck.name->text);
    types_.insert_or_assign(stuck.name->text, std::nullopt);
  }
  error(*waiting.front().name,
        waiting.size() == 1
            ? fmt::format("the `let` {} needs itself", names)
            : fmt::format("no `let` of these can be computed, for they need each other: {}", names),
        "let one of them stand on facts alone");
}

void RuleContext::report_unused_lets(const YamlNode& node) {
  for (const auto& entry : node.entries) {
    const std::string& name = entry.first.text;
    const bool is_used = std::find(used_lets_.begin(), used_lets_.end(), name) != used_lets_.end();
    if (!is_used) error(entry.first, fmt::format("the `let` `{}` is never used", name), "delete it");
  }
}

}  // namespace firstcrop::detail
