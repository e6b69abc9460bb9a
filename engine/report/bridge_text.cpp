#include "report/bridge_report.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "report/cautions_text.hpp"
#include "report/table.hpp"

namespace firstcrop {
namespace {

constexpr std::size_t kMostChains = 5;
constexpr std::size_t kMostPartners = 8;
constexpr std::size_t kIndent = 4;

// Nothing that was looked up or calculated is certain.
std::string chance_words(double chance) {
  constexpr double kToldAsMost = 0.995;
  return chance >= kToldAsMost ? "over 99 %" : percent(chance);
}

// Two significant digits without an exponent.
std::string two_digits(double value) {
  const double step = value <= 0 ? 1 : std::pow(10.0, std::floor(std::log10(value)) - 1);
  const double rounded = std::round(value / step) * step;
  return step < 1 ? fmt::format("{:.{}f}", rounded, static_cast<int>(std::lround(-std::log10(step))))
                  : fmt::format("{:.0f}", rounded);
}

class BridgeText {
 public:
  BridgeText(const BridgeReport& report, const Style& style)
      : question_(report.question),
        bridge_(report.bridge),
        judge_(report.judge),
        report_(report),
        style_(style),
        library_(report.judge.inquiry().knowledge->library) {}

  std::string text() const {
    std::string out = style_.strong(fmt::format("{} to {}", name(question_.from), name(question_.to))) + "\n";
    const Aim& aim = judge_.inquiry().aim;
    const bool is_named = aim.shelf.name != "own shelf";
    std::string setting = fmt::format("{}; {} solvent{} ({}{})", way(), aim.shelf.solvents.size(),
                                      aim.shelf.solvents.size() == 1 ? "" : "s", is_named ? "shelf " : "", aim.shelf.name);
    if (question_.strip && aim.altitude_m != 0) setting += fmt::format("; {:.0f} m above the sea", aim.altitude_m);
    out += wrapped(setting, 2, 2) + "\n" + wrapped(verdict(), 0, 0) + chains();
    out += partners() + shelf();
    const std::string cautions = cautions_of_chains();
    if (!cautions.empty()) out += "\n" + style_.strong("Cautions") + "\n" + cautions;
    out += "\n" + wrapped(closing(), 0, 0);
    return out;
  }

 private:
  [[nodiscard]] std::string name(SolventId solvent) const { return library_.solvent(solvent).name; }
  [[nodiscard]] std::string id(SolventId solvent) const { return library_.solvent(solvent).id; }

  [[nodiscard]] std::string way() const {
    return question_.strip ? "by distilling each solvent out of the next" : "by rinsing with one after the other";
  }

  [[nodiscard]] std::string list(const std::vector<SolventId>& solvents, std::size_t most, const char* last) const {
    std::string out;
    const std::size_t count = std::min(most, solvents.size());
    for (std::size_t i = 0; i < count; ++i) {
      const bool is_last = i + 1 == count && count == solvents.size();
      out += (i == 0 ? "" : is_last ? fmt::format(" {} ", last) : std::string(", ")) + id(solvents[i]);
    }
    if (count < solvents.size()) out += fmt::format(" {} {} more", last, solvents.size() - count);
    return out;
  }

  [[nodiscard]] std::string chain(const BridgeChain& told) const {
    std::vector<std::string> names;
    for (const SolventId solvent : told.solvents) names.push_back(id(solvent));
    return fmt::format("{}", fmt::join(names, " > "));
  }

  [[nodiscard]] static std::string known_by(const BridgeLink& link) {
    if (link.evidence == PairEvidence::Published)
      return fmt::format("published, {} confidence", name_of(link.confidence));
    return fmt::format("{}, not published", name_of(link.evidence));
  }

