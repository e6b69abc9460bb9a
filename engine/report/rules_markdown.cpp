#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "report/markdown.hpp"
#include "report/rules_text.hpp"

namespace firstcrop {
namespace {

using report::cell;
using report::code_cell;
using report::plain;

constexpr std::size_t kBarLength = 20;

std::string title_of(const Rule& rule) {
  std::string out = rule.id.text;
  std::replace(out.begin(), out.end(), '-', ' ');
  return out;
}

// The first sentence of what a rule teaches states it; one without a lesson is stated by what it says.
std::string statement_of(const Rule& rule) {
  if (rule.teach.empty()) return rule.text.empty() ? rule.high.written() : rule.text.written();
  const std::size_t end = rule.teach.find(". ");
  return end == std::string::npos ? rule.teach : rule.teach.substr(0, end + 1);
}

std::string head_line(const Rule& rule) {
  std::string out(name_of(rule.kind));
  if (rule.kind == RuleKind::Grade) out += fmt::format(", weight {:g}", rule.weight);
  if (rule.kind == RuleKind::Caution) out += fmt::format(", {}", name_of(rule.level));
  if (!rule.step.empty()) out += fmt::format(", step {}", rule.step);
  return out;
}

std::string facts_part(const RuleBook& book, const Rule& rule) {
  std::string out = "\n## What it looks at\n\n| fact | unit | meaning |\n|---|---|---|\n";
  for (const FactReference& fact : rule.facts) {
    const FactInfo& info = book.catalogue().info(fact.fact);
    const std::string unit = info.type == FactType::Number ? info.shown_unit
                             : info.type == FactType::Flag ? "yes or no"
                             : info.type == FactType::Text ? "text"
                                                           : "set";
    out += fmt::format("| {} | {} | {} |\n", code_cell(book.catalogue().name_of(fact)), cell(unit), cell(info.meaning));
  }
  if (rule.facts.empty()) out += "| | | nothing: it holds always |\n";
  return out;
}

// Grades from 0 to 1 as a bar of signs.
std::string bar(const std::string& grade) {
  double value = 0;
  try {
    value = std::clamp(std::stod(grade), 0.0, 1.0);
  } catch (const std::exception&) {
    return {};
  }
  const auto length = static_cast<std::size_t>(std::lround(value * static_cast<double>(kBarLength)));
  return "`" + std::string(length, '#') + std::string(kBarLength - length, '.') + "`";
}

std::string judging_part(const Rule& rule) {
  const WrittenRule& written = rule.written;
  const bool is_grade = rule.kind == RuleKind::Grade;
  std::string out = is_grade ? "\n## How it grades\n\n" : "\n## How it judges\n\n";
  if (!written.when.empty()) out += fmt::format("Applies when `{}`.\n\n", written.when);
  for (const auto& [name, expression] : written.lets) out += fmt::format("- `{}` is `{}`\n", name, expression);
  if (!written.lets.empty()) out += "\n";
  if (!written.body.empty()) {
    const char* word = is_grade ? "Grades" : rule.kind == RuleKind::Derive ? "Value" : "Holds when";
    out += fmt::format("{}: `{}`\n", word, written.body);
  }
  if (!written.points.empty()) {
    out += fmt::format("\nStraight lines {}, level outside:\n\n| at | grade | picture |\n|---:|---:|---|\n",
                       written.scale == "log" ? "over the logarithm between the points" : "between the points");
    for (const auto& [x, grade] : written.points) out += fmt::format("| {} | {} | {} |\n", cell(x), grade, bar(grade));
  }
  if (!written.ladder.empty()) {
    out += fmt::format("\nThe first that holds:\n\n| when | {} |{}\n|---|---|{}\n", is_grade ? "grade" : "value",
                       is_grade ? " picture |" : "", is_grade ? "---|" : "");
    for (const auto& [condition, value] : written.ladder) {
      out += fmt::format("| {} | {} |{}\n", code_cell(condition), cell(value),
                         is_grade ? fmt::format(" {} |", bar(value)) : std::string());
    }
  }
  return out;
}

std::string says_part(const Rule& rule) {
  std::string rows;
  const auto say = [&rows](const char* word, const Sentence& sentence) {
    if (!sentence.empty()) rows += fmt::format("| {} | {} |\n", word, cell(sentence.written()));
  };
  say("high", rule.high);
  say("middle", rule.middle);
  say("low", rule.low);
  say("from low to high", rule.unsure);
  say("it holds", rule.text);
  say("it may hold", rule.perhaps);
  say("asked of one system", rule.ask);
  say("asked of several", rule.ask_which);
  return rows.empty() ? rows : "\n## What it says\n\n| when | sentence |\n|---|---|\n" + rows;
}

std::string cases_part(const RuleBook& book, const Rule& rule) {
  std::string out = "\n## Cases that test it\n\n| given | expected |\n|---|---|\n";
  for (const RuleCase& one : rule.cases) {
    out += fmt::format("| {} | {} |\n", cell(facts_of_case(one, book.catalogue())), cell(expectation_of(one)));
  }
  return out;
}

}  // namespace

std::string rule_markdown(const RuleBook& book, const Rule& rule) {
  const std::string file = rule.place.path.substr(rule.place.path.rfind('/') + 1);
  std::string out = fmt::format("# {}\n\n`{}`: {}; stands in {}\n\n{}\n", title_of(rule), rule.id.text,
                                head_line(rule), plain(file), plain(statement_of(rule)));
  out += facts_part(book, rule) + judging_part(rule) + says_part(rule);
  if (!rule.teach.empty()) out += "\n## Why\n\n" + plain(rule.teach) + "\n";
  return out + "\n## Source\n\n" + plain(rule.source) + "\n" + cases_part(book, rule);
}

std::string rules_markdown(const RuleBook& book) {
  std::string out = fmt::format("# The {} rules\n\nWritten by `firstcrop rules --markdown`; `firstcrop rules ID --markdown` "
                                "writes the page of one rule.\n",
                                book.rules().size());
  for (const RuleKind kind :
       {RuleKind::Grade, RuleKind::Exclude, RuleKind::Caution, RuleKind::Advice, RuleKind::Derive}) {
    const auto is_of_kind = [kind](const Rule& rule) { return rule.kind == kind; };
    const auto count = std::count_if(book.rules().begin(), book.rules().end(), is_of_kind);
    if (count == 0) continue;
    out += fmt::format("\n## {} ({})\n\n| rule | | in short | source |\n|---|---|---|---|\n", name_of(kind), count);
    for (const Rule& rule : book.rules()) {
      if (!is_of_kind(rule)) continue;
      const std::string detail = kind == RuleKind::Grade     ? fmt::format("weight {:g}", rule.weight)
                                 : kind == RuleKind::Caution ? std::string(name_of(rule.level))
                                                             : rule.step;
      out += fmt::format("| [{}]({}.md) | {} | {} | {} |\n", rule.id.text, rule.id.text, detail,
                         cell(statement_of(rule)), cell(rule.source));
    }
  }
  return out;
}

}  // namespace firstcrop
