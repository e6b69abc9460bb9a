#include "rules/program.hpp"

#include <cmath>

#include <doctest/doctest.h>

#include "small_book.hpp"

using namespace firstcrop;
using small::fact;

namespace {

const CheckedLets kNoLets;

Program program_of(const std::string& text) {
  std::vector<TextFault> faults;
  auto parsed = parse_expression(text, faults);
  REQUIRE_MESSAGE(parsed, text);
  const auto type = check_types(*parsed, small::catalogue(), {}, faults);
  REQUIRE_MESSAGE(type, (text + ": " + (faults.empty() ? "" : faults.front().message)));
  auto program = compile(*parsed, *type, kNoLets);
  REQUIRE(program);
  return *program;
}

// Runs an expression on one system; the result stays valid with the runner.
struct Runner {
  FactFrame frame{small::catalogue(), 2};
  Workspace workspace;
  std::optional<Program> program;

  const Value& operator()(const std::string& text, std::size_t each = 0) {
    program = program_of(text);
    return program->run(frame, each, workspace);
  }
  std::vector<std::string> missing(const std::string& text) {
    (void)(*this)(text);
    std::vector<std::string> out;
    for (const FactReference& reference : program->missing(workspace)) {
      out.push_back(small::catalogue().name_of(reference));
    }
    return out;
  }
};

ScenarioValues rising(double from, double step) {
  ScenarioValues out{};
  for (std::size_t k = 0; k < kScenarioCount; ++k) out[k] = from + step * static_cast<double>(k);
  return out;
}

// Sets the two flags of the truth tables.
void set_flag(Runner& run, const char* name, int value) {
  if (value >= 0) run.frame.set(fact(name), small::flag(value == 1));
}

int three_valued(const Value& value) {
  if (value.known == 0) return -1;
  REQUIRE(value.known == kAllScenarios);
  REQUIRE((value.truth == 0 || value.truth == kAllScenarios));
  return value.truth != 0 ? 1 : 0;
}

}  // namespace

TEST_CASE("and, or and not follow Kleene's tables") {
  // -1 is unknown; columns: left, right, and, or.
  const int table[9][4] = {{1, 1, 1, 1},   {1, 0, 0, 1},   {1, -1, -1, 1}, {0, 1, 0, 1},    {0, 0, 0, 0},
                           {0, -1, 0, -1}, {-1, 1, -1, 1}, {-1, 0, 0, -1}, {-1, -1, -1, -1}};
  for (const auto& row : table) {
    CAPTURE(row[0]);
    CAPTURE(row[1]);
    Runner run;
    set_flag(run, "system.is_pair", row[0]);
    set_flag(run, "aim.open_flame", row[1]);
    CHECK(three_valued(run("system.is_pair and aim.open_flame")) == row[2]);
    CHECK(three_valued(run("system.is_pair or aim.open_flame")) == row[3]);
    CHECK(three_valued(run("not system.is_pair")) == (row[0] < 0 ? -1 : 1 - row[0]));
  }
}

TEST_CASE("the tables hold scenario by scenario") {
  Runner run;
  run.frame.set(fact("system.is_pair"), small::flag_mask(0b0011, 0b0111));
  run.frame.set(fact("aim.open_flame"), small::flag_mask(0b0101, 0b1101));
  const Value both = run("system.is_pair and aim.open_flame");
  CHECK((both.truth & 0b1111) == 0b0001);
  CHECK((both.known & 0b1111) == 0b1101);
  const Value either = run("system.is_pair or aim.open_flame");
  CHECK((either.truth & 0b1111) == 0b0111);
  CHECK((either.known & 0b1111) == 0b0111);
}

TEST_CASE("arithmetic on certain numbers is done once") {
  Runner run;
  run.frame.set(fact("system.boiling_point"), small::celsius(78));
  run.frame.set(fact("solute.melting_point"), small::celsius(122));
  const Value margin = run("solute.melting_point - system.boiling_point");
  CHECK(margin.spread == nullptr);
  CHECK(margin.certain == doctest::Approx(44));
  CHECK(run("(1 + 2 * 3 - 4) / 2").certain == doctest::Approx(1.5));
}