  [[nodiscard]] std::string state_of_ends() const {
    const std::string pair = fmt::format("{} and {}", name(question_.from), name(question_.to));
    if (!bridge_.direct) return fmt::format("whether {} mix is not known", pair);
    const std::string evidence = known_by(*bridge_.direct);
    if (bridge_.reaction != nullptr) {
      return fmt::format("{} must not meet: {}", pair, bridge_.reaction->text);
    }
    if (bridge_.ends_mix) return fmt::format("{} mix in every proportion at 25 °C ({})", pair, evidence);
    constexpr double kEven = 0.5;
    if (bridge_.direct->chance >= kEven)
      return fmt::format("{} may mix at 25 °C, chance {} ({})", pair, percent(bridge_.direct->chance), evidence);
    const MiscibilityRecord* record = library_.miscibility(question_.from, question_.to);
    const bool partly = record != nullptr && record->miscibility == MiscibilityClass::Partial;
    return fmt::format("{} {}part into two liquids at 25 °C ({})", pair, partly ? "mix in part and " : "", evidence);
  }

  [[nodiscard]] std::string celsius(double temperature_k) const { return show(temperature_k, *find_unit("°C")); }

  [[nodiscard]] bool mixes_with_water(SolventId solvent) const {
    const auto water = library_.find_id("water");
    if (!water) return false;
    const MiscibilityRecord* record = library_.miscibility(solvent, *water);
    return record != nullptr && record->miscibility == MiscibilityClass::Miscible;
  }

  // What is done where no distillation leads on.
  [[nodiscard]] std::string usual_way() const {
    const std::string from = name(question_.from);
    const std::string to = name(question_.to);
    std::string out = "The usual way (common practice, no source): ";
    if (!mixes_with_water(question_.from))
      return out + fmt::format("evaporate {} under reduced pressure and take up the residue in {}.", from, to);
    if (id(question_.to) == "water")
      return out + fmt::format("pour the solution into water and collect what falls, or evaporate {} under reduced "
                               "pressure and take up the residue in water.", from);
    out += "pour the solution into water and collect what falls, or extract it into ";
    if (mixes_with_water(question_.to))
      return out + fmt::format("a solvent that does not mix with water, wash the extract with water, dry it, and "
                               "change that solvent for {}.", to);
    return out + fmt::format("{} or another solvent that does not mix with water, wash the extract with water, dry "
                             "it, and change the solvent where it is not {} yet.", to, to);
  }

  [[nodiscard]] std::string no_distillation() const {
    const std::string from = name(question_.from);
    const std::string to = name(question_.to);
    const PhaseModel& phase = judge_.inquiry().knowledge->phase;
    if (bridge_.boils_lower) {
      const auto from_k = phase.boiling_temperature_k(question_.from, question_.pressure_kpa);
      const auto to_k = phase.boiling_temperature_k(question_.to, question_.pressure_kpa);
      return fmt::format("; {} cannot strip {}, because it boils lower ({} against {}). {}", to, from,
                         celsius(to_k.value_or(0)), celsius(from_k.value_or(0)), usual_way());
    }
    return fmt::format("; distilling {} out is not practical: no short chain of distillations leads on from it. {}",
                       from, usual_way());
  }

  // `water leaves with toluene as the azeotrope at 85 °C`.
  [[nodiscard]] std::string leaves_with(const BridgeLink& link) const {
    return fmt::format("{} leaves with {} as the azeotrope at {}", name(link.from), name(link.to),
                       celsius(*link.separator_k));
  }

  [[nodiscard]] std::string verdict() const {
    std::string out = state_of_ends();
    if (question_.strip && bridge_.chains.empty() && bridge_.beyond_shelf.empty()) {
      while (out.ends_with('.')) out.pop_back();
      return out + no_distillation();
    }
    if (bridge_.chains.empty()) {
      out += question_.strip ? "; no chain of distillations over this shelf leads from one to the other"
                             : "; no chain over this shelf leads from one to the other";
      if (!bridge_.beyond_shelf.empty())
        out += fmt::format(", but one beyond it does: {}", chain(bridge_.beyond_shelf.front()));
      return out + ".";
    }
    const BridgeChain& best = bridge_.chains.front();
    if (best.solvents.size() == 2 && best.links.front().separator_k) {
      return out + fmt::format("; {}: use a separator, from which {} runs off and {} runs back.",
                               leaves_with(best.links.front()), name(question_.from), name(question_.to));
    }
    if (best.solvents.size() == 2) {
      return out + (question_.strip ? fmt::format(": distil one out of the other, {}.", chain(best))
                                    : fmt::format(": rinse with {} straight away.", name(question_.to)));
    }
    if (bridge_.ends_mix && question_.strip)
      out += fmt::format("; {} cannot be distilled out of {}", name(question_.from), name(question_.to));
    std::vector<SolventId> middles(best.solvents.begin() + 1, best.solvents.end() - 1);
    if (bridge_.reaction != nullptr) {
      while (out.ends_with('.')) out.pop_back();
      return out + fmt::format(". With {} between them: {}.", list(middles, middles.size(), "and"), chain(best));
    }
    return out + fmt::format("; through {} they meet: {}.", list(middles, middles.size(), "and"), chain(best));
  }

