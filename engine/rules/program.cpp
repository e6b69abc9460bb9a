#include "rules/program.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>

namespace firstcrop {
namespace {

using Operation = Program::Operation;

std::uint64_t mask_of(bool value) {
  return value ? kAllScenarios : 0;
}

Value number_value(double number) {
  Value out;
  out.known = kAllScenarios;
  out.certain = number;
  return out;
}

// Applies a function of two numbers in every scenario, or once where both are certain.
template <typename Function>
Value combine(const Value& left, const Value& right, ScenarioValues& column, Function function) {
  Value out;
  out.known = left.known & right.known;
  if (out.known == 0) return out;
  if (left.spread == nullptr && right.spread == nullptr) {
    out.certain = function(left.certain, right.certain);
    return out;
  }
  for (std::size_t k = 0; k < kScenarioCount; ++k) column[k] = function(left.at(k), right.at(k));
  out.spread = &column;
  return out;
}

template <typename Function>
Value map(const Value& of, ScenarioValues& column, Function function) {
  Value out;
  out.known = of.known;
  if (out.known == 0) return out;
  if (of.spread == nullptr) {
    out.certain = function(of.certain);
    return out;
  }
  for (std::size_t k = 0; k < kScenarioCount; ++k) column[k] = function((*of.spread)[k]);
  out.spread = &column;
  return out;
}

template <typename Relation>
Value compare(const Value& left, const Value& right, Relation relation) {
  Value out;
  out.known = left.known & right.known;
  if (out.known == 0) return out;
  if (left.spread == nullptr && right.spread == nullptr) {
    out.truth = mask_of(relation(left.certain, right.certain)) & out.known;
    return out;
  }
  std::uint64_t truth = 0;
  for (std::size_t k = 0; k < kScenarioCount; ++k) {
    truth |= std::uint64_t{relation(left.at(k), right.at(k))} << k;
  }
  out.truth = truth & out.known;
  return out;
}

// Numbers that are not finite are unknown: a division by zero, a logarithm of nothing or less.
void drop_not_finite(Value& value) {
  if (value.spread == nullptr) {
    if (!std::isfinite(value.certain)) value.known = 0;
    return;
  }
  std::uint64_t finite = 0;
  for (std::size_t k = 0; k < kScenarioCount; ++k)
    finite |= std::uint64_t{std::isfinite((*value.spread)[k])} << k;
  value.known &= finite;
}

// Numbers, flags and texts alike: a number has no truth bits, and a flag no number, so both parts may be
// compared.
Value equality(const Value& left, const Value& right) {
  if (left.text != nullptr && right.text != nullptr) {
    Value out;
    out.known = left.known & right.known;
    out.truth = mask_of(*left.text == *right.text) & out.known;
    return out;
  }
  Value out = compare(left, right, [](double x, double y) { return x == y; });
  out.truth &= ~(left.truth ^ right.truth);
  return out;
}

Value first_known(const Value& left, const Value& right, ScenarioValues& column) {
  if (left.known == kAllScenarios || right.known == 0) return left;
  if (left.known == 0) return right;
  Value out;
  out.known = left.known | right.known;
  out.truth = left.truth | (right.truth & ~left.known);
  for (std::size_t k = 0; k < kScenarioCount; ++k)
    column[k] = (left.known >> k & 1U) != 0U ? left.at(k) : right.at(k);
  out.spread = &column;
  return out;
}

Value choose(const Value& condition, const Value& if_true, const Value& if_false, ScenarioValues& column,
             FactType type) {
  const std::uint64_t is_true = condition.truth;
  const std::uint64_t is_false = condition.known & ~condition.truth;
  if (is_true == kAllScenarios) return if_true;
  if (is_false == kAllScenarios) return if_false;
  Value out;
  out.known = (is_true & if_true.known) | (is_false & if_false.known);
  if (type == FactType::Text || type == FactType::Set) {
    // A text cannot differ between scenarios.
    out.known = 0;
    return out;
  }
  if (type == FactType::Flag) {
    out.truth = (is_true & if_true.truth) | (is_false & if_false.truth);
    return out;
  }
  if (out.known == 0) return out;
  for (std::size_t k = 0; k < kScenarioCount; ++k)
    column[k] = (is_true >> k & 1U) != 0U ? if_true.at(k) : if_false.at(k);
  out.spread = &column;
  return out;
}

Value flag_known(bool value) {
  Value out;
  out.known = kAllScenarios;
  out.truth = mask_of(value);
  return out;
}

Value load(const FactValue& fact) {
  Value out;
  if (const auto* number = std::get_if<NumberColumn>(&fact.value)) {
    out.known = number->known;
    out.certain = number->certain;
    out.spread = number->spread.get();
  } else if (const auto* flag = std::get_if<FlagColumn>(&fact.value)) {
    out.known = flag->known;
    out.truth = flag->truth;
  } else if (const auto* text = std::get_if<std::string>(&fact.value)) {
    out.known = kAllScenarios;
    out.text = text;
  } else if (const auto* set = std::get_if<std::vector<std::string>>(&fact.value)) {
    out.known = kAllScenarios;
    out.set = set;
  }
  return out;
}

bool contains(const std::vector<std::string>& set, const std::string& word) {
  return std::find(set.begin(), set.end(), word) != set.end();
}

bool share_a_member(const std::vector<std::string>& left, const std::vector<std::string>& right) {
  return std::any_of(left.begin(), left.end(),
                     [&right](const std::string& word) { return contains(right, word); });
}

}  // namespace

void Workspace::reserve(std::size_t instruction_count) {
  if (values_.size() >= instruction_count) return;
  values_.resize(instruction_count);
  columns_ = std::make_unique_for_overwrite<ScenarioValues[]>(instruction_count);
}

double Curve::at(double x_value) const {
  if (x_value <= x.front()) return y.front();
  if (x_value >= x.back()) return y.back();
  const auto above = static_cast<std::size_t>(std::upper_bound(x.begin(), x.end(), x_value) - x.begin());
  const double low = x[above - 1];
  const double high = x[above];
  const double share =
      is_logarithmic ? std::log(x_value / low) / std::log(high / low) : (x_value - low) / (high - low);
  return y[above - 1] + share * (y[above] - y[above - 1]);
}

const Value& Program::run(const FactFrame& frame, std::size_t each, Workspace& workspace) const {
  workspace.reserve(instructions_.size());
  for (std::size_t i = 0; i < instructions_.size(); ++i) {
    const Instruction& instruction = instructions_[i];
    Value& out = workspace.value(i);
    ScenarioValues& column = workspace.column(i);
    const Value& first = workspace.value(instruction.first);
    const Value& second = workspace.value(instruction.second);
    switch (instruction.operation) {
      case Operation::Number:
        out = number_value(instruction.number);
        break;
      case Operation::Text:
        out = Value{};
        out.known = kAllScenarios;
        out.text = &texts_[instruction.first];
        break;
      case Operation::Set:
        out = Value{};
        out.known = kAllScenarios;
        out.set = &sets_[instruction.first];
        break;
      case Operation::Flag:
        out = flag_known(instruction.number != 0);
        break;
      case Operation::Unknown:
        out = Value{};
        break;
      case Operation::Fact:
        out = load(frame.get(instruction.fact, each));
        break;
      case Operation::Negate:
        out = map(first, column, [](double x) { return -x; });
        break;
      case Operation::Abs:
        out = map(first, column, [](double x) { return std::abs(x); });
        break;
      case Operation::Log10:
        out = map(first, column,
                  [](double x) { return x > 0 ? std::log10(x) : std::numeric_limits<double>::quiet_NaN(); });
        drop_not_finite(out);
        break;
      case Operation::Add:
        out = combine(first, second, column, [](double x, double y) { return x + y; });
        break;
      case Operation::Subtract:
        out = combine(first, second, column, [](double x, double y) { return x - y; });
        break;
      case Operation::Multiply:
        out = combine(first, second, column, [](double x, double y) { return x * y; });
        break;
      case Operation::Divide:
        out = combine(first, second, column, [](double x, double y) {
          return y != 0 ? x / y : std::numeric_limits<double>::quiet_NaN();
        });
        drop_not_finite(out);
        break;
      case Operation::Min:
        out = combine(first, second, column, [](double x, double y) { return std::min(x, y); });
        break;
      case Operation::Max:
        out = combine(first, second, column, [](double x, double y) { return std::max(x, y); });
        break;
      case Operation::First:
        out = first_known(first, second, column);
        break;
      case Operation::Less:
        out = compare(first, second, [](double x, double y) { return x < y; });
        break;
      case Operation::LessEqual:
        out = compare(first, second, [](double x, double y) { return x <= y; });
        break;
      case Operation::Equal:
        out = equality(first, second);
        break;
      case Operation::NotEqual:
        out = equality(first, second);
        out.truth = ~out.truth & out.known;
        break;
      case Operation::In:
        out = (first.known & second.known) == 0 ? Value{} : flag_known(contains(*second.set, *first.text));
        break;
      case Operation::Meets:
        out =
            (first.known & second.known) == 0 ? Value{} : flag_known(share_a_member(*first.set, *second.set));
        break;
      case Operation::Not: {
        Value result;
        result.known = first.known;
        result.truth = ~first.truth & first.known;
        out = result;
        break;
      }
      case Operation::And: {
        Value result;
        result.truth = first.truth & second.truth;
        result.known = result.truth | (first.known & ~first.truth) | (second.known & ~second.truth);
        out = result;
        break;
      }
      case Operation::Or: {
        Value result;
        result.truth = first.truth | second.truth;
        result.known = result.truth | (first.known & second.known);
        out = result;
        break;
      }
      case Operation::Known:
        out = flag_known(frame.get(instruction.fact, each).is_known());
        break;
      case Operation::Measured: {
        const FactValue& fact = frame.get(instruction.fact, each);
        out = flag_known(fact.is_known() && is_measured(fact.origin));
        break;
      }
      case Operation::Choose:
        out = choose(first, second, workspace.value(instruction.third), column,
                     static_cast<FactType>(instruction.number));
        break;
      case Operation::Interpolate: {
        const Curve& curve = curves_[instruction.second];
        out = map(first, column, [&curve](double x) { return curve.at(x); });
        break;
      }
    }
  }
  return workspace.value(instructions_.size() - 1);
}

std::vector<FactReference> Program::missing(const Workspace& workspace) const {
  std::vector<FactReference> out;
  if (instructions_.empty()) return out;
  std::vector<bool> wanted(instructions_.size(), false);
  wanted.back() = true;
  for (std::size_t i = instructions_.size(); i-- > 0;) {
    if (!wanted[i] || workspace.value(i).known == kAllScenarios) continue;
    const Instruction& instruction = instructions_[i];
    const auto want = [&wanted](std::uint16_t index) { wanted[index] = true; };
    switch (instruction.operation) {
      case Operation::Fact:
        if (std::find(out.begin(), out.end(), instruction.fact) == out.end()) out.push_back(instruction.fact);
        break;
      case Operation::Choose:
        if (workspace.value(instruction.first).known != kAllScenarios) {
          want(instruction.first);
        } else {
          want(instruction.second);
          want(instruction.third);
        }
        break;
      case Operation::Negate:
      case Operation::Abs:
      case Operation::Log10:
      case Operation::Not:
      case Operation::Interpolate:
        want(instruction.first);
        break;
      case Operation::Number:
      case Operation::Text:
      case Operation::Set:
      case Operation::Flag:
      case Operation::Unknown:
      case Operation::Known:
      case Operation::Measured:
        break;
      default:
        want(instruction.first);
        want(instruction.second);
        break;
    }
  }
  std::reverse(out.begin(), out.end());
  return out;
}

ProgramBuilder::ProgramBuilder(const CheckedLets& lets) : lets_(lets) {}

std::uint16_t ProgramBuilder::add(Program::Instruction instruction) {
  if (program_.instructions_.size() >= kLongestProgram) {
    is_too_long_ = true;
    return 0;
  }
  program_.instructions_.push_back(instruction);
  return static_cast<std::uint16_t>(program_.instructions_.size() - 1);
}

std::uint16_t ProgramBuilder::number(double value) {
  Program::Instruction out;
  out.operation = Operation::Number;
  out.number = value;
  return add(out);
}

std::uint16_t ProgramBuilder::text(std::string value) {
  Program::Instruction out;
  out.operation = Operation::Text;
  out.first = static_cast<std::uint16_t>(program_.texts_.size());
  program_.texts_.push_back(std::move(value));
  return add(out);
}

std::uint16_t ProgramBuilder::unknown() {
  return add({});
}

std::uint16_t ProgramBuilder::choose(std::uint16_t condition, std::uint16_t if_true, std::uint16_t if_false) {
  Program::Instruction out;
  out.operation = Operation::Choose;
  out.first = condition;
  out.second = if_true;
  out.third = if_false;
  return add(out);
}

std::uint16_t ProgramBuilder::interpolate(std::uint16_t of, Curve curve) {
  Program::Instruction out;
  out.operation = Operation::Interpolate;
  out.first = of;
  out.second = static_cast<std::uint16_t>(program_.curves_.size());
  program_.curves_.push_back(std::move(curve));
  return add(out);
}

std::uint16_t ProgramBuilder::fold(const Expression& checked, Operation operation) {
  std::uint16_t out = expression(checked.operands.front());
  for (std::size_t i = 1; i < checked.operands.size(); ++i) {
    Program::Instruction instruction;
    instruction.operation = operation;
    instruction.first = out;
    instruction.second = expression(checked.operands[i]);
    out = add(instruction);
  }
  return out;
}

std::uint16_t ProgramBuilder::comparison(const Expression& checked) {
  Program::Instruction instruction;
  instruction.first = expression(checked.operands[0]);
  instruction.second = expression(checked.operands[1]);
  switch (checked.kind) {
    case ExpressionKind::Less:
      instruction.operation = Operation::Less;
      break;
    case ExpressionKind::LessEqual:
      instruction.operation = Operation::LessEqual;
      break;
    case ExpressionKind::Greater:
      instruction.operation = Operation::Less;
      std::swap(instruction.first, instruction.second);
      break;
    case ExpressionKind::GreaterEqual:
      instruction.operation = Operation::LessEqual;
      std::swap(instruction.first, instruction.second);
      break;
    default:
      instruction.operation = checked.kind == ExpressionKind::Equal ? Operation::Equal : Operation::NotEqual;
      break;
  }
  return add(instruction);
}

std::uint16_t ProgramBuilder::expression(const Expression& checked) {
  Program::Instruction instruction;
  const auto unary = [&](Operation operation) {
    instruction.operation = operation;
    instruction.first = expression(checked.operands[0]);
    return add(instruction);
  };
  switch (checked.kind) {
    case ExpressionKind::Number:
      return number(checked.number);
    case ExpressionKind::Text:
      return text(checked.text);
    case ExpressionKind::Flag:
      instruction.operation = Operation::Flag;
      instruction.number = checked.flag ? 1 : 0;
      return add(instruction);
    case ExpressionKind::Set: {
      std::vector<std::string> members;
      for (const Expression& member : checked.operands) members.push_back(member.text);
      instruction.operation = Operation::Set;
      instruction.first = static_cast<std::uint16_t>(program_.sets_.size());
      program_.sets_.push_back(std::move(members));
      return add(instruction);
    }
    case ExpressionKind::Fact:
    case ExpressionKind::Known:
    case ExpressionKind::Measured: {
      const Expression& fact = checked.kind == ExpressionKind::Fact ? checked : checked.operands[0];
      instruction.operation = checked.kind == ExpressionKind::Fact    ? Operation::Fact
                              : checked.kind == ExpressionKind::Known ? Operation::Known
                                                                      : Operation::Measured;
      instruction.fact = fact.reference;
      auto& facts = program_.facts_;
      if (std::find(facts.begin(), facts.end(), fact.reference) == facts.end())
        facts.push_back(fact.reference);
      return add(instruction);
    }
    case ExpressionKind::Name: {
      const auto done = done_lets_.find(checked.text);
      if (done != done_lets_.end()) return done->second;
      const std::uint16_t index = expression(lets_.at(checked.text).first);
      done_lets_.emplace(checked.text, index);
      return index;
    }
    case ExpressionKind::Negate:
      return unary(Operation::Negate);
    case ExpressionKind::Abs:
      return unary(Operation::Abs);
    case ExpressionKind::Log10:
      return unary(Operation::Log10);
    case ExpressionKind::Not:
      return unary(Operation::Not);
    case ExpressionKind::Add:
      return fold(checked, Operation::Add);
    case ExpressionKind::Subtract:
      return fold(checked, Operation::Subtract);
    case ExpressionKind::Multiply:
      return fold(checked, Operation::Multiply);
    case ExpressionKind::Divide:
      return fold(checked, Operation::Divide);
    case ExpressionKind::Min:
      return fold(checked, Operation::Min);
    case ExpressionKind::Max:
      return fold(checked, Operation::Max);
    case ExpressionKind::First:
      return fold(checked, Operation::First);
    case ExpressionKind::And:
      return fold(checked, Operation::And);
    case ExpressionKind::Or:
      return fold(checked, Operation::Or);
    case ExpressionKind::In:
      return fold(checked, Operation::In);
    case ExpressionKind::Meets:
      return fold(checked, Operation::Meets);
    default:
      return comparison(checked);
  }
}

Program ProgramBuilder::finish(std::uint16_t result, const ValueType& type) {
  // The last instruction must hold the value; a `let` that was done before is brought to the end.
  if (program_.instructions_.empty() || result + std::size_t{1} != program_.instructions_.size()) {
    Program::Instruction yes;
    yes.operation = Operation::Flag;
    yes.number = 1;
    choose(add(yes), result, result);
  }
  for (Program::Instruction& instruction : program_.instructions_) {
    if (instruction.operation == Operation::Choose)
      instruction.number = static_cast<double>(static_cast<int>(type.type));
  }
  program_.type_ = type;
  return std::move(program_);
}

FactValue to_fact(const Value& value, const ValueType& type) {
  FactValue out;
  if (value.known == 0) {
    out.value = Unknown{"not known"};
    return out;
  }
  switch (type.type) {
    case FactType::Number: {
      NumberColumn column;
      column.known = value.known;
      column.certain = value.certain;
      if (value.spread != nullptr) column.spread = std::make_shared<const ScenarioValues>(*value.spread);
      out.value = std::move(column);
      break;
    }
    case FactType::Flag:
      out.value = FlagColumn{value.truth, value.known};
      break;
    case FactType::Text:
      out.value = *value.text;
      break;
    case FactType::Set:
      out.value = *value.set;
      break;
  }
  return out;
}

Program compile(const Expression& checked, const ValueType& type, const CheckedLets& lets) {
  ProgramBuilder builder(lets);
  const std::uint16_t result = builder.expression(checked);
  return builder.finish(result, type);
}

}  // namespace firstcrop
