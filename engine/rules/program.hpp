#pragma once

#include <cstdint>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "facts/fact_frame.hpp"
#include "rules/curve.hpp"
#include "rules/type_check.hpp"

namespace firstcrop {

/// A value while a program runs: a number (once, or in every scenario), a flag as two masks, a text or a set.
struct Value {
  std::uint64_t known = 0;                        ///< scenarios in which it is known
  std::uint64_t truth = 0;                        ///< flags; zero outside `known`
  double certain = 0;                             ///< numbers without spread
  const ScenarioValues* spread = nullptr;         ///< numbers with spread
  const std::string* text = nullptr;              ///< texts
  const std::vector<std::string>* set = nullptr;  ///< sets

  [[nodiscard]] double at(std::size_t scenario) const { return spread ? (*spread)[scenario] : certain; }
};

/// Scratch memory of running programs; one may serve any number of programs, one at a time.
class Workspace {
 public:
  void reserve(std::size_t instruction_count);
  [[nodiscard]] Value& value(std::size_t index) { return values_[index]; }
  [[nodiscard]] const Value& value(std::size_t index) const { return values_[index]; }
  [[nodiscard]] ScenarioValues& column(std::size_t index) { return columns_[index]; }

 private:
  std::vector<Value> values_;
  std::unique_ptr<ScenarioValues[]> columns_;
};

inline constexpr std::size_t kLongestProgram = 1000;  ///< instructions

/// An expression compiled once: instructions in an order in which each finds its operands done. Numbers run
/// over all scenarios at once, certain ones once; flags are two masks, and Kleene's logic (1938) is bit
/// operations. Arithmetic is strict; a division by zero and the logarithm of nothing or less are unknown.
class Program {
 public:
  enum class Operation : std::uint8_t {
    Number,
    Text,
    Set,
    Flag,
    Unknown,
    Fact,
    Negate,
    Add,
    Subtract,
    Multiply,
    Divide,
    Min,
    Max,
    Abs,
    Log10,
    First,
    Less,
    LessEqual,
    Equal,
    In,
    Meets,
    Not,
    And,
    Or,
    Known,
    Measured,
    Choose,
    Interpolate
  };
  struct Instruction {
    Operation operation = Operation::Unknown;
    std::uint16_t first = 0;   ///< operand, or place of a constant
    std::uint16_t second = 0;  ///< operand
    std::uint16_t third = 0;   ///< operand
    FactReference fact;
    FactType chosen = FactType::Number;  ///< of Choose
    double number = 0;
  };

  /// Value on one system; `each` is the component that `solvent.` means. Points into `workspace`, the frame
  /// and the program, and holds until the workspace is used again.
  [[nodiscard]] const Value& run(const FactFrame& frame, std::size_t each, Workspace& workspace) const;
  /// After `run`: the facts whose being unknown makes the value unknown, each once. Empty where it is known,
  /// and where a division by zero or a logarithm is the reason.
  [[nodiscard]] std::vector<FactReference> missing(const Workspace& workspace) const;

  [[nodiscard]] const ValueType& type() const { return type_; }
  [[nodiscard]] const std::vector<FactReference>& facts() const { return facts_; }
  [[nodiscard]] std::size_t instruction_count() const { return instructions_.size(); }

 private:
  friend class ProgramBuilder;
  [[nodiscard]] Value step(const Instruction& instruction, const FactFrame& frame, std::size_t each,
                           const Workspace& workspace, ScenarioValues& column) const;
  std::vector<Instruction> instructions_;
  std::vector<std::string> texts_;
  std::vector<std::vector<std::string>> sets_;
  std::vector<Curve> curves_;
  std::vector<FactReference> facts_;
  ValueType type_;
  std::uint16_t result_ = 0;
};

/// The checked `let` expressions of a rule.
using CheckedLets = std::map<std::string, std::pair<Expression, ValueType>, std::less<>>;

/// Builds programs out of checked expressions. A `let` used several times is computed once.
class ProgramBuilder {
 public:
  explicit ProgramBuilder(const CheckedLets& lets);

  /// Each adds instructions and returns the index of the one that holds the value.
  std::uint16_t expression(const Expression& checked);
  std::uint16_t number(double value);
  std::uint16_t text(std::string value);
  std::uint16_t unknown();
  std::uint16_t choose(std::uint16_t condition, std::uint16_t if_true, std::uint16_t if_false, FactType type);
  std::uint16_t interpolate(std::uint16_t of, Curve curve);
  /// The program whose value is that of `result`; nothing where it would need more than kLongestProgram
  /// instructions.
  [[nodiscard]] std::optional<Program> finish(std::uint16_t result, const ValueType& type);

 private:
  std::uint16_t add(Program::Instruction instruction);
  std::uint16_t add(Program::Operation operation, std::uint16_t first, std::uint16_t second = 0);
  void note(const FactReference& fact);
  std::uint16_t fold(const Expression& checked, Program::Operation operation);
  std::uint16_t comparison(const Expression& checked);
  const CheckedLets& lets_;
  std::map<std::string, std::uint16_t, std::less<>> done_lets_;
  Program program_;
  bool is_too_long_ = false;
};

/// What a program computed as the value of a fact, calculated.
[[nodiscard]] FactValue to_fact(const Value& value, const ValueType& type);

/// A checked expression as a program; nothing where it would be too long.
[[nodiscard]] std::optional<Program> compile(const Expression& checked, const ValueType& type,
                                             const CheckedLets& lets);

}  // namespace firstcrop