  [[nodiscard]] std::string boiling(const BridgeChain& told) const {
    std::string out;
    for (const SolventId solvent : told.solvents) {
      const auto boils_k = judge_.inquiry().knowledge->phase.boiling_temperature_k(solvent, question_.pressure_kpa);
      constexpr double kZeroCelsius = 273.15;
      out += (out.empty() ? "" : " > ") + (boils_k ? fmt::format("{:.0f}", *boils_k - kZeroCelsius) : "?");
    }
    return out;
  }

  [[nodiscard]] static bool needs_mixing(const BridgeChain& told) {
    return std::any_of(told.links.begin(), told.links.end(),
                       [](const BridgeLink& link) { return !link.separator_k; });
  }

  [[nodiscard]] std::string volumes(const BridgeChain& told) const {
    std::string out;
    for (const BridgeLink& link : told.links) {
      out += (out.empty() ? "" : ", then ");
      const std::string amount = link.volumes ? fmt::format("{} of {}", two_digits(*link.volumes), id(link.to)) : "?";
      out += link.separator_k ? fmt::format("{}, which run back from the separator", amount) : amount;
    }
    return out;
  }

  [[nodiscard]] std::string chains() const {
    const bool on_shelf = !bridge_.chains.empty();
    const std::vector<BridgeChain>& all = on_shelf ? bridge_.chains : bridge_.beyond_shelf;
    if (all.empty()) return {};
    Table table({{"", true}, {on_shelf ? "chain" : "chain beyond the shelf"}, {"known by"}, {"chance", true}, {"boils, °C"}});
    for (std::size_t i = 0; i < std::min(all.size(), kMostChains); ++i) {
      const BridgeChain& each = all[i];
      table.add({fmt::format("{}", i + 1), chain(each), std::string(name_of(each.evidence())),
                 needs_mixing(each) ? chance_words(each.chance()) : "-", boiling(each)});
      std::vector<std::string> links;
      for (const BridgeLink& link : each.links)
        links.push_back(link.separator_k
                            ? fmt::format("{} (published), use a separator", leaves_with(link))
                            : fmt::format("{} + {} {}", id(link.from), id(link.to), known_by(link)));
      table.remark(fmt::format("{}", fmt::join(links, "; ")));
      if (question_.strip) table.remark("volumes to distil for 1 volume, until 1 % of the old stays: " + volumes(each));
    }
    std::string out = "\n" + table.to_text(kIndent);
    if (all.size() > kMostChains)
      out += fmt::format("    {} more of the same length; --json holds them.\n", all.size() - kMostChains);
    return out;
  }