TEST_CASE("arithmetic on uncertain numbers runs over all scenarios") {
  Runner run;
  run.frame.set(fact("system.hot_solubility"), small::column(rising(10, 1)));
  run.frame.set(fact("system.cold_solubility"), small::column(rising(1, 0.5)));
  run.frame.set(fact("system.recovery"), small::number(0.5));
  for (const std::size_t k : {std::size_t{0}, std::size_t{17}, std::size_t{63}}) {
    const double hot = 10 + static_cast<double>(k);
    const double cold = 1 + 0.5 * static_cast<double>(k);
    CHECK(run("system.hot_solubility + system.cold_solubility").at(k) == doctest::Approx(hot + cold));
    CHECK(run("system.hot_solubility - 3 mg/mL").at(k) == doctest::Approx(hot - 3));
    CHECK(run("3 mg/mL - system.hot_solubility").at(k) == doctest::Approx(3 - hot));
    CHECK(run("system.hot_solubility * system.recovery").at(k) == doctest::Approx(hot / 2));
    CHECK(run("system.cold_solubility / system.hot_solubility").at(k) == doctest::Approx(cold / hot));
    CHECK(run("min(system.hot_solubility; 30 mg/mL)").at(k) == doctest::Approx(std::min(hot, 30.0)));
    CHECK(run("max(system.hot_solubility; 30 mg/mL; 40 mg/mL)").at(k) ==
          doctest::Approx(std::max(hot, 40.0)));
    CHECK(run("abs(system.cold_solubility - 9 mg/mL)").at(k) == doctest::Approx(std::abs(cold - 9)));
    CHECK(run("-(system.hot_solubility)").at(k) == doctest::Approx(-hot));
    CHECK(std::abs(run("log10(system.hot_solubility / 1 mg/mL)").at(k) - std::log10(hot)) < 1e-9);
  }
}

TEST_CASE("every comparison holds where it should") {
  Runner run;
  run.frame.set(fact("system.polarity"), small::column(rising(0, 1)));
  CHECK(run("system.polarity < 3").truth == small::first_scenarios(3));
  CHECK(run("system.polarity <= 3").truth == small::first_scenarios(4));
  CHECK(run("system.polarity > 3").truth == ~small::first_scenarios(4));
  CHECK(run("system.polarity >= 3").truth == ~small::first_scenarios(3));
  CHECK(run("system.polarity == 3").truth == std::uint64_t{1} << 3U);
  CHECK(run("system.polarity != 3").truth == ~(std::uint64_t{1} << 3U));
  CHECK(run("3 < system.polarity").truth == ~small::first_scenarios(4));
  CHECK(run("system.polarity < system.polarity").truth == 0);
  CHECK(run("2 < 3").truth == kAllScenarios);
}

TEST_CASE("arithmetic is strict: what is unknown makes all of it unknown") {
  Runner run;
  run.frame.set(fact("system.hot_solubility"), small::column(rising(10, 1), small::first_scenarios(40)));
  CHECK(run("system.hot_solubility + 1 mg/mL").known == small::first_scenarios(40));
  CHECK(run("system.hot_solubility > 5 mg/mL").known == small::first_scenarios(40));
  CHECK(run("system.hot_solubility + system.cold_solubility").known == 0);
  CHECK(run("0 * system.polarity").known == 0);
}

TEST_CASE("a division by zero is unknown, where it happens") {
  Runner run;
  run.frame.set(fact("system.polarity"), small::column(rising(0, 1)));
  CHECK(run("1 / 0").known == 0);
  CHECK(run("1 / system.polarity").known == ~std::uint64_t{1});
  CHECK(run("0 / system.polarity").known == ~std::uint64_t{1});
}

TEST_CASE("the logarithm of nothing or less is unknown, where it happens") {
  Runner run;
  run.frame.set(fact("system.polarity"), small::column(rising(-2, 1)));
  CHECK(run("log10(0)").known == 0);
  CHECK(run("log10(-1)").known == 0);
  CHECK(run("log10(system.polarity)").known == ~small::first_scenarios(3));
}

