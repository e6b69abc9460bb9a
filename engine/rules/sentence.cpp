#include "rules/sentence.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "base/finding.hpp"

namespace firstcrop {
namespace {

Unit unit_of(const FactInfo& info) {
  if (!info.shown_unit.empty()) {
    if (const auto unit = find_unit(info.shown_unit)) return *unit;
  }
  return Unit{"", dimension::kNumber, 1, 0};
}

using End = Sentence::Part::End;

std::string show_number(const Quantity& quantity, const Unit& unit, End end) {
  if (end == End::Low) return show(quantity.low.value_or(quantity.value), unit);
  if (end == End::High) return show(quantity.high.value_or(quantity.value), unit);
  if (quantity.low && quantity.high) return show_range(*quantity.low, *quantity.high, unit);
  return show(quantity.value, unit);
}

std::string show_flag(const FlagColumn& flag) {
  const auto probability = flag.probability();
  if (!probability) return "unknown";
  if (*probability >= 1) return "yes";
  if (*probability <= 0) return "no";
  return fmt::format("yes by {:.0f} %", *probability * 100);
}

std::string help_for(const std::string& name, const Catalogue& catalogue, const CheckedLets& lets) {
  std::vector<std::string> words{"solute", "solvent", "good", "poor", "system"};
  for (const auto& [let, checked] : lets) words.push_back(let);
  auto near = nearest_name(name, words);
  if (!near) near = catalogue.nearest(name);
  return near ? fmt::format("did you mean `{{{}}}`?", *near)
              : "braces hold a fact, a `let`, or one of solute, solvent, good, poor, system";
}

std::string show_value(const FactValue& value, const FactInfo& info, End end) {
  if (std::holds_alternative<NumberColumn>(value.value)) {
    const auto quantity = summary(value, info.dimension);
    return quantity ? show_number(*quantity, unit_of(info), end) : "unknown";
  }
  if (const auto* flag = std::get_if<FlagColumn>(&value.value)) return show_flag(*flag);
  if (const auto* text = std::get_if<std::string>(&value.value)) return *text;
  if (const auto* set = std::get_if<std::vector<std::string>>(&value.value)) {
    return set->empty() ? "none" : fmt::format("{}", fmt::join(*set, ", "));
  }
  return "unknown";
}

// What stands between two braces: a name, and after a bar the end of its range that is meant.
struct Hole {
  std::string name;
  End end = End::Both;
  bool is_good = true;
};

Hole read_hole(std::string_view text) {
  const std::size_t bar = text.find('|');
  Hole out{std::string(text.substr(0, bar)), End::Both, true};
  if (bar == std::string_view::npos) return out;
  const std::string_view end = text.substr(bar + 1);
  out.end = end == "low" ? End::Low : End::High;
  out.is_good = end == "low" || end == "high";
  return out;
}

}  // namespace

std::string show_fact(const FactValue& value, const FactInfo& info) {
  return show_value(value, info, End::Both);
}

std::optional<Sentence> Sentence::parse(std::string_view text, const Catalogue& catalogue,
                                        const CheckedLets& lets, std::vector<TextFault>& faults,
                                        SentencePlace place) {
  Sentence out;
  out.written_ = std::string(text);
  const std::size_t before = faults.size();
  std::string words;
  const auto offset_of = [&text](std::size_t position) { return character_count(text.substr(0, position)); };
  const auto flush = [&out, &words] {
    if (words.empty()) return;
    Part part;
    part.words = std::move(words);
    out.parts_.push_back(std::move(part));
    words.clear();
  };
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text[i] == '}') {
      faults.push_back(
          {offset_of(i), 1, "a closing brace without its opening one", "write `{fact}` for a value"});
      continue;
    }
    if (text[i] != '{') {
      words += text[i] == '\n' ? ' ' : text[i];
      continue;
    }
    const std::size_t end = text.find('}', i);
    if (end == std::string_view::npos) {
      faults.push_back({offset_of(i), 1, "this brace is never closed", "close it with `}`"});
      break;
    }
    flush();
    const Hole hole = read_hole(text.substr(i + 1, end - i - 1));
    const std::string& name = hole.name;
    const int offset = offset_of(i);
    const int width = character_count(text.substr(i, end - i + 1));
    i = end;
    if (!hole.is_good) {
      faults.push_back({offset, width, "after `|` stands the end of a range", "write `|low` or `|high`"});
      continue;
    }
    Part part;
    part.end = hole.end;
    using Kind = Part::Kind;
    bool is_number = false;
    if (name == "probability") {
      part.kind = Kind::Probability;
      if (place != SentencePlace::Perhaps) {
        faults.push_back({offset, width, "`{probability}` has no meaning here",
                          "it belongs into the `perhaps` of an exclusion"});
        continue;
      }
    } else if (name == "solute" || name == "system" || name == "solvent" || name == "good" ||
               name == "poor") {
      part.kind = name == "solute"    ? Kind::Solute
                  : name == "system"  ? Kind::System
                  : name == "solvent" ? Kind::Solvent
                  : name == "good"    ? Kind::Good
                                      : Kind::Poor;
    } else if (const auto let = lets.find(name); let != lets.end()) {
      part.kind = Kind::Let;
      part.words = name;
      auto program = compile(let->second.first, let->second.second, lets);
      if (!program) {
        faults.push_back({offset, width, fmt::format("the `let` `{}` is too long", name), "part it"});
        continue;
      }
      part.program = std::make_shared<const Program>(std::move(*program));
      is_number = let->second.second.type == FactType::Number;
      out.let_names_.push_back(name);
    } else if (const auto fact = catalogue.find(name)) {
      part.kind = Kind::Fact;
      part.fact = *fact;
      is_number = catalogue.info(fact->fact).type == FactType::Number;
    } else {
      faults.push_back({offset, width, fmt::format("`{}` is neither a fact nor a `let`", name.substr(0, 60)),
                        help_for(name, catalogue, lets)});
      continue;
    }
    if (part.end != End::Both && !is_number) {
      faults.push_back({offset, width, fmt::format("`{}` is no number and has no ends", name.substr(0, 60)),
                        fmt::format("write `{{{}}}`", name.substr(0, 60))});
      continue;
    }
    out.parts_.push_back(std::move(part));
  }
  flush();
  if (faults.size() > before) return std::nullopt;
  return out;
}

