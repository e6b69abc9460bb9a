#include "report/cautions_text.hpp"

#include <algorithm>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "report/table.hpp"

namespace firstcrop {
namespace {

constexpr std::size_t kIndent = 26;

int gravity(CautionLevel level) {
  return level == CautionLevel::Danger ? 0 : level == CautionLevel::Warning ? 1 : 2;
}

// One caution, with every solvent that it names.
struct CautionLine {
  std::size_t rule = 0;
  CautionLevel level = CautionLevel::Note;
  std::string step;
  std::string before;  ///< of the solvent's name; the whole text where it names none
  std::string after;
  std::vector<std::string> solvents;
};

CautionLine caution_line(const RuleOutcome& outcome, const Names& names) {
  CautionLine out{outcome.rule_index, outcome.level, outcome.step, outcome.text, {}, {}};
  if (!outcome.component) return out;
  const std::string& solvent = names.components[*outcome.component];
  const std::size_t at = outcome.text.find(solvent);
  if (at == std::string::npos) return out;
  out.before = outcome.text.substr(0, at);
  out.after = outcome.text.substr(at + solvent.size());
  out.solvents = {solvent};
  return out;
}

void add(std::vector<CautionLine>& lines, CautionLine line) {
  const auto same = std::find_if(lines.begin(), lines.end(), [&line](const CautionLine& known) {
    return known.rule == line.rule && known.before == line.before && known.after == line.after;
  });
  if (same == lines.end()) {
    lines.push_back(std::move(line));
    return;
  }
  for (std::string& solvent : line.solvents) {
    const bool known =
        std::find(same->solvents.begin(), same->solvents.end(), solvent) != same->solvents.end();
    if (!known) same->solvents.push_back(std::move(solvent));
  }
}

// ` is flammable (flash point 15 °C): no flame` without its parenthesis, which goes behind each name.
CautionLine with_parenthesis_at_name(CautionLine line) {
  const std::size_t from = line.after.find(" (");
  const std::size_t to = line.after.find(')', from);
  if (line.solvents.empty() || from == std::string::npos || to == std::string::npos) return line;
  for (std::string& solvent : line.solvents) solvent += line.after.substr(from, to + 1 - from);
  line.after.erase(from, to + 1 - from);
  return line;
}

// `acetone, toluene is` needs another verb, and what follows it other pronouns.
std::string with_plural(std::string after) {
  constexpr std::string_view kIs = " is ";
  if (!after.starts_with(kIs)) return after;
  after = " are " + after.substr(kIs.size());
  for (const auto& [one, many] : {std::pair<std::string_view, std::string_view>{" its ", " their "},
                                  {"treat it ", "treat them "}}) {
    if (const std::size_t at = after.find(one); at != std::string::npos) after.replace(at, one.size(), many);
  }
  return after;
}

// Lines of one rule that differ in a parenthesis only, joined; a line that stays alone stays as it is.
std::vector<CautionLine> joined(const std::vector<CautionLine>& lines) {
  std::vector<CautionLine> out;
  std::vector<std::size_t> counts;
  std::vector<const CautionLine*> originals;
  for (const CautionLine& line : lines) {
    CautionLine turned = with_parenthesis_at_name(line);
    const auto same = std::find_if(out.begin(), out.end(), [&turned](const CautionLine& known) {
      return known.rule == turned.rule && known.before == turned.before && known.after == turned.after;
    });
    if (same == out.end()) {
      out.push_back(std::move(turned));
      counts.push_back(1);
      originals.push_back(&line);
      continue;
    }
    ++counts[static_cast<std::size_t>(same - out.begin())];
    same->solvents.insert(same->solvents.end(), turned.solvents.begin(), turned.solvents.end());
  }
  for (std::size_t i = 0; i < out.size(); ++i) {
    if (counts[i] == 1) out[i] = *originals[i];
    if (out[i].before.empty() && out[i].solvents.size() > 1) out[i].after = with_plural(out[i].after);
  }
  return out;
}

bool comes_first(const CautionLine& left, const CautionLine& right) {
  const bool left_danger = left.level == CautionLevel::Danger;
  const bool right_danger = right.level == CautionLevel::Danger;
  if (left_danger != right_danger) return left_danger;
  const bool left_always = left.step == "always";
  const bool right_always = right.step == "always";
  if (left_always != right_always) return right_always;
  if (left.level != right.level) return gravity(left.level) < gravity(right.level);
  return place_in_work(left.step) < place_in_work(right.step);
}

}  // namespace

std::vector<MergedCaution> merged_cautions(const SystemJudge& judge,
                                           const std::vector<const JudgedSystem*>& systems, CautionLevel least,
                                           bool one_line_a_rule) {
  std::vector<CautionLine> lines;
  for (const JudgedSystem* judged : systems) {
    const Names names = judge.names_of(judged->system);
    for (const RuleOutcome& outcome : judged->judgement.outcomes) {
      const bool speaks = outcome.kind == RuleKind::Caution && outcome.outcome == Outcome::Fires;
      // What holds always is never cut, however mild.
      const bool grave = gravity(outcome.level) <= gravity(least) || outcome.step == "always";
      if (speaks && grave && !outcome.text.empty()) add(lines, caution_line(outcome, names));
    }
  }
  if (one_line_a_rule) lines = joined(lines);
  std::stable_sort(lines.begin(), lines.end(), comes_first);
  std::vector<MergedCaution> out;
  for (const CautionLine& line : lines) {
    out.push_back({line.level, line.step,
                   line.solvents.empty()
                       ? line.before
                       : fmt::format("{}{}{}", line.before, fmt::join(line.solvents, ", "), line.after)});
  }
  return out;
}

std::string cautions_text(const SystemJudge& judge, const std::vector<const JudgedSystem*>& systems,
                          CautionLevel least, const Style& style, bool one_line_a_rule) {
  std::string out;
  for (const MergedCaution& caution : merged_cautions(judge, systems, least, one_line_a_rule)) {
    const std::string level(name_of(caution.level));
    const bool always = caution.step == "always" || caution.step.empty();
    std::string block = indented("  " + (always ? level : fmt::format("{}, {}", level, caution.step)), caution.text, kIndent);
    if (style.colour) block.replace(2, level.size(), style.level(caution.level, level));
    out += block;
  }
  return out;
}

}  // namespace firstcrop