TEST_CASE("a number that overflows is unknown") {
  Runner run;
  run.frame.set(fact("system.polarity"), small::column(rising(1e300, 0)));
  CHECK(run("system.polarity * system.polarity").known == 0);
  run.frame.set(fact("system.polarity"), small::number(1e300));
  CHECK(run("system.polarity * system.polarity").known == 0);
}

TEST_CASE("first takes the first known value, scenario by scenario") {
  Runner run;
  CHECK(run("first(system.polarity; 7)").certain == 7);
  run.frame.set(fact("system.polarity"), small::column(rising(0, 1), small::first_scenarios(2)));
  const Value mixed = run("first(system.polarity; 7)");
  CHECK(mixed.known == kAllScenarios);
  CHECK(mixed.at(1) == 1);
  CHECK(mixed.at(2) == 7);
  run.frame.set(fact("solute.form"), small::text("salt"));
  CHECK(*run("first(solute.form; solvent.class)").text == "salt");
  CHECK(run("first(system.is_pair; true)").truth == kAllScenarios);
  run.frame.set(fact("system.is_pair"), small::flag_mask(0, 0b1));
  CHECK(run("first(system.is_pair; true)").truth == ~std::uint64_t{1});
}

TEST_CASE("known and measured are never unknown themselves") {
  Runner run;
  CHECK(three_valued(run("known(system.polarity)")) == 0);
  CHECK(three_valued(run("measured(system.polarity)")) == 0);
  run.frame.set(fact("system.polarity"), small::column(rising(0, 1), 0b101));
  CHECK(run("known(system.polarity)").truth == 0b101);
  CHECK(run("known(system.polarity)").known == kAllScenarios);
  CHECK(three_valued(run("measured(system.polarity)")) == 0);
  for (const Origin origin : {Origin::Published, Origin::Measured, Origin::Given}) {
    run.frame.set(fact("system.polarity"), small::number(1, origin));
    CHECK(three_valued(run("measured(system.polarity)")) == 1);
  }
  for (const Origin origin : {Origin::Predicted, Origin::Calculated, Origin::Assumed}) {
    run.frame.set(fact("system.polarity"), small::number(1, origin));
    CHECK(three_valued(run("measured(system.polarity)")) == 0);
  }
}

TEST_CASE("texts are compared, looked up, and sets met") {
  Runner run;
  run.frame.set(fact("solute.form"), small::text("salt"));
  run.frame.set(fact("solute.groups"), small::set({"acid", "arene"}));
  run.frame.set(fact("solvent.hazards"), small::set({}), 0);
  run.frame.set(fact("solvent.hazards"), small::set({"H225", "acid"}), 1);
  CHECK(three_valued(run("solute.form == 'salt'")) == 1);
  CHECK(three_valued(run("solute.form != 'salt'")) == 0);
  CHECK(three_valued(run("solute.form in ('hydrate'; 'salt')")) == 1);
  CHECK(three_valued(run("solute.form in solute.groups")) == 0);
  CHECK(three_valued(run("solute.groups meets ('ester'; 'acid')")) == 1);
  CHECK(three_valued(run("solute.groups meets ('ester')")) == 0);
  CHECK(three_valued(run("solvent.hazards meets solute.groups", 0)) == 0);
  CHECK(three_valued(run("solvent.hazards meets solute.groups", 1)) == 1);
  CHECK(three_valued(run("solvent.class == '1'")) == -1);
  CHECK(three_valued(run("solvent.class in ('1')")) == -1);
}

TEST_CASE("solvent means the component in turn, good the first and poor the second") {
  Runner run;
  run.frame.set(fact("good.polarity"), small::number(0.2));
  run.frame.set(fact("poor.polarity"), small::number(0.9));
  CHECK(run("solvent.polarity", 0).certain == 0.2);
  CHECK(run("solvent.polarity", 1).certain == 0.9);
  CHECK(run("poor.polarity - good.polarity").certain == doctest::Approx(0.7));
}

