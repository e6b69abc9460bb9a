#include "rules/program.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "rules/columns.hpp"

namespace firstcrop {
namespace {

using detail::mask_of;
using detail::mask_where;
using Operation = Program::Operation;

Value known_flag(std::uint64_t truth) {
  Value out;
  out.known = kAllScenarios;
  out.truth = truth;
  return out;
}

// Numbers that overflow, and the quotients and logarithms that do not exist, are unknown.
void drop_not_finite(Value& value) {
  if (value.spread == nullptr) {
    if (!std::isfinite(value.certain)) value.known = 0;
    return;
  }
  const ScenarioValues& column = *value.spread;
  value.known &= mask_where([&column](std::size_t k) { return std::isfinite(column[k]); });
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
  if (right.spread == nullptr) {
    const ScenarioValues& values = *left.spread;
    for (std::size_t k = 0; k < kScenarioCount; ++k) column[k] = function(values[k], right.certain);
  } else if (left.spread == nullptr) {
    const ScenarioValues& values = *right.spread;
    for (std::size_t k = 0; k < kScenarioCount; ++k) column[k] = function(left.certain, values[k]);
  } else {
    const ScenarioValues& left_values = *left.spread;
    const ScenarioValues& right_values = *right.spread;
    for (std::size_t k = 0; k < kScenarioCount; ++k) column[k] = function(left_values[k], right_values[k]);
  }
  out.spread = &column;
  return out;
}

template <typename Function>
Value arithmetic(const Value& left, const Value& right, ScenarioValues& column, Function function) {
  Value out = combine(left, right, column, function);
  if (out.known != 0) drop_not_finite(out);
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
  const ScenarioValues& values = *of.spread;
  for (std::size_t k = 0; k < kScenarioCount; ++k) column[k] = function(values[k]);
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
  } else if (right.spread == nullptr) {
    const ScenarioValues& values = *left.spread;
    out.truth = mask_where([&](std::size_t k) { return relation(values[k], right.certain); }) & out.known;
  } else if (left.spread == nullptr) {
    const ScenarioValues& values = *right.spread;
    out.truth = mask_where([&](std::size_t k) { return relation(left.certain, values[k]); }) & out.known;
  } else {
    out.truth = mask_where([&](std::size_t k) { return relation((*left.spread)[k], (*right.spread)[k]); }) &
                out.known;
  }
  return out;
}

Value log10_of(const Value& of, ScenarioValues& column) {
  Value out;
  out.known = of.known;
  if (out.known == 0) return out;
  if (of.spread == nullptr) {
    out.certain = std::log10(of.certain);
    drop_not_finite(out);
    return out;
  }
  // Smaller numbers have fewer digits, and fast_log is not made for them.
  const double least = std::numeric_limits<double>::min();
  const ScenarioValues& values = *of.spread;
  out.known &= mask_where([&values, least](std::size_t k) { return values[k] >= least; });
  for (std::size_t k = 0; k < kScenarioCount; ++k) column[k] = std::max(values[k], least);
  detail::log_column(column, column);
  for (double& value : column) value /= std::numbers::ln10;
  out.spread = &column;
  return out;
}

Value equality(const Value& left, const Value& right) {
  if (left.text == nullptr || right.text == nullptr) {
    return compare(left, right, [](double x, double y) { return x == y; });
  }
  return known_flag(mask_of(*left.text == *right.text));
}

Value first_known(const Value& left, const Value& right, ScenarioValues& column) {
  if (left.known == kAllScenarios || right.known == 0) return left;
  if (left.known == 0) return right;
  Value out;
  out.known = left.known | right.known;
  out.truth = left.truth | (right.truth & ~left.known);
  for (std::size_t k = 0; k < kScenarioCount; ++k) {
    column[k] = ((left.known >> k) & 1U) != 0 ? left.at(k) : right.at(k);
  }
  out.spread = &column;
  return out;
}

Value choose(const Value& condition, const Value& if_true, const Value& if_false, FactType type,
             ScenarioValues& column) {
  const std::uint64_t is_true = condition.truth;
  const std::uint64_t is_false = condition.known & ~condition.truth;
  if (is_true == kAllScenarios) return if_true;
  if (is_false == kAllScenarios) return if_false;
  Value out;
  // A text cannot differ from scenario to scenario.
  if (type == FactType::Text || type == FactType::Set) return out;
  out.known = (is_true & if_true.known) | (is_false & if_false.known);
  if (type == FactType::Flag) {
    out.truth = (is_true & if_true.truth) | (is_false & if_false.truth);
    return out;
  }
  if (out.known == 0) return out;
  for (std::size_t k = 0; k < kScenarioCount; ++k) {
    column[k] = ((is_true >> k) & 1U) != 0 ? if_true.at(k) : if_false.at(k);
  }
  out.spread = &column;
  return out;
}

Value interpolated(const Value& of, const Curve& curve, ScenarioValues& column) {
  Value out;
  out.known = of.known;
  if (out.known == 0) return out;
  if (of.spread == nullptr) {
    out.certain = curve.at(of.certain);
    return out;
  }
  curve.run(*of.spread, column);
  out.spread = &column;
  return out;
}

Value conjunction(const Value& left, const Value& right) {
  Value out;
  out.truth = left.truth & right.truth;
  out.known = out.truth | (left.known & ~left.truth) | (right.known & ~right.truth);
  return out;
}

Value disjunction(const Value& left, const Value& right) {
  Value out;
  out.truth = left.truth | right.truth;
  out.known = out.truth | (left.known & right.known);
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

const Value& Program::run(const FactFrame& frame, std::size_t each, Workspace& workspace) const {
  workspace.reserve(instructions_.size());
  for (std::size_t i = 0; i < instructions_.size(); ++i) {
    workspace.value(i) = step(instructions_[i], frame, each, workspace, workspace.column(i));
  }
  return workspace.value(result_);
}

Value Program::step(const Instruction& instruction, const FactFrame& frame, std::size_t each,
                    const Workspace& workspace, ScenarioValues& column) const {
  const Value& first = workspace.value(instruction.first);
  const Value& second = workspace.value(instruction.second);
  Value out;
  switch (instruction.operation) {
    case Operation::Number:
      out.known = kAllScenarios;
      out.certain = instruction.number;
      return out;
    case Operation::Text:
      out.known = kAllScenarios;
      out.text = &texts_[instruction.first];
      return out;
    case Operation::Set:
      out.known = kAllScenarios;
      out.set = &sets_[instruction.first];
      return out;
    case Operation::Flag:
      return known_flag(mask_of(instruction.first != 0));
    case Operation::Unknown:
      return out;
    case Operation::Fact:
      return load(frame.get(instruction.fact, each));
    case Operation::Negate:
      return map(first, column, [](double x) { return -x; });
    case Operation::Abs:
      return map(first, column, [](double x) { return std::abs(x); });
    case Operation::Log10:
      return log10_of(first, column);
    case Operation::Add:
      return arithmetic(first, second, column, [](double x, double y) { return x + y; });
    case Operation::Subtract:
      return arithmetic(first, second, column, [](double x, double y) { return x - y; });
    case Operation::Multiply:
      return arithmetic(first, second, column, [](double x, double y) { return x * y; });
    case Operation::Divide:
      return arithmetic(first, second, column, [](double x, double y) { return x / y; });
    case Operation::Min:
      return combine(first, second, column, [](double x, double y) { return std::min(x, y); });
    case Operation::Max:
      return combine(first, second, column, [](double x, double y) { return std::max(x, y); });
    case Operation::First:
      return first_known(first, second, column);
    case Operation::Less:
      return compare(first, second, [](double x, double y) { return x < y; });
    case Operation::LessEqual:
      return compare(first, second, [](double x, double y) { return x <= y; });
    case Operation::Equal:
      return equality(first, second);
    case Operation::In:
      if ((first.known & second.known) == 0) return out;
      return known_flag(mask_of(contains(*second.set, *first.text)));
    case Operation::Meets:
      if ((first.known & second.known) == 0) return out;
      return known_flag(mask_of(share_a_member(*first.set, *second.set)));
    case Operation::Not:
      out.known = first.known;
      out.truth = first.known & ~first.truth;
      return out;
    case Operation::And:
      return conjunction(first, second);
    case Operation::Or:
      return disjunction(first, second);
    case Operation::Known:
      return known_flag(first.known);
    case Operation::Measured: {
      const FactValue& fact = frame.get(instruction.fact, each);
      return known_flag(mask_of(fact.is_known() && is_measured(fact.origin)));
    }
    case Operation::Choose:
      return choose(first, second, workspace.value(instruction.third), instruction.chosen, column);
    case Operation::Interpolate:
      return interpolated(first, curves_[instruction.second], column);
  }
  return out;
}

std::vector<FactReference> Program::missing(const Workspace& workspace) const {
  std::vector<FactReference> out;
  std::vector<bool> is_asked(instructions_.size(), false);
  const auto ask = [&is_asked](std::uint16_t index) { is_asked[index] = true; };
  ask(result_);
  // Operands stand before what uses them, so one walk from the end reaches all.
  for (std::size_t i = instructions_.size(); i-- > 0;) {
    if (!is_asked[i] || workspace.value(i).known == kAllScenarios) continue;
    const Instruction& instruction = instructions_[i];
    switch (instruction.operation) {
      case Operation::Fact:
        if (std::find(out.begin(), out.end(), instruction.fact) == out.end()) out.push_back(instruction.fact);
        break;
      case Operation::Choose: {
        // Where the condition is unknown, what it would have led to is no reason.
        const Value& condition = workspace.value(instruction.first);
        ask(instruction.first);
        if (condition.known != kAllScenarios) break;
        if (condition.truth != 0) ask(instruction.second);
        if (condition.truth != kAllScenarios) ask(instruction.third);
        break;
      }
      case Operation::Negate:
      case Operation::Abs:
      case Operation::Log10:
      case Operation::Not:
      case Operation::Interpolate:
        ask(instruction.first);
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
        ask(instruction.first);
        ask(instruction.second);
        break;
    }
  }
  std::reverse(out.begin(), out.end());
  return out;
}

FactValue to_fact(const Value& value, const ValueType& type) {
  FactValue out;
  out.value = Unknown{"not known"};
  if (value.known == 0) return out;
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

}  // namespace firstcrop