  [[nodiscard]] std::string partners() const {
    if (bridge_.ends_mix || bridge_.partners.empty() || bridge_.reaction != nullptr) return {};
    Table table({{"partner"}, {"mL for 10 mL of each", true}, {"share", true}, {"on the shelf"}});
    std::vector<SolventId> not_calculated;
    std::size_t shown = 0;
    std::size_t left_out = 0;
    for (const bool on_shelf : {true, false}) {
      for (const BridgePartner& partner : bridge_.partners) {
        if (partner.on_shelf != on_shelf) continue;
        if (!partner.share) {
          not_calculated.push_back(partner.solvent);
        } else if (shown < kMostPartners) {
          ++shown;
          const double of_each = 20 * *partner.share / (1 - *partner.share);
          table.add({id(partner.solvent), two_digits(of_each), percent(*partner.share),
                     on_shelf ? "yes" : "no"});
        } else {
          ++left_out;
        }
      }
    }
    std::string out = "\n" + style_.strong(fmt::format("Common partners: what makes equal volumes of {} and {} one liquid at 25 °C",
                                                       name(question_.from), name(question_.to))) + "\n";
    if (shown > 0) out += table.to_text(kIndent);
    if (left_out > 0) out += fmt::format("    {} more; --json holds them.\n", left_out);
    if (!not_calculated.empty())
      out += wrapped(fmt::format("Mix with each of the two; no share makes all three one liquid by calculation, or none was calculated: {}.", list(not_calculated, kMostPartners, "and")), 2, 2);
    return out;
  }

  [[nodiscard]] std::string shelf() const {
    std::string lines;
    const auto line = [&lines](const std::string& text) { lines += wrapped(text, 2, 4); };
    for (const IndispensableSolvent& each : bridge_.indispensable) {
      line(fmt::format("do not run out of {}: it alone joins {} to the rest", id(each.solvent),
                       list(each.cut_off, 6, "and")));
    }
    if (bridge_.chains.empty() && bridge_.components.size() > 1) {
      line(fmt::format("the shelf is in {} parts that published pairs do not join", bridge_.components.size()));
      for (std::size_t i = 1; i < bridge_.components.size(); ++i)
        line(fmt::format("apart from the others: {}", list(bridge_.components[i], 8, "and")));
    }
    if (!bridge_.joining.empty()) {
      line(fmt::format("each of these alone would join {} and {}: {}", name(question_.from), name(question_.to),
                       list(bridge_.joining, 8, "and")));
    }
    if (!bridge_.without_vapour.empty()) {
      line(fmt::format("no distillation can be calculated with {}: vapour pressure unknown",
                       list(bridge_.without_vapour, 8, "and")));
    }
    if (lines.empty()) return {};
    return "\n" + style_.strong("This shelf with both ends") + "\n" + lines;
  }

  [[nodiscard]] std::string cautions_of_chains() const {
    std::vector<const JudgedSystem*> systems;
    for (const JudgedSystem& judged : report_.chain_solvents) systems.push_back(&judged);
    return cautions_text(judge_, systems, CautionLevel::Note, style_, true);
  }

  [[nodiscard]] std::string closing() const {
    if (question_.strip && bridge_.chains.empty() && bridge_.beyond_shelf.empty())
      return "Data sheet, local rules and supervisor decide.";
    std::string out = question_.strip
                          ? "Volumes are those of a simple distillation at constant volatility; dissolved solids and "
                            "foam change them."
                          : "Rinse until the old solvent is displaced, mostly two or three times, and look for the "
                            "solid in the washings: it may dissolve in a solvent of the chain.";
    out += " `chance`: that every link is one liquid in all proportions.";
    if (!question_.strip) out += " Amounts of partners are calculated.";
    out += " Data sheet, local rules and supervisor decide.";
    return out;
  }

  const BridgeQuestion& question_;
  const SolventBridge& bridge_;
  const SystemJudge& judge_;
  const BridgeReport& report_;
  const Style& style_;
  const Library& library_;
};

}  // namespace

std::vector<SolventId> solvents_of_chains(const SolventBridge& bridge) {
  std::vector<SolventId> out;
  const std::vector<BridgeChain>& chains = bridge.chains.empty() ? bridge.beyond_shelf : bridge.chains;
  for (std::size_t i = 0; i < std::min(chains.size(), kMostChains); ++i) {
    for (const SolventId solvent : chains[i].solvents)
      if (std::find(out.begin(), out.end(), solvent) == out.end()) out.push_back(solvent);
  }
  return out;
}

std::string bridge_text(const BridgeReport& report, const Style& style) {
  return BridgeText(report, style).text();
}

}  // namespace firstcrop