TEST_CASE("a choice takes its values scenario by scenario") {
  ProgramBuilder builder(kNoLets);
  std::vector<TextFault> faults;
  auto condition = parse_expression("system.is_pair", faults);
  auto polarity = parse_expression("system.polarity", faults);
  REQUIRE(check_types(*condition, small::catalogue(), {}, faults));
  REQUIRE(check_types(*polarity, small::catalogue(), {}, faults));
  const auto one = builder.expression(*condition);
  const auto result = builder.choose(one, builder.number(1), builder.expression(*polarity), FactType::Number);
  const auto program = builder.finish(result, ValueType{});
  REQUIRE(program);
  FactFrame frame(small::catalogue(), 1);
  Workspace workspace;
  CHECK(program->run(frame, 0, workspace).known == 0);
  frame.set(fact("system.is_pair"), small::flag(true));
  CHECK(program->run(frame, 0, workspace).certain == 1);
  frame.set(fact("system.is_pair"), small::flag_mask(0b01, 0b11));
  CHECK(program->run(frame, 0, workspace).known == 0b01);
  frame.set(fact("system.polarity"), small::number(5));
  const Value& mixed = program->run(frame, 0, workspace);
  CHECK(mixed.known == 0b11);
  CHECK(mixed.at(0) == 1);
  CHECK(mixed.at(1) == 5);
}

TEST_CASE("a let is computed once, however often it is used") {
  std::vector<TextFault> faults;
  auto let = parse_expression("system.polarity + 1", faults);
  REQUIRE(check_types(*let, small::catalogue(), {}, faults));
  CheckedLets lets;
  lets.emplace("x", std::pair{*let, ValueType{}});
  auto body = parse_expression("x * x + x", faults);
  REQUIRE(check_types(*body, small::catalogue(), {{"x", ValueType{}}}, faults));
  const auto program = compile(*body, ValueType{}, lets);
  REQUIRE(program);
  // fact, 1, sum, product, sum
  CHECK(program->instruction_count() == 5);
  FactFrame frame(small::catalogue(), 1);
  frame.set(fact("system.polarity"), small::number(2));
  Workspace workspace;
  CHECK(program->run(frame, 0, workspace).certain == 12);
  CHECK(program->facts() == std::vector<FactReference>{fact("system.polarity")});
}

TEST_CASE("a program that would be too long is refused") {
  CheckedLets lets;
  std::vector<TextFault> faults;
  std::string before = "1";
  for (int i = 0; i < 30; ++i) {
    std::string text = before;
    for (int k = 0; k < 40; ++k) text += " + 1";
    lets.emplace("x" + std::to_string(i), std::pair{*parse_expression(text, faults), ValueType{}});
    before = "x" + std::to_string(i);
  }
  CHECK_FALSE(compile(*parse_expression(before, faults), ValueType{}, lets));
}

TEST_CASE("what is missing is what makes the value unknown, and no more") {
  Runner run;
  CHECK(run.missing("system.polarity + solvent.polarity > 1") ==
        std::vector<std::string>{"system.polarity", "solvent.polarity"});
  run.frame.set(fact("system.is_pair"), small::flag(false));
  CHECK(run.missing("system.is_pair and aim.open_flame").empty());
  CHECK(run.missing("system.is_pair or aim.open_flame") == std::vector<std::string>{"aim.open_flame"});
  CHECK(run.missing("known(system.polarity)").empty());
  CHECK(run.missing("first(system.polarity; 1)").empty());
  CHECK(run.missing("1 / 0").empty());
  CHECK(run.missing("first(system.polarity; solvent.polarity)") ==
        std::vector<std::string>{"system.polarity", "solvent.polarity"});
}

TEST_CASE("a computed value becomes a fact that is calculated") {
  Runner run;
  run.frame.set(fact("system.polarity"), small::column(rising(0, 1), 0b110));
  const FactValue value = to_fact(run("system.polarity + 1"), ValueType{});
  CHECK(value.origin == Origin::Calculated);
  const auto& column = std::get<NumberColumn>(value.value);
  CHECK(column.known == 0b110);
  CHECK(column.at(1) == 2);
  CHECK_FALSE(to_fact(run("system.boiling_point"), ValueType{}).is_known());
  run.frame.set(fact("solute.form"), small::text("salt"));
  CHECK(std::get<std::string>(to_fact(run("solute.form"), {FactType::Text, {}}).value) == "salt");
  CHECK(std::get<FlagColumn>(to_fact(run("2 < 3"), {FactType::Flag, {}}).value).truth == kAllScenarios);
}
