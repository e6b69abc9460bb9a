#include <algorithm>
#include <utility>

#include "rules/program.hpp"

namespace firstcrop {
namespace {

using Operation = Program::Operation;

// The operation of a sign or a function that joins its operands from left to right.
std::optional<Operation> joining(ExpressionKind kind) {
  switch (kind) {
    case ExpressionKind::Add:
      return Operation::Add;
    case ExpressionKind::Subtract:
      return Operation::Subtract;
    case ExpressionKind::Multiply:
      return Operation::Multiply;
    case ExpressionKind::Divide:
      return Operation::Divide;
    case ExpressionKind::Min:
      return Operation::Min;
    case ExpressionKind::Max:
      return Operation::Max;
    case ExpressionKind::First:
      return Operation::First;
    case ExpressionKind::And:
      return Operation::And;
    case ExpressionKind::Or:
      return Operation::Or;
    case ExpressionKind::In:
      return Operation::In;
    case ExpressionKind::Meets:
      return Operation::Meets;
    default:
      return std::nullopt;
  }
}

std::optional<Operation> of_one(ExpressionKind kind) {
  switch (kind) {
    case ExpressionKind::Negate:
      return Operation::Negate;
    case ExpressionKind::Abs:
      return Operation::Abs;
    case ExpressionKind::Log10:
      return Operation::Log10;
    case ExpressionKind::Not:
      return Operation::Not;
    case ExpressionKind::Known:
      return Operation::Known;
    default:
      return std::nullopt;
  }
}

}  // namespace

ProgramBuilder::ProgramBuilder(const CheckedLets& lets) : lets_(lets) {}

std::uint16_t ProgramBuilder::add(Program::Instruction instruction) {
  if (program_.instructions_.size() >= kLongestProgram) {
    is_too_long_ = true;
    return 0;
  }
  program_.instructions_.push_back(instruction);
  return static_cast<std::uint16_t>(program_.instructions_.size() - 1);
}

std::uint16_t ProgramBuilder::add(Operation operation, std::uint16_t first, std::uint16_t second) {
  Program::Instruction out;
  out.operation = operation;
  out.first = first;
  out.second = second;
  return add(out);
}

std::uint16_t ProgramBuilder::number(double value) {
  Program::Instruction out;
  out.operation = Operation::Number;
  out.number = value;
  return add(out);
}

std::uint16_t ProgramBuilder::text(std::string value) {
  program_.texts_.push_back(std::move(value));
  return add(Operation::Text, static_cast<std::uint16_t>(program_.texts_.size() - 1));
}

std::uint16_t ProgramBuilder::unknown() {
  return add(Operation::Unknown, 0);
}

std::uint16_t ProgramBuilder::choose(std::uint16_t condition, std::uint16_t if_true, std::uint16_t if_false,
                                     FactType type) {
  Program::Instruction out;
  out.operation = Operation::Choose;
  out.first = condition;
  out.second = if_true;
  out.third = if_false;
  out.chosen = type;
  return add(out);
}

std::uint16_t ProgramBuilder::interpolate(std::uint16_t of, Curve curve) {
  program_.curves_.push_back(std::move(curve));
  return add(Operation::Interpolate, of, static_cast<std::uint16_t>(program_.curves_.size() - 1));
}

std::uint16_t ProgramBuilder::fold(const Expression& checked, Operation operation) {
  std::uint16_t out = expression(checked.operands.front());
  for (std::size_t i = 1; i < checked.operands.size(); ++i) {
    out = add(operation, out, expression(checked.operands[i]));
  }
  return out;
}

std::uint16_t ProgramBuilder::comparison(const Expression& checked) {
  const std::uint16_t left = expression(checked.operands[0]);
  const std::uint16_t right = expression(checked.operands[1]);
  switch (checked.kind) {
    case ExpressionKind::Less:
      return add(Operation::Less, left, right);
    case ExpressionKind::LessEqual:
      return add(Operation::LessEqual, left, right);
    case ExpressionKind::Greater:
      return add(Operation::Less, right, left);
    case ExpressionKind::GreaterEqual:
      return add(Operation::LessEqual, right, left);
    case ExpressionKind::Equal:
      return add(Operation::Equal, left, right);
    default:
      return add(Operation::Not, add(Operation::Equal, left, right));
  }
}

void ProgramBuilder::note(const FactReference& fact) {
  std::vector<FactReference>& facts = program_.facts_;
  if (std::find(facts.begin(), facts.end(), fact) == facts.end()) facts.push_back(fact);
}

std::uint16_t ProgramBuilder::expression(const Expression& checked) {
  if (const auto operation = joining(checked.kind)) return fold(checked, *operation);
  if (const auto operation = of_one(checked.kind)) return add(*operation, expression(checked.operands[0]));
  if (checked.is_comparison()) return comparison(checked);
  switch (checked.kind) {
    case ExpressionKind::Number:
      return number(checked.number);
    case ExpressionKind::Text:
      return text(checked.text);
    case ExpressionKind::Flag:
      return add(Operation::Flag, checked.flag ? 1 : 0);
    case ExpressionKind::Set: {
      std::vector<std::string> members;
      for (const Expression& member : checked.operands) members.push_back(member.text);
      program_.sets_.push_back(std::move(members));
      return add(Operation::Set, static_cast<std::uint16_t>(program_.sets_.size() - 1));
    }
    case ExpressionKind::Name: {
      const auto done = done_lets_.find(checked.text);
      if (done != done_lets_.end()) return done->second;
      const std::uint16_t index = expression(lets_.at(checked.text).first);
      done_lets_.emplace(checked.text, index);
      return index;
    }
    default:
      break;
  }
  const bool asks_origin = checked.kind == ExpressionKind::Measured;
  Program::Instruction out;
  out.operation = asks_origin ? Operation::Measured : Operation::Fact;
  out.fact = asks_origin ? checked.operands[0].reference : checked.reference;
  note(out.fact);
  return add(out);
}

std::optional<Program> ProgramBuilder::finish(std::uint16_t result, const ValueType& type) {
  if (is_too_long_) return std::nullopt;
  program_.type_ = type;
  program_.result_ = result;
  return std::move(program_);
}

std::optional<Program> compile(const Expression& checked, const ValueType& type, const CheckedLets& lets) {
  ProgramBuilder builder(lets);
  const std::uint16_t result = builder.expression(checked);
  return builder.finish(result, type);
}

}  // namespace firstcrop