std::string Sentence::render(const FactFrame& frame, std::size_t each, const Names& names,
                             double probability) const {
  std::string out;
  const auto component = [&names](std::size_t index) {
    return index < names.components.size() ? names.components[index] : std::string("the solvent");
  };
  for (const Part& part : parts_) {
    switch (part.kind) {
      case Part::Kind::Words:
        out += part.words;
        break;
      case Part::Kind::Solute:
        out += names.solute;
        break;
      case Part::Kind::System:
        out += names.system;
        break;
      case Part::Kind::Solvent:
        out += component(each);
        break;
      case Part::Kind::Good:
        out += component(0);
        break;
      case Part::Kind::Poor:
        out += component(1);
        break;
      case Part::Kind::Fact:
        out += show_value(frame.get(part.fact, each), frame.catalogue().info(part.fact.fact), part.end);
        break;
      case Part::Kind::Probability:
        out += fmt::format("{:.0f} %", probability * 100);
        break;
      case Part::Kind::Let: {
        Workspace workspace;
        const Value& value = part.program->run(frame, each, workspace);
        const ValueType& type = part.program->type();
        FactInfo info;
        info.dimension = type.dimension;
        const auto unit = display_unit(type.dimension);
        if (unit) info.shown_unit = std::string(unit->symbol);
        out += show_value(to_fact(value, type), info, part.end);
        break;
      }
    }
  }
  return out;
}

}  // namespace firstcrop
