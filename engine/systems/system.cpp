#include "systems/system.hpp"

#include <cmath>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "quantity/quantity.hpp"

namespace firstcrop {
namespace {

std::string_view trimmed(std::string_view text) {
  const auto first = text.find_first_not_of(' ');
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(' ') - first + 1);
}

std::optional<double> plain_number(std::string_view text) {
  const ParsedQuantity parsed = parse_quantity(trimmed(text), dimension::kNumber);
  if (parsed.fault != QuantityFault::None || parsed.quantity.is_range() ||
      !parsed.quantity.unit.symbol.empty()) {
    return std::nullopt;
  }
  return parsed.quantity.middle();
}

struct Ratio {
  double first = 0;
  double second = 0;
  [[nodiscard]] double first_fraction() const { return first / (first + second); }
  // Looks like parts of a hundred, and is not: a slip of the pen.
  [[nodiscard]] bool misses_hundred() const {
    const double sum = first + second;
    return sum > 80 && sum < 120 && std::abs(sum - 100) > 0.5;
  }
};

// `60:40`: any two positive volumes.
std::optional<Ratio> ratio_of(std::string_view text) {
  const std::size_t colon = text.find(':');
  if (colon == std::string_view::npos) return std::nullopt;
  const auto first = plain_number(text.substr(0, colon));
  const auto second = plain_number(text.substr(colon + 1));
  if (!first || !second || *first <= 0 || *second <= 0) return std::nullopt;
  return Ratio{*first, *second};
}

std::string percent(double fraction) {
  const double value = fraction * 100;
  return std::abs(value - std::round(value)) < 1e-6 ? fmt::format("{:.0f}", value)
                                                    : fmt::format("{:.1f}", value);
}

}  // namespace

const std::string& name_in_sentence(const Solvent& solvent) {
  return solvent.name.find_first_of(",%") == std::string::npos ? solvent.name : solvent.id;
}

std::string name_without_ratio(const System& system, const Library& library) {
  std::string out;
  for (const SolventId solvent : system.solvents) {
    if (!out.empty()) out += '+';
    out += library.solvent(solvent).id;
  }
  return out;
}

std::string name_of(const System& system, const Library& library) {
  const std::string names = name_without_ratio(system, library);
  if (!system.is_pair()) return names;
  return fmt::format("{}@{}:{}", names, percent(system.first_fraction), percent(1 - system.first_fraction));
}

SolventAnswer parse_solvent(std::string_view text, const Library& library) {
  SolventAnswer out;
  const std::string_view name = trimmed(text);
  if (name.empty()) {
    out.message = "a solvent name is missing here";
    out.help = "write e.g. `ethanol` or `ethanol+water@60:40`";
    return out;
  }
  const NameAnswer answer = library.find(name);
  if (answer.solvent) {
    out.solvent = answer.solvent;
    out.remark = answer.remark;
    return out;
  }
  if (!answer.choices.empty()) {
    out.message = fmt::format("`{}` can mean more than one solvent", name);
    out.help = fmt::format("write one of: {}", fmt::join(answer.choices, ", "));
    return out;
  }
  if (!answer.remark.empty()) {
    out.message = fmt::format("`{}` is no solvent of the library", name);
    out.help = answer.remark;
    return out;
  }
  out.message = fmt::format("`{}` is not a solvent known here", name.substr(0, 60));
  if (name.find('/') != std::string_view::npos) {
    out.help = "join the two solvents of a pair by `+`, e.g. `ethanol+water`";
  } else if (answer.nearest) {
    out.help = fmt::format("did you mean `{}`?", *answer.nearest);
  } else {
    out.help = "`firstcrop solvents` lists the library; `--solvents FILE` adds your own";
  }
  return out;
}

SystemAnswer parse_system(std::string_view text, const Library& library) {
  SystemAnswer out;
  const auto fail = [&out](std::string message, std::string help) {
    out.message = std::move(message);
    out.help = std::move(help);
    return out;
  };
  WrittenSystem written;
  const std::size_t at = text.find('@');
  const std::string_view names = text.substr(0, at);
  const std::size_t plus = names.find('+');
  if (plus != std::string_view::npos && names.find('+', plus + 1) != std::string_view::npos) {
    return fail("a system has one or two solvents", "write e.g. `ethanol+water@60:40`");
  }
  for (const std::string_view part :
       {names.substr(0, plus), plus == std::string_view::npos ? "" : names.substr(plus + 1)}) {
    if (part.data() != names.data() && plus == std::string_view::npos) break;
    const SolventAnswer solvent = parse_solvent(part, library);
    if (!solvent.solvent) return fail(solvent.message, solvent.help);
    written.system.solvents.push_back(*solvent.solvent);
    if (!solvent.remark.empty()) written.remark += (written.remark.empty() ? "" : "; ") + solvent.remark;
  }
  if (written.system.is_pair() && written.system.solvents[0] == written.system.solvents[1]) {
    return fail("the same solvent stands twice in the pair", "name it once");
  }
  if (at != std::string_view::npos) {
    if (!written.system.is_pair()) return fail("a single solvent has no ratio", "leave out `@...`");
    const auto ratio = ratio_of(text.substr(at + 1));
    if (!ratio) {
      return fail(fmt::format("`{}` is not a ratio by volume", text.substr(at + 1, 40)),
                  "write e.g. `@60:40`");
    }
    written.system.first_fraction = ratio->first_fraction();
    written.ratio_stated = true;
    if (ratio->misses_hundred()) {
      written.remark += fmt::format("{}the parts of `{}` add up to {:g}; read as {} volumes to {}",
                                    written.remark.empty() ? "" : "; ", text.substr(at + 1), ratio->first + ratio->second,
                                    ratio->first, ratio->second);
    }
  } else if (written.system.is_pair()) {
    written.system.first_fraction = 0.5;
  }
  out.system = std::move(written);
  return out;
}

}  // namespace firstcrop
