#include "report/rules_text.hpp"

#include <algorithm>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "report/json_tools.hpp"
#include "report/table.hpp"

namespace firstcrop {
namespace {

using report::Json;

std::string spoken(const RuleId& id) {
  std::string out = id.text;
  std::replace(out.begin(), out.end(), '-', ' ');
  return out;
}

std::string looks_at(const Rule& rule) {
  if (!rule.written.body.empty() && rule.written.body != "true") return rule.written.body;
  if (!rule.written.ladder.empty()) return rule.written.ladder.front().first + " ...";
  return "always";
}

const char* type_word(const FactInfo& info) {
  switch (info.type) {
    case FactType::Number:
      return "number";
    case FactType::Flag:
      return "flag";
    case FactType::Text:
      return "text";
    case FactType::Set:
      break;
  }
  return "set";
}

std::string unit_of(const FactInfo& info) {
  return info.type == FactType::Number ? info.shown_unit : std::string(type_word(info));
}

// The parts of one rule as (heading, lines), which text and Markdown lay out each in its way.
struct Part {
  std::string heading;
  std::vector<std::string> lines;
};

std::vector<Part> parts_of(const Rule& rule) {
  std::vector<Part> out;
  if (!rule.written.when.empty()) out.push_back({"Applies when", {rule.written.when}});
  if (!rule.written.lets.empty()) {
    std::vector<std::string> lines;
    for (const auto& [name, expression] : rule.written.lets)
      lines.push_back(fmt::format("{} = {}", name, expression));
    out.push_back({"With", std::move(lines)});
  }
  if (!rule.written.body.empty())
    out.push_back({rule.kind == RuleKind::Grade ? "Grades" : "Looks at", {rule.written.body}});
  if (!rule.written.points.empty()) {
    std::vector<std::string> points;
    for (const auto& [x, grade] : rule.written.points) points.push_back(fmt::format("{}: {}", x, grade));
    out.push_back({rule.written.scale == "log" ? "Points (straight over log x)" : "Points (straight between)",
                   {fmt::format("{}", fmt::join(points, "   "))}});
  }
  if (!rule.written.ladder.empty()) {
    std::vector<std::string> lines;
    for (const auto& [condition, value] : rule.written.ladder)
      lines.push_back(fmt::format("{}: {}", condition, value));
    out.push_back({"Ladder, first that holds", std::move(lines)});
  }
  std::vector<std::string> says;
  const auto say = [&says](const char* word, const Sentence& sentence) {
    if (!sentence.empty()) says.push_back(fmt::format("{}{}", word, sentence.written()));
  };
  say("high: ", rule.high);
  say("middle: ", rule.middle);
  say("low: ", rule.low);
  say("range from low to high: ", rule.unsure);
  say("", rule.text);
  say("merely possible: ", rule.perhaps);
  if (!says.empty()) out.push_back({"Says", std::move(says)});
  if (!rule.teach.empty()) out.push_back({"Why", {rule.teach}});
  out.push_back({"Source", {rule.source}});
  return out;
}

std::string facts_of_case(const RuleCase& one, const Catalogue& catalogue) {
  std::vector<std::string> parts;
  for (const RuleCase::Given& given : one.given) {
    parts.push_back(fmt::format("{} {}", catalogue.name_of(given.fact),
                                show_fact(given.value, catalogue.info(given.fact.fact))));
  }
  return parts.empty() ? "nothing known" : fmt::format("{}", fmt::join(parts, ", "));
}

std::string expectation(const RuleCase& one) {
  std::string out;
  if (one.expected) out = name_of(*one.expected);
  if (one.grade) out += fmt::format(" {:.2f}", *one.grade);
  if (one.value) out += (out.empty() ? "" : " ") + one.written_value;
  return out;
}

std::string summary_line(const Rule& rule) {
  std::string out(name_of(rule.kind));
  if (rule.kind == RuleKind::Grade) out += fmt::format(", weight {:g}", rule.weight);
  if (rule.kind == RuleKind::Caution) out += fmt::format(", {}", name_of(rule.level));
  if (!rule.step.empty()) out += fmt::format(", step: {}", rule.step);
  return out;
}

}  // namespace

std::string rules_text(const RuleBook& book, const Style& style) {
  std::string out;
  for (const RuleKind kind :
       {RuleKind::Grade, RuleKind::Exclude, RuleKind::Caution, RuleKind::Advice, RuleKind::Derive}) {
    Table table({{"id"},
                 {kind == RuleKind::Grade     ? "weight"
                  : kind == RuleKind::Caution ? "level"
                                              : "",
                  kind == RuleKind::Grade},
                 {"looks at"}});
    std::size_t count = 0;
    for (const Rule& rule : book.rules()) {
      if (rule.kind != kind) continue;
      ++count;
      std::string at = looks_at(rule);
      if (display_width(at) > 58) at = at.substr(0, at.rfind(' ', 54)) + " ...";
      const std::string detail = kind == RuleKind::Grade     ? fmt::format("{:g}", rule.weight)
                                 : kind == RuleKind::Caution ? std::string(name_of(rule.level))
                                                             : std::string();
      table.add({rule.id.text, detail, at});
    }
    if (count == 0) continue;
    out += style.strong(fmt::format("{} ({})", name_of(kind), count)) + "\n" + table.to_text() + "\n";
  }
  out += fmt::format(
      "{} rules. `firstcrop rules ID` shows one in full, `rules --facts` what they can ask about.\n",
      book.rules().size());
  return out;
}

std::string rule_text(const RuleBook& book, const Rule& rule, const Style& style) {
  std::string out = style.strong(spoken(rule.id)) + "   " + summary_line(rule) + "\n";
  for (const Part& part : parts_of(rule)) {
    out += "\n" + part.heading + "\n";
    for (const std::string& line : part.lines) out += wrapped(line, 4, 6);
  }
  out += "\nCases\n";
  for (const RuleCase& one : rule.cases)
    out += wrapped(fmt::format("{} -> {}", facts_of_case(one, book.catalogue()), expectation(one)), 4, 6);
  out += fmt::format("\n{}:{}\n", rule.place.path.substr(rule.place.path.rfind('/') + 1), rule.place.line);
  return out;
}

std::string rule_markdown(const RuleBook& book, const Rule& rule) {
  std::string out = fmt::format("# {}\n\n`{}`: {}\n", spoken(rule.id), rule.id.text, summary_line(rule));
  for (const Part& part : parts_of(rule)) {
    out += fmt::format("\n## {}\n\n", part.heading);
    const bool is_prose = part.heading == "Why" || part.heading == "Source";
    for (const std::string& line : part.lines) {
      out += is_prose ? line + "\n" : fmt::format("- `{}`\n", line);
    }
  }
  out += "\n## Cases\n\n| given | expected |\n|---|---|\n";
  for (const RuleCase& one : rule.cases)
    out += fmt::format("| {} | {} |\n", facts_of_case(one, book.catalogue()), expectation(one));
  return out;
}

std::string facts_text(const Catalogue& catalogue, const Style& style) {
  Table table({{"fact"}, {"unit"}, {"meaning"}});
  for (const FactInfo& info : catalogue.facts()) {
    std::string meaning = info.meaning;
    table.add({info.name, unit_of(info), meaning});
    if (!info.words.empty()) table.remark(fmt::format("one of: {}", fmt::join(info.words, ", ")));
  }
  std::string out = style.strong("Facts that rules can ask about") + "\n" + table.to_text(8);
  out += "\n`solvent.` facts are asked of each solvent of a system; in pairs also as `good.` and `poor.`.\n";
  out +=
      "A plain number has no unit. `plan.`, `trial.` and `impurity.` facts are known only while a run\n"
      "is planned.\n";
  return out;
}

std::string rules_json(const RuleBook& book, const std::vector<const Rule*>& rules,
                       const std::string& version, const std::string& data_fingerprint) {
  Json list = Json::array();
  for (const Rule* rule : rules) {
    Json entry{{"id", rule->id.text}, {"kind", std::string(name_of(rule->kind))}};
    entry["weight"] = rule->kind == RuleKind::Grade ? report::rounded(rule->weight) : Json(nullptr);
    entry["level"] =
        rule->kind == RuleKind::Caution ? Json(std::string(name_of(rule->level))) : Json(nullptr);
    entry["step"] = rule->step.empty() ? Json(nullptr) : Json(rule->step);
    entry["when"] = rule->written.when.empty() ? Json(nullptr) : Json(rule->written.when);
    entry["looks_at"] = looks_at(*rule);
    Json facts = Json::array();
    for (const FactReference& fact : rule->facts) facts.push_back(book.catalogue().name_of(fact));
    entry["facts"] = std::move(facts);
    entry["teach"] = rule->teach;
    entry["source"] = rule->source;
    entry["cases"] = rule->cases.size();
    list.push_back(std::move(entry));
  }
  return report::to_text(Json{{"format", "firstcrop/rules/1"},
                              {"program", version},
                              {"data", data_fingerprint},
                              {"rules", std::move(list)}});
}

std::string facts_json(const Catalogue& catalogue, const std::string& version,
                       const std::string& data_fingerprint) {
  Json list = Json::array();
  for (const FactInfo& info : catalogue.facts()) {
    list.push_back({{"fact", info.name},
                    {"type", type_word(info)},
                    {"unit", info.shown_unit},
                    {"meaning", info.meaning},
                    {"words", info.words}});
  }
  return report::to_text(Json{{"format", "firstcrop/facts/1"},
                              {"program", version},
                              {"data", data_fingerprint},
                              {"facts", std::move(list)}});
}

}  // namespace firstcrop
